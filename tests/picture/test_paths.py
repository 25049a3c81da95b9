"""Rough paths lead where the exact ones do, in fewer letters."""

from __future__ import annotations

import math

import pytest
from svgelements import Path as SvgPath

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec
from clothwright.picture.paths import path_data, rough_path_data


def test_steps_do_not_drift() -> None:
    """After a thousand steps of a third of a millimetre the line is within 0.1 mm of its end."""
    path = polyline([Vec(k / 3, 40 * math.sin(k)) for k in range(1000)])
    found = SvgPath(rough_path_data(path, 1e-9))
    for point, true in zip(found.as_points(), SvgPath(path_data(path)).as_points(), strict=True):
        assert abs(point - true) <= 0.1 * math.sqrt(2)


def test_a_curve_and_a_closed_ring() -> None:
    """Curves keep their handles, rings close, and y is turned down as everywhere on a screen."""
    curve = Path((Cubic(Vec(0, 0), Vec(10, 30), Vec(50, 30), Vec(60, 0.25)),))
    assert rough_path_data(curve, 0.3) == "M0,0c10-30 50-30 60-.2"
    ring = polyline(((0, 0), (50, 0), (100, 0), (100, 50), (0, 50), (0, 0)))
    assert rough_path_data(ring, 0.3, closed=True) == "M0,0l100,0l0-50l-100,0Z"


def test_a_round_line_within_what_it_may_stray() -> None:
    """A circle of 200 mm drawn within 0.3 mm: no corner farther than that from the circle."""
    circle = polyline(
        [
            (100 * math.cos(math.radians(k)), 100 * math.sin(math.radians(k)))
            for k in (*range(360), 0)
        ]
    )
    text = rough_path_data(circle, 0.3, closed=True)
    found = SvgPath(text)
    assert len(text) < len(path_data(circle, closed=True)) / 5
    for k in range(200):
        assert abs(found.point(k / 200)) == pytest.approx(100, abs=0.3 + 0.1)
