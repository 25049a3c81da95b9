"""Laps of bands: what runs on beyond the edge that is sewn, for a button or a hook."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.pattern.beside import STRAIGHT_ON_DEG
from clothwright.pattern.buttons import SMALLEST_MM, least_stand
from clothwright.pattern.measure import corner_angle_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.together import kind_of

BANDS = ("cuff", "band", "waistband")
"""Words that name what closes round the body by a lap (trade words)."""
LEAST_MM = 2 * least_stand(SMALLEST_MM)
"""mm: a lap that holds the smallest button with its stand on both sides, 7/8 in."""


class Lap(NamedTuple):
    """What a band has beyond the edge that is sewn: its edges, and how long they are, mm."""

    piece: Piece
    edges: tuple[Edge, ...]

    @property
    def length(self) -> float:
        """How long it is in all, mm: one end laps under, the other may lap over."""
        return sum(e.length for e in self.edges)


def laps(pattern: Pattern) -> Iterator[Lap]:
    """Yield the lap of each band that has one: an edge of no seam, straight on from a sewn one."""
    for piece in pattern.pieces:
        if not (is_band_named(piece) or kind_of(pattern, piece) == "waistband"):
            continue
        edges = tuple(e for e in piece.edges if _runs_on(pattern, piece, e))
        if edges:
            yield Lap(piece, edges)


def is_band_named(piece: Piece) -> bool:
    """Tell whether a piece is called a band or a cuff."""
    return any(word in BANDS for word in piece.name.lower().split())


def _runs_on(pattern: Pattern, piece: Piece, edge: Edge) -> bool:
    """Tell whether an edge of no seam goes straight on from one that is sewn."""
    if edge.role is not Role.SEAM or pattern.seams_of(piece.name, edge.name):
        return False
    i = piece.index(edge.name)
    before, after = piece.neighbours(edge.name)
    beside = ((before, i), (after, (i + 1) % len(piece.edges)))
    return any(
        bool(pattern.seams_of(piece.name, other.name))
        and abs(corner_angle_deg(piece, corner) - 180.0) < STRAIGHT_ON_DEG
        for other, corner in beside
    )
