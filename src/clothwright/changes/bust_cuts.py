"""Where a front is cut to change it over the bust. Lengths in mm, angles in degrees."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwright.changes.darts import find_place, own_point
from clothwright.changes.hinge import first_met, refuse_blocked, swing, turned_to_gain
from clothwright.changes.pivot import bust_at
from clothwright.changes.pivot_dart import SHORT_MM, Mouth, mouth_at, refuse_used_up
from clothwright.changes.slash import BLEND_MM, Opening, is_inside
from clothwright.changes.upper import Upper, hinge_on_armhole
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import rotation_deg, translation
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.words import AtMost, Sentence, listed

BELOW_MM = 40.0
"""mm: the level cut lies so far below the bust point, or less where the front is short there."""
SIDE_MM = 40.0
"""mm: a new side dart opens so far below the bust point's height (common practice)."""
SEAM_MM = 15.0
"""mm: a bust point so near an edge is shaped by that edge's seam."""
BESIDE_MM = 60.0
"""mm: a dart of the lower edge whose point lies so near below the bust point is cut along."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFront:
    """A front and where it is cut.

    hinge: on its armhole. out: across the grain, to the side. arm, arm_now: from the hinge to the
    bust point, as drawn and as altered. side, foot: its openings at the side and the lower edge.
    """

    hinge: Opening
    bust: Vec
    out: Vec
    arm: Vec
    arm_now: Vec
    side: Mouth
    foot: Mouth

    @property
    def piece(self) -> Piece:
        """The front as drawn."""
        return self.side.piece

    @property
    def up(self) -> Vec:
        """Direction up the body."""
        return self.piece.up

    @property
    def shift(self) -> Vec:
        """By what the bust point moves."""
        return self.arm_now - self.arm

    @property
    def drop(self) -> float:
        """By how much the bust point drops, mm."""
        return -self.up.dot(self.shift)

    @property
    def feet(self) -> tuple[Vec, Vec]:
        """Both ends of the opening at the lower edge, the one nearer the side first."""
        ends = self.foot.ends
        return ends if self.out.dot(ends[0] - ends[1]) >= 0 else ends[::-1]

    @property
    def to_centre(self) -> str:
        """The end of the lower edge that lies towards the centre."""
        path = self.piece.edge(self.foot.opening.edge).path
        return "start" if self.out.dot(path.end - path.start) > 0 else "end"

    @property
    def corner(self) -> Vec:
        """Where the level cut from the centre meets the cut below the bust point."""
        return self.bust - self.up * self.below

    @property
    def below(self) -> float:
        """How far below the bust point the level cut lies, mm."""
        return cut_below(self.up.dot(self.bust - self.feet[0].lerp(self.feet[1], 0.5)))


def cut_below(room: float) -> float:
    """Return how far below the bust the level cut lies. room: mm from there to the lower edge."""
    return min(BELOW_MM, 0.4 * room)


def what_of(piece: Piece, by: float) -> Sentence:
    """Say what cannot be done, for a refusal. by: mm, a minus for narrower."""
    way = " wider" if by > 0 else " narrower"
    return (f'"{piece.name}" cannot be made ', abs(by), f"{way} over the bust")


def cut_front(
    pattern: Pattern,
    piece: Piece,
    by: float,
    *,
    point: str,
    armhole: str,
    side: str,
    drop: float | None = None,
) -> CutFront:
    """Find where a front is cut to be changed by `by` mm over the bust.

    point, armhole, side: places that are meant, "" to be found. drop: mm by which the bust point
    is to drop, as that of the front a lining goes with; None: by what it does. CannotDo, BadInput.
    """
    upper, at = hinge_on_armhole(pattern, piece, armhole)
    bust = bust_of(piece, point)
    if drop is not None:
        bust = _bust_that_drops(upper, at, bust_height(piece, point), by, drop)
    if not is_inside(piece.outline.flatten(0.5), bust) or piece.outline.nearest(bust)[1] < SEAM_MM:
        raise CannotDo(
            what=what_of(piece, by),
            why="its bust point lies at a seam, as in a princess front",
            nearest="letting out, or taking in, both edges of that seam over the bust",
        )
    arm, up = bust - upper.armhole.path.point_at(at), piece.up
    out = _out(upper, bust)
    now = turned_to_gain(arm, by, out)
    if up.dot(arm) > -BELOW_MM / 2 or now is None:
        most = AtMost(arm.norm - math.copysign(1.0, by) * out.dot(arm))
        raise CannotDo(
            what=what_of(piece, by),
            why="the bust point does not lie far enough below the hinge on the armhole",
            nearest=("less than ", most, ", or a higher place on the armhole"),
        )
    mouth = _side(pattern, upper, bust, out, side)
    if by < 0:
        moves = translation(now - arm), swing(bust - arm, arm, now)
        closed = rotation_deg(math.copysign(mouth.angle_deg, turn_between_deg(arm, now)))
        most = AtMost(abs(out.dot(closed.apply(arm) - arm)))
        nearest = (most, " narrower, or two corrections")
        refuse_used_up(mouth, moves if upper.rising else moves[::-1], what_of(piece, by), nearest)
    return CutFront(
        hinge=Opening(upper.armhole.name, at, at),
        bust=bust,
        out=out,
        arm=arm,
        arm_now=now,
        side=mouth,
        foot=_foot(piece, bust, out, by),
    )


def bust_of(piece: Piece, text: str) -> Vec:
    """Return the bust point that a text names, mm; "": the mark or dart called bust. BadInput."""
    if text:
        return piece.point(own_point(piece, text))
    found = bust_at(piece)
    if found is None:
        ends = [f'"{d.name} point"' for d in piece.darts]
        near = f", such as {listed(ends, 'or')}, where its darts run out" if ends else ""
        raise BadInput(
            what=f'the bust point of "{piece.name}" is not marked',
            expected=f"a mark or a point of it{near}",
            try_='marking it as "bust point"',
        )
    return found


def bust_height(piece: Piece, text: str) -> float:
    """Return how high, mm along its grain, a piece has the bust: its point, or line. BadInput."""
    lines = [lv for lv in piece.levels if "bust" in lv.name.lower()]
    marked = any(m.at is not None and "bust" in m.name.lower() for m in piece.marks)
    at = bust_of(piece, text) if text or marked or not lines else lines[0].at
    return piece.up.dot(at)


def _bust_that_drops(upper: Upper, at: float, height: float, by: float, drop: float) -> Vec:
    """Return the point so high that goes `by` mm out and `drop` mm down about the hinge.

    An arm (o out, u up) that turns to (o + by, u - drop) keeps its length: Pythagoras.
    """
    up, hinge = upper.piece.up, upper.armhole.path.point_at(at)
    rises = height - up.dot(hinge)
    reaches = (2.0 * rises * drop - drop * drop - by * by) / (2.0 * by)
    return hinge + _out(upper, hinge) * reaches + up * rises


def _out(upper: Upper, inside: Vec) -> Vec:
    """Return the direction across the grain from a point inside a front to its side."""
    up = upper.piece.up
    return up.perp if up.perp.dot(upper.underarm - inside) > 0 else -up.perp


def _side(pattern: Pattern, upper: Upper, bust: Vec, out: Vec, text: str) -> Mouth:
    """Return the dart in the side that points to the bust, else where a new one opens."""
    piece = upper.piece
    if text:
        edge, at = find_place(pattern, piece, text, None)
        return mouth_at(piece, edge.name, at, bust)
    edge = upper.side
    level = bust - piece.up * SIDE_MM
    found = [c.at_a for c in line_crossings(edge.path, level, out) if c.at_b > 0]
    at = found[0] if found else edge.length / 2
    return mouth_at(piece, edge.name, at, bust)


def _foot(piece: Piece, bust: Vec, out: Vec, by: float) -> Mouth:
    """Return where the lower edge opens: its dart that points to the bust, else below the bust.

    What is taken away lies to the centre's side of the line below the bust point.
    """
    edge, at = first_met(piece, bust, -piece.up)
    near = [d for d in piece.darts_on(edge.name) if abs(out.dot(d.point - bust)) <= BESIDE_MM]
    dart = min(near, key=lambda d: abs(out.dot(d.point - bust)), default=None)
    if dart is not None:
        width = dart_intake(piece, dart)
        if width + by < -BLEND_MM:
            raise CannotDo(
                what=what_of(piece, by),
                why=(f'its dart "{dart.name}" is only ', width, " wide and would be used up"),
                nearest=(AtMost(width), " narrower, or that dart taken out first"),
            )
        return _mouth(piece, Opening(edge.name, dart.a, dart.b), bust, dart)
    if by > 0:
        return _mouth(piece, Opening(edge.name, at, at), bust)
    start = bust + out * by
    also, other = first_met(piece, start, -piece.up)
    if also.name != edge.name:
        raise CannotDo(
            what=what_of(piece, by),
            why=f"{edge.name} ends there",
            nearest="a smaller amount",
        )
    return _mouth(piece, Opening(edge.name, min(at, other), max(at, other)), bust)


def _mouth(piece: Piece, opening: Opening, bust: Vec, dart: Dart | None = None) -> Mouth:
    return Mouth(piece=piece, opening=opening, pivot=bust, dart=dart, short=SHORT_MM)


def centre_opening(front: CutFront) -> Opening:
    """Return where the level cut reaches the centre; what is taken out there lies above it.

    Raises CannotDo.
    """
    edge, at = first_met(front.piece, front.corner, -front.out)
    if front.drop >= 0.0:
        return Opening(edge.name, at, at)
    also, other = first_met(front.piece, front.corner - front.up * front.drop, -front.out)
    if also.name != edge.name:
        raise CannotDo(
            what=f'"{front.piece.name}" cannot be made so much narrower over the bust',
            why=f"{edge.name} is too short there",
            nearest="a smaller amount",
        )
    return Opening(edge.name, min(at, other), max(at, other))


def refuse_cuts(front: CutFront, by: float) -> None:
    """Refuse cuts that leave the front or run through a dart not meant. by: mm. CannotDo."""
    darts = [d.name for d in (front.side.dart, front.foot.dart) if d is not None]
    ends = (front.bust - front.arm, front.side.ends[0], front.feet[0].lerp(front.feet[1], 0.5))
    edge, at = first_met(front.piece, front.corner, -front.out)
    level = polyline((front.corner, edge.path.point_at(at)))
    for line in (*(polyline((front.bust, end)) for end in ends), level):
        refuse_blocked(front.piece, line, what_of(front.piece, by), darts)
