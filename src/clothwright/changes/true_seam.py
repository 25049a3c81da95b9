"""True a seam's end: equal lengths, and a fair line across it as sewn."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.changes.change import Change, Outcome
from clothwright.changes.redraw import (
    Redrawn,
    before_and_after,
    blend,
    from_nearer,
    prolonged,
    redrawn,
    refuse_crossing,
)
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.turning import waves_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import gain_of, side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units.params import param
from clothwright.words import (
    AtLeast,
    Said,
    Sentence,
    edge_name,
    show_angle_deg,
)

SAME_MM = 1e-3
"""mm: a smaller difference in length is left alone."""

SAME_DEG = 1e-3
"""degrees: a smaller bend is left alone."""

WIDEST_DEG = 45.0
"""degrees: a cross line that bends more than this is meant to be a corner, not an untrue line."""

FAIR_DEG = 1.0
"""Degrees to and fro that redrawing may add to the line across. Our own choice."""

LEAST_REACH_MM = 5.0
"""mm of the adjoining edge that must be free to be redrawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueSeam:
    """Parameters of `true-seam`; lengths in mm."""

    seam: str = param("seam", "the seam, such as shoulder seam", label="Which seam")
    at: str = param(
        "choice",
        "counted as the seam is listed",
        default="end",
        choices={"start": "its start", "end": "its end"},
        label="Which end of it",
    )
    reach: float = param(
        "length",
        "how far from the seam the lines that run across it (neck, hem, armhole) may be redrawn",
        default=60.0,
        label="How far from the seam",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Corner:
    """One piece's corner at the seam's end: its seam edge, which end of it, the edge across.

    by: mm that the seam edge is to grow there.
    """

    piece: Piece
    ref: EdgeRef
    at_end: bool
    across: Edge
    by: float

    @property
    def edge(self) -> Edge:
        return self.piece.edge(self.ref.edge)

    @property
    def own(self) -> Path:
        """The seam edge as it is to be, travelled towards the corner."""
        return prolonged(_going(self.edge.path, forward=self.at_end), self.by)

    @property
    def line(self) -> Path:
        """The line across as it is, travelled away from the corner."""
        return _going(self.across.path, forward=self.at_end)

    @property
    def hand(self) -> float:
        return 1.0 if self.at_end else -1.0

    @property
    def inside_deg(self) -> float:
        """The angle inside the piece between the seam edge and the line across, degrees."""
        return 180.0 - self.hand * turn_between_deg(self.own.end_tangent, self.line.start_tangent)

    def leaving(self, less_deg: float) -> Vec:
        """The direction of the line across that makes the inside angle less by so much."""
        turn = self.hand * (180.0 - self.inside_deg + less_deg)
        return rotation_deg(turn).apply_direction(self.own.end_tangent)


class _Off(NamedTuple):
    """What was off: mm by which side b was too long, the bend, and how far the ends were lifted."""

    length: float
    bend_deg: float
    lift: float


def _going(path: Path, *, forward: bool) -> Path:
    return path if forward else path.reversed()


def apply(pattern: Pattern, params: TrueSeam) -> Outcome:
    """Make both sides of a seam equally long and the line across its end fair, as sewn.

    Half of the difference in length (the ease taken into account) is added to one side and half
    taken from the other, at that end, along each edge's own line. Then the two lines that run
    across the seam there are redrawn over `reach` mm: each turns by half the bend, so that both
    inside angles add up to 180 degrees and the curve goes on without a corner. Where it would
    wave, as a hem on a flare would, both corners are lifted or dropped alike along the seam until
    it bends one way. Beyond `reach` nothing changes. Notches keep their distance from the nearer
    end of their edge.

    Raises CannotDo when the line across is a fold, bends by more than 45 degrees, or has a dart
    within a few mm; BadInput for an unknown seam.
    Source: docs/sources.md, walking seams (180 degrees across neck and hem: common practice).
    """
    seam = pattern.seam(params.seam)
    what = f'seam "{seam.name}" cannot be trued at its {params.at}'
    excess = side(pattern, seam.b).length - side(pattern, seam.a).length - seam.ease
    if abs(excess) <= SAME_MM:
        excess = 0.0
    corners = [
        _corner(pattern, ref, params.at, _share(seam, ref, excess, what))
        for ref in (_ref(seam.a, params.at), _ref(seam.b, params.at))
    ]
    bend = sum(c.inside_deg for c in corners) - 180.0
    if abs(bend) > WIDEST_DEG:
        raise CannotDo(
            what=what,
            why=f"the lines across it meet at {show_angle_deg(180 + bend)}, which is a corner",
            nearest="the other end, or a corner moved first",
        )
    lift, changed = 0.0, pattern
    if excess or abs(bend) > SAME_DEG:
        changed = _trued(pattern, corners, bend / 2, params, what)
        if _wave_deg(pattern, changed, corners) > FAIR_DEG and _gains_alike(seam, corners):
            lift = sum(_lift(c, bend / 2, params, what) for c in corners) / 2
            lifted = [replace(c, by=c.by - lift) for c in corners]
            changed = _trued(pattern, lifted, bend / 2, params, what)
    off = _Off(length=excess, bend_deg=bend, lift=lift)
    return Outcome(pattern=changed, said=_said(seam, params, off, corners))


def _gains_alike(seam: Seam, corners: list[_Corner]) -> bool:
    """Tell whether both sides stay as long as each other when both corners are lifted."""
    return sum(gain_of(seam, c.ref) for c in corners) == 0


def _ref(refs: tuple[EdgeRef, ...], at: str) -> EdgeRef:
    return refs[-1 if at == "end" else 0]


def _share(seam: Seam, ref: EdgeRef, excess: float, what: Said) -> float:
    """By how many mm an end edge grows to take up half of what side b is too long."""
    gain = gain_of(seam, ref)
    if gain == 0 and excess:
        raise CannotDo(
            what=what,
            why=f'"{edge_name(ref.piece, ref.edge)}" lies on both of its sides, which change alike',
            nearest="the edge between its notches changed instead",
        )
    return -excess / 2 / gain if excess else 0.0


def _corner(pattern: Pattern, ref: EdgeRef, at: str, by: float) -> _Corner:
    piece = pattern.piece(ref.piece)
    at_end = (at == "end") != ref.reversed
    before, after = before_and_after(piece, ref.edge)
    return _Corner(piece=piece, ref=ref, at_end=at_end, across=after if at_end else before, by=by)


def _trued(
    pattern: Pattern, corners: list[_Corner], less_deg: float, params: TrueSeam, what: Said
) -> Pattern:
    """Bring every corner to its place, its inside angle less by `less_deg`."""
    ends = {(c.ref.piece, c.ref.edge, c.at_end): c for c in corners}
    for c in ends.values():  # a seam between two copies of a piece has one end only
        here = _corner(pattern, c.ref, params.at, c.by)
        new = {here.across.name: _across(here, here.leaving(less_deg), params.reach, what)}
        if c.by:
            new[c.ref.edge] = _own(here, what)
        piece = redrawn(here.piece, new).piece
        refuse_crossing(piece, what, "a shorter reach")
        pattern = pattern.with_piece(piece)
    return pattern


def _own(c: _Corner, what: Said) -> Redrawn:
    """The seam edge with its end where it is to be; darts stay on the cloth."""
    legs = {at for d in c.piece.darts_on(c.ref.edge) for at in (d.a, d.b)}
    length = c.edge.length
    room = length - max((at if c.at_end else length - at for at in legs), default=0.0)
    if -c.by >= room - LEAST_REACH_MM:
        raise CannotDo(
            what=what,
            why=(
                f'"{edge_name(c.ref.piece, c.ref.edge)}" would have to be ',
                -c.by,
                " shorter there",
            ),
            nearest="the edge made to match at the other end first",
        )
    path = _going(c.own, forward=c.at_end)
    nearer = from_nearer(length, path.length)
    shift = 0.0 if c.at_end else c.by
    return Redrawn(path, lambda at: at + shift if at in legs else nearer(at))


def _free(c: _Corner, reach: float, what: Said) -> float:
    """How far from the corner the line across may be redrawn, mm."""
    name = edge_name(c.piece.name, c.across.name)
    if c.across.role is Role.FOLD:
        raise CannotDo(
            what=what,
            why=f'"{c.piece.name}" has its fold across the seam there',
            nearest="the other end",
        )
    length = c.across.length
    free = [length * 0.45, reach]
    free += [d.a if c.at_end else length - d.b for d in c.piece.darts_on(c.across.name)]
    if min(free) < LEAST_REACH_MM:
        raise CannotDo(
            what=what,
            why=("only ", max(0.0, min(free)), f' of "{name}" are free to be redrawn'),
            nearest=("a reach of at least ", AtLeast(LEAST_REACH_MM), ", clear of darts"),
        )
    return min(free)


def _across(c: _Corner, leaving: Vec, reach: float, what: Said) -> Redrawn:
    """The line across, redrawn from the corner as it is to be, leaving it along `leaving`."""
    old, at = c.line, _free(c, reach, what)
    curve = blend(c.own.end, leaving, old.point_at(at), old.tangent_at(at))
    path = _going(Path((curve, *old.split_at(at)[1].segments)), forward=c.at_end)
    legs = {x for d in c.piece.darts_on(c.across.name) for x in (d.a, d.b)}
    shift = path.length - old.length if c.at_end else 0.0
    nearer = from_nearer(old.length, path.length)
    return Redrawn(path, lambda x: x + shift if x in legs else nearer(x))


def _wave_deg(before: Pattern, after: Pattern, corners: list[_Corner]) -> float:
    """How much more the lines across turn to and fro than they did, at most, degrees."""
    edges = [EdgeRef(c.piece.name, c.across.name) for c in corners]
    return max(waves_deg(before.edge(e).path, after.edge(e).path) for e in edges)


def _lift(c: _Corner, less_deg: float, params: TrueSeam, what: Said) -> float:
    """How far back along the seam the corner goes so that the line across bends one way only, mm.

    One arc leaves the corner in its new direction and arrives in that of the line: where the two
    directions, run on, meet, they are equally far from its ends. (Plane geometry.) A minus where
    the corner is dropped.
    """
    at = _free(c, params.reach, what)
    way = c.leaving(less_deg) + c.line.tangent_at(at)
    over = c.own.end_tangent.cross(way)
    far = (c.line.point_at(at) - c.own.end).cross(way)
    lift = -far / over if abs(over) > 1e-6 else 0.0
    return min(max(lift, -at / 2), at / 2)


def _said(seam: Seam, params: TrueSeam, off: _Off, corners: list[_Corner]) -> Sentence:
    names = " and ".join(edge_name(c.ref.piece, c.across.name) for c in corners)
    where = f"{seam.name} at its {params.at} (" + ", ".join(c.ref.piece for c in corners) + ")"
    if not off.length and abs(off.bend_deg) <= SAME_DEG:
        return (f"Left {where} as it is: it is true.",)
    said: list[str | float] = [f"Trued {where}"]
    if off.length:
        said += [": a difference of ", abs(off.length), " was shared between both sides"]
    if abs(off.bend_deg) > SAME_DEG:
        size = show_angle_deg(abs(off.bend_deg))
        said += [f"; a bend of {size} was taken out of {names} within ", params.reach]
    if off.lift:
        verb = "lifted" if off.lift > 0 else "dropped"
        said += [f"; both ends were {verb} by ", abs(off.lift), ", so that the line does not wave"]
    return (*said, ".")


CHANGE = Change(
    id="true-seam",
    title="True a seam's end",
    topic="edges and seams",
    why="Where a seam ends, the neck, armhole or hem must run on across it without a peak or a "
    "dent, and neither side may stand out beyond the other.",
    source="docs/sources.md: seam crossings run fair (common practice)",
    params=TrueSeam,
    apply=apply,
)
