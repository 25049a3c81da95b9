"""True a seam's end: equal lengths, and a fair line across it as sewn."""

from __future__ import annotations

import math
from dataclasses import dataclass

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
    """One piece's corner at the seam's end: its seam edge, which end of it, the edge across."""

    ref: EdgeRef
    edge: Edge
    at_end: bool
    across: Edge

    @property
    def inside_deg(self) -> float:
        """The angle inside the piece between the seam edge and the line across, degrees."""
        if self.at_end:
            return 180.0 - turn_between_deg(
                self.edge.path.end_tangent, self.across.path.start_tangent
            )
        return 180.0 - turn_between_deg(self.across.path.end_tangent, self.edge.path.start_tangent)


def apply(pattern: Pattern, params: TrueSeam) -> Outcome:
    """Make both sides of a seam equally long and the line across its end fair, as sewn.

    Half of the difference in length (the ease taken into account) is added to one side and half
    taken from the other, at that end, along each edge's own line. Then the two lines that run
    across the seam there are redrawn over `reach` mm: each turns by half the bend, so that both
    inside angles add up to 180 degrees and the curve goes on without a corner. Beyond `reach`
    nothing changes. Notches keep their distance from the nearer end of their edge.

    Raises CannotDo when the line across is a fold, bends by more than 45 degrees, or has a dart
    within a few mm; BadInput for an unknown seam.
    Source: docs/sources.md, walking seams (180 degrees across neck and hem: common practice).
    """
    seam = pattern.seam(params.seam)
    what = f'seam "{seam.name}" cannot be trued at its {params.at}'
    excess = side(pattern, seam.b).length - side(pattern, seam.a).length - seam.ease
    changed = pattern
    if abs(excess) > SAME_MM:
        for refs in (seam.a, seam.b):
            ref = _ref(refs, params.at)
            by = _share(seam, ref, excess, what)
            changed = _with_length(changed, ref, by, params, what)
    corners = [_corner(changed, _ref(refs, params.at), params.at) for refs in (seam.a, seam.b)]
    bend = sum(c.inside_deg for c in corners) - 180.0
    if abs(bend) > WIDEST_DEG:
        raise CannotDo(
            what=what,
            why=f"the lines across it meet at {show_angle_deg(180 + bend)}, which is a corner",
            nearest="the other end, or a corner moved first",
        )
    if abs(bend) > SAME_DEG or changed is not pattern:
        ends = {(c.ref.piece, c.ref.edge, c.at_end): c.ref for c in corners}
        for ref in ends.values():  # a seam between two copies of a piece has one end only
            changed = _faired(changed, ref, bend / 2, params, what)
    return Outcome(pattern=changed, said=_said(seam, params, excess, bend, corners))


def _ref(refs: tuple[EdgeRef, ...], at: str) -> EdgeRef:
    return refs[-1 if at == "end" else 0]


def _share(seam: Seam, ref: EdgeRef, excess: float, what: Said) -> float:
    """By how many mm an end edge grows to take up half of what side b is too long."""
    gain = gain_of(seam, ref)
    if gain == 0:
        raise CannotDo(
            what=what,
            why=f'"{edge_name(ref.piece, ref.edge)}" lies on both of its sides, which change alike',
            nearest="the edge between its notches changed instead",
        )
    return -excess / 2 / gain


def _corner(pattern: Pattern, ref: EdgeRef, at: str) -> _Corner:
    piece = pattern.piece(ref.piece)
    at_end = (at == "end") != ref.reversed
    before, after = before_and_after(piece, ref.edge)
    return _Corner(
        ref=ref, edge=piece.edge(ref.edge), at_end=at_end, across=after if at_end else before
    )


def _with_length(
    pattern: Pattern, ref: EdgeRef, by: float, params: TrueSeam, what: Said
) -> Pattern:
    """Lengthen one side at that end; the line across is redrawn to the new corner over `reach`."""
    piece = pattern.piece(ref.piece)
    c = _corner(pattern, ref, params.at)
    path = c.edge.path if c.at_end else c.edge.path.reversed()
    darts = piece.darts_on(ref.edge)
    legs = {at for d in darts for at in (d.a, d.b)}
    room = path.length - max((at if c.at_end else path.length - at for at in legs), default=0.0)
    if -by >= room - LEAST_REACH_MM:
        raise CannotDo(
            what=what,
            why=(f'"{edge_name(ref.piece, ref.edge)}" would have to be ', -by, " shorter there"),
            nearest="the edge made to match at the other end first",
        )
    path = prolonged(path, by)
    corner = path.end
    path = path if c.at_end else path.reversed()
    nearer = from_nearer(c.edge.length, path.length)
    shift = 0.0 if c.at_end else by
    own = Redrawn(path, lambda at: at + shift if at in legs else nearer(at))
    leaving = c.across.path.start_tangent if c.at_end else -c.across.path.end_tangent
    across = _redrawn_across(piece, c, corner, leaving, reach=params.reach, what=what)
    new = redrawn(piece, {ref.edge: own, c.across.name: across}).piece
    return pattern.with_piece(new)


def _faired(pattern: Pattern, ref: EdgeRef, by: float, params: TrueSeam, what: Said) -> Pattern:
    """Take `by` degrees off the inside angle of one corner by redrawing the line across."""
    piece = pattern.piece(ref.piece)
    c = _corner(pattern, ref, params.at)
    turn = 180.0 - (c.inside_deg - by)
    if c.at_end:
        leaving = rotation_deg(turn).apply_direction(c.edge.path.end_tangent)
        corner = c.edge.path.end
    else:
        leaving = -rotation_deg(-turn).apply_direction(c.edge.path.start_tangent)
        corner = c.edge.path.start
    across = _redrawn_across(piece, c, corner, leaving, reach=params.reach, what=what)
    new = redrawn(piece, {c.across.name: across}).piece
    refuse_crossing(new, what, "a shorter reach")
    return pattern.with_piece(new)


def _redrawn_across(
    piece: Piece, c: _Corner, corner: Vec, leaving: Vec, *, reach: float, what: Said
) -> Redrawn:
    """The line across, redrawn from `corner`, leaving it along `leaving`, over `reach` mm."""
    old = c.across.path if c.at_end else c.across.path.reversed()
    if c.across.role is Role.FOLD:
        raise CannotDo(
            what=what,
            why=f'"{piece.name}" has its fold across the seam there',
            nearest="the other end",
        )
    darts = piece.darts_on(c.across.name)
    free = [old.length * 0.45, reach]
    free += [d.a if c.at_end else old.length - d.b for d in darts]
    if min(free) < LEAST_REACH_MM:
        raise CannotDo(
            what=what,
            why=(
                "only ",
                max(0.0, min(free)),
                f' of "{edge_name(piece.name, c.across.name)}" are free to be redrawn',
            ),
            nearest=("a reach of at least ", AtLeast(LEAST_REACH_MM), ", clear of darts"),
        )
    at = min(free)
    curve = blend(corner, leaving, old.point_at(at), old.tangent_at(at))
    new = Path((curve, *old.split_at(at)[1].segments))
    grown = new.length - old.length
    legs = {x for d in darts for x in (d.a, d.b)}
    shift = grown if c.at_end else 0.0
    nearer = from_nearer(old.length, new.length)
    path = new if c.at_end else new.reversed()
    return Redrawn(path, lambda x: x + shift if x in legs else nearer(x))


def _said(
    seam: Seam, params: TrueSeam, excess: float, bend: float, corners: list[_Corner]
) -> Sentence:
    names = " and ".join(edge_name(c.ref.piece, c.across.name) for c in corners)
    where = f"{seam.name} at its {params.at} (" + ", ".join(c.ref.piece for c in corners) + ")"
    if abs(excess) <= SAME_MM and abs(bend) <= SAME_DEG:
        return (f"Left {where} as it is: it is true.",)
    said: list[str | float] = [f"Trued {where}"]
    if abs(excess) > SAME_MM:
        said += [": a difference of ", abs(excess), " was shared between both sides"]
    if abs(bend) > SAME_DEG:
        size = show_angle_deg(abs(bend)) if math.isfinite(bend) else ""
        said.append(f"; a bend of {size} was taken out of {names} within ")
        said.append(params.reach)
    said.append(".")
    return tuple(said)


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
