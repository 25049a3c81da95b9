"""Where on the other side of a seam a place is sewn to, counted from one of the seam's ends."""

from __future__ import annotations

from typing import NamedTuple

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import LAID, companions
from clothwright.pattern.measure import place_on, run_length, runs_at
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef


class SewnPlace(NamedTuple):
    """A place on an edge of a piece: mm along the edge from its start, and where that is."""

    piece: str
    edge: str
    at: float
    point: Vec


def opposite(
    pattern: Pattern, seam: Seam, piece: str, edge: str, at: float, *, from_end: bool
) -> SewnPlace:
    """Return the place that is sewn to one `at` mm along an edge, darts folded out.

    Both are equally far from the seam's start, or with `from_end` from its end: where one side is
    longer, what is gathered lies beyond. Raises BadInput for names that are not there.
    """
    here, there = (seam.a, seam.b) if _has(seam.a, piece, edge) else (seam.b, seam.a)
    run, _ = next(runs_at(pattern, here, piece, edge, at))
    if from_end:
        run += run_length(pattern, there) - run_length(pattern, here)
    ref, drawn = place_on(pattern, there, run)
    path = pattern.edge(ref).path
    drawn = min(drawn, path.length)
    return SewnPlace(ref.piece, ref.edge, drawn, path.point_at(drawn))


def _has(side: tuple[EdgeRef, ...], piece: str, edge: str) -> bool:
    return any((r.piece, r.edge) == (piece, edge) for r in side)


def faced_at(pattern: Pattern, piece: Piece, p: Vec, facing: Piece) -> Vec | None:
    """Return where a cut through `p`, square to a piece's grain, meets a facing sewn to it.

    None where it meets no edge that both have, and for a binding, whose grain runs otherwise.
    """
    if not any(c.piece == facing.name and c.kind in LAID for c in companions(pattern)):
        return None
    for seam in (s for s in pattern.seams if s.kind == "facing"):
        for ref in (r for r in seam.refs if r.piece == piece.name):
            for at in (c.at_a for c in line_crossings(pattern.edge(ref).path, p, piece.up.perp)):
                place = opposite(pattern, seam, piece.name, ref.edge, at, from_end=False)
                if place.piece == facing.name:
                    return place.point
    return None
