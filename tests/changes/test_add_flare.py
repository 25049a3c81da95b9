"""Flare at the hem: lengths from the top stay, the hem opens by what was asked (plane geometry)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.changes.add_flare import AddFlare, apply
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import corner_angle_deg, net_length
from clothwright.pattern.pattern import Pattern
from tests.garments.wardrobe import GARMENTS
from tests.specimens import skirt

SIDES = ("skirt front.side", "skirt back.side")


def flared(**more: object) -> Pattern:
    return apply(skirt(), AddFlare(edges=SIDES, **more)).pattern  # type: ignore[arg-type]


@given(by=st.floats(5.0, 250.0))
def test_the_side_swings_out_and_stays_as_long(by: float) -> None:
    """From the waist: the side keeps its length, its lower end moves by the chord, as asked.

    The hem goes on about it: longer by about r t, with t = 2 asin(by / 2 r), and meets the side at
    the angle that it had there. The waist is drawn fair over the side, within 60 mm of it.
    """
    before, after = skirt().piece("skirt front"), flared(by=by).piece("skirt front")
    assert after.edge("side").length == pytest.approx(before.edge("side").length, abs=1e-6)
    was, now = (p.edge("waist").path for p in (before, after))
    assert now.ends == was.ends
    assert now.length == pytest.approx(was.length, abs=0.5)
    assert now.point_at(65.0).is_near(was.point_at(65.0), 0.5)
    old, new = (p.point("hem side") for p in (before, after))
    assert old.distance(new) == pytest.approx(by, abs=1e-6)
    assert new.x > old.x
    r = before.point("waist side").distance(old)
    gained = after.edge("hem").length - before.edge("hem").length
    assert gained == pytest.approx(r * 2 * math.asin(by / 2 / r), rel=0.02, abs=0.1)
    angles = [corner_angle_deg(p, p.index("side")) for p in (before, after)]
    assert angles[0] == pytest.approx(angles[1], abs=1e-6)


def test_from_the_hip_down_nothing_moves_above() -> None:
    """Above the bend the side is where it was; below it the length is kept within 1 mm."""
    before, after = skirt().piece("skirt front"), flared(by=60.0, line="hip").piece("skirt front")
    for y in (480.0, 520.0, 580.0):
        at = [
            line_crossings(p.edge("side").path, Vec(0.0, y), Vec(1.0, 0.0))[0].point.x
            for p in (before, after)
        ]
        assert at[0] == pytest.approx(at[1], abs=1e-6)
    assert after.edge("side").length == pytest.approx(before.edge("side").length, abs=1.0)
    assert before.point("hem side").distance(after.point("hem side")) == pytest.approx(60.0)


@pytest.mark.parametrize("cuts", [1, 3, 6])
def test_spread_evenly_the_waist_and_the_sides_keep_their_length(cuts: int) -> None:
    """Hinges on the stitching line: waist net of its dart and side equal to 1e-6 (O1); hem + by.

    The hem's corners open by chords that add up to what was asked.
    """
    before = skirt().piece("skirt front")
    after = flared(by=60.0, where="spread", cuts=cuts).piece("skirt front")
    assert net_length(after, "waist") == pytest.approx(net_length(before, "waist"), abs=1e-3)
    assert after.edge("side").length == pytest.approx(before.edge("side").length, abs=1e-6)
    assert after.edge("hem").length == pytest.approx(before.edge("hem").length + 60.0, abs=1e-3)
    assert after.edge("fold") == before.edge("fold")
    assert [d.name for d in after.darts] == ["waist"]


def test_taken_away_at_the_side() -> None:
    """A minus swings the side in; it stays as long."""
    before, after = skirt().piece("skirt front"), flared(by=-40.0).piece("skirt front")
    assert after.edge("side").length == pytest.approx(before.edge("side").length, abs=1e-6)
    assert after.edge("hem").length < before.edge("hem").length - 20.0


def test_more_than_swings_is_refused_with_what_does() -> None:
    """Half a circle of flare at one side is no side."""
    with pytest.raises(CannotDo, match="flare of"):
        flared(by=900.0)
    with pytest.raises(CannotDo, match="runs across the grain"):
        apply(skirt(), AddFlare(edges=("skirt front.hem",), by=30.0, line="hip"))


def test_a_sleeve_of_the_blouse_is_flared_on_both_sides() -> None:
    """Both underarm edges swing out alike, so they are as long as each other, as before."""
    before = GARMENTS["blouse"]()
    names = [e.name for e in before.piece("sleeve").edges if "seam" in e.name]
    params = AddFlare(edges=tuple(f"sleeve.{n}" for n in names), by=25.0)
    after = apply(before, params).pattern.piece("sleeve")
    for name in names:
        old = before.piece("sleeve").edge(name).length
        assert after.edge(name).length == pytest.approx(old, abs=1e-6)
