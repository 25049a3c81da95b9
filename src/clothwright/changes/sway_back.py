"""Sway back: a wedge folded out of the lower back, from the centre to nothing at the side."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.hinge import hinge_deg
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, redrawn
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, Slash, cut_in_two, part_outline, part_that_stays
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import IDENTITY, rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.parts import centre_line
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Grain, Piece, Role
from clothwright.units.params import param
from clothwright.words import Sentence, show_angle_deg

MOST_MM = 25.0
"""mm: beyond it a seam across the waist shapes the back better (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwayBack:
    """Parameters of `sway-back`; lengths in mm."""

    piece: str = param("piece", "the back, drawn as one half", label="Which back")
    by: float = param(
        "length",
        "at the centre; a minus lets it in, for a flat or stooping lower back",
        label="How much is folded out",
    )
    level: str = param("level", "where the folds lie across the back", label="At which line")
    above: float = param(
        "length",
        "the wedge lies this far above the line (a minus: below it)",
        default=0.0,
        label="How far above that line",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fold:
    """A wedge: the edge of the centre, that of the side, and a point of the line between (mm)."""

    piece: Piece
    centre: Edge
    side: Edge
    line: Vec
    by: float

    @property
    def what(self) -> Sentence:
        way = "folded out of" if self.by > 0 else "let into"
        return (abs(self.by), f' cannot be {way} the centre of "{self.piece.name}"')

    def lifted(self, height: float) -> tuple[float, float]:
        """Return the places on the centre and on the side so much above the line, mm."""
        p = self.line + self.piece.up * height
        ends = [line_crossings(e.path, p, self.piece.up.perp) for e in (self.centre, self.side)]
        if not all(ends):
            raise CannotDo(
                what=self.what,
                why="the back is too short there",
                nearest="a smaller amount, or another line",
            )
        return ends[0][0].at_a, ends[1][0].at_a


def apply(pattern: Pattern, params: SwayBack) -> Outcome:
    """Fold a wedge out of the back, `by` mm deep at the centre and nothing at the side.

    The side keeps its length, the centre is so much shorter, half-way across it is half as much. A
    centre seam gets the bend; a fold is drawn straight again. Raises CannotDo, BadInput. Source:
    plane geometry (docs/changes/sway-back.md).
    """
    piece = pattern.piece(params.piece)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {piece.name} as long down its centre.",))
    fold = _fold(pattern, piece, params)
    after, turn = _lapped(fold)
    bend: Sentence = (f" The centre seam turns by {show_angle_deg(turn)} there: sew it shaped.",)
    if fold.centre.role is Role.FOLD:
        after, off = _straightened(after, fold.centre.name)
        gain = "gains" if params.by > 0 else "loses"
        bend = (
            f" The fold is drawn straight again, and the half {gain} ",
            off,
            " of width at the wedge: give that back at the side.",
        )
    changed = pattern.with_piece(_levelled(after, fold))
    lot: Sentence = ()
    if abs(params.by) > MOST_MM:
        lot = (" More than ", MOST_MM, " is better shaped by a seam across the waist.")
    said: Sentence = (
        "Folded " if params.by > 0 else "Let ",
        abs(params.by),
        f" {'out of' if params.by > 0 else 'into'} the centre of {piece.name} at the "
        f"{params.level} line, running out to nothing at its {fold.side.name}: the side is as long "
        "as before, the centre and what closes it ",
        abs(params.by),
        " shorter." if params.by > 0 else " longer.",
        " What is sewn on below follows.",
    )
    return Outcome(pattern=changed, said=(*said, *bend, *partners(pattern, changed), *lot))


def _fold(pattern: Pattern, piece: Piece, params: SwayBack) -> _Fold:
    """Find both ends of the wedge. Raises CannotDo, BadInput."""
    line = piece.level(params.level).at + piece.up * params.above
    met = sorted(
        (c.at_b, c.at_a, n)
        for n, e in enumerate(piece.edges)
        for c in line_crossings(e.path, line, piece.up.perp)
    )
    centre = centre_line(pattern, piece)
    ends = [piece.edges[n] for _, _, n in (met[0], met[-1])] if len(met) > 1 else []
    own = [
        e.role in (Role.FOLD, Role.CENTRE) or (centre is not None and e.path == centre)
        for e in ends
    ]
    if own.count(True) != 1:
        raise CannotDo(
            what=f'a wedge cannot be folded out of "{piece.name}"',
            why=f"the {params.level} line does not run from its centre to its side",
            nearest="a back drawn as one half, and a line that crosses its centre and its side",
        )
    k = own.index(True)
    found = _Fold(
        piece=piece,
        centre=ends[k],
        side=ends[1 - k],
        line=line,
        by=params.by,
    )
    for dart in (*piece.darts_on(found.centre.name), *piece.darts_on(found.side.name)):
        at = found.lifted(0.0)[dart.edge == found.side.name]
        if dart.a - abs(params.by) < at < dart.b + abs(params.by):
            raise CannotDo(
                what=found.what,
                why=f'dart "{dart.name}" opens there',
                nearest="a line above or below that dart",
            )
    return found


def _lapped(fold: _Fold) -> tuple[Piece, float]:
    """Close the wedge, or open it, about where the line meets the side; also the turn, degrees."""
    piece, deep = fold.piece, abs(fold.by)
    low, high = (fold.lifted(s * deep / 2)[0] for s in (-1, 1))
    at, hinge_at = fold.lifted(0.0)
    plain = cut_in_two(piece, Opening(fold.centre.name, at, at), _at(fold.side, hinge_at))
    rests = part_that_stays(plain)
    lower = 0 if _is_below(plain, fold, 0) else 1
    sign = 1.0 if rests == lower else -1.0
    if fold.by > 0:
        first = Opening(fold.centre.name, min(low, high), max(low, high))
    else:
        first = _at(fold.centre, low if sign > 0 else high)
    slash = cut_in_two(piece, first, _at(fold.side, hinge_at))
    hinge = fold.side.path.point_at(hinge_at)
    arms = [fold.centre.path.point_at(x) - hinge for x in (first.a, first.b)]
    turn = abs(turn_between_deg(*arms)) if fold.by > 0 else hinge_deg(deep, arms[0].norm) or 0.0
    lifts = 1.0 if arms[0].cross(piece.up) > 0 else -1.0
    move = rotation_deg(-math.copysign(turn, fold.by) * lifts * sign, hinge)
    moves = (IDENTITY, move) if rests == 0 else (move, IDENTITY)
    return rejoined(slash, moves, bridged=True).piece, turn


def _levelled(piece: Piece, fold: _Fold) -> Piece:
    """Let each marked line meet the side where it did, as the seam there knows it."""
    side, up = piece.edge(fold.side.name).path, fold.piece.up
    levels = []
    for now in piece.levels:
        met = line_crossings(fold.side.path, fold.piece.level(now.name).at, up.perp)
        levels.append(replace(now, at=side.point_at(met[0].at_a)) if met else now)
    return replace(piece, levels=tuple(levels))


def _at(edge: Edge, place: float) -> Opening:
    return Opening(edge.name, place, place)


def _is_below(slash: Slash, fold: _Fold, part: int) -> bool:
    up, ring = fold.piece.up, part_outline(slash, part)
    return sum(up.dot(p - fold.line) for p in ring) < 0.0


def _straightened(piece: Piece, name: str) -> tuple[Piece, float]:
    """Draw a fold straight from end to end, the grain along it; also how far its bend was off."""
    edge = piece.edge(name)
    line = polyline(edge.path.ends)
    off = max(line.nearest(p)[1] for p in edge.path.flatten(0.1))
    new = Redrawn(line, lambda at: at * line.length / edge.length)
    grain = piece.grain
    if grain is not None:
        middle, half = grain.start.lerp(grain.end, 0.5), (grain.end - grain.start).norm / 2
        along = (line.end - line.start).unit
        along = along if along.dot(grain.direction) > 0 else -along
        grain = Grain(start=middle - along * half, end=middle + along * half)
    return redrawn(piece, {name: new}, grain=grain).piece, off


CHANGE = Change(
    id="sway-back",
    title="Sway back",
    topic="bust, back and shoulder",
    why="Cloth that sags across the small of the back is too long there, at the centre alone: a "
    "wedge is folded out, and the side seam keeps its length.",
    source="what it looks like: USDA, Fitting Dresses; amounts: plane geometry "
    "(docs/changes/sway-back.md)",
    params=SwayBack,
    apply=apply,
)
