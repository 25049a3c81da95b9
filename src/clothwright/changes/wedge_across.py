"""A wedge across a piece, closed or let in: from the edge it enters by to the one it leaves by.

It runs out on the edge where it leaves, or on its line beyond, in a further panel. Lengths in mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.changes.hinge import hinge_deg
from clothwright.changes.over_cut import held_places
from clothwright.changes.redraw import Place, Redrawn, redrawn
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, Slash, cut_in_two, part_outline, part_that_stays
from clothwright.changes.smooth_line import smoothed
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.transform import IDENTITY, Transform, rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.piece import Edge, Piece
from clothwright.words import Sentence, edge_name

FAIR_MM, NEAR_MM = 60.0, 1.0
"""mm to both sides of the wedge over which an edge is drawn fair again; a corner nearer than that
second figure is the wedge's own. Our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgeAcross:
    """A wedge through a piece: the edge it enters by, the one it leaves by, a point of its line.

    by: how deep it is where it enters; left: how deep where it leaves, nothing at the side.
    fair: whether the edges are drawn fair where it enters, and where it runs out. way: how its line
    runs, None for square to the grain. sheared: what moves is not turned but slid along the grain,
    each place by its share, so that a fold stays straight.
    """

    piece: Piece
    centre: Edge
    side: Edge
    line: Vec
    by: float
    left: float = 0.0
    fair: tuple[bool, bool] = False, False
    way: Vec | None = None
    sheared: bool = False

    @property
    def square(self) -> Vec:
        """The direction square to its line, upwards where that can be told."""
        square = (self.way or -self.piece.up.perp).perp
        return square if square.dot(self.piece.up) >= 0.0 else -square

    @property
    def what(self) -> Sentence:
        """What cannot be done, for a refusal."""
        way = "folded out of" if self.by > 0 else "let into"
        return (abs(self.by), f" cannot be {way} {edge_name(self.piece.name, self.centre.name)}")

    def lifted(self, height: float) -> tuple[float, float]:
        """Return the places on both edges so much above the line, mm. Raises CannotDo."""
        p = self.line + self.square * height
        ends = [line_crossings(e.path, p, self.square.perp) for e in (self.centre, self.side)]
        if not all(ends):
            raise CannotDo(
                what=self.what,
                why="the piece is too short there",
                nearest="a smaller amount, or another line; a piece that ends there is trimmed at "
                "that edge instead",
            )
        return ends[0][0].at_a, ends[1][0].at_a

    @property
    def ends(self) -> tuple[Vec, Vec]:
        """Where the line meets both edges."""
        at = self.lifted(0.0)
        return self.centre.path.point_at(at[0]), self.side.path.point_at(at[1])

    @property
    def hinge(self) -> Vec:
        """Where the wedge would run out: on the side, or on the line beyond it."""
        first, last = self.ends
        return first + (last - first) * (self.by / (self.by - self.left))


def refuse_darts(found: WedgeAcross) -> WedgeAcross:
    """Refuse a wedge that would cut a dart's mouth. Raises CannotDo."""
    for dart in (d for e in (found.centre, found.side) for d in found.piece.darts_on(e.name)):
        at = found.lifted(0.0)[dart.edge == found.side.name]
        if dart.a - abs(found.by) < at < dart.b + abs(found.by):
            raise CannotDo(
                what=found.what,
                why=f'dart "{dart.name}" opens there',
                nearest="a line above or below that dart",
            )
    return found


def lapped(fold: WedgeAcross) -> tuple[Piece, float]:
    """Close the wedge, or open it, about where it runs out; also the turn, degrees."""
    piece, hinge = fold.piece, fold.hinge
    plain = cut_in_two(piece, _cut(fold, 0, 0.0), _cut(fold, 1, 0.0))
    rests = part_that_stays(plain)
    sign = 1.0 if _is_below(plain, fold, rests) else -1.0
    first, second = (_cut(fold, n, sign) for n in (0, 1))
    slash = cut_in_two(piece, first, second)
    arms = [fold.centre.path.point_at(x) - hinge for x in (first.a, first.b)]
    turn = hinge_deg(abs(fold.by), arms[0].norm) or 0.0
    if fold.by > 0:
        turn = abs(turn_between_deg(*arms))
    lifts = 1.0 if arms[0].cross(fold.square) > 0 else -1.0
    move = rotation_deg(-math.copysign(turn, fold.by) * lifts * sign, hinge)
    if fold.sheared:
        move = _slid(fold, sign)
    moves = (IDENTITY, move) if rests == 0 else (move, IDENTITY)
    found = rejoined(slash, moves, bridged=True)
    fair = fold.fair[0], fold.fair[1] or fold.left != 0.0
    return _fair(
        found.piece, tuple(o for o, f in zip(found.openings, fair, strict=True) if f)
    ), turn


def _slid(fold: WedgeAcross, sign: float) -> Transform:
    """Return the slide along the grain: nothing on the grain through the hinge, all at the edge."""
    up, hinge = fold.piece.up, fold.hinge
    across = up.perp
    share = fold.by * -sign / across.dot(fold.ends[0] - hinge)
    (ux, uy), (ax, ay) = up * share, across
    from_hinge = across.dot(hinge)
    return Transform(1 + ux * ax, uy * ax, ux * ay, 1 + uy * ay, -ux * from_hinge, -uy * from_hinge)


def _fair(piece: Piece, seams: tuple[Opening, ...]) -> Piece:
    """Draw edges fair again over where the wedge crossed them, up to darts and corners."""
    new = {}
    for edge, a, b in seams:
        path, held = piece.edge(edge).path, held_places(piece, piece.edge(edge))
        low = max(a - FAIR_MM, *(m for m in held if m < a - NEAR_MM), 0.0)
        high = min(b + FAIR_MM, *(m for m in held if m > b + NEAR_MM), path.length)
        line = smoothed(path, low, high)
        new[edge] = Redrawn(line, _evenly(low, high, line.length - path.length))
    return redrawn(piece, new).piece


def _evenly(low: float, high: float, gain: float) -> Place:
    """Place: what a stretch gains is shared over it, what lies beyond moves along."""
    return lambda at: at + gain * min(1.0, max(0.0, (at - low) / (high - low)))


def _cut(fold: WedgeAcross, end: int, sign: float) -> Opening:
    """Return what goes of an edge where the wedge is folded out, or the place it is let in at.

    end: 0 where it enters, 1 where it leaves. sign: 1 where the lower part stays, -1 the upper, 0
    for the line itself.
    """
    edge, deep = (fold.centre, fold.by) if end == 0 else (fold.side, fold.left)
    low, high = (fold.lifted(s * abs(deep) / 2)[end] for s in (-1, 1))
    if not sign or not deep:
        low = high = fold.lifted(0.0)[end]
    elif deep < 0:
        low = high = low if sign > 0 else high
    return Opening(edge.name, min(low, high), max(low, high))


def levelled(piece: Piece, fold: WedgeAcross, slid: dict[str, float]) -> Piece:
    """Let each marked line meet the edge where the wedge leaves as the seam there knows it.

    slid: by how much it has slid up that seam on the panel beyond, mm; on the side none does.
    """
    old, new, up = fold.side, piece.edge(fold.side.name), piece.up
    levels = []
    for now in piece.levels:
        at = _from_below(fold.piece, old, fold.piece.level(now.name).at)
        if at is not None:
            height = at + slid.get(now.name, 0.0)
            place = new.path.point_at(height if piece.rises(new.name) else new.length - height)
            now = replace(now, at=now.at + up * up.dot(place - now.at))  # noqa: PLW2901
        levels.append(now)
    return replace(piece, levels=tuple(levels))


def slid_on(piece: Piece, fold: WedgeAcross) -> dict[str, float]:
    """Return by how much each marked line slid up the edge by which the wedge enters, mm."""
    out = {}
    for level in piece.levels:
        was = _from_below(fold.piece, fold.centre, fold.piece.level(level.name).at)
        now = _from_below(piece, piece.edge(fold.centre.name), level.at)
        if was is not None and now is not None:
            out[level.name] = now - was
    return out


def _from_below(piece: Piece, edge: Edge, at: Vec) -> float | None:
    """Return how far up an edge, mm from its lower end, a level line at a place meets it."""
    met = line_crossings(edge.path, at, piece.up.perp)
    if not met:
        return None
    return met[0].at_a if piece.rises(edge.name) else edge.length - met[0].at_a


def _is_below(slash: Slash, fold: WedgeAcross, part: int) -> bool:
    up, ring = fold.piece.up, part_outline(slash, part)
    return sum(up.dot(p - fold.line) for p in ring) < 0.0
