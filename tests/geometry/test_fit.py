"""Arcs, fair curves through points, fits to many points."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.geometry.fit import arc, fit_curve, smooth_through
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from tests.geometry.shapes import ARMHOLE, CAP, bows, fine, moves

few = settings(max_examples=50, deadline=None)


@pytest.mark.parametrize("radius", [5.0, 100.0, 700.0])
@pytest.mark.parametrize("sweep", [-360.0, -75.0, 30.0, 90.0, 200.0, 540.0])
def test_arc_stays_on_the_circle(radius: float, sweep: float) -> None:
    """Every point within 0.002 mm of the circle; length r times the angle; ends in place."""
    path = arc((10, 20), radius, 30, sweep)
    gaps = [abs(p.distance((10, 20)) - radius) for p in path.flatten(0.001)]
    assert max(gaps) < 0.002
    assert path.length == pytest.approx(radius * math.radians(abs(sweep)), abs=0.01)
    end = math.radians(30 + sweep)
    assert path.end.is_near((10 + radius * math.cos(end), 20 + radius * math.sin(end)), 1e-9)
    assert path.start_tangent.cross(path.start - Vec(10, 20)) * sweep < 0


@pytest.mark.parametrize(("radius", "sweep"), [(0.0, 90.0), (-5.0, 90.0), (5.0, 0.0)])
def test_no_arc(radius: float, sweep: float) -> None:
    """No radius or no sweep is refused."""
    with pytest.raises(ValueError, match="radius above zero"):
        arc((0, 0), radius, 0, sweep)


knots = st.lists(st.floats(-40, 40), min_size=3, max_size=6).map(
    lambda ys: [Vec(60.0 * i, round(y, 2)) for i, y in enumerate(ys)]
)


@few
@given(knots)
def test_smooth_curve_passes_and_is_smooth(points: list[Vec]) -> None:
    """The curve passes each point exactly and its direction does not jump there."""
    path = smooth_through(points)
    ends = [path.start, *(s.end for s in path.segments)]
    assert all(p.is_near(q, 1e-9) for p, q in zip(ends, points, strict=True))
    for a, b in zip(path.segments, path.segments[1:], strict=False):
        assert a.tangent(1.0).is_near(b.tangent(0.0), 1e-9)


@few
@given(knots, moves(), st.floats(0.2, 5))
def test_smooth_curve_moves_with_its_points(
    points: list[Vec], move: Transform, factor: float
) -> None:
    """Turned, moved, mirrored, scaled or drawn from the other end, it is the same curve."""
    path = smooth_through(points)
    big = move.then(Transform(factor, 0, 0, factor))
    moved = smooth_through([big.apply(p) for p in points])
    back = smooth_through(points[::-1]).reversed()
    for s, t, r in zip(path.segments, moved.segments, back.segments, strict=True):
        for p, q, o in zip(s.controls(), t.controls(), r.controls(), strict=True):
            assert q.is_near(big.apply(p), 1e-6)
            assert o.is_near(p, 1e-6)


def test_smooth_curve_through_points_of_a_circle() -> None:
    """Points 30 degrees apart on a circle of 100 mm: within 0.01 mm of the circle."""
    on = [(100 * math.cos(a), 100 * math.sin(a)) for a in np.radians(range(0, 151, 30))]
    tangent = (-math.sin(math.radians(150)), math.cos(math.radians(150)))
    path = smooth_through(on, (0, 1), tangent)
    assert max(abs(p.norm - 100) for p in path.flatten(0.001)) < 0.01
    free = smooth_through(on)
    assert max(abs(p.norm - 100) for p in free.flatten(0.001)) < 0.01


def test_two_points_and_directions() -> None:
    """One chord: free it is a line; with one direction an arc; with two it takes both."""
    assert smooth_through([(0, 0), (10, 0)]).segments == (Line(Vec(0, 0), Vec(10, 0)),)
    half = smooth_through([(0, 0), (100, 0)], start_tangent=(1, 1))
    assert half.end_tangent.is_near(Vec(1, -1).unit, 1e-9)
    radius = 50 * math.sqrt(2)
    assert max(abs(p.distance((50, -50)) - radius) for p in half.flatten(0.001)) < 0.05
    mirrored = smooth_through([(0, 0), (100, 0)], end_tangent=(1, -1))
    assert mirrored.start_tangent.is_near(Vec(1, 1).unit, 1e-9)
    both = smooth_through([(0, 0), (100, 0)], (0, 1), (1, 0))
    assert both.start_tangent.is_near((0, 1), 1e-9)
    assert both.end_tangent.is_near((1, 0), 1e-9)


@pytest.mark.parametrize(
    ("points", "words"),
    [([(0, 0)], "at least two"), ([(0, 0), (0, 0), (5, 5)], "points 0 and 1")],
)
def test_too_few_points(points: list[tuple[float, float]], words: str) -> None:
    """Too few points, or two at one place, are refused with a sentence."""
    with pytest.raises(ValueError, match=words):
        smooth_through(points)


def test_direction_of_no_length() -> None:
    """A tangent must point somewhere."""
    with pytest.raises(ValueError, match="tangent"):
        smooth_through([(0, 0), (5, 5), (9, 0)], start_tangent=(0, 0))


def dense(path: Path, step: float = 1.0) -> list[Vec]:
    n = max(8, round(path.length / step))
    return [path.point_at(path.length * i / n) for i in range(n + 1)]


@pytest.mark.parametrize("path", [ARMHOLE, CAP], ids=["armhole", "cap"])
@pytest.mark.parametrize("tol", [0.5, 0.1, 0.02])
def test_fit_of_a_seam(path: Path, tol: float) -> None:
    """Points of a seam 1 mm apart: every one within the tolerance, with a handful of cubics."""
    fitted = fit_curve(dense(path), tol)
    assert max(fitted.nearest(p)[1] for p in dense(path)) <= tol
    assert fine(fitted).hausdorff_distance(fine(path)) < 1.5 * tol
    assert len(fitted.segments) <= 12
    assert fitted.length == pytest.approx(path.length, rel=0.01)
    assert fitted.start == path.start
    assert fitted.end.is_near(path.end, 1e-9)


@few
@given(bows(), st.sampled_from([0.3, 0.05]))
def test_fit_of_any_gentle_curve(path: Path, tol: float) -> None:
    """Every point within the tolerance, smooth at every joint."""
    points = dense(path, 2.0)
    fitted = fit_curve(points, tol)
    away = shapely.distance(shapely.points([tuple(p) for p in points]), fine(fitted))
    assert away.max() <= tol + 1e-4
    for a, b in zip(fitted.segments, fitted.segments[1:], strict=False):
        assert a.tangent(1.0).is_near(b.tangent(0.0), 1e-6)


def test_fit_does_not_double_back() -> None:
    """Points of a blended side seam: the fit is as long as they are, and goes on as they do.

    A cubic with handles longer than the points are apart passed all four within the tolerance, and
    was 5 mm longer for it.
    """
    points = [
        Vec(246.45103163120507, -105.79370697782547),
        Vec(246.35455645344211, -101.85286341427727),
        Vec(246.24405941477477, -97.91426133831847),
        Vec(246.19563223958443, -93.98902932217605),
    ]
    leave = Vec(-0.24400739557492, 14.17516099341327)
    arrive = Vec(-0.36609828958337, 21.26347329172654)
    fitted = fit_curve(points, 0.02, start_tangent=leave, end_tangent=arrive)
    assert fitted.length == pytest.approx(sum(a.distance(b) for a, b in pairwise(points)), abs=0.05)
    assert all(p.y < q.y for p, q in pairwise(fitted.flatten(0.001)))


@few
@given(bows(), moves())
def test_fit_moves_with_its_points(path: Path, move: Transform) -> None:
    """The fit of moved points is the moved fit."""
    points = dense(path, 2.0)
    fitted = fit_curve(points, 0.1).transformed(move)
    moved = fit_curve([move.apply(p) for p in points], 0.1)
    assert fine(moved, 1e-3).hausdorff_distance(fine(fitted, 1e-3)) < 0.2


def test_noise_is_smoothed_not_followed() -> None:
    """Points that tremble by 0.1 mm (seeded): few cubics, near the true ellipse."""
    rng = np.random.default_rng(7)
    t = np.linspace(0, math.pi, 600)
    true = np.stack([180 * np.cos(t), 90 * np.sin(t)], axis=1)
    fitted = fit_curve(
        [(float(x), float(y)) for x, y in true + rng.normal(0, 0.1, true.shape)], 0.5
    )
    assert len(fitted.segments) <= 4
    away = shapely.distance(shapely.points(true), fine(fitted))
    assert away.max() < 0.5
    assert np.sqrt((away**2).mean()) < 0.25


def test_corners_are_kept() -> None:
    """A named corner stays sharp and exact; straight stretches become single lines."""
    points = [(float(i), 0.0) for i in range(51)] + [(50.0, float(i)) for i in range(1, 41)]
    path = fit_curve(points, 0.05, corners=[50])
    assert path.segments == (Line(Vec(0, 0), Vec(50, 0)), Line(Vec(50, 0), Vec(50, 40)))
    assert len(fit_curve(points, 0.05).segments) > 2


def test_a_corner_named_by_a_repeat_is_kept() -> None:
    """The point that is named as the corner may stand a hair beside the one before it."""
    points = [(float(i), 0.0) for i in range(51)] + [(50.0, 1e-6 + i) for i in range(41)]
    path = fit_curve(points, 0.05, corners=[51])
    assert path.segments == (Line(Vec(0, 0), Vec(50, 0)), Line(Vec(50, 0), Vec(50, 40 + 1e-6)))


def test_given_directions_are_kept() -> None:
    """Directions asked for at the ends are met exactly."""
    path = fit_curve(dense(CAP), 0.2, start_tangent=(1, 0), end_tangent=(1, 0))
    assert path.start_tangent.is_near((1, 0), 1e-9)
    assert path.end_tangent.is_near((1, 0), 1e-9)


@pytest.mark.parametrize(
    ("points", "tol", "words"),
    [
        ([(0, 0), (5, 5)], 0.0, "tolerance"),
        ([(0, 0)], 0.1, "at least two"),
        ([(3, 3), (3, 3), (3, 3)], 0.1, "apart"),
    ],
)
def test_no_fit(points: list[tuple[float, float]], tol: float, words: str) -> None:
    """No tolerance or no two points are refused with a sentence."""
    with pytest.raises(ValueError, match=words):
        fit_curve(points, tol)


def test_repeated_points_do_no_harm() -> None:
    """A traced outline repeats points; the fit passes over them."""
    points = [p for p in dense(CAP) for _ in range(3)]
    assert fit_curve(points, 0.1) == fit_curve(dense(CAP), 0.1)
