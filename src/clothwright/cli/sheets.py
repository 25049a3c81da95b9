"""clothwright sheets: marker sheets to lay round a piece that is photographed."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import out
from clothwright.workroom.pieces.sheets import write_sheets


def sheets(
    *,
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    count: int = 8,
    paper: str = "A4",
) -> None:
    """Write marker sheets to print, for pieces that come from photos.

    Four sheets do for a piece of 60 cm, eight for one of 120 cm. Print at 100 % and measure the
    bar. docs/photo.md says how to lay the sheets and take the photos.

    Parameters
    ----------
    out_
        Folder for the file; without it, where you are.
    count
        How many different sheets, 1 to 24.
    paper
        A4 or Letter.
    """
    file = write_sheets(out_ or Path(), count=count, paper=paper)
    out.print(f"Wrote {count} sheets: {file}")
    out.print("Print at 100 %, then measure the bar: it should be 200 mm (7 7/8 in) long.")
