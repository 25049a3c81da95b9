"""Moving one end of a curve along, the shape in between kept."""

from __future__ import annotations

import math

import pytest

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.shift import bent
from clothwright.geometry.turning import waves_deg
from clothwright.geometry.vec import Vec
from tests.geometry.shapes import ARMHOLE


def test_each_point_goes_its_share_of_the_way() -> None:
    """Against the definition, point by point: q + by (3t² - 2t³), to 0.01 mm; ends exact."""
    low, high, by = 40.0, 140.0, Vec(3.0, -12.0)
    new = bent(ARMHOLE, low, high, by)
    for t in (0.0, 0.1, 0.37, 0.5, 0.81, 1.0):
        p = ARMHOLE.point_at(low + t * (high - low)) + by * (3 * t**2 - 2 * t**3)
        assert new.nearest(p)[1] < 0.01
    assert new.start.is_near(ARMHOLE.point_at(low), 1e-9)
    assert new.end.is_near(ARMHOLE.point_at(high) + by, 1e-9)
    assert abs(new.start_tangent.cross(ARMHOLE.tangent_at(low))) < 1e-6
    assert abs(new.end_tangent.cross(ARMHOLE.tangent_at(high))) < 1e-6


def test_a_straight_line_along_the_way_grows_by_the_way() -> None:
    """Along its own line nothing bends: 60 mm and 10 mm make 70 mm."""
    new = bent(polyline([(0, 0), (0, 100)]), 20.0, 80.0, Vec(0, 10))
    assert new.length == pytest.approx(70.0, abs=1e-9)


def test_low_at_high_puts_a_straight_line_in() -> None:
    """Where nothing is bent, a line as long as the way fills what opens."""
    new = bent(ARMHOLE, 60.0, 60.0, Vec(0, -7))
    assert new.is_straight
    assert new.length == pytest.approx(7.0, abs=1e-6)


def test_a_wave_is_measured() -> None:
    """An S of two quarter turns in place of a line waves by 90 degrees; an arch by none."""
    k = 100 * 4 / 3 * math.tan(math.pi / 8)
    first = Cubic(Vec(0, 0), Vec(k, 0), Vec(100, 100 - k), Vec(100, 100))
    second = Cubic(Vec(100, 100), Vec(100, 100 + k), Vec(200 - k, 200), Vec(200, 200))
    straight = polyline([(0, 0), (200, 200)])
    assert waves_deg(straight, Path((first, second))) == pytest.approx(90.0, abs=1e-6)
    assert waves_deg(straight, Path((first,))) == 0.0
