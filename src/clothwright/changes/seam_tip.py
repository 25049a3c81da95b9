"""A seam's end on one piece, and the line across it redrawn to where it is to be; in mm."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.redraw import Redrawn, as_long, blend, from_nearer, prolonged
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.words import AtLeast, Said, edge_name

SAME_MM = 1e-3
"""mm: a smaller difference in length is left alone."""
LEAST_REACH_MM = 5.0
"""mm of the adjoining edge that must be free to be redrawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamTip:
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
        """The seam edge as it is."""
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
        """Sign of a turn in degrees: 1 where the edge ends at the corner, -1 where it starts."""
        return 1.0 if self.at_end else -1.0

    @property
    def inside_deg(self) -> float:
        """The angle inside the piece between the seam edge and the line across, degrees."""
        return 180.0 - self.hand * turn_between_deg(self.own.end_tangent, self.line.start_tangent)

    def leaving(self, less_deg: float) -> Vec:
        """The direction of the line across that makes the inside angle less by so many degrees."""
        turn = self.hand * (180.0 - self.inside_deg + less_deg)
        return rotation_deg(turn).apply_direction(self.own.end_tangent)


def _going(path: Path, *, forward: bool) -> Path:
    return path if forward else path.reversed()


def seam_tip(pattern: Pattern, ref: EdgeRef, at: str, by: float) -> SeamTip:
    """Return a seam's "start" or "end" on the piece of an edge that is to grow by mm there."""
    piece = pattern.piece(ref.piece)
    at_end = (at == "end") != ref.reversed
    before, after = piece.neighbours(ref.edge)
    return SeamTip(piece=piece, ref=ref, at_end=at_end, across=after if at_end else before, by=by)


def own_edge(c: SeamTip, what: Said) -> Redrawn:
    """Return the seam edge with its end where it is to be; darts stay on the cloth.

    Raises CannotDo where a dart leaves too little of it.
    """
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


def _free(c: SeamTip, reach: float, what: Said) -> float:
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


def line_across(
    c: SeamTip, leaving: Vec, reach: float, what: Said, *, as_before: bool = False
) -> Redrawn:
    """Return the line across, redrawn over `reach` mm from the corner as it is to be.

    leaving: its direction there. as_before: as long as it was, as near as a fair curve comes to
    that. Raises CannotDo at a fold, and with too little of it free.
    """
    old, at, corner = c.line, _free(c, reach, what), c.own.end
    rest = old.split_at(at)[1]
    curve = blend(corner, leaving, rest.start, rest.start_tangent)
    if as_before and abs(curve.length - at) > SAME_MM:
        curve = as_long(polyline((corner - leaving.unit, corner)), rest, at)
    path = _going(Path((curve, *rest.segments)), forward=c.at_end)
    legs = {x for d in c.piece.darts_on(c.across.name) for x in (d.a, d.b)}
    shift = path.length - old.length if c.at_end else 0.0
    nearer = from_nearer(old.length, path.length)
    return Redrawn(path, lambda x: x + shift if x in legs else nearer(x))


def lift_of(c: SeamTip, less_deg: float, reach: float, what: Said) -> float:
    """Return how far back along the seam a corner goes to let the line across bend one way, mm.

    One arc leaves the corner in its new direction and arrives in that of the line: where the two
    directions, run on, meet, they are equally far from its ends. (Plane geometry.) A minus where
    the corner is dropped. Raises CannotDo as `line_across`.
    """
    at = _free(c, reach, what)
    way = c.leaving(less_deg) + c.line.tangent_at(at)
    over = c.own.end_tangent.cross(way)
    far = (c.line.point_at(at) - c.own.end).cross(way)
    lift = -far / over if abs(over) > 1e-6 else 0.0
    return min(max(lift, -at / 2), at / 2)
