"""The drafting curves: they go where they are told, bend fairly, and true a dart."""

from __future__ import annotations

import math

import pytest

from clothwright.demo.curves import bend, dart_cap, scoop, solve, spline, straight
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from tests.curvature import curvature

POINTS = ((0.0, 0.0), (40.0, 30.0), (60.0, 90.0), (58.0, 170.0), (90.0, 240.0))


def test_a_spline_goes_through_its_points_in_its_directions() -> None:
    """Each point is a joint of the path; first and last direction are the given ones."""
    path = spline(POINTS, 10.0, 80.0)
    joints = [path.start, *(s.end for s in path.segments)]
    for joint, point in zip(joints, POINTS, strict=True):
        assert joint.is_near(point, 1e-9)
    assert path.start_tangent.angle_deg == pytest.approx(10.0)
    assert path.end_tangent.angle_deg == pytest.approx(80.0)


def test_a_spline_bends_evenly_over_its_points() -> None:
    """Direction and curvature agree on both sides of every inner point (a fair curve)."""
    path = spline(POINTS, 10.0, 80.0)
    for before, after in zip(path.segments, path.segments[1:], strict=False):
        assert abs(turn_between_deg(before.tangent(1.0), after.tangent(0.0))) < 1e-6
        assert curvature(before, 1.0) == pytest.approx(curvature(after, 0.0), abs=1e-9)


def test_a_spline_of_two_points_is_one_curve() -> None:
    """Without inner points only the end directions shape it."""
    path = spline(POINTS[:2], 0.0, 90.0)
    assert len(path.segments) == 1
    assert path.end_tangent.angle_deg == pytest.approx(90.0)


def test_a_spline_comes_near_a_circle() -> None:
    """Five points of a quarter circle of 100 mm: the curve stays within 0.1 mm of it."""
    points = [unit_at(a) * 100.0 for a in (0.0, 22.5, 45.0, 67.5, 90.0)]
    path = spline(points, 90.0, 180.0)
    assert max(abs(p.norm - 100.0) for p in path.flatten(0.01)) < 0.1


def test_a_round_scoop_is_a_quarter_circle() -> None:
    """With the usual fullness the corner curve stays within 0.03 % of a circle."""
    path = scoop(Vec(100.0, 0.0), 90.0, Vec(0.0, 100.0), 180.0)
    assert max(abs(p.norm - 100.0) for p in path.flatten(0.01)) < 0.03


def test_a_scoop_without_a_corner_is_a_gentle_bend() -> None:
    """Directions that never meet ahead give a plain curve with the same ends."""
    args = (Vec(0.0, 0.0), 0.0, Vec(100.0, 10.0), 0.0)
    assert scoop(*args) == bend(*args)


@pytest.mark.parametrize(
    ("length", "intake", "proud"),
    [(130.0, 20.0, 0.077 * 10), (100.0, 40.0, 0.408 * 10)],
)
def test_a_square_dart_cap_stands_proud_as_folded_and_cut(
    length: float, intake: float, proud: float
) -> None:
    """Fold-and-cut of a dart whose seam meets the leg squarely: L / cos a (docs/sources.md)."""
    half = math.asin(intake / 2 / length)
    point = Vec(0.0, -length * math.cos(half))
    a, b = Vec(-intake / 2, 0.0), Vec(intake / 2, 0.0)
    # The seam comes in from the left at right angles to leg a, and leaves so from leg b.
    slope = math.degrees(half)
    before = straight(a - unit_at(slope) * 60.0, a)
    after = straight(b, b + unit_at(-slope) * 60.0)
    for pressed in ("start", "end"):
        cap = dart_cap(before, point, b, after, pressed=pressed)
        tip = cap.segments[0].end
        assert tip.x == pytest.approx(0.0, abs=1e-9)
        assert tip.y == pytest.approx(proud, abs=0.006)
        assert tip.distance(point) == pytest.approx(length / math.cos(half))


@pytest.mark.parametrize("phi_deg", [70.0, 80.0, 90.0, 100.0])
def test_a_slanting_cap_follows_the_side_it_is_pressed_to(phi_deg: float) -> None:
    """Seam meeting the leg at phi: the tip lies L sin phi / sin(phi + a) from the point."""
    length, intake = 100.0, 40.0
    half_deg = math.degrees(math.asin(intake / 2 / length))
    point = Vec(0.0, -length * math.cos(math.radians(half_deg)))
    a, b = Vec(-intake / 2, 0.0), Vec(intake / 2, 0.0)
    to_point = (point - a).angle_deg
    before = straight(a + unit_at(to_point - phi_deg) * 50.0, a)
    after = straight(b, b + Vec(50.0, 0.0))
    tip = dart_cap(before, point, b, after, pressed="start").segments[0].end
    expected = length * math.sin(math.radians(phi_deg)) / math.sin(math.radians(phi_deg + half_deg))
    assert tip.distance(point) == pytest.approx(expected)
    # the same figures as the published table: 10.206, 9.852, 9.500, 10.587 cm
    table = {90.0: 102.06, 80.0: 98.52, 70.0: 95.00, 100.0: 105.87}
    assert expected == pytest.approx(table[phi_deg], abs=0.006)


def test_solve_finds_rising_and_falling_roots() -> None:
    """Halving finds the place whichever way the function runs."""
    assert solve(lambda x: x * x - 2, 0.0, 2.0) == pytest.approx(math.sqrt(2))
    assert solve(lambda x: 2 - x * x, 0.0, 2.0) == pytest.approx(math.sqrt(2))


def test_solve_says_when_a_draft_does_not_close() -> None:
    """Without a crossing between the two values there is a sentence, not a wrong figure."""
    with pytest.raises(CannotDo, match="does not close"):
        solve(lambda x: x + 1.0, 0.0, 5.0)
