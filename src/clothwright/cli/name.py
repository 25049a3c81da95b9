"""clothwright name: levels, points, corners and notches of a piece."""

from __future__ import annotations

from pathlib import Path

from clothwright.cli.saying import open_book, out
from clothwright.errors import BadInput
from clothwright.workroom.pieces.landmarks import (
    corner_said,
    level_said,
    name_all,
    notch_said,
    point_said,
)


def name(
    workbook: Path,
    piece: str,
    *,
    level: tuple[str, ...] = (),
    point: tuple[str, ...] = (),
    corner: tuple[str, ...] = (),
    notch: tuple[str, ...] = (),
) -> None:
    """Add a level or a point to a piece, or name a corner or a notch of it.

    Names are given to the piece as bought, in all its sizes, so that changes, placing rules and
    seams can speak of them. `clothwright show WORKBOOK PIECE` lists what is named. Each call is one
    step that undo takes back.

    Parameters
    ----------
    workbook
        The workbook's folder.
    piece
        The piece.
    level
        "hip=hem start, 20 cm": a level through that point, or so far above it; several times.
    point
        "bust point=neck point, 2 cm, -26 cm": so far to the right of a point and up from it, the
        grain arrow pointing up; several times.
    corner
        "underarm=armhole": the corner where that edge starts; several times.
    notch
        "waist=side 2": the second notch of that edge from its start; several times.
    """
    edits = [
        *(level_said(piece, text) for text in level),
        *(point_said(piece, text) for text in point),
        *(corner_said(piece, text) for text in corner),
        *(notch_said(piece, text) for text in notch),
    ]
    if not edits:
        raise BadInput(
            where="name",
            what="nothing is named",
            expected="--level, --point, --corner or --notch",
        )
    book = open_book(workbook)
    out.print(f"{name_all(book, edits, book.read().revision).words}.")
