"""Write docs/mistakes.md from what the checks say of them: python -m tools.mistakes_page."""

from __future__ import annotations

from pathlib import Path

from tests.faults.mistakes import MISTAKES, Mistake, told

from clothwright.pattern.finding import Finding
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import change_of

HERE = Path(__file__).resolve().parent.parent / "docs"

HEAD = """# Forty mistakes, and what is said of them

Eight garments of our own that are right (`tests/garments`: no check finds anything on them) are
spoilt as somebody spoils them who alters paper pieces with scissors and tape
(`tests/faults/mistakes.py`). For each stands here what the checks say of it at the place where it
was made, and the change they offer to mend it. A mend is clean when its finding is gone after it
and no other has come. `python -m tools.mistakes_page` writes this page; a test holds its counts to
what is so.

"""


def page() -> str:
    """Return the page."""
    found = sum(bool(told(m).right) for m in MISTAKES)
    mended = sum(told(m).mended for m in MISTAKES)
    counts = (
        f"Found at the right place: {found} of {len(MISTAKES)}. "
        f"With nothing but clean mends: {mended}.\n\n"
    )
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
    cells = (str(n), mistake.garment, mistake.did, said, _mends(seen.good, seen.bad))
    return "| " + " | ".join(cells) + " |\n"


def _mends(good: tuple[Finding, ...], bad: tuple[Finding, ...]) -> str:
    clean, not_clean = (_titles(found) for found in (good, bad))
    texts = [*clean, *(f"{t} (not clean)" for t in not_clean)]
    return "; ".join(texts) or "no change is offered"


def _titles(found: tuple[Finding, ...]) -> list[str]:
    return list(dict.fromkeys(change_of(f.mend.change).title for f in found if f.mend))


if __name__ == "__main__":
    (HERE / "mistakes.md").write_text(page(), encoding="utf-8")
