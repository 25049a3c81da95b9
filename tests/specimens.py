"""Small patterns of ours, drawn by code, used all over the tests. Every figure is invented.

Lengths in mm; INCH turns inches into mm. Pieces are drawn with the grain arrow straight up (+y).
"""

from __future__ import annotations

from dataclasses import replace

from clothwright.changes.darts import with_true_cap
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import (
    Cut,
    Dart,
    Edge,
    Grain,
    Level,
    Mark,
    Notch,
    NotchKind,
    Piece,
    Role,
)
from clothwright.pattern.refs import parse_edge

INCH = 25.4
ALLOWANCE = 5 / 8 * INCH


def line(*points: tuple[float, float]) -> Path:
    return polyline(points)


def curve(p0: Vec, p1: Vec, p2: Vec, p3: Vec) -> Path:
    return Path((Cubic(p0, p1, p2, p3),))


def edge(name: str, path: Path, **rest: object) -> Edge:
    return Edge(name=name, path=path, **{"allowance": ALLOWANCE, **rest})  # type: ignore[arg-type]


def seam(name: str, a: str, b: str, **rest: object) -> Seam:
    """A seam from texts such as "front.side reversed" (several: with commas)."""
    sides = [tuple(parse_edge(t) for t in text.split(",")) for text in (a, b)]
    return Seam(name=name, a=sides[0], b=sides[1], **rest)  # type: ignore[arg-type]


def _levels() -> tuple[Level, ...]:
    heights = {"waist": 60.0, "rib": 100.0, "chest": 290.0}
    return tuple(Level(name=name, at=Vec(0, y)) for name, y in heights.items())


def bodice_front() -> Piece:
    """Half a front on the fold: 18 in from the neck point to the hem, a bust dart in the side.

    With the dart folded out the side is straight, 9 1/4 in long.
    """
    hem_side = Vec(228.6, 0.0)
    point, turn = Vec(110.0, 205.0), 9.0
    along = Vec(0.06, 1.0).unit
    leg, under = hem_side + along * 150.0, hem_side + along * 9.25 * INCH
    turned = rotation_deg(turn, point)
    leg2, under2 = turned.apply(leg), turned.apply(under)
    neck_point, tip = Vec(70.0, 18 * INCH), Vec(185.0, 410.0)
    neck_centre = Vec(0.0, 380.0)
    a, b = 150.0, 150.0 + leg.distance(leg2)
    edges = (
        edge("hem", line((0, 0), hem_side), role=Role.HEM, corner="hem centre"),
        edge(
            "side",
            line(hem_side, leg, leg2, under2),
            corner="hem side",
            notches=(Notch(at=60.0, name="waist"),),
        ),
        edge(
            "armhole",
            curve(under2, under2 + Vec(-45, 0), tip + Vec(-25, -80), tip),
            corner="underarm",
            notches=(Notch(at=70.0),),
        ),
        edge("shoulder", line(tip, neck_point), corner="shoulder tip"),
        edge(
            "neck",
            curve(neck_point, neck_point + Vec(-8, -45), Vec(40, 380), neck_centre),
            role=Role.BOUND,
            allowance=0.0,
            corner="neck point",
        ),
        edge(
            "fold", line(neck_centre, (0, 0)), role=Role.FOLD, allowance=0.0, corner="neck centre"
        ),
    )
    raw = Piece(
        name="front",
        edges=edges,
        darts=(Dart(name="bust", edge="side", a=a, b=b, point=point, pressed="start"),),
        grain=Grain(start=Vec(40, 60), end=Vec(40, 330)),
        levels=_levels(),
        marks=(
            Mark(name="bust point", at=Vec(95, 206)),
            Mark(name="pocket", path=line((60, 30), (140, 30)), note="pocket edge"),
        ),
        cuts=(Cut(how="fold"),),
    )
    return with_true_cap(raw, "bust")


def bodice_back() -> Piece:
    """Half a back on the fold, drawn with its centre to the right: 18 in from the neck point."""
    hem_side = Vec(-228.6, 0.0)
    under = hem_side + Vec(-0.06, 1.0).unit * 9.25 * INCH
    neck_point, tip = Vec(-68.0, 18 * INCH), Vec(-188.0, 425.0)
    neck_centre = Vec(0.0, 440.0)
    return Piece(
        name="back",
        edges=(
            edge("hem", line(hem_side, (0, 0)), role=Role.HEM, corner="hem side"),
            edge(
                "fold",
                line((0, 0), neck_centre),
                role=Role.FOLD,
                allowance=0.0,
                corner="hem centre",
            ),
            edge(
                "neck",
                curve(neck_centre, Vec(-45, 440), neck_point + Vec(4, -12), neck_point),
                role=Role.BOUND,
                allowance=0.0,
                corner="neck centre",
            ),
            edge("shoulder", line(neck_point, tip), corner="neck point"),
            edge(
                "armhole",
                curve(tip, tip + Vec(18, -80), under + Vec(40, 0), under),
                corner="shoulder tip",
                notches=(Notch(at=120.0, kind=NotchKind.DOUBLE),),
            ),
            edge(
                "side",
                line(under, hem_side),
                corner="underarm",
                notches=(Notch(at=9.25 * INCH - 60.0, name="waist"),),
            ),
        ),
        grain=Grain(start=Vec(-40, 60), end=Vec(-40, 380)),
        levels=_levels(),
        cuts=(Cut(how="fold"),),
    )


def bodice() -> Pattern:
    """Front and back of a bodice that sew together; their side seams agree, darts folded out."""
    front, back = bodice_front(), bodice_back()
    ease = net_length(back, "shoulder") - net_length(front, "shoulder")
    return Pattern(
        pieces=(front, back),
        seams=(
            seam("side seam", "front.side reversed", "back.side"),
            seam("shoulder seam", "front.shoulder reversed", "back.shoulder", ease=ease),
        ),
    )


def skirt_front() -> Piece:
    """Half a skirt front on the fold: curved hip, flared hem, a waist dart."""
    waist, side, hem = Vec(185.0, 612.0), Vec(235.0, 420.0), Vec(300.0, 0.0)
    point = Vec(88.0, 500.0)
    a, b = Vec(78.0, 604.0), Vec(98.0, 604.5)
    leg = a.distance(point)
    b = point + (b - point).unit * leg
    raw = Piece(
        name="skirt front",
        edges=(
            edge(
                "hem",
                curve(Vec(0, 0), Vec(120, 0), hem - Vec(1, 0.16).unit * 120, hem),
                role=Role.HEM,
                allowance=40.0,
                corner="hem centre",
            ),
            edge(
                "side",
                Path(
                    (
                        Line(hem, side),
                        Cubic(side, side + (side - hem).unit * 60, waist + Vec(16, -70), waist),
                    )
                ),
                corner="hem side",
                notches=(Notch(at=Vec(65, 420).norm, name="hip"),),
            ),
            edge(
                "waist",
                line(waist, b, a, (0, 600)),
                role=Role.SEAM,
                corner="waist side",
            ),
            edge(
                "fold", line((0, 600), (0, 0)), role=Role.FOLD, allowance=0.0, corner="waist centre"
            ),
        ),
        darts=(
            Dart(
                name="waist",
                edge="waist",
                a=waist.distance(b),
                b=waist.distance(b) + a.distance(b),
                point=point,
                pressed="end",
            ),
        ),
        grain=Grain(start=Vec(60, 100), end=Vec(60, 450)),
        levels=(Level(name="hip", at=Vec(0, 420)), Level(name="knee", at=Vec(0, 60))),
        cuts=(Cut(how="fold"),),
    )
    return with_true_cap(raw, "waist")


def skirt() -> Pattern:
    """A skirt front and a back of the same shape, drawn the same way round."""
    front = skirt_front()
    back = replace(front, name="skirt back")
    return Pattern(
        pieces=(front, back),
        seams=(seam("skirt side", "skirt front.side reversed", "skirt back.side reversed"),),
    )


def sleeve_piece() -> Piece:
    """A sleeve with an elbow dart in the back underarm seam; grain along its middle."""
    front_top, back_top = Vec(-165.0, 420.0), Vec(165.0, 420.0)
    front_hem, back_hem = Vec(-105.0, 0.0), Vec(105.0, 0.0)
    crown = Vec(0.0, 560.0)
    along = (back_top - back_hem).unit
    point, turn = Vec(55.0, 225.0), 12.0
    leg = back_hem + along * 210.0
    turned = rotation_deg(turn, point)
    leg2, top = turned.apply(leg), turned.apply(back_hem + along * front_top.distance(front_hem))
    raw = Piece(
        name="sleeve",
        edges=(
            edge(
                "hem", line(front_hem, back_hem), role=Role.HEM, allowance=30.0, corner="hem front"
            ),
            edge("back underarm", line(back_hem, leg, leg2, top), corner="hem back"),
            edge(
                "cap",
                Path(
                    (
                        Cubic(top, top + Vec(-60, 10), crown + Vec(70, 0), crown),
                        Cubic(crown, crown + Vec(-70, 0), front_top + Vec(60, 0), front_top),
                    )
                ),
                corner="underarm back",
                notches=(
                    Notch(at=95.0, kind=NotchKind.DOUBLE, name="back"),
                    Notch(at=205.0, name="shoulder"),
                    Notch(at=320.0, name="front"),
                ),
            ),
            edge("front underarm", line(front_top, front_hem), corner="underarm front"),
        ),
        darts=(
            Dart(
                name="elbow",
                edge="back underarm",
                a=210.0,
                b=210.0 + leg.distance(leg2),
                point=point,
                pressed="start",
            ),
        ),
        grain=Grain(start=Vec(0, 40), end=Vec(0, 500)),
        levels=(
            Level(name="biceps", at=Vec(0, 420)),
            Level(name="elbow", at=Vec(0, 290)),
            Level(name="wrist", at=Vec(0, 100)),
        ),
        cuts=(Cut(how="pair"),),
    )
    return with_true_cap(raw, "elbow")


def sleeve() -> Pattern:
    """A sleeve whose underarm seam closes on itself, the elbow dart folded out."""
    return Pattern(
        pieces=(sleeve_piece(),),
        seams=(seam("underarm", "sleeve.front underarm", "sleeve.back underarm reversed"),),
    )
