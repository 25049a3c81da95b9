"""Shortening a dart: the point moves along the centre line, the legs keep their ends."""

from __future__ import annotations

import math

import pytest

from clothwright.changes.darts import has_true_cap, with_true_cap
from clothwright.changes.shorten_dart import CHANGE, ShortenDart
from clothwright.errors import CannotDo
from clothwright.geometry.transform import Transform
from clothwright.pattern.measure import dart_angle_deg, dart_intake, dart_legs, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit, parse_length
from clothwright.words import say, show_length
from tests.changes.dart_specimens import (
    INCH,
    MOVES,
    assert_same_shape,
    bodice,
    moved_pattern,
)


def run(pattern: Pattern, by: float) -> Pattern:
    return CHANGE.apply(pattern, ShortenDart(dart="front.bust", by=by)).pattern


def true_bodice() -> Pattern:
    pattern = bodice()
    return pattern.with_piece(with_true_cap(pattern.piece("front"), "bust"))


def test_half_an_inch_short_of_the_bust_point() -> None:
    """Set back 1/2 in (course of an agricultural university): width stays, angle as derived."""
    before, after = bodice().piece("front"), run(bodice(), 0.5 * INCH).piece("front")
    old, new = before.dart("bust"), after.dart("bust")
    assert new.point.distance(old.point) == pytest.approx(12.7)
    assert (new.a, new.b) == (old.a, old.b)
    assert dart_intake(after, new) == pytest.approx(20.0, abs=1e-3)
    depth = math.sqrt(130.0**2 - 10.0**2) - 12.7
    assert dart_angle_deg(after, new) == pytest.approx(
        2 * math.degrees(math.atan(10.0 / depth)), abs=1e-3
    )
    assert dart_legs(after, new)[0] == pytest.approx(dart_legs(after, new)[1])
    assert net_length(after, "side") == net_length(before, "side")
    assert after.edges == before.edges


@pytest.mark.parametrize("make", [bodice, true_bodice])
@pytest.mark.parametrize("by", [30.0, -25.0])
def test_there_and_back(make: type, by: float) -> None:
    """Shortened and lengthened again is as before; a true cap is true at every step."""
    once = run(make(), by).piece("front")
    assert has_true_cap(once, once.dart("bust"), 1e-3) == (make is true_bodice)
    again = run(run(make(), by), -by).piece("front")
    assert_same_shape(again, make().piece("front"), within=1e-6)


def test_nothing_is_nothing() -> None:
    """By 0 the pattern is the very same; other pieces always are."""
    pattern = bodice()
    assert run(pattern, 0.0) is pattern
    assert run(pattern, 5.0).piece("back") is pattern.piece("back")


@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES.keys())
def test_turned_moved_mirrored(move: Transform) -> None:
    """A piece drawn elsewhere, turned or mirrored gives the same dart there."""
    one = run(moved_pattern(true_bodice(), move), 20.0).piece("front")
    assert_same_shape(one, moved_pattern(run(true_bodice(), 20.0), move).piece("front"))


def test_refusals_name_the_nearest() -> None:
    """Nothing of the dart left, or its point outside: the largest amount that works is named."""
    with pytest.raises(CannotDo, match=r"129\.6 mm long.*by 124\.6 mm or less"):
        run(bodice(), 126.0)
    with pytest.raises(CannotDo, match=r"leave the piece.*lengthen it by") as caught:
        run(bodice(), -200.0)
    (nearest,) = (x for x in caught.value.nearest if isinstance(x, float))
    run(bodice(), -nearest)
    run(bodice(), -parse_length(show_length(nearest, Unit.inch), unit=Unit.inch))


def test_what_is_said() -> None:
    """The record gives the amount, the new length and both angles."""
    words = say(CHANGE.apply(bodice(), ShortenDart(dart="front.bust", by=INCH)).said, Unit.inch)
    assert words == (
        'Shortened dart "bust" of front by 1 in to 4 1/8 in; its width at the edge stays, so its '
        "angle goes from 8.8° to 11°."
    )
