"""Thinned lines stay near the line they were, and keep their ends."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from clothwright.geometry.region import thinned, thinned_ring

MM = st.floats(-500.0, 500.0).map(lambda v: round(v, 2))
LINES = st.lists(st.tuples(MM, MM), min_size=2, max_size=40)


@given(LINES, st.floats(0.05, 20.0))
def test_no_point_that_was_left_out_is_far_from_the_rest(
    line: list[tuple[float, float]], within: float
) -> None:
    """Ends stay, order stays, and every point left out lies within reach of what is left."""
    found = thinned(line, within)
    left = LineString(found)
    assert max(left.distance(Point(p)) for p in line) <= within + 1e-9
    assert (found[0], found[-1]) == (line[0], line[-1])
    rest = iter(line)
    assert all(p in rest for p in found)


def test_a_circle_keeps_its_shape() -> None:
    """A circle of 100 mm in 720 points, within 0.3 mm: few points, none farther off than that."""
    ring = [
        (100 * math.cos(math.radians(k / 2)), 100 * math.sin(math.radians(k / 2)))
        for k in range(720)
    ]
    found = thinned_ring(ring, 0.3)
    assert 20 < len(found) < 90
    line = LineString([*found, found[0]])
    assert max(line.distance(Point(p)) for p in ring) <= 0.3 + 1e-9


def test_straight_lines_lose_all_between() -> None:
    """A square with a hundred points on every side keeps its corners alone."""
    side = [k / 100 for k in range(100)]
    ring = (
        [(s, 0.0) for s in side]
        + [(1.0, s) for s in side]
        + [(1 - s, 1.0) for s in side]
        + [(0.0, 1 - s) for s in side]
    )
    assert set(thinned_ring(ring, 0.001)) == {(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)}
