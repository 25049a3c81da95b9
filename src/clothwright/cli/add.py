"""clothwright add: pieces from drawings."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from clothwright.cli.saying import opened, out
from clothwright.errors import BadInput
from clothwright.store import piece_from_svg, save


def add(workbook: Path, *drawings: Path) -> None:
    """Add pieces to a workbook from SVG drawings.

    Parameters
    ----------
    workbook
        The workbook's folder.
    drawings
        SVG files.
    """
    book = opened(workbook)
    pieces = list(book.bought.pieces)
    for file in drawings:
        try:
            data = file.read_bytes()
        except OSError as error:
            raise BadInput(where=str(file), what=f"cannot be read ({error.strerror})") from None
        pieces.append(piece_from_svg(data, file.name))
    after = replace(book, bought=replace(book.bought, pieces=tuple(pieces)))
    save(after, workbook, previous=book)
    out.print(f"Added {len(drawings)} pieces.")
