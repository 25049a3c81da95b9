"""A hem turned up: how much wider its cut edge is than the garment where it is sewn."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from clothwright.geometry.offset import parallel
from clothwright.pattern.piece import Join, Piece, Role

EASES = 0.05
"""Share by which the cut edge of a hem may be fuller: ordinary cloth takes it, a wool that shrinks
8 %, a crisp cotton 3 (common practice, calibrated on an extension service's hem table)."""


class Turned(NamedTuple):
    """Widths of a hem turned up, mm of one piece as drawn, without the allowances at its sides.

    cut: of its cut edge. sewn: of the garment at the height where that edge is sewn.
    """

    cut: float
    sewn: float

    @property
    def excess(self) -> float:
        """By how much the cut edge is the wider (negative: the narrower), mm."""
        return self.cut - self.sewn

    @property
    def share(self) -> float:
        """What that is of the width of the garment there, a share (0.05 = 5 %)."""
        return self.excess / self.sewn


def turned_up(piece: Piece, hem: str, depth: float | None = None) -> Turned:
    """Return how wide a hem is at its cut edge and where it is sewn; depth mm, or as it is.

    The cut edge is the parallel outside the hem line, the other the parallel inside. Where the
    allowance beside the hem is mirrored in it the sides take the same from both; elsewhere they
    run on. For a hem that turns by T radians: 2 x depth x T. (Plane geometry, docs/sources.md.)
    """
    edge, (before, after) = piece.edge(hem), piece.neighbours(hem)
    deep = edge.allowance if depth is None else depth
    flare = 0.0
    for side, way, out, join in (
        (before, -before.path.end_tangent, -edge.path.start_tangent, edge.join),
        (after, after.path.start_tangent, edge.path.end_tangent, after.join),
    ):
        up = abs(out.cross(way))
        if join is Join.EXTENDED and side.role is not Role.FOLD and up > 0.2:
            flare += -way.dot(out) / up
    return Turned(
        cut=parallel(edge.path, deep).length + flare * deep,
        sewn=parallel(edge.path, -deep).length - flare * deep,
    )


def ends_folded(piece: Piece, hem: str) -> Piece:
    """Return a piece whose allowances beside a hem are mirrored in it, as its ends are turned."""
    ends = (hem, piece.neighbours(hem)[1].name)
    edges = (replace(e, join=Join.FOLDED) if e.name in ends else e for e in piece.edges)
    return replace(piece, edges=tuple(edges))


def deepest(piece: Piece, hem: str, share: float) -> float:
    """Return the depth in mm at which a hem's cut edge is wider by `share` of where it is sewn.

    share E, hem line C, turned by T: E C / (T (2 + E)). Infinite for a hem that is no wider.
    Source: extension service's hem table, and plane geometry (docs/sources.md).
    """
    unit = turned_up(piece, hem, 1.0)
    turn = unit.excess / 2
    if turn <= 1e-6:
        return float("inf")
    return share * piece.edge(hem).length / (turn * (2 + share))
