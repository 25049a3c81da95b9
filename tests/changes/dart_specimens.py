"""A front with a side dart, and a sleeve with an elbow dart; demo data, drafted here."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.transform import Transform, reflection, rotation_deg, translation
from clothwright.geometry.vec import Vec, unit_at
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
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import moved

INCH = 25.4
APEX = Vec(95.0, 20.0)
"""The bust point of the front; its side dart runs out there."""

SIDE_LEG, SIDE_INTAKE = 130.0, 20.0
"""A dart 13 cm long and 2 cm wide: the published trigonometry example of dart angles."""


def front() -> Piece:
    """Half a front on the fold (fold on the left), side dart 130 mm x 20 mm, edges curved."""
    middle = unit_at(-8.0)
    half = 4.4117973
    leg_a = APEX + unit_at(middle.angle_deg - half) * SIDE_LEG
    leg_b = APEX + unit_at(middle.angle_deg + half) * SIDE_LEG
    waist, under = Vec(215.0, -175.0), Vec(236.0, 92.0)
    tip, neck = Vec(188.0, 222.0), Vec(68.0, 262.0)
    lower = Line(waist, leg_a)
    upper = Cubic(leg_b, leg_b.lerp(under, 0.35) + Vec(1.5, 0), leg_b.lerp(under, 0.7), under)
    side = Path((lower, Line(leg_a, leg_b), upper))
    return Piece(
        name="front",
        edges=(
            Edge(
                name="hem",
                path=polyline(((0, -180), (120, -180), waist)),
                role=Role.HEM,
                allowance=30.0,
                corner="waist centre",
            ),
            Edge(
                name="side",
                path=side,
                allowance=15.9,
                notches=(
                    Notch(at=60.0, name="low"),
                    Notch(at=side.length - 30.0, name="high"),
                ),
                corner="waist side",
            ),
            Edge(
                name="armhole",
                path=Path((Cubic(under, Vec(170, 96), Vec(160, 150), tip),)),
                allowance=15.9,
                notches=(Notch(at=80.0, name="front pitch"),),
                corner="underarm",
            ),
            Edge(name="shoulder", path=polyline((tip, neck)), allowance=15.9, corner="tip"),
            Edge(
                name="neck",
                path=Path((Cubic(neck, Vec(62, 215), Vec(45, 190), Vec(0, 188)),)),
                allowance=10.0,
                corner="neck point",
            ),
            Edge(
                name="centre",
                path=polyline(((0, 188), (0, -180))),
                role=Role.FOLD,
                corner="neck centre",
            ),
        ),
        darts=(
            Dart(
                name="bust",
                edge="side",
                a=lower.length,
                b=lower.length + leg_a.distance(leg_b),
                point=APEX,
            ),
        ),
        grain=Grain(start=Vec(40, -120), end=Vec(40, 120)),
        levels=(Level(name="bust", at=Vec(60, 20)), Level(name="waist", at=Vec(60, -160))),
        marks=(
            Mark(name="bust point", at=APEX),
            Mark(name="pocket", path=polyline(((110, -60), (180, -70))), note="pocket top"),
        ),
        cuts=(Cut(how="fold"),),
    )


def back() -> Piece:
    """A plain half back whose side is as long as the front's with its dart closed."""
    net = front().edge("side").length - (front().darts[0].b - front().darts[0].a)
    side = Path((Line(Vec(-215.0, -175.0 + net), Vec(-215.0, -175.0)),))
    return Piece(
        name="back",
        edges=(
            Edge(name="hem", path=polyline(((-215, -175), (0, -175))), role=Role.HEM),
            Edge(name="centre", path=polyline(((0, -175), (0, 250))), role=Role.FOLD),
            Edge(
                name="top", path=polyline(((0, 250), (-180, 210), (-215, -175 + net))), corner="c"
            ),
            Edge(
                name="side",
                path=side,
                notches=(Notch(at=30.0, name="high"), Notch(at=net - 60.0, name="low")),
            ),
        ),
        grain=Grain(start=Vec(-40, -120), end=Vec(-40, 120)),
    )


def bodice() -> Pattern:
    """Return front and back, joined at the side."""
    return Pattern(
        pieces=(front(), back()),
        seams=(
            Seam(
                name="side",
                a=(EdgeRef("back", "side", reversed=True),),
                b=(EdgeRef("front", "side"),),
            ),
        ),
    )


ELBOW = Vec(-45.0, -225.0)
ELBOW_LEG, ELBOW_INTAKE, ELBOW_DEG = 3 * INCH, 1.25 * INCH, 24.0499
"""The published one-piece sleeve draft: elbow dart 1 1/4 in wide, 3 in long."""


def _plain_underarm(net: float) -> Path:
    """Hollow the front underarm at the elbow until it is `net` mm long."""
    low, high = 0.0, 120.0
    wrist, under = Vec(140.0, -430.0), Vec(165.0, 0.0)
    path = polyline((wrist, under))
    for _ in range(60):
        deep = (low + high) / 2
        path = Path((Cubic(wrist, Vec(125 - deep, -300), Vec(150 - deep, -150), under),))
        low, high = (deep, high) if path.length < net else (low, deep)
    return path


def sleeve() -> Piece:
    """A one-piece sleeve, back on the left, elbow dart on its back underarm, bent forward."""
    leg_a = ELBOW + unit_at(168.0) * ELBOW_LEG
    leg_b = ELBOW + unit_at(168.0 + ELBOW_DEG) * ELBOW_LEG
    under, wrist = Vec(-165.0, 0.0), Vec(-77.9, -460.6)
    upper, cap, lower = Line(under, leg_a), Line(leg_a, leg_b), Line(leg_b, wrist)
    net = upper.length + lower.length
    plain = _plain_underarm(net)
    crown = Path(
        (
            Cubic(Vec(165, 0), Vec(110, 10), Vec(85, 140), Vec(6, 140)),
            Cubic(Vec(6, 140), Vec(-80, 140), Vec(-105, 5), Vec(-165, 0)),
        )
    )
    top = crown.segments[0].length
    return Piece(
        name="sleeve",
        edges=(
            Edge(
                name="wrist",
                path=polyline((wrist, plain.start)),
                role=Role.HEM,
                allowance=30.0,
                notches=(Notch(at=60.0, name="vent"),),
            ),
            Edge(
                name="front underarm",
                path=plain,
                allowance=15.9,
                notches=(Notch(at=net - 80.0, name="under"),),
                corner="front wrist",
            ),
            Edge(
                name="cap",
                path=crown,
                allowance=15.9,
                notches=(
                    Notch(at=90.0, name="front pitch"),
                    Notch(at=top, name="shoulder"),
                    Notch(at=top + 110.0, kind=NotchKind.DOUBLE, name="back pitch"),
                ),
                corner="front corner",
            ),
            Edge(
                name="back underarm",
                path=Path((upper, cap, lower)),
                allowance=15.9,
                notches=(Notch(at=80.0, name="under"),),
                corner="back corner",
            ),
        ),
        darts=(
            Dart(
                name="elbow",
                edge="back underarm",
                a=upper.length,
                b=upper.length + cap.length,
                point=ELBOW,
                pressed="end",
            ),
        ),
        grain=Grain(start=Vec(0, -150), end=Vec(0, 60)),
        levels=(Level(name="biceps", at=Vec(0, -1)), Level(name="elbow", at=Vec(0, -225))),
        cuts=(Cut(how="pair"),),
    )


def arm() -> Pattern:
    """Return the sleeve with its underarm seam; side b is the back."""
    return Pattern(
        pieces=(sleeve(), replace(back(), name="other")),
        seams=(
            Seam(
                name="underarm",
                a=(EdgeRef("sleeve", "front underarm", reversed=True),),
                b=(EdgeRef("sleeve", "back underarm"),),
            ),
        ),
    )


def moved_pattern(pattern: Pattern, move: Transform) -> Pattern:
    """Move every piece; in a mirror every edge runs the other way, so references turn too."""

    def seen(refs: tuple[EdgeRef, ...]) -> tuple[EdgeRef, ...]:
        return tuple(replace(r, reversed=r.reversed != move.mirrors) for r in refs)

    return Pattern(
        pieces=tuple(moved(p, move) for p in pattern.pieces),
        seams=tuple(replace(s, a=seen(s.a), b=seen(s.b)) for s in pattern.seams),
        companions=pattern.companions,
    )


MOVES = {
    "moved": translation((40.0, -3000.0)),
    "turned": rotation_deg(37.0, (10.0, 20.0)),
    "upside down": rotation_deg(180.0),
    "mirrored": reflection((3.0, 0.0), (3.0, 1.0)),
    "mirrored and turned": reflection((0.0, 0.0), (2.0, 1.0)),
}


def net_lengths(piece: Piece) -> dict[str, float]:
    """Return every edge's stitching length with darts folded out, mm."""
    return {e.name: net_length(piece, e.name) for e in piece.edges}


def assert_same_shape(one: Piece, other: Piece, within: float = 1e-3) -> None:
    """Hold two pieces to the same names, outline, notches, darts, levels, grain and marks."""
    names = [e.name for e in one.edges]
    assert sorted(names) == sorted(e.name for e in other.edges)
    for edge in one.edges:
        twin = other.edge(edge.name)
        assert edge.length == pytest.approx(twin.length, abs=within)
        for k in range(9):
            p = edge.path.point_at(edge.length * k / 8)
            assert twin.path.nearest(p)[1] < within, f"{edge.name} at {k}/8"
    mine, theirs = one.points(), other.points()
    flat = [n for n in mine if not n.endswith((" start", " end")) and " notch " not in n]
    for name in flat:
        assert mine[name].is_near(theirs[name], within), name
    for edge in one.edges:
        for notch in edge.notches:
            if notch.name:
                key = f"{edge.name} notch {notch.name}"
                assert mine[key].is_near(theirs[key], within), key
    for dart in one.darts:
        twin_dart = other.dart(dart.name)
        mouths = [
            {p.edge(d.edge).path.point_at(at) for at in (d.a, d.b)}
            for p, d in ((one, dart), (other, twin_dart))
        ]
        for p in mouths[0]:
            assert min(p.distance(q) for q in mouths[1]) < within, dart.name
    for level in one.levels:
        off = (level.at - other.level(level.name).at).dot(one.up)
        assert abs(off) < within, level.name
    assert (one.grain is None) == (other.grain is None)
    if one.grain and other.grain:
        assert one.grain.start.is_near(other.grain.start, within)
        assert one.grain.end.is_near(other.grain.end, within)


def assert_sound(pattern: Pattern) -> None:
    """Hold a pattern to whole pieces: notches and darts on edges, outlines that do not cross."""
    for piece in pattern.pieces:
        assert not self_crossings(piece.outline), piece.name
        for edge in piece.edges:
            for notch in edge.notches:
                assert -1e-6 <= notch.at <= edge.length + 1e-6
