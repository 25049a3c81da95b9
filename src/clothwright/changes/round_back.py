"""Round back: the back made longer over the blades, from a hinge on the armhole."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwright.changes import own_corners
from clothwright.changes.change import Change, Outcome
from clothwright.changes.hinge import (
    Swung,
    first_met,
    hinge_deg,
    refuse_blocked,
    swing,
    swung_apart,
    turned_to_gain,
)
from clothwright.changes.intake import in_order
from clothwright.changes.partners import partners
from clothwright.changes.pivot_dart import mouth_at, refuse_used_up, with_mouth
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, cut_in_two
from clothwright.changes.upper import Upper, shoulders_of, upper_of
from clothwright.errors import CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import IDENTITY, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_angle_deg, dart_intake
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.together import kind_of
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, show_angle_deg

MOST_MM = 25.0
"""mm: beyond it two cuts share it (a manual of about 1911: the second a third of the way down)."""
COLLARS = ("collar", "stand")
SHORT_MM = 38.0
"""mm: a back shoulder dart turns about a place 1 1/2 in beyond its point (textbook)."""
WIDE_MM, LONG_MM = 13.0, 80.0
"""mm: a back shoulder dart (textbook: 1.3 cm wide, 8 cm long)."""
DEEPEST_DEG = 2 * math.degrees(math.asin(WIDE_MM / 2 / LONG_MM))
"""Degrees at its point: what such a dart takes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundBack:
    """Parameters of `round-back`; lengths in mm."""

    piece: str = param("piece", "the back, drawn as one half", label="Which back")
    by: float = param(
        "length",
        "down the centre, over the blades; a minus makes it shorter there",
        label="How much longer",
    )
    into: str = param(
        "choice",
        "",
        default="",
        choices={
            "": "a dart in the shoulder",
            "neck": "a dart in the neck",
            "seam": "the centre back seam is shaped, without a dart",
        },
        label="What keeps the back close above",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Back:
    """A back and its level cut. level: from the armhole's hinge to the centre, as a displacement.

    centre: where the cut reaches the centre; a lap takes away what lies above it.
    """

    upper: Upper
    hinge: Vec
    level: Vec
    centre: Opening
    by: float

    @property
    def piece(self) -> Piece:
        return self.upper.piece

    @property
    def at_hinge(self) -> Opening:
        return Opening(self.upper.armhole.name, self.upper.pitch, self.upper.pitch)

    @property
    def what(self) -> Sentence:
        way = " longer" if self.by > 0 else " shorter"
        return (f'"{self.piece.name}" cannot be made ', abs(self.by), f"{way} over the blades")


def apply(pattern: Pattern, params: RoundBack) -> Outcome:
    """Cut the back level at the armhole's notch and lift the centre above it by `by` mm.

    What lies outside the dart swings about the notch; what lies inside rises straight, so that the
    centre stays straight; without a dart all of it swings. Armhole, neck and shoulder, darts folded
    out, keep their lengths. Raises CannotDo, BadInput. Source: plane geometry
    (docs/changes/round-back.md).
    """
    piece = pattern.piece(params.piece)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {piece.name} as long over the blades.",))
    shoulders_of(pattern, piece)
    back = _back(upper_of(pattern, piece), params.by)
    if params.into == "seam":
        after, how = _shaped(back)
    else:
        after, how = _darted(
            back, back.upper.neck if params.into == "neck" else back.upper.shoulder
        )
    changed, trued = own_corners.trued(pattern, pattern.with_piece(after))
    lead: Sentence = (
        f"Made {piece.name} ",
        abs(params.by),
        " longer" if params.by > 0 else " shorter",
        " down its centre, over the blades; armhole, neck and shoulder are sewn as long as "
        "before. ",
    )
    lot: Sentence = ()
    if abs(params.by) > MOST_MM:
        lot = (" More than ", MOST_MM, " is better shared by two cuts, the second one higher.")
    said = (
        *lead,
        *how,
        _collar_said(pattern, back.upper),
        *trued,
        *partners(pattern, changed),
        *lot,
    )
    return Outcome(pattern=changed, said=said)


def _collar_said(pattern: Pattern, upper: Upper) -> str:
    """Say that the collar fits, where one is sewn to the neck; else ""."""
    sewn = (s.pieces for s in pattern.seams_of(upper.piece.name, upper.neck.name))
    kinds = {kind_of(pattern, pattern.piece(name)) for pieces in sewn for name in pieces}
    return " The collar fits as it did." if kinds & set(COLLARS) else ""


def _back(upper: Upper, by: float) -> _Back:
    """Find the level cut. Raises CannotDo."""
    piece, up = upper.piece, upper.piece.up
    hinge = upper.armhole.path.point_at(upper.pitch)
    way = up.perp if up.perp.dot(upper.neck_point - upper.tip) > 0 else -up.perp
    edge, at = first_met(piece, hinge + way * 2.0, way)
    level = edge.path.point_at(at) - hinge
    found = _Back(upper=upper, hinge=hinge, level=level, centre=Opening(edge.name, at, at), by=by)
    if by > 0:
        return found
    refs = edge.path.point_at(at + abs(by)), edge.path.point_at(at - abs(by))
    ends = (at, at + abs(by)) if up.dot(refs[0] - refs[1]) > 0 else (at + by, at)
    if ends[0] < 0.0 or ends[1] > edge.length:
        raise CannotDo(
            what=found.what, why=f"{edge.name} is too short there", nearest="a smaller amount"
        )
    return replace(found, centre=Opening(edge.name, *ends))


def _shaped(back: _Back) -> tuple[Piece, Sentence]:
    """Swing all that lies above the cut about the hinge. Raises CannotDo."""
    edge = back.piece.edge(back.centre.edge)
    turn = hinge_deg(back.by, back.level.norm)
    if edge.role is Role.FOLD or turn is None:
        raise CannotDo(
            what=back.what,
            why=f'its centre "{edge.name}" lies on the fold and cannot be shaped',
            nearest="a dart in the shoulder or neck, or a seam on the fold first",
        )
    lifts = 1.0 if back.level.cross(back.piece.up) > 0 else -1.0
    move = rotation_deg(lifts * turn, back.hinge)
    slash = cut_in_two(back.piece, back.at_hinge, back.centre)
    upper = back.upper.rising
    moves = (move, IDENTITY) if upper else (IDENTITY, move)
    return rejoined(slash, moves, bridged=True).piece, (
        f"It turns by {show_angle_deg(abs(turn))} above the cut: sew its centre as a shaped seam.",
    )


def _darted(back: _Back, edge: Edge) -> tuple[Piece, Sentence]:
    """Lift what lies inside a dart of an edge straight up, swing what lies outside it. CannotDo."""
    piece, up = back.piece, back.piece.up
    pivot = back.hinge + back.level * 0.5
    arm = pivot - back.hinge
    now = turned_to_gain(arm, back.by, up)
    mouth = mouth_at(piece, edge.name, edge.length / 2, pivot, SHORT_MM)
    if now is None:
        raise CannotDo(
            what=back.what, why="the back is too narrow for so much", nearest="a smaller amount"
        )
    swung, lifted = swing(back.hinge, arm, now), translation(up * back.by)
    if back.by < 0:
        most = AtMost(arm.norm * math.sin(math.radians(mouth.angle_deg)))
        nearest = (most, " shorter, or a shaped centre seam")
        moves = (swung, lifted) if back.upper.rising else (lifted, swung)
        refuse_used_up(mouth, moves, back.what, nearest)
    own = [mouth.dart.name] if mouth.dart else []
    for end in (mouth.ends[0], back.hinge, back.hinge + back.level):
        refuse_blocked(piece, polyline((pivot, end)), back.what, own)
    found = swung_apart(
        mouth.without_dart,
        (back.at_hinge, mouth.opening, back.centre),
        (
            Swung(inner=(pivot,), move=swung),
            Swung(inner=(pivot + up * max(0.0, -back.by),), move=lifted),
            Swung(inner=(pivot,), move=IDENTITY),
        ),
    )
    after = in_order(
        with_mouth(found.piece, mouth, found.openings[1], pivot, back.upper.to_neck), piece
    )
    dart = next((d for d in after.darts_on(edge.name) if d.a == found.openings[1].a), None)
    if dart is None:
        return after, ("Its dart is gone.",)
    wide = dart_intake(after, dart)
    called = f'"{dart.name}" in {edge.name}'
    said: Sentence = (
        (f"There is a new dart {called}, ", wide, " wide.")
        if mouth.dart is None
        else (f"Dart {called} is ", wide, " wide now.")
    )
    if dart_angle_deg(after, dart) <= DEEPEST_DEG:
        return after, said
    return after, (
        *said, " That is more than a back's dart takes by custom (", WIDE_MM, " wide where it is ",
        LONG_MM, " long): rather less, or a shaped centre seam, made first where there is a fold.",
    )  # fmt: skip


CHANGE = Change(
    id="round-back",
    title="Round back",
    topic="bust, back and shoulder",
    why="Folds from the underarm up to the blades, a hem that kicks out at the back and a collar "
    "that stands off ask for more length over the blades, and a dart that gives it shape.",
    source="level cut at the blades, hinge at the armhole: a manual of about 1911; amounts: plane "
    "geometry (docs/changes/round-back.md)",
    params=RoundBack,
    apply=apply,
)
