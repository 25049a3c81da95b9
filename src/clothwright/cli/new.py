"""clothwright new: an empty workbook."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import out
from clothwright.workroom.editing.opened import begin


def new(workbook: Path, *, title: str = "", unit: str = "cm") -> None:
    """Start an empty workbook in a new folder.

    Add pieces to it with `clothwright add`, then describe your cloth and your plans in its text
    file (docs/file-format.md shows every entry).

    Parameters
    ----------
    workbook
        The folder to make.
    title
        What you call the outfit.
    unit
        The unit you think in: mm, cm, m, in, ft or yd. Numbers without a unit count in it.
    """
    begin(workbook, title, unit)
    out.print(f"Made {workbook / 'workbook.toml'}.")
    out.print(f"Next: clothwright add {workbook} DRAWING.svg")
