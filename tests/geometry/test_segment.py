"""Lines and cubics: length, place, direction, splitting."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from clothwright.geometry.segment import Cubic, Line, quarter_arc
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from tests.curvature import curvature
from tests.geometry.shapes import cubics, lines, moves

few = settings(max_examples=50, deadline=None)


def polyline_length(curve: Cubic, steps: int = 40_000) -> float:
    """Length of a polyline of 40,000 chords, without the curve's own methods."""
    t = np.linspace(0, 1, steps + 1)[:, None]
    p = np.array(curve.controls())
    xy = (1 - t) ** 3 * p[0] + 3 * (1 - t) ** 2 * t * p[1] + 3 * (1 - t) * t**2 * p[2] + t**3 * p[3]
    return float(np.hypot(*np.diff(xy, axis=0).T).sum())


@few
@given(cubics)
def test_length_against_a_fine_polyline(curve: Cubic) -> None:
    """Promise: a seam's length within 0.05 mm of the exact curve; here within 0.001."""
    assert curve.length == pytest.approx(polyline_length(curve), abs=1e-3)


@pytest.mark.parametrize(
    "points",
    [
        ((142.81, -186.06), (-85.84, -30.62), (142.81, -185.06), (0.0, -86.84)),
        ((142.82, -186.06), (-85.85, -30.64), (142.82, -186.06), (0.0, -85.85)),
        ((0.0, 0.0), (100.0, 100.0), (0.0, 100.0), (100.0, 0.0)),
        ((0.0, 0.0), (90.0, 0.0), (-40.0, 0.0), (50.0, 0.0)),
    ],
)
def test_length_with_a_cusp(points: tuple[tuple[float, float], ...]) -> None:
    """Curves with a cusp, or nearly, whose estimates of length can agree by chance."""
    curve = Cubic(*(Vec(*p) for p in points))
    assert curve.length == pytest.approx(polyline_length(curve), abs=1e-3)
    first, second = curve.split(0.25)
    assert first.length + second.length == pytest.approx(curve.length, abs=1e-4)


@few
@given(cubics, st.integers(1, 100))
def test_length_to_against_scipy(curve: Cubic, percent: int) -> None:
    """The length up to a parameter agrees with scipy's adaptive integration of the speed."""
    t = percent / 100
    reference = quad(
        lambda s: curve.derivative(s).norm, 0, t, limit=200, epsabs=1e-6, full_output=1
    )[0]
    assert curve.length_to(t) == pytest.approx(reference, abs=1e-3)


@few
@given(cubics, st.floats(0, 1))
def test_t_at_is_the_way_back(curve: Cubic, share: float) -> None:
    """The place at a distance lies at that distance."""
    at = share * curve.length
    assert curve.length_to(curve.t_at(at)) == pytest.approx(at, abs=1e-3)


@few
@given(cubics, st.floats(0.01, 0.99), st.floats(0, 1))
def test_split_is_exact(curve: Cubic, t: float, s: float) -> None:
    """Both parts lie on the curve point for point, and their lengths add up."""
    first, second = curve.split(t)
    assert first.point(s).is_near(curve.point(s * t), 1e-9)
    assert second.point(s).is_near(curve.point(t + s * (1 - t)), 1e-9)
    assert first.end == second.start
    assert first.length + second.length == pytest.approx(curve.length, abs=5e-4)


@few
@given(cubics, st.floats(0.01, 0.99))
def test_derivatives_against_differences(curve: Cubic, t: float) -> None:
    """First and second derivative agree with central differences."""
    h = 1e-4
    slope = (curve.point(t + h) - curve.point(t - h)) / (2 * h)
    assert curve.derivative(t).is_near(slope, 1e-3)
    bend = (curve.derivative(t + h) - curve.derivative(t - h)) / (2 * h)
    assert curve.second_derivative(t).is_near(bend, 1e-3)


@few
@given(st.one_of(cubics, lines), moves(), st.floats(0, 1))
def test_moves_and_curves_commute(curve: Cubic | Line, move: Transform, t: float) -> None:
    """Moving a curve moves its points; its length stays; its curvature stays or changes sign."""
    assume(curve.derivative(t).norm > 1)
    moved = curve.transformed(move)
    assert moved.point(t).is_near(move.apply(curve.point(t)), 1e-9)
    assert moved.length == pytest.approx(curve.length, abs=5e-4)
    sign = -1 if move.mirrors else 1
    assert curvature(moved, t) == pytest.approx(sign * curvature(curve, t), rel=1e-6, abs=1e-9)


@few
@given(st.one_of(cubics, lines), st.floats(0, 1))
def test_reversed(curve: Cubic | Line, t: float) -> None:
    """Travelled backwards the points are the same and the length too."""
    assert curve.reversed().point(t).is_near(curve.point(1 - t), 1e-9)
    assert curve.reversed().length == pytest.approx(curve.length, abs=5e-4)


@few
@given(cubics, st.sampled_from([1.0, 0.1, 0.01]))
def test_flatten_stays_within_the_sagitta(curve: Cubic, sagitta: float) -> None:
    """Every point of the curve lies within the sagitta of its chord."""
    chain = [curve.start, *curve.flatten(sagitta)]
    n = len(chain) - 1
    for i in range(n):
        a, b = chain[i], chain[i + 1]
        for k in range(1, 8):
            p = curve.point((i + k / 8) / n)
            assert p.distance(a.lerp(b, _foot(p, a, b))) <= sagitta * (1 + 1e-9) + 1e-9


def _foot(p: Vec, a: Vec, b: Vec) -> float:
    size = (b - a).dot(b - a)
    return min(1.0, max(0.0, (p - a).dot(b - a) / size)) if size > 0 else 0.0


def test_curvature_of_an_arc() -> None:
    """A counter-clockwise arc of radius 50 bends to the left with 1/50 per mm."""
    arc = quarter_arc(Vec(0, 0), 50, 30, 60)
    for t in (0.0, 0.3, 0.5, 1.0):
        assert curvature(arc, t) == pytest.approx(1 / 50, rel=1e-2)
    assert curvature(arc.reversed(), 0.5) == pytest.approx(-1 / 50, rel=1e-2)
    assert arc.length == pytest.approx(50 * math.pi / 3, rel=2e-5)


@pytest.mark.parametrize(
    ("curve", "at_start", "at_end"),
    [
        (Cubic(Vec(0, 0), Vec(0, 0), Vec(10, 10), Vec(20, 10)), 45, 0),
        (Cubic(Vec(0, 0), Vec(10, 0), Vec(20, 10), Vec(20, 10)), 0, 45),
        (Cubic(Vec(0, 0), Vec(0, 0), Vec(0, 0), Vec(20, 20)), 45, 45),
        (Cubic(Vec(0, 0), Vec(0, 0), Vec(20, 20), Vec(20, 20)), 45, 45),
    ],
)
def test_direction_where_handles_have_no_length(
    curve: Cubic, at_start: float, at_end: float
) -> None:
    """With a handle of no length the direction is the limit of the directions beside it."""
    assert curve.tangent(0.0).angle_deg == pytest.approx(at_start, abs=1e-6)
    assert curve.tangent(1.0).angle_deg == pytest.approx(at_end, abs=1e-6)
    assert curve.tangent(1e-6).angle_deg == pytest.approx(at_start, abs=1e-3)


def test_line_without_length() -> None:
    """A line between equal points has no length, no direction, and one place."""
    dot = Line(Vec(3, 4), Vec(3, 4))
    assert dot.length == 0
    assert dot.t_at(5) == 0
    assert dot.tangent(0.5) == (0, 0)
