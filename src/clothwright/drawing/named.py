"""A piece for the screen: lines without words made for paper, its edges and levels named."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from clothwright.drawing.piece import piece_picture
from clothwright.drawing.words import CHAR, along_edge, upright
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import levels_at
from clothwright.picture.picture import DrawnRole, Picture, Text
from clothwright.units import Unit

NAME_SHARE = 0.028
"""Size of an edge's name, as a share of the drawing's longer side."""


def bare_picture(piece: Piece) -> Picture:
    """Return the lines and the inside of a piece alone, mm; words made for paper are too small."""
    picture = piece_picture(piece, Unit.mm, words=False, fill=True)
    return replace(picture, items=tuple(i for i in picture.items if not isinstance(i, Text)))


def name_size(piece: Piece) -> float:
    """Return the size of an edge's name, mm."""
    low, high = piece.outline.bounds()
    return NAME_SHARE * max(high.x - low.x, high.y - low.y)


def named_picture(piece: Piece, *, levels: bool = False, share: float = 0.5) -> Picture:
    """Return a piece with its edges' names along them, inside, and its levels' names if wanted.

    share: of an edge's length, where its name stands. An edge too short for its name stays bare.
    """
    size = name_size(piece)
    words = [*_edge_names(piece, size, share)]
    if levels:
        words += _level_names(piece, 0.85 * size)
    return bare_picture(piece).plus(Picture(items=tuple(words)))


def _edge_names(piece: Piece, size: float, share: float) -> Iterable[Text]:
    for edge in piece.edges:
        if CHAR * size * len(edge.name) > 1.9 * min(share, 1.0 - share) * edge.length:
            continue
        yield along_edge(edge, edge.name, size, gap=0.5 * size, share=share, group=piece.name)


def _level_names(piece: Piece, size: float) -> Iterable[Text]:
    """Each level's name over its line, a third of the way in, clear of edges and grain."""
    for level in piece.levels:
        line = levels_at(piece, level)
        if line is not None:
            yield Text(
                words=level.name,
                at=line.point_at(line.length * 0.32) + piece.up * size * 0.3,
                size=size,
                role=DrawnRole.LEVEL,
                anchor="middle",
                angle_deg=upright(piece.up.perp.angle_deg + 180.0),
                group=piece.name,
            )
