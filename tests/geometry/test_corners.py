"""How two cutting lines come together at a corner: trimmed, drawn on, blunted, stepped."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from clothwright.geometry.fit import arc
from clothwright.geometry.offset import meeting, parallel, trim_or_extend
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec, unit_at
from tests.geometry.shapes import ARMHOLE, moves

few = settings(max_examples=50, deadline=None)


def corner(turn_deg: float, d_a: float, d_b: float) -> tuple[Path, Path]:
    """Two edges of 300 mm that turn by an angle at (0, 0), each with its own allowance."""
    a = Path((Line(Vec(-300, 0), Vec(0, 0)),))
    b = Path((Line(Vec(0, 0), unit_at(turn_deg) * 300),))
    return parallel(a, d_a), parallel(b, d_b)


@pytest.mark.parametrize("turn_deg", [-150, -120, -90, -45, -20, 20, 45, 90, 120, 150])
@pytest.mark.parametrize(("d_a", "d_b"), [(15, 15), (40, 15), (6, 25)])
def test_corner_lies_at_both_distances(turn_deg: float, d_a: float, d_b: float) -> None:
    """Trimmed or drawn on, the corner of the cutting line lies d from each stitching line."""
    a, b = trim_or_extend(*corner(turn_deg, d_a, d_b), limit=1000)
    assert a.end == b.start
    assert a.end.y == pytest.approx(-d_a)
    assert unit_at(turn_deg).cross(a.end) == pytest.approx(-d_b)
    assert a.start == (-300, -d_a)
    assert b.end.is_near(unit_at(turn_deg) * 300 - unit_at(turn_deg).perp * d_b, 1e-9)


def test_right_angle_with_15_mm() -> None:
    """Outside a right angle both lines are 15 mm longer, inside 15 mm shorter."""
    a, b = trim_or_extend(*corner(90, 15, 15))
    assert (a.length, b.length) == (pytest.approx(315), pytest.approx(315))
    a, b = trim_or_extend(*corner(-90, 15, 15))
    assert (a.length, b.length) == (pytest.approx(285), pytest.approx(285))


def test_meeting_tells_how_far() -> None:
    """More than the length is drawn on, less than 0 is drawn on backwards."""
    a, b = corner(90, 15, 15)
    found = meeting(a, b)
    assert found is not None
    assert (found.at_a, found.at_b) == (pytest.approx(315), pytest.approx(-15))
    assert found.point.is_near((15, -15), 1e-9)


def test_curved_edges_are_trimmed_on_the_curve() -> None:
    """Two arcs whose parallels cross end at the crossing of the two larger circles."""
    a, b = arc((0, 0), 50, 180, 150), arc((80, 0), 50, 210, 150)
    cut_a, cut_b = trim_or_extend(parallel(a, 15), parallel(b, 15))
    tip = Vec(40, -math.sqrt(65**2 - 40**2))
    assert cut_a.end.is_near(tip, 0.02)
    assert cut_a.end == cut_b.start


def test_curved_edge_is_drawn_on_straight() -> None:
    """A curve that falls short goes on along its last direction, as a straight piece."""
    a, b = parallel(ARMHOLE, 15), parallel(polyline([(90, -190), (95, -20)]), 15)
    longer, rest = trim_or_extend(a, b)
    assert longer.segments[: len(a.segments)] == a.segments
    extra = longer.segments[-1]
    assert isinstance(extra, Line)
    assert extra.tangent(0).is_near(a.end_tangent, 1e-9)
    assert longer.end == rest.start
    assert rest.start.distance((90, -190)) == pytest.approx(15 / math.sin(math.radians(45)), abs=1)


def test_needle_is_blunted_at_the_limit() -> None:
    """A corner of 4 degrees would reach 430 mm out; it is cut off at the limit, half and half."""
    a, b = trim_or_extend(*corner(176, 15, 15))
    assert a.end == b.start
    assert len(a.segments) == len(b.segments) == 2
    assert a.length == pytest.approx(300 + 60 + a.segments[-1].length)
    assert a.segments[-1].length == pytest.approx(b.segments[0].length)
    assert a.end.norm > 60


def test_default_limit_keeps_28_degrees() -> None:
    """With 15 mm of allowance a corner of 28.1 degrees is kept, one of 28.0 is blunted."""
    assert len(trim_or_extend(*corner(180 - 28.1, 15, 15))[0].segments) == 1
    assert len(trim_or_extend(*corner(180 - 28.0, 15, 15))[0].segments) == 2


@pytest.mark.parametrize("turn_deg", [0.0, 0.3, -0.3, 2.0, -2.0])
@pytest.mark.parametrize(("d_a", "d_b"), [(15, 10), (10, 15), (25, 6)])
def test_step_between_two_widths(turn_deg: float, d_a: float, d_b: float) -> None:
    """Two allowances along one nearly smooth line: a step square across, nothing trimmed away."""
    a, b = trim_or_extend(*corner(turn_deg, d_a, d_b))
    step = abs(d_a - d_b)
    assert a.end == b.start
    assert a.length == pytest.approx(300 + step / 2, abs=0.6)
    assert b.length == pytest.approx(300 + step / 2, abs=0.6)


def test_ends_that_meet_are_left_alone() -> None:
    """Nothing to do: the same two paths come back."""
    a, b = polyline([(0, 0), (9, 0)]), polyline([(9, 0), (9, 9)])
    assert trim_or_extend(a, b) == (a, b)


def test_parallel_ends_are_closed_by_a_straight_line() -> None:
    """Edges that never meet are closed from end to start, half on each."""
    a, b = trim_or_extend(polyline([(0, 0), (50, 0)]), polyline([(50, -10), (90, -10)]))
    assert a.end == b.start == (50, -5)
    assert meeting(polyline([(0, 0), (50, 0)]), polyline([(50, -10), (90, -10)])) is None


@few
@given(
    st.floats(-160, 160),
    st.sampled_from([6.0, 15.0, 40.0]),
    st.sampled_from([6.0, 15.0, 40.0]),
    moves(),
)
def test_joins_move_and_reverse(turn_deg: float, d_a: float, d_b: float, move: Transform) -> None:
    """Turned, moved, mirrored, or walked the other way, the corner is the same."""
    assume(abs(turn_deg) > 0.1)
    a, b = corner(turn_deg, d_a, d_b)
    cut_a, cut_b = trim_or_extend(a, b)
    moved_a, _ = trim_or_extend(a.transformed(move), b.transformed(move))
    assert moved_a.end.is_near(move.apply(cut_a.end), 1e-6)
    back_b, back_a = trim_or_extend(b.reversed(), a.reversed())
    assert back_b.end.is_near(cut_b.start, 1e-6)
    assert back_a.length == pytest.approx(cut_a.length, abs=1e-6)
