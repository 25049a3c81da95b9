"""How high a level lies on a piece: on its own line, or where it is sewn to a piece that has it."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece

ON_SEAM_MM = 50.0
"""mm up or down between a level and a seam on it: a waist seam dips to the centre, and lies above
the marked waist or below it. Our own figure."""


def level_height(pattern: Pattern, piece: Piece, edge: str, level: str) -> float:
    """Return how high a level lies on a piece, mm along its `up`, at one of its edges.

    A skirt that is sewn to a bodice along the waist has it where the edge begins there, marked or
    not. Raises BadInput where the piece has no such level and is sewn to none.
    """
    if not any(lv.name == level for lv in piece.levels):
        for at in _sewn_at(pattern, piece, edge, level):
            return piece.up.dot(at)
    return piece.up.dot(piece.level(level).at)


def _sewn_at(pattern: Pattern, piece: Piece, edge: str, level: str) -> Iterator[Vec]:
    """Yield the ends of an edge beside which the piece is sewn along another's level."""
    path = piece.edge(edge).path
    for beside, at in zip(piece.neighbours(edge), path.ends, strict=True):
        for seam in pattern.seams_of(piece.name, beside.name):
            for ref in (r for r in seam.refs if r.piece != piece.name):
                if _lies_on(pattern.piece(ref.piece), ref.edge, level):
                    yield at


def _lies_on(piece: Piece, edge: str, level: str) -> bool:
    """Tell whether a piece has a level that runs along one of its edges."""
    up, ends = piece.up, piece.edge(edge).path.ends
    return any(
        all(abs(up.dot(p - lv.at)) <= ON_SEAM_MM for p in ends)
        for lv in piece.levels
        if lv.name == level
    )
