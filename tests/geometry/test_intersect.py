"""Crossings, checked with shapely on fine polylines."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from clothwright.geometry.fit import arc
from clothwright.geometry.intersect import crossings, line_crossings, meet, self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.roots import bernstein_roots, quadratic_roots, value_at
from clothwright.geometry.segment import Cubic, Line, quarter_arc
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from tests.geometry.shapes import CAP, bows, clear_paths, fine, moves, points

few = settings(max_examples=50, deadline=None)
paths = st.one_of(bows(), clear_paths)
straights = (
    st.lists(points, min_size=2, max_size=5)
    .filter(lambda ps: all(a.distance(b) > 1 for a, b in pairwise(ps)))
    .map(polyline)
)


def reference(a: Path, b: Path) -> list[Vec]:
    """Crossing points of fine polylines, by shapely."""
    found = fine(a).intersection(fine(b))
    if found.is_empty:
        return []
    return [Vec(*g.coords[0]) for g in getattr(found, "geoms", [found])]


def agree(ours: list[Vec], theirs: list[Vec], within: float) -> bool:
    """Each point of one list is near one of the other, both ways."""
    return all(any(p.is_near(q, within) for q in theirs) for p in ours) and all(
        any(q.is_near(p, within) for p in ours) for q in theirs
    )


def ends_are_clear(a: Path, b: Path) -> bool:
    """No end lies so near the other path that a touch is a matter of tolerance."""
    return all(
        not 0 < other.nearest(p)[1] < 0.01
        for path, other in ((a, b), (b, a))
        for p in (path.start, path.end)
    )


def crossing_angle(a: Path, b: Path, at_a: float, at_b: float) -> float:
    return abs(a.tangent_at(at_a).cross(b.tangent_at(at_b)))


@few
@given(paths, st.one_of(paths, straights))
def test_crossings_against_shapely(a: Path, b: Path) -> None:
    """Every crossing is found, none is invented, and both distances lead to the same point."""
    assume(ends_are_clear(a, b))
    found = crossings(a, b)
    assume(all(crossing_angle(a, b, c.at_a, c.at_b) > 0.02 for c in found))
    assert agree([c.point for c in found], reference(a, b), 0.02)
    for c in found:
        assert a.point_at(c.at_a).is_near(c.point, 1e-3)
        assert b.point_at(c.at_b).is_near(c.point, 1e-3)
    assert list(found) == sorted(found)


@few
@given(paths, paths, moves())
def test_crossings_do_not_depend_on_the_place(a: Path, b: Path, move: Transform) -> None:
    """Turned, moved or mirrored together, the same crossings; asked the other way round, too."""
    assume(ends_are_clear(a, b))
    found = crossings(a, b)
    assume(all(crossing_angle(a, b, c.at_a, c.at_b) > 0.02 for c in found))
    moved = crossings(a.transformed(move), b.transformed(move))
    assert len(moved) == len(found)
    for c, m in zip(found, moved, strict=True):
        assert m.point.is_near(move.apply(c.point), 1e-5)
    assert agree([c.point for c in crossings(b, a)], [c.point for c in found], 1e-5)


@few
@given(paths, points, points)
def test_line_crossings_against_a_long_segment(path: Path, p: Vec, q: Vec) -> None:
    """The endless line gives what a line far longer than the path gives; at_b counts from p."""
    assume(p.distance(q) > 1)
    u = (q - p).unit
    found = line_crossings(path, p, q - p)
    assume(all(abs(path.tangent_at(c.at_a).cross(u)) > 0.02 for c in found))
    long = Path((Line(p - u * 2000, p + u * 2000),))
    assert agree([c.point for c in found], [c.point for c in crossings(path, long)], 1e-3)
    assert all((p + u * c.at_b).is_near(c.point, 1e-6) for c in found)


def test_two_circles() -> None:
    """Circles of radius 50, centres 60 apart: they cross at x = 30, y = ±40 (3-4-5 triangle)."""
    found = crossings(arc((0, 0), 50, 0, 360), arc((60, 0), 50, 0, 360))
    assert [(round(c.point.x, 3), round(c.point.y, 3)) for c in found] == [(30, 40), (30, -40)]


def test_joint_counts_once() -> None:
    """A crossing at a joint of either path, or at the start of a closed one, is one crossing."""
    corner = polyline([(0, 0), (50, 0), (50, 50)])
    assert len(crossings(corner, polyline([(40, -10), (60, 10)]))) == 1
    ring = polyline([(0, 0), (50, 0), (50, 50), (0, 50), (0, 0)])
    found = crossings(ring, polyline([(-10, -10), (10, 10)]))
    assert [(c.at_a, round(c.at_b, 6)) for c in found] == [(0.0, round(200**0.5, 6))]


def test_touch_counts() -> None:
    """An end on the other path, and two curves touching from outside, are found."""
    assert len(crossings(polyline([(0, 0), (10, 0)]), polyline([(5, 0), (5, 9)]))) == 1
    left, right = quarter_arc(Vec(0, 0), 50, -45), quarter_arc(Vec(100, 0), 50, 135)
    found = crossings(Path((left,)), Path((right,)))
    assert found
    assert all(c.point.is_near((50, 0), 0.2) for c in found)


def test_common_stretch_gives_its_ends() -> None:
    """Where two paths run along each other, only the two ends of the stretch are named."""
    flat = crossings(polyline([(0, 0), (100, 0)]), polyline([(30, 0), (60, 0), (80, 0), (80, 9)]))
    assert [c.at_a for c in flat] == [30, 80]
    curve = crossings(CAP, CAP.between(100, 140))
    assert [round(c.at_a, 3) for c in curve] == [100, 140]


def test_meet() -> None:
    """Endless lines meet where elementary geometry says; parallel ones do not."""
    assert meet(Vec(0, 0), Vec(1, 1), Vec(10, 0), Vec(-1, 1)) == (5, 5)
    assert meet(Vec(0, 0), Vec(1, 0), Vec(0, 5), Vec(-3, 0)) is None


def test_line_needs_a_direction() -> None:
    """A direction of no length is refused."""
    with pytest.raises(ValueError, match="direction"):
        line_crossings(CAP, Vec(0, 0), Vec(0, 0))


def test_straight_part_in_the_line() -> None:
    """A straight part that lies in the endless line gives its two ends."""
    path = polyline([(0, 5), (10, 0), (40, 0), (50, 5)])
    assert [round(c.at_b) for c in line_crossings(path, Vec(0, 0), Vec(1, 0))] == [10, 40]


def test_loop_of_one_cubic() -> None:
    """A cubic that loops crosses itself once, on its axis of symmetry."""
    loop = Cubic(Vec(0, 0), Vec(120, 100), Vec(-70, 100), Vec(50, 0))
    (found,) = self_crossings(Path((loop,)))
    assert found.point.x == pytest.approx(25, abs=1e-6)
    assert found.at_b > found.at_a
    tame = Path((Cubic(Vec(0, 0), Vec(40, 100), Vec(10, 100), Vec(50, 0)),))
    assert self_crossings(tame) == ()


@few
@given(st.lists(points, min_size=4, max_size=7))
def test_self_crossings_against_shapely(corners: list[Vec]) -> None:
    """A polygon chain is simple for shapely exactly when we find no crossing."""
    assume(all(a.distance(b) > 5 for a, b in pairwise(corners)))
    path = polyline(corners)
    found = self_crossings(path)
    assume(all(crossing_angle(path, path, c.at_a, c.at_b) > 0.02 for c in found))
    assert (len(found) == 0) == fine(path).is_simple


@few
@given(st.lists(clear_paths, min_size=2, max_size=2))
def test_self_crossings_of_curves(two: list[Path]) -> None:
    """A chain of two curves is simple for shapely exactly when we find no crossing."""
    first, second = two[0].segments[0], two[1].segments[0]
    chain = Path((first, Cubic(first.end, *second.controls()[1:])))  # type: ignore[arg-type]
    found = self_crossings(chain)
    assume(all(crossing_angle(chain, chain, c.at_a, c.at_b) > 0.02 for c in found))
    assume(all(c.at_b - c.at_a > 0.5 for c in found))
    turn_back = first.tangent(1.0).dot(chain.segments[1].tangent(0.0))
    assume(turn_back > -0.99)
    assert (len(found) == 0) == fine(chain).is_simple


def test_closed_outline_is_simple() -> None:
    """The common start and end of a closed path is no crossing."""
    assert self_crossings(arc((0, 0), 80, 10, 360)) == ()
    assert len(self_crossings(polyline([(0, 0), (9, 0), (0, 9), (9, 9), (0, 0)]))) == 1


bernstein = st.tuples(*[st.floats(-100, 100).map(lambda v: round(v, 3)) for _ in range(4)])


@few
@given(bernstein)
def test_roots_against_numpy(f: tuple[float, float, float, float]) -> None:
    """Roots of the cubic are those of numpy.roots, and its value there is zero."""
    assume(max(map(abs, f)) > 1)
    a = -f[0] + 3 * f[1] - 3 * f[2] + f[3]
    b, c, d = 3 * f[0] - 6 * f[1] + 3 * f[2], 3 * (f[1] - f[0]), f[0]
    every = np.roots([a, b, c, d])
    clear = sorted(r.real for r in every if r.imag == 0 and 0 < r.real < 1)
    assume(not any(0 < abs(r.imag) < 1e-3 for r in every))  # nearly double
    assume(all(q - p > 1e-3 for p, q in pairwise([0.0, *clear, 1.0])))
    assume(not any(abs(r) < 1e-3 or abs(r - 1) < 1e-3 for r in every))
    ours = bernstein_roots(f, 0.0)
    assert ours == pytest.approx(clear, abs=1e-6)
    assert all(abs(value_at(f, t)) < 1e-9 for t in ours)


def test_touching_root() -> None:
    """A double root within the tolerance is one touch; beyond it, none."""
    assert bernstein_roots((1, -1 / 3, -1 / 3, 1), 1e-9) == (0.5,)
    assert bernstein_roots((1.1, -0.2, -0.2, 1.1), 1e-3) == ()
    assert quadratic_roots(0, 0, 5) == ()
    assert quadratic_roots(0, 2, -1) == (0.5,)
    assert quadratic_roots(1, 0, 0) == (0.0,)
