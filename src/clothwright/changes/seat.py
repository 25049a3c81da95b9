"""Flat or full seat: a wedge opened or lapped, from the centre seam to nothing. Lengths in mm.

The piece is cut at the line from an upright edge to the edge opposite, and what lies above turns
about the place where the cut meets that edge: the one edge changes by the wedge, the other not.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.changes.hinge import hinge_deg, refuse_blocked
from clothwright.changes.partners import partners
from clothwright.changes.redraw import Redrawn, as_long, redrawn, refuse_crossing
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, cut_in_two, part_outline
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import IDENTITY, Transform, rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, edge_name

SMOOTH_MM, LOWER_MM = 50.0, 100.0
"""mm above and below the wedge over which its edge is drawn in one curve: down into the bend of a
crotch, so that it does not wave (common practice)."""
MOST_MM, LEAST_MM = 40.0, -25.0
"""mm: a wedge beyond this is better shared out, or another size (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """Parameters of `seat`; lengths in mm."""

    edge: str = param(
        "edge", "the centre seam, which becomes longer or shorter", label="At which edge"
    )
    by: float = param(
        "length",
        "at that edge, to nothing at the edge opposite: more for a full seat; a minus laps it, for "
        "a flat seat",
        label="How much longer",
    )
    level: str = param(
        "level", "where it is cut, from that edge straight across", label="At which line"
    )
    above: float = param(
        "length",
        "cut this far above the line (a minus: below it)",
        default=0.0,
        label="How far above that line",
    )


class _Cut(NamedTuple):
    """Where the cut leaves the edge that changes, and the edge it is hinged on."""

    edge: Edge
    at: float
    other: Edge
    hinge_at: float

    @property
    def hinge(self) -> Vec:
        return self.other.path.point_at(self.hinge_at)

    @property
    def foot(self) -> Vec:
        return self.edge.path.point_at(self.at)


class _Ends(NamedTuple):
    """What an edge is before its new curve and after it, where it lies now."""

    before: Path
    after: Path


def apply(pattern: Pattern, params: Seat) -> Outcome:
    """Turn what lies above the line about the edge opposite, opening or lapping a wedge.

    What lies below stays. Notches, darts, marks and levels above turn along. The edge is drawn in
    one curve over the wedge. Raises CannotDo on a fold, through a dart, or where there is not so
    much to lap; BadInput for names. Source: docs/sources.md, seat and crotch.
    """
    ref = parse_edge(params.edge)
    piece, name = pattern.piece(ref.piece), edge_name(ref.piece, ref.edge)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {name} as long as before.",))
    way = "longer" if params.by > 0 else "shorter"
    what: Sentence = (f"{name} cannot be made ", abs(params.by), f" {way} there")
    cut = _cut(piece, piece.edge(ref.edge), params, what)
    refuse_blocked(piece, polyline((cut.foot, cut.hinge)), what)
    new = _turned(piece, cut, params.by, what)
    refuse_crossing(new, what)
    changed = pattern.with_piece(new)
    verb = "Opened" if params.by > 0 else "Lapped"
    said = (
        f"{verb} a wedge in {piece.name} at the {params.level} line: {name} is ",
        abs(params.by),
        f" {way}, {cut.other.name} as long as before.",
        *_much(params.by),
        *partners(pattern, changed),
    )
    return Outcome(pattern=changed, said=said)


def _much(by: float) -> Sentence:
    if LEAST_MM <= by <= MOST_MM:
        return ()
    most = MOST_MM if by > 0 else -LEAST_MM
    more = "): share it out between two lines."
    return (" That is more than one wedge should take (", most, more)


def _cut(piece: Piece, edge: Edge, params: Seat, what: Sentence) -> _Cut:
    """Return where the line leaves the edge and meets the one opposite. Raises CannotDo."""
    at = piece.level(params.level).at + piece.up * params.above
    if edge.role is Role.FOLD:
        why, nearest = "it lies on the fold, which has to stay straight", "a seam on the fold first"
        raise CannotDo(what=what, why=why, nearest=nearest)
    found = [
        (c.at_b, e, c.at_a) for e in piece.edges for c in line_crossings(e.path, at, piece.up.perp)
    ]
    found.sort(key=lambda f: f[0])
    ends = [found[0], found[-1]] if len(found) > 1 else []
    mine = [f for f in ends if f[1].name == edge.name]
    others = [f for f in ends if f[1].name != edge.name]
    if len(mine) != 1 or len(others) != 1:
        raise CannotDo(
            what=what,
            why=f"the {params.level} line does not lead from it straight to another edge",
            nearest="another height, where the piece has this edge on one side",
        )
    if others[0][1].role is Role.FOLD:
        raise CannotDo(
            what=what,
            why=f'the fold "{others[0][1].name}" opposite would no longer be straight',
            nearest="a seam on the fold first",
        )
    return _Cut(edge, mine[0][2], others[0][1], others[0][2])


def _turned(piece: Piece, cut: _Cut, by: float, what: Sentence) -> Piece:
    """Return the piece with what lies above the cut turned about the hinge."""
    radius = cut.foot.distance(cut.hinge)
    turn = hinge_deg(by, radius)
    rises = piece.up.dot(cut.edge.path.tangent_at(cut.at)) > 0
    room = cut.edge.length - cut.at if rises else cut.at
    if turn is None or (by < 0 and -by > room - SMOOTH_MM):
        most = max(0.0, room - SMOOTH_MM)
        why = "there is not so much above"
        raise CannotDo(what=what, why=why, nearest=("less than ", AtMost(most)))
    gone = max(0.0, -by)
    span = (cut.at, cut.at + gone) if rises else (cut.at - gone, cut.at)
    slash = cut_in_two(
        piece,
        Opening(cut.edge.name, *span),
        Opening(cut.other.name, cut.hinge_at, cut.hinge_at),
    )
    side = 1 if turn_between_deg(cut.foot - cut.hinge, piece.up) > 0 else -1
    move = rotation_deg(side * turn, cut.hinge)
    heights = [_height(piece, part_outline(slash, k)) for k in (0, 1)]
    moves = (move, IDENTITY) if heights[0] > heights[1] else (IDENTITY, move)
    found = rejoined(slash, moves, bridged=True)
    ends = (IDENTITY, move) if rises else (move, IDENTITY)
    reach = (LOWER_MM, SMOOTH_MM) if rises else (SMOOTH_MM, LOWER_MM)
    spread = span[0] - reach[0], span[1] + reach[1]
    new = _level_kept(found.piece, piece, cut)
    return _drawn(new, cut.edge, _parts(cut.edge.path, spread, ends), by)


def _height(piece: Piece, corners: tuple[Vec, ...]) -> float:
    return sum(piece.up.dot(c) for c in corners) / len(corners)


def _level_kept(piece: Piece, old: Piece, cut: _Cut) -> Piece:
    """Return the piece with the line that was cut along where it was, with what lies below it."""
    up = old.up
    kept = {lv.name: lv for lv in old.levels if abs(up.dot(lv.at - cut.foot)) < JOIN_MM}
    return replace(piece, levels=tuple(kept.get(lv.name, lv) for lv in piece.levels))


def _parts(path: Path, span: tuple[float, float], ends: tuple[Transform, Transform]) -> _Ends:
    """Return the edge up to where its curve over the wedge begins, and from where it ends."""
    first, last = max(1.0, span[0]), min(path.length - 1.0, span[1])
    before, after = path.between(0.0, first), path.between(last, path.length)
    return _Ends(before.transformed(ends[0]), after.transformed(ends[1]))


def _drawn(piece: Piece, edge: Edge, ends: _Ends, by: float) -> Piece:
    """Return the piece with an edge in one curve between its ends, `by` mm longer than it was.

    Notches beyond the curve stay where they are.
    """
    now, first, last = piece.edge(edge.name), ends.before.length, ends.after.length
    curve = as_long(ends.before, ends.after, edge.length + by - first - last)
    before = ends.before.with_ends(start=now.path.start)
    new = join_all((before, Path((curve,)), ends.after.with_ends(end=now.path.end)))
    gain = new.length - now.length

    def place(at: float) -> float:
        if at <= first:
            return at
        return at + gain * min(1.0, (at - first) / (now.length - first - last))

    return redrawn(piece, {edge.name: Redrawn(new, place)}).piece


CHANGE = Change(
    id="seat",
    title="Flat or full seat",
    topic="waist, hips and legs",
    why="Folds under the seat lie free: the back is too long there. A seat that strains needs a "
    "longer centre seam. The side stays as it is.",
    source="wedge from the centre seam to nothing at the side: fitting handbooks; amounts: plane "
    "geometry (docs/sources.md: seat and crotch)",
    params=Seat,
    apply=apply,
)
