"""Where on the other side of a seam a place is sewn to, counted from one of the seam's ends."""

from __future__ import annotations

from typing import NamedTuple

from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import gross_at, net_at, net_length, run_length
from clothwright.pattern.pattern import Pattern, Seam
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
    run = _run_to(pattern, here, piece, edge, at)
    if from_end:
        run += run_length(pattern, there) - run_length(pattern, here)
    for ref in there:
        length = net_length(pattern.piece(ref.piece), ref.edge)
        if run <= length or ref is there[-1]:
            net = min(max(run, 0.0), length)
            return _on_edge(pattern, ref, length - net if ref.reversed else net)
        run -= length
    raise AssertionError("a seam has edges on both sides")


def _has(side: tuple[EdgeRef, ...], piece: str, edge: str) -> bool:
    return any((r.piece, r.edge) == (piece, edge) for r in side)


def _run_to(pattern: Pattern, side: tuple[EdgeRef, ...], piece: str, edge: str, at: float) -> float:
    run = 0.0
    for ref in side:
        length = net_length(pattern.piece(ref.piece), ref.edge)
        if (ref.piece, ref.edge) == (piece, edge):
            net = net_at(pattern.piece(piece), edge, at)
            return run + (length - net if ref.reversed else net)
        run += length
    return run


def _on_edge(pattern: Pattern, ref: EdgeRef, net: float) -> SewnPlace:
    piece = pattern.piece(ref.piece)
    path = piece.edge(ref.edge).path
    at = min(gross_at(piece, ref.edge, net), path.length)
    return SewnPlace(ref.piece, ref.edge, at, path.point_at(at))
