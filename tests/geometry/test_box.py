"""Boxes agree with the same rectangles in shapely."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPoint, box

from clothwright.geometry.box import Box, box_of_all, box_round
from clothwright.geometry.vec import Vec

few = settings(max_examples=40, deadline=None)
MM = st.integers(-40, 40).map(float)
POINTS = st.lists(st.builds(Vec, MM, MM), min_size=2, max_size=6)
BOXES = POINTS.map(box_round).filter(lambda b: min(b.size) > 0)


@few
@given(POINTS, POINTS)
def test_the_box_round_points_and_round_boxes(one: list[Vec], other: list[Vec]) -> None:
    found = box_round(one)
    assert (*found.low, *found.high) == MultiPoint(one).bounds
    both = box_of_all((found, box_round(other)))
    assert (*both.low, *both.high) == MultiPoint([*one, *other]).bounds


@few
@given(BOXES, BOXES, st.sampled_from((0.0, 1.5)))
def test_what_a_box_holds_and_meets(a: Box, b: Box, tol: float) -> None:
    mine, other = box(*a.low, *a.high), box(*b.low, *b.high)
    wide = box(*a.grown(tol).low, *a.grown(tol).high)
    assert a.holds(b, tol) == wide.covers(other)
    assert a.holds(b.middle, tol) == wide.covers(other.centroid)
    assert a.meets(b, tol) == wide.intersects(other)
    if a.meets(b):
        assert (*a.common(b).low, *a.common(b).high) == mine.intersection(other).bounds


@few
@given(BOXES, BOXES)
def test_a_box_elsewhere_and_of_another_size(a: Box, b: Box) -> None:
    assert a.of_size(b.size).size.is_near(b.size, 1e-9)
    assert a.of_size(b.size).middle.is_near(a.middle, 1e-9)
    assert a.moved(b.middle - a.middle).middle.is_near(b.middle, 1e-9)
    assert a.is_near(b, 0.5) == all(p.distance(q) <= 0.5 for p, q in zip(a, b, strict=True))
    around = box(*a.low, *a.high).exterior
    assert set(a.corners) == {Vec(*p) for p in around.coords}
