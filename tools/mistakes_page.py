"""Write docs/mistakes.md from what the checks say of them: python -m tools.mistakes_page."""

from __future__ import annotations

from pathlib import Path

from tests.faults.mistakes import MISTAKES, Mistake, Told, told

from clothwright.units import Unit
from clothwright.words import say

HERE = Path(__file__).resolve().parent.parent / "docs"

HEAD = """# Forty mistakes, and what is said of them

Eight garments of our own that are right (`tests/garments`: no check finds anything on them) are
spoilt as somebody spoils them who alters paper pieces with scissors and tape
(`tests/faults/mistakes.py`). For each stands here what the checks say of it at the place where it
was made, and what is offered to mend it: each was tried on a copy, its finding is gone after it and
no fault has come; a notice that comes is said with it. `python -m tools.mistakes_page` writes this
page; a test holds its counts to what is so.

"""


def page() -> str:
    """Return the page."""
    found = sum(bool(told(m).right) for m in MISTAKES)
    mended = sum(bool(told(m).mending) for m in MISTAKES)
    counts = f"Found at the right place: {found} of {len(MISTAKES)}. With a mend: {mended}.\n\n"
    rows = [_row(n, m) for n, m in enumerate(MISTAKES, start=1)]
    columns = ("", "garment", "what was done", "what is said of it", "what mends it")
    table = f"| {' | '.join(columns)} |\n{'| --- ' * len(columns)}|\n"
    return HEAD + counts + table + "".join(rows)


def _row(n: int, mistake: Mistake) -> str:
    seen = told(mistake)
    said = say(seen.right[0].words, Unit.cm) if seen.right else "**nothing**"
    more = len(seen.right) + len(seen.other) - 1
    if more > 0:
        said += f" (and {more} more)"
    cells = (str(n), mistake.garment, mistake.did, said, _mend(seen))
    return "| " + " | ".join(cells) + " |\n"


def _mend(seen: Told) -> str:
    if seen.mending is None:
        return "**nothing**"
    rest = f" (then {len(seen.left)} left)" if seen.left else ""
    return f"{seen.mending.title}: {seen.mending.does}{rest}"


if __name__ == "__main__":
    (HERE / "mistakes.md").write_text(page(), encoding="utf-8")
