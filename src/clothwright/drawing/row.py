"""Pieces in a row, small: only what tells one from another."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.geometry.path import polyline
from clothwright.geometry.transform import translation
from clothwright.pattern.piece import Piece
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke

ROUGH_MM = 3.0
"""mm: it may stray this far from the outline."""
APART_MM = 60.0


def row_picture(pieces: Sequence[Piece]) -> Picture:
    """Return pieces in a row, at one scale (mm), by their outlines only."""
    items: list[Item] = []
    right = 0.0
    for piece in pieces:
        low, high = piece.outline.bounds()
        move = translation((right - low.x, -low.y))
        line = polyline(piece.outline.flatten(ROUGH_MM)).transformed(move)
        right += high.x - low.x + APART_MM
        items += [
            Fill(path=line, role=DrawnRole.PIECE),
            Stroke(path=line, role=DrawnRole.PIECE, closed=True),
        ]
    return Picture(items=tuple(items))
