"""Truing a dart: legs equal, cap as folded, pressed and cut."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.darts import has_true_cap, true_cap
from clothwright.changes.true_dart import CHANGE, TrueDart
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.transform import Transform, reflection, rotation_deg
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.measure import dart_angle_deg, dart_legs, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.dart_specimens import (
    MOVES,
    assert_same_shape,
    assert_sound,
    bodice,
    moved_pattern,
)


def run(pattern: Pattern, **params: str) -> Pattern:
    return CHANGE.apply(pattern, TrueDart(dart="front.bust", **params)).pattern


def open_edge(leg: float, intake: float, seam_deg: float) -> tuple[Path, float, float]:
    """A straight seam that meets the first leg at an angle, then the mouth, then any run.

    The dart's point is the origin, the dart opens downwards (the seam runs left to right).
    """
    half = math.degrees(math.asin(intake / 2 / leg))
    a, b = unit_at(-90 - half) * leg, unit_at(-90 + half) * leg
    away = rotation_deg(seam_deg).apply_direction(-a.unit)
    start = a + away * 80.0
    return polyline((start, a, b, b + Vec(80, 0))), 80.0, 80.0 + a.distance(b)


@pytest.mark.parametrize(
    ("leg", "intake", "seam_deg", "reach"),
    [
        (130.0, 20.0, 90.0, 130.39),
        (100.0, 40.0, 90.0, 102.06),
        (100.0, 40.0, 80.0, 98.52),
        (100.0, 40.0, 70.0, 95.00),
        (100.0, 40.0, 100.0, 105.87),
    ],
)
def test_fold_and_cut_of_a_straight_seam(
    leg: float, intake: float, seam_deg: float, reach: float
) -> None:
    """The cap's middle lies L sin f / sin(f + h) from the point; leg ends stay at L.

    Source: derived by plane geometry (r = L sin f / sin(f + h)), in cm 13.039, 10.206, 9.852,
    9.500 and 10.587.
    """
    path, a, b = open_edge(leg, intake, seam_deg)
    cap = true_cap(path, a, b, Vec(0, 0), "start")
    middle = cap.point_at(cap.length / 2)
    assert middle.norm == pytest.approx(reach, abs=0.01)
    assert abs(middle.x) < 1e-6
    assert (cap.start.norm, cap.end.norm) == pytest.approx((leg, leg), abs=1e-6)


def test_proud_of_the_straight_line() -> None:
    """Met squarely, the cap stands L sin h tan h proud: 0.77 mm at 130/20, 4.08 mm at 100/40."""
    for leg, intake, proud in ((130.0, 20.0, 0.77), (100.0, 40.0, 4.08)):
        path, a, b = open_edge(leg, intake, 90.0)
        cap = true_cap(path, a, b, Vec(0, 0), "start")
        chord = cap.start.lerp(cap.end, 0.5).norm
        assert cap.point_at(cap.length / 2).norm - chord == pytest.approx(proud, abs=0.01)


def test_folded_it_lies_on_the_seam_line() -> None:
    """Folded along the leg, then the centre line, both halves lie on a curved seam line.

    The paper itself is the check: each half is folded over by reflections, as the fingers do it.
    """
    seam = Path((Cubic(Vec(-90, -95), Vec(-60, -120), Vec(-40, -118), unit_at(-98.0) * 110.0),))
    a = seam.length
    leg_b = unit_at(-82.0) * 110.0
    path = seam.joined(polyline((seam.end, leg_b, Vec(90, -90))))
    cap = true_cap(path, a, a + seam.end.distance(leg_b), Vec(0, 0), "start")
    over_leg = reflection(Vec(0, 0), seam.end)
    over_centre = reflection(Vec(0, 0), unit_at(-90.0))
    half = cap.length / 2
    for k in range(11):
        first = over_leg.apply(cap.point_at(half * k / 10))
        second = over_leg.apply(over_centre.apply(cap.point_at(half + half * k / 10)))
        assert seam.nearest(first)[1] < 1e-3
        assert seam.nearest(second)[1] < 1e-3


def test_pressed_the_other_way_the_other_run_counts() -> None:
    """Pressing decides which run of the seam line is mirrored; both caps are true for their way."""
    one = run(bodice(), pressed="start").piece("front")
    other = run(bodice(), pressed="end").piece("front")
    for piece, way in ((one, "start"), (other, "end")):
        assert piece.dart("bust").pressed == way
        assert has_true_cap(piece, piece.dart("bust"), within=1e-6)
    assert not has_true_cap(one, replace(one.dart("bust"), pressed="end"))


def test_what_stays() -> None:
    """Stitching lengths, the angle, the legs and every other edge stay; doing it twice is once."""
    pattern = bodice()
    before, out = pattern.piece("front"), run(pattern)
    after = out.piece("front")
    assert net_length(after, "side") == pytest.approx(net_length(before, "side"), abs=1e-6)
    assert dart_angle_deg(after, after.dart("bust")) == pytest.approx(8.8236, abs=1e-3)
    assert [e for e in after.edges if e.name != "side"] == [
        e for e in before.edges if e.name != "side"
    ]
    for name in ("side notch low", "side notch high"):
        assert after.points()[name].is_near(before.points()[name], 1e-6)
    assert out.piece("back") is pattern.piece("back")
    assert run(out) is out
    assert_sound(out)


def crooked() -> Pattern:
    """The bodice with its bust dart's point 25 mm higher: legs of 137.6 and 133.9 mm."""
    pattern = bodice()
    front = pattern.piece("front")
    dart = replace(front.dart("bust"), point=Vec(95.0, 45.0))
    return pattern.with_piece(replace(front, darts=(dart,)))


@pytest.mark.parametrize(
    ("legs", "shares"), [("first", (1, 0)), ("second", (0, 1)), ("half-way", (0.5, 0.5))]
)
def test_unequal_legs_are_made_equal(legs: str, shares: tuple[float, float]) -> None:
    """Each leg end moves along its own leg; the seam line beside it is redrawn over 60 mm only."""
    before = crooked().piece("front")
    was = dart_legs(before, before.dart("bust"))
    assert abs(was[0] - was[1]) > 3.0
    length = shares[0] * was[0] + shares[1] * was[1]
    out = run(crooked(), legs=legs)
    after = out.piece("front")
    dart = after.dart("bust")
    assert dart_legs(after, dart) == pytest.approx((length, length), abs=1e-6)
    assert dart.point == before.dart("bust").point
    assert dart_angle_deg(after, dart) == pytest.approx(
        dart_angle_deg(before, before.dart("bust")), abs=1e-6
    )
    assert has_true_cap(after, dart, within=1e-3)
    for name in ("waist side", "underarm"):
        assert after.points()[name].is_near(before.points()[name], 1e-6)
    assert_sound(out)


def test_what_is_said() -> None:
    """The record gives the way it is pressed, how proud the cap stands, and both legs."""
    words = say(CHANGE.apply(crooked(), TrueDart(dart="front.bust")).said, Unit.mm)
    assert words == (
        'Trued dart "bust" of front, pressed towards the corner "waist side": its cap stands '
        "4.8 mm proud of the straight line between its legs. Its legs were 137.6 mm and 133.9 mm; "
        "both are now 135.7 mm."
    )


@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES.keys())
@pytest.mark.parametrize("make", [bodice, crooked])
def test_turned_moved_mirrored(make: type, move: Transform) -> None:
    """A piece drawn elsewhere, turned or mirrored gives the same dart there."""
    one = run(moved_pattern(make(), move)).piece("front")
    assert_same_shape(one, moved_pattern(run(make()), move).piece("front"))


def test_refusals() -> None:
    """Too little seam line to redraw, or a fold that never reaches the centre line: refused."""
    edges = (
        Edge(name="low", path=polyline(((0, 0), (46, 0), (54, 0), (100, 0)))),
        Edge(name="up", path=polyline(((100, 0), (100, 100), (0, 100), (0, 0)))),
    )
    near = Dart(name="bust", edge="low", a=1.0, b=9.0, point=Vec(40.0, 30.0))
    piece = Piece(name="front", edges=edges, darts=(near,))
    with pytest.raises(CannotDo, match="too little of the seam line"):
        run(Pattern(pieces=(piece,)))


def test_a_seam_that_meets_the_dart_too_slantingly_is_refused() -> None:
    """A fold whose edge would never reach the centre line is told, with the way out."""
    path, a, b = open_edge(100.0, 40.0, 168.0)
    with pytest.raises(CannotDo, match="too slantingly"):
        true_cap(path, a, b, Vec(0, 0), "start")
