"""Paths measured by arc length."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.special import ellipe, ellipeinc
from shapely.geometry import Point

from clothwright.geometry.fit import fit_curve
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from tests.geometry.shapes import ARMHOLE, CAP, bows, cubic_paths, fine, moves, points

few = settings(max_examples=50, deadline=None)
paths = st.one_of(bows(), cubic_paths)


def ellipse(a: float, b: float, low: float, high: float, count: int) -> list[tuple[float, float]]:
    angles = np.linspace(low, high, count)
    return [(a * np.sin(t), b * np.cos(t)) for t in angles]


@pytest.mark.parametrize(("a", "b"), [(180.0, 90.0), (300.0, 60.0), (100.0, 100.0)])
def test_ellipse_against_the_elliptic_integral(a: float, b: float) -> None:
    """An ellipse of fitted curves measures 4 a E(m) (scipy.special.ellipe) within 0.05 mm."""
    path = fit_curve(ellipse(a, b, 0, 2 * np.pi, 1601), 0.002)
    assert path.length == pytest.approx(4 * a * ellipe(1 - (b / a) ** 2), abs=0.05)


@pytest.mark.parametrize("upto", [0.3, 1.0, np.pi / 2, 2.5])
def test_part_of_an_ellipse(upto: float) -> None:
    """Part of an ellipse measures a E(φ, m) (scipy.special.ellipeinc) within 0.05 mm."""
    a, b = 220.0, 120.0
    path = fit_curve(ellipse(a, b, 0, upto, 400), 0.002)
    assert path.length == pytest.approx(a * ellipeinc(upto, 1 - (b / a) ** 2), abs=0.05)


@few
@given(paths, st.floats(0.05, 0.95))
def test_split_keeps_points_and_lengths(path: Path, share: float) -> None:
    """A path cut at a distance: the first part has that length, and both lie on it exactly."""
    at = share * path.length
    first, second = path.split_at(at)
    assert first.length == pytest.approx(at, abs=1e-3)
    assert first.length + second.length == pytest.approx(path.length, abs=1e-3)
    assert first.end.is_near(second.start, 1e-9)
    assert first.point_at(at / 2).is_near(path.point_at(at / 2), 1e-2)
    assert path.nearest(second.point_at(second.length / 3))[1] < 1e-6


def test_the_nearest_point_on_a_hairpin() -> None:
    """Two turns of the distance within a sixteenth of the curve: a point on it is found on it."""
    hairpin = Path((Cubic(Vec(0.0, -41.0), Vec(0.0, 6.0), Vec(0.0, -8.0), Vec(1.0, -50.0)),))
    for k in range(1, 400):
        point = hairpin.segments[0].point(k / 400)
        assert hairpin.nearest(point)[1] < 1e-6


@few
@given(paths, st.lists(st.floats(0.02, 0.98), min_size=2, max_size=4, unique=True))
def test_many_cuts_add_up(path: Path, shares: list[float]) -> None:
    """Cut in several places, the parts follow each other and add up to the whole."""
    ats = sorted(s * path.length for s in shares)
    assume(all(b - a > 0.01 for a, b in pairwise(ats)))
    parts = path.split_many(ats)
    assert len(parts) == len(ats) + 1
    assert join_all(parts).length == pytest.approx(path.length, abs=2e-3)
    assert parts[1].start.is_near(path.point_at(ats[0]), 1e-2)


@few
@given(paths, moves(), st.floats(0, 1))
def test_moves_commute_with_measuring(path: Path, move: Transform, share: float) -> None:
    """Turned, moved or mirrored, the place at a distance moves along; lengths stay."""
    moved = path.transformed(move)
    at = share * path.length
    assert moved.length == pytest.approx(path.length, abs=1e-3)
    assert moved.point_at(at).is_near(move.apply(path.point_at(at)), 1e-2)


@few
@given(paths, points, moves())
def test_nearest_against_shapely(path: Path, p: Vec, move: Transform) -> None:
    """The nearest place is as near as on a fine polyline, and moves with the path."""
    at, distance = path.nearest(p)
    assert distance == pytest.approx(fine(path).distance(Point(p)), abs=1e-3)
    assert path.point_at(at).distance(p) == pytest.approx(distance, abs=1e-2)
    assert path.transformed(move).nearest(move.apply(p))[1] == pytest.approx(distance, abs=1e-6)


@few
@given(paths, points)
def test_the_nearest_is_the_nearest_of_the_parts(path: Path, p: Vec) -> None:
    """No part is passed over: the first of those that come nearest, each asked by itself."""
    parts = [Path((segment,)) for segment in path.segments]
    found = [part.nearest(p) for part in parts]
    k = min(range(len(parts)), key=lambda i: found[i][1])
    at, distance = path.nearest(p)
    assert distance == found[k][1]
    assert at == pytest.approx(sum(q.length for q in parts[:k]) + found[k][0], abs=1e-9)


def test_nearest_when_the_curve_turns_away_before_its_end() -> None:
    """The end counts even where the distance first grows towards it (seen with this curve)."""
    curve = Cubic(Vec(46.384, 30.324), Vec(185.167, 77.987), Vec(3.029, 155.447), Vec(31.88, 191.5))
    path, p = Path((curve,)), Vec(43.726093, 182.612964)
    assert path.nearest(p)[1] == pytest.approx(fine(path).distance(Point(p)), abs=1e-3)


@few
@given(paths)
def test_bounds_hold_the_path_exactly(path: Path) -> None:
    """The box touches the path on all four sides (fine polyline of shapely)."""
    low, high = path.bounds()
    assert (*low, *high) == pytest.approx(fine(path).bounds, abs=1e-3)


def test_between_and_reverse() -> None:
    """A part cut out between two notches is the same walked from either end."""
    part = ARMHOLE.between(60, 150)
    back = ARMHOLE.reversed().between(ARMHOLE.length - 150, ARMHOLE.length - 60)
    assert part.length == pytest.approx(90, abs=1e-3)
    assert part.start.is_near(back.end, 1e-3)
    assert part.end.is_near(back.start, 1e-3)


def test_part_of_a_ring_over_its_start() -> None:
    ring = polyline([(0, 0), (40, 0), (40, 30), (0, 30), (0, 0)])
    over = ring.onward(130.0, 10.0)
    assert over.ends == (Vec(0, 10), Vec(10, 0))
    assert over.length == pytest.approx(20.0)
    assert ring.onward(10.0, 130.0).length + over.length == pytest.approx(ring.length)
    around = ring.onward(50.0, 50.0)
    assert around.ends == (Vec(40, 10), Vec(40, 10))
    assert around.length == pytest.approx(ring.length)
    assert ring.onward(70.0, 0.0).ends == (Vec(40, 30), Vec(0, 0))
    assert ring.middle == Vec(40, 30)


def test_tangents_at_the_ends() -> None:
    """Directions at both ends are those of the first and last handle."""
    assert CAP.start_tangent.is_near(Vec(1, 0.15).unit, 1e-9)
    assert CAP.end_tangent.is_near(Vec(1, -0.1).unit, 1e-9)
    assert CAP.tangent_at(0.0).is_near(CAP.start_tangent, 1e-9)


def test_moved_ends_carry_their_handles() -> None:
    """Moving an end moves its handle alike, so the direction there stays."""
    moved = ARMHOLE.with_ends(start=Vec(5, 5), end=Vec(92, -191))
    assert moved.start == (5, 5)
    assert moved.end == (92, -191)
    assert moved.start_tangent.is_near(ARMHOLE.start_tangent, 1e-9)
    assert moved.segments[1] == ARMHOLE.segments[1]


def test_straight() -> None:
    """Straight means within 0.001 mm of the line between the ends; a closed path is not."""
    assert polyline([(0, 0), (5, 5), (9, 9)]).is_straight
    assert not polyline([(0, 0), (5, 5.01), (9, 9)]).is_straight
    assert not polyline([(0, 0), (9, 0), (9, 9), (0, 0)]).is_straight


def test_gap_is_refused() -> None:
    """Segments that do not meet are no path, and the message says where."""
    with pytest.raises(ValueError, match=r"segments 0 and 1 of a path are 1\.0000 mm apart"):
        Path((Line(Vec(0, 0), Vec(1, 0)), Line(Vec(2, 0), Vec(3, 0))))
    with pytest.raises(ValueError, match="at least one"):
        Path(())


@pytest.mark.parametrize("at", [-1.0, 0.0, 30.0, 31.0])
def test_cut_outside_is_refused(at: float) -> None:
    """A cut must leave something on both sides."""
    with pytest.raises(ValueError, match="cannot split"):
        polyline([(0, 0), (30, 0)]).split_at(at)


def test_empty_part_is_refused() -> None:
    """A part from a place back to an earlier one does not exist."""
    with pytest.raises(ValueError, match="empty part"):
        polyline([(0, 0), (30, 0)]).between(20, 10)
