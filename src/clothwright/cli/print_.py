"""clothwright print: full-size pieces."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from clothwright.cli.saying import listed, open_book, out
from clothwright.units import parse_length
from clothwright.workroom.cutting.printing import KINDS, printed_pieces, written


def print_(
    workbook: Path,
    *,
    out_: Annotated[Path | None, Parameter(name="--out")] = None,
    as_: Annotated[str, Parameter(name="--as")] = ",".join(KINDS),
    paper: str = "",
    piece: tuple[str, ...] = (),
    material: str = "",
    roll: str = "",
) -> None:
    """Write the pieces as changed at full size: pages to join, one large sheet, drawings.

    Print at 100 %, never "fit to page", and measure the test square before you cut.

    Parameters
    ----------
    workbook
        The workbook's folder.
    out_
        Folder for the files; without it, "print" inside the workbook.
    as_
        What to make, with commas: pages, sheet, drawings; dxf, or dxf-numbered.
    paper
        Paper of the pages: A4, Letter, A3, A0 …, or "30 x 45 cm".
    piece
        Only these pieces (may be given several times).
    material
        Only pieces cut in this material.
    roll
        Width of the roll for the large sheet, "36 in" for example.
    """
    book = open_book(workbook).look().book
    width = parse_length(roll, unit=book.unit, where="--roll") if roll else None
    made = printed_pieces(
        book,
        kinds=tuple(k.strip() for k in as_.split(",") if k.strip()),
        paper=paper,
        names=piece,
        material=material,
        roll=width,
    )
    files = written(out_ or workbook / "print", made)
    out.print(f"Wrote {len(files)} files:")
    listed(files)
