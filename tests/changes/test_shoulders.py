"""Shoulders made squarer or more sloping, wider or narrower, or moved forward.

Figures of the tables: plane geometry, worked independently of this code (pages in docs/changes).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes import shoulder_slope
from clothwright.changes.shoulder_slope import ShoulderSlope
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_length
from clothwright.pattern.piece import Edge, Notch, Piece, Role
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.dart_specimens import assert_same_shape
from tests.changes.figures import CM, alone, at
from tests.specimens import bodice


def half(long: float = 12.5, drop: float = 4.5, hollow: float = 3.0, under: float = 20.0) -> Piece:
    """Half a front: shoulder so long that drops so much, a hollow armhole; cm."""
    neck = at(7, 41)
    tip = neck + at(math.sqrt(long**2 - drop**2), -drop)
    arm = at(24, under)
    hole = Path((Cubic(arm, arm + at(-hollow - 2, 0), tip + at(-hollow, -8), tip),))
    return Piece(
        name="front",
        edges=(
            Edge(name="waist", path=polyline((at(0, 0), at(23, 0))), corner="waist centre"),
            Edge(name="side", path=polyline((at(23, 0), arm)), corner="waist side"),
            Edge(name="armhole", path=hole, corner="underarm", notches=(Notch(at=80.0),)),
            Edge(name="shoulder", path=polyline((tip, neck)), corner="tip"),
            Edge(name="neck", path=polyline((neck, at(0, 33))), corner="neck point"),
            Edge(name="centre", path=polyline((at(0, 33), at(0, 0))), role=Role.CENTRE),
        ),
    )


def slope(piece: Piece, by: float, **more: str) -> Piece:
    params = ShoulderSlope(pieces=("front",), by=by, **more)
    return shoulder_slope.CHANGE.apply(alone(piece), params).pattern.piece("front")


def slope_deg(piece: Piece) -> float:
    way = piece.point("tip") - piece.point("neck point")
    return math.degrees(math.atan2(-way.y, way.x))


@pytest.mark.parametrize(
    ("by", "angle", "out"),
    [
        (0.6, 18.18, 0.21),
        (1.0, 16.26, 0.34),
        (1.3, 14.83, 0.42),
        (2.0, 11.54, 0.59),
        (-0.6, 24.08, -0.25),
        (-1.0, 26.10, -0.44),
    ],
)
def test_square_and_sloping(by: float, angle: float, out: float) -> None:
    """A shoulder of 12.5 that drops 4.5 (21.10 degrees): the new slope, and how far the tip goes.

    Moving the tip straight up by 1.0 would shorten it by 0.32: the length is kept instead.
    """
    before = half()
    after = slope(before, by * CM)
    assert slope_deg(before) == pytest.approx(21.10, abs=0.005)
    assert slope_deg(after) == pytest.approx(angle, abs=0.006)
    moved = after.point("tip") - before.point("tip")
    assert moved / CM == pytest.approx((out, by), abs=0.006)
    assert net_length(after, "shoulder") == pytest.approx(125.0, abs=1e-6)
    straight = (before.point("tip") + Vec(0, 10) - before.point("neck point")).norm
    assert 125.0 - straight == pytest.approx(3.2, abs=0.05)


LONG, DROP, HOLLOW, UNDER = (
    st.floats(9, 15),
    st.floats(2, 6),
    st.floats(1, 5),
    st.floats(17, 23),
)


@settings(max_examples=25)
@given(long=LONG, drop=DROP, hollow=HOLLOW, under=UNDER, by=st.floats(-20, 20))
def test_square_and_back(long: float, drop: float, hollow: float, under: float, by: float) -> None:
    """Shoulder, armhole and neck keep their lengths on any; up and down again comes back."""
    before = half(long, drop, hollow, under)
    after = slope(before, by)
    assert not self_crossings(after.outline)
    for name in ("shoulder", "armhole", "neck", "centre", "waist"):
        assert net_length(after, name) == pytest.approx(net_length(before, name), abs=1e-6)
    assert_same_shape(before, slope(after, -by), 1e-6)


def test_both_pieces_keep_their_seams() -> None:
    """Front and back raised alike: shoulder and armhole fit as they did, the dart goes along."""
    pattern = bodice()
    done = shoulder_slope.CHANGE.apply(pattern, ShoulderSlope(pieces=("front", "back"), by=10.0))
    for name in ("front", "back"):
        for edge in ("shoulder", "armhole"):
            old, new = pattern.piece(name), done.pattern.piece(name)
            assert net_length(new, edge) == pytest.approx(net_length(old, edge), abs=1e-6)
    words = say(done.said, Unit.cm)
    assert "Made the shoulder of front and back squarer: its tip is 1 cm higher" in words
    assert "sleeve and collar stay" in words


def test_the_tip_alone() -> None:
    """Asked so, the underarm stays and the armhole grows by about as much."""
    before = half()
    after = slope(before, 10.0, armhole="tip")
    assert after.point("underarm") == before.point("underarm")
    assert 5.0 < net_length(after, "armhole") - net_length(before, "armhole") < 12.0


def test_more_than_the_shoulder_is_refused() -> None:
    """A shoulder of 12.5 that drops 4.5 can rise by 17 at the most."""
    with pytest.raises(CannotDo, match="less than 170 mm"):
        slope(half(), 180.0)
