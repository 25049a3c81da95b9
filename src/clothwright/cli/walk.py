"""clothwright walk: the walk of every seam, and all that can be checked on paper."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import open_book, out, write_json
from clothwright.workroom.walking.report import walk_report


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
    elif found.lines:
        for line in found.lines:
            out.print(line, markup=False)
    else:
        out.print("Every seam, notch, corner, dart, allowance and hem agrees on paper.")
        out.print("Make a trial garment before you cut cloth that cannot be replaced.")
    return int(found.faulty)
