"""A dress bodice, its sleeve and a panel skirt with a waistband; demo data, drafted here by code.

Every seam agrees, every corner runs fair, darts have true caps: the checks have nothing to say.
The sleeve is 25 mm longer than the armhole, 11 in front and 14 at the back; the back shoulder is
6 mm longer than the front's. Backs are drawn mirrored, so that each seam runs up one and down the
other.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import (
    Cut,
    Dart,
    Edge,
    Grain,
    Level,
    Notch,
    NotchKind,
    Piece,
    Role,
)
from clothwright.pattern.refs import parse_edge

SEAM = 15.875
"""5/8 in: the allowance of patterns for home sewing."""

FRONT_EASE, BACK_EASE = 11.0, 14.0
FRONT_PITCH, BACK_PITCH = 95.0, 100.0
"""mm from the underarm to the notches of armhole and cap."""

SHOULDER_EASE = 6.0


def curve(start: Vec, start_deg: float, end: Vec, end_deg: float, reach: float = 0.45) -> Path:
    """A cubic that leaves and arrives in given directions."""
    size = start.distance(end) * reach
    return Path(
        (Cubic(start, start + unit_at(start_deg) * size, end - unit_at(end_deg) * size, end),)
    )


def solved(want: float, length: Callable[[float], float], low: float, high: float) -> float:
    """The value between low and high that gives a length; the length grows with the value."""
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if length(middle) < want else (low, middle)
    return (low + high) / 2


def cap_apex(before: Vec, a: Vec, b: Vec, point: Vec, pressed: str) -> Vec:
    """Where a true cap meets the dart's middle: r = L sin phi / sin(phi + alpha), by fold and cut.

    before: a point on the straight edge beyond the leg to which the dart is pressed.
    """
    leg = a if pressed == "start" else b
    length = leg.distance(point)
    alpha = abs(turn_between_deg(a - point, b - point)) / 2
    phi = abs(turn_between_deg(point - leg, before - leg))
    r = length * math.sin(math.radians(phi)) / math.sin(math.radians(phi + alpha))
    return point + ((a - point).unit + (b - point).unit).unit * r


def darted(
    start: Vec, end: Vec, at: float, intake: float, point: Vec, *, pressed: str
) -> tuple[Path, float, float]:
    """A straight edge with a trued dart; its legs end on the line. Returns (path, a, b)."""
    along = (end - start).unit
    a, b = start + along * at, start + along * (at + intake)
    apex = cap_apex(start if pressed == "start" else end, a, b, point, pressed)
    return polyline((start, a, apex, b, end)), at, at + a.distance(apex) * 2


def front() -> Piece:
    """Half a front, on the fold at its left; bust dart in the side, pressed down."""
    under, tip, neck = Vec(240, 240), Vec(185, 420), Vec(70, 460)
    slope = (neck - tip).angle_deg
    side, a, b = darted(Vec(240, 0), under, 130.0, 20.0, Vec(115, 140), pressed="start")
    return Piece(
        name="front",
        edges=(
            Edge(name="hem", path=polyline(((0, 0), (240, 0))), role=Role.HEM, allowance=30.0,
                 corner="centre hem"),
            Edge(name="side", path=side, allowance=SEAM, corner="side hem",
                 notches=(Notch(at=90.0, name="waist"),)),
            Edge(name="armhole", path=curve(under, 180, tip, slope - 90), allowance=SEAM,
                 corner="underarm", notches=(Notch(at=FRONT_PITCH, name="front"),)),
            Edge(name="shoulder", path=polyline((tip, neck)), allowance=SEAM,
                 corner="shoulder tip"),
            Edge(name="neck", path=curve(neck, slope + 90, Vec(0, 380), 180), role=Role.BOUND,
                 corner="neck point"),
            Edge(name="centre", path=polyline(((0, 380), (0, 0))), role=Role.FOLD,
                 corner="centre neck"),
        ),
        darts=(Dart(name="bust", edge="side", a=a, b=b, point=Vec(115, 140), pressed="start"),),
        grain=Grain(start=Vec(60, 60), end=Vec(60, 340)),
        levels=(Level(name="bust", at=Vec(100, 220)), Level(name="waist", at=Vec(100, 20))),
        cuts=(Cut(how="fold"),),
    )  # fmt: skip


def back() -> Piece:
    """Half a back, on the fold at its right; its side is as long as the front's, dart closed."""
    front_ = front()
    side = net_length(front_, "side")
    under, neck = Vec(-240, side), Vec(-74, 455)
    tip = neck + unit_at(197.0) * (front_.edge("shoulder").length + SHOULDER_EASE)
    armhole = curve(tip, 287, under, 180)
    return Piece(
        name="back",
        edges=(
            Edge(name="hem", path=polyline(((-240, 0), (0, 0))), role=Role.HEM, allowance=30.0,
                 corner="side hem"),
            Edge(name="centre", path=polyline(((0, 0), (0, 440))), role=Role.FOLD,
                 corner="centre hem"),
            Edge(name="neck", path=curve(Vec(0, 440), 180, neck, 107), role=Role.BOUND,
                 corner="centre neck"),
            Edge(name="shoulder", path=polyline((neck, tip)), allowance=SEAM,
                 corner="neck point"),
            Edge(name="armhole", path=armhole, allowance=SEAM, corner="shoulder tip",
                 notches=(Notch(at=armhole.length - BACK_PITCH, name="back",
                                kind=NotchKind.DOUBLE),)),
            Edge(name="side", path=polyline((under, (-240, 0))), allowance=SEAM,
                 corner="underarm", notches=(Notch(at=side - 90.0, name="waist"),)),
        ),
        grain=Grain(start=Vec(-60, 60), end=Vec(-60, 340)),
        levels=(Level(name="waist", at=Vec(-100, 20)),),
        cuts=(Cut(how="fold"),),
    )  # fmt: skip


def cap(height: float) -> Path:
    """A sleeve cap from the back corner (right) over the top to the front corner (left)."""
    lean = math.degrees(math.atan2(30, 400))
    top = Vec(0, height)
    right = curve(Vec(165, 0), 180 - lean, top, 180, 0.55)
    return right.joined(curve(top, 180, Vec(-165, 0), 180 + lean, 0.55))


def sleeve(front_ease: float = FRONT_EASE, back_ease: float = BACK_EASE) -> Piece:
    """A one-piece sleeve, front on the left, tapering; its hem is shaped to run fair."""
    armholes = front().edge("armhole").length, back().edge("armhole").length
    want = sum(armholes) + front_ease + back_ease
    crown = cap(solved(want, lambda h: cap(h).length, 60.0, 260.0))
    lean = math.degrees(math.atan2(30, 400))
    left, right = Vec(-135, -400), Vec(135, -400)
    return Piece(
        name="sleeve",
        edges=(
            Edge(name="hem", path=curve(left, lean, right, -lean, 0.3), role=Role.HEM,
                 allowance=30.0, corner="front wrist"),
            Edge(name="back underarm", path=polyline((right, (165, 0))), allowance=SEAM,
                 corner="back wrist", notches=(Notch(at=200.0, name="elbow"),)),
            Edge(name="cap", path=crown, allowance=SEAM, corner="back underarm",
                 notches=(
                     Notch(at=BACK_PITCH, name="back", kind=NotchKind.DOUBLE),
                     Notch(at=armholes[1] + back_ease, name="shoulder tip"),
                     Notch(at=crown.length - FRONT_PITCH, name="front"),
                 )),
            Edge(name="front underarm", path=polyline(((-165, 0), left)), allowance=SEAM,
                 corner="front underarm",
                 notches=(Notch(at=left.distance((-165, 0)) - 200.0, name="elbow"),)),
        ),
        grain=Grain(start=Vec(0, -300), end=Vec(0, 60)),
        levels=(Level(name="biceps", at=Vec(0, 0)),),
        cuts=(Cut(how="pair"),),
    )  # fmt: skip


def skirt(name: str, sign: float) -> Piece:
    """Half a straight skirt with a waist dart; the front (sign 1) has its fold on the left."""
    waist, deep = 205.0, Vec(110, 480)
    line, a, b = darted(Vec(waist, 600), Vec(0, 600), 85.0, 20.0, deep, pressed="end")
    side = Path((*polyline(((240, 0), (240, 400))).segments,
                 *curve(Vec(240, 400), 90, Vec(waist, 600), 90).segments))  # fmt: skip
    front_ = Piece(
        name=name,
        edges=(
            Edge(name="hem", path=polyline(((0, 0), (240, 0))), role=Role.HEM, allowance=50.0,
                 corner="centre hem"),
            Edge(name="side", path=side, allowance=SEAM, corner="side hem",
                 notches=(Notch(at=400.0, name="hip"),)),
            Edge(name="waist", path=line, allowance=SEAM, corner="side waist"),
            Edge(name="centre", path=polyline(((0, 600), (0, 0))), role=Role.FOLD,
                 corner="centre waist"),
        ),
        darts=(Dart(name="waist", edge="waist", a=a, b=b, point=deep, pressed="end"),),
        grain=Grain(start=Vec(60, 100), end=Vec(60, 500)),
        levels=(Level(name="hip", at=Vec(60, 400)),),
        cuts=(Cut(how="fold"),),
    )  # fmt: skip
    if sign > 0:
        return front_
    from clothwright.geometry.transform import reflection
    from clothwright.pattern.whole import moved

    return moved(front_, reflection((0, 0), (0, 1)))


def waistband() -> Piece:
    """Half a waistband, on the fold at the centre front."""
    half = net_length(skirt("skirt front", 1), "waist")
    long = 2 * half
    return Piece(
        name="waistband",
        edges=(
            Edge(name="lower", path=polyline(((0, 0), (long, 0))), allowance=SEAM,
                 corner="centre front", notches=(Notch(at=half, name="side waist"),)),
            Edge(name="end", path=polyline(((long, 0), (long, 40))), allowance=SEAM),
            Edge(name="upper", path=polyline(((long, 40), (0, 40))), allowance=SEAM),
            Edge(name="centre", path=polyline(((0, 40), (0, 0))), role=Role.FOLD),
        ),
        grain=Grain(start=Vec(50, 20), end=Vec(300, 20)),
        cuts=(Cut(how="fold"), Cut(material="interfacing", how="fold")),
    )  # fmt: skip


def seam(name: str, a: str, b: str, **more: object) -> Seam:
    """A seam from texts: runs are "PIECE.EDGE, PIECE.EDGE reversed"."""
    runs = (tuple(parse_edge(t) for t in text.split(", ")) for text in (a, b))
    first, second = runs
    return Seam(name=name, a=first, b=second, **more)  # type: ignore[arg-type]


def outfit() -> Pattern:
    """The whole set: front, back, sleeve, skirt front and back, waistband."""
    return Pattern(
        pieces=(
            front(),
            back(),
            sleeve(),
            skirt("skirt front", 1),
            skirt("skirt back", -1),
            waistband(),
        ),
        seams=(
            seam("side", "front.side", "back.side reversed"),
            seam("shoulder", "front.shoulder", "back.shoulder reversed", ease=SHOULDER_EASE),
            seam(
                "armhole",
                "front.armhole, back.armhole",
                "sleeve.cap reversed",
                kind="cap",
                ease=FRONT_EASE + BACK_EASE,
                ease_from="front",
                ease_to="back",
            ),
            seam("underarm", "sleeve.front underarm reversed", "sleeve.back underarm"),
            seam("skirt side", "skirt front.side", "skirt back.side reversed"),
            seam(
                "waist",
                "skirt front.waist reversed, skirt back.waist reversed",
                "waistband.lower",
            ),
        ),
    )
