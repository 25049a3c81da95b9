"""clothwright walk: the walk of every seam, and all that can be checked on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from clothwright.cli.saying import lines, open_book, write_json
from clothwright.workroom.walking.report import WalkReport, walk_report


def walk(workbook: Path, *, json: bool = False) -> int:
    """Walk every seam of the pieces as changed and say what does not agree.

    Leaves with 0 when nothing needs mending, 1 when there is a fault. It does not replace the
    trial garment.

    Parameters
    ----------
    workbook
        The workbook's folder.
    json
        Write the findings as JSON to standard output instead of words.
    """
    found = walk_report(open_book(workbook).look().book)
    if json:
        write_json({"format": "clothwright-findings/1", "findings": found.data}, "-")
    else:
        lines(_told(found))
    return int(found.faulty)


def _told(found: WalkReport) -> Iterator[str]:
    """Yield the findings, what they come to, what was looked at and what was not."""
    yield from found.lines
    yield found.verdict.words
    if not found.lines:
        yield from (f"  {words}" for words in found.verdict.agree)
    yield from (f"Not looked at: {words}" for words in found.verdict.unlooked)
    yield "Checked on paper. Make a trial garment before you cut cloth that cannot be replaced."
