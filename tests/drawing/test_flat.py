"""Cutting a piece by lines for a view of its own."""

from __future__ import annotations

import pytest
from shapely import Polygon, box

from clothwright.drawing.flat import within

L_SHAPE = ((0.0, 0.0), (9.0, 0.0), (9.0, 3.0), (4.0, 3.0), (4.0, 8.0), (0.0, 8.0))


@pytest.mark.parametrize(("axis", "low", "high"), [(1, 1.0, 2.0), (1, 2.0, 5.0), (0, 3.0, 6.0)])
def test_a_band_has_the_area_shapely_finds(axis: int, low: float, high: float) -> None:
    """Cutting by two lines agrees with shapely's intersection (general-purpose reference)."""
    window = box(-99, low, 99, high) if axis else box(low, -99, high, 99)
    expected = Polygon(L_SHAPE).intersection(window).area
    assert Polygon(within(L_SHAPE, axis, low, high)).area == pytest.approx(expected)


def test_a_band_beside_the_ring_is_nothing() -> None:
    """What does not reach the piece is not drawn on it."""
    assert within(L_SHAPE, 1, 20.0, 30.0) == ()
