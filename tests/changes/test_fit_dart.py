"""A dart made wider or narrower until its seam agrees."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.darts import has_true_cap
from clothwright.changes.fit_dart import FitDart, apply
from clothwright.errors import CannotDo
from clothwright.pattern.bends import bend_at_dart
from clothwright.pattern.measure import dart_angle_deg, dart_intake, dart_legs, net_length, side
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import say
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice, seam, skirt

HOW = FitDart(dart="front.bust", seam="side seam")


def eased(by: float) -> Pattern:
    """The bodice with a side seam whose back is meant to be longer than its front by `by` mm."""
    pattern = bodice()
    return pattern.with_seam(replace(pattern.seam("side seam"), ease=by))


@pytest.mark.parametrize("by", [-12.0, -4.0, 6.0, 15.0])
def test_both_sides_agree_and_the_dart_is_sound(by: float) -> None:
    """The net seam changes by what is needed; point and corners stay, legs equal, cap true."""
    pattern = eased(by)
    done = apply(pattern, HOW)
    it = done.pattern.seam("side seam")
    a, b = side(done.pattern, it.a).length, side(done.pattern, it.b).length
    assert b - a == pytest.approx(by, abs=1e-3)
    old, new = pattern.piece("front"), done.pattern.piece("front")
    dart = new.dart("bust")
    legs = dart_legs(new, dart)
    assert legs[0] == pytest.approx(legs[1], abs=1e-6)
    assert has_true_cap(new, dart)
    assert dart.point == old.dart("bust").point
    for corner in ("hem side", "underarm"):
        assert new.point(corner) == old.point(corner)
    width = dart_intake(new, dart)
    assert width - dart_intake(old, old.dart("bust")) == pytest.approx(by, abs=1.2)
    angle = math.radians(dart_angle_deg(new, dart))
    assert width == pytest.approx(2 * legs[0] * math.sin(angle / 2), abs=1e-6)
    assert ("wider" if by > 0 else "narrower") in say(done.said, Unit.cm)


def test_half_a_skirt_along_a_whole_band_changes_by_half() -> None:
    """A band 8 mm longer than both halves: the dart of the half gets 4 mm narrower."""
    pattern = skirt()
    front = pattern.piece("skirt front")
    whole = 2 * net_length(front, "waist")
    twice = "skirt front.waist reversed, skirt front.waist"
    back = net_length(pattern.piece("skirt back"), "waist")
    waist = seam("waist", twice, "skirt back.waist", ease=back - whole + 8.0)
    done = apply(
        Pattern(pieces=pattern.pieces, seams=(*pattern.seams, waist)),
        FitDart(dart="skirt front.waist", seam="waist"),
    )
    gained = net_length(done.pattern.piece("skirt front"), "waist") - whole / 2
    assert gained == pytest.approx(-4.0, abs=1e-3)


def test_too_much_is_refused_with_what_can_be_had() -> None:
    """A dart is not sewn away, nor made wider than it is long."""
    with pytest.raises(CannotDo, match="bust") as caught:
        apply(eased(-60.0), HOW)
    assert caught.value.nearest
    with pytest.raises(CannotDo, match="no room") as caught:
        apply(eased(200.0), HOW)
    assert caught.value.nearest


@pytest.mark.parametrize("more", [2.0, 4.0])
def test_a_dart_that_was_marked_too_wide_gets_its_line_back(more: float) -> None:
    """Both legs marked `more` mm outwards on a waist that is drawn fair: narrowed, it is fair.

    The line then runs on into what was the mouth; drawn straight over to the other leg it bent.
    """
    right = GARMENTS["trousers"]()
    back = right.piece("back")
    (dart,) = back.darts
    wide = replace(dart, a=dart.a - more, b=dart.b + more)
    spoilt = right.with_piece(replace(back, darts=(wide,)))
    new = apply(spoilt, FitDart(dart=f"back.{dart.name}", seam="waist")).pattern.piece("back")
    was, now = (bend_at_dart(p, p.darts[0]) for p in (back, new))
    assert was is not None
    assert now is not None
    assert abs(now.deg - was.deg) < 3.0
    assert new.darts[0].a == pytest.approx(dart.a, abs=0.5)
    assert dart_intake(new, new.darts[0]) == pytest.approx(dart_intake(back, dart), abs=0.5)
