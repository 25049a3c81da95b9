"""Parallel curves: cutting lines beside stitching lines."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from clothwright.errors import CannotDo
from clothwright.geometry.fit import arc
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.offset import parallel
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Line, quarter_arc
from clothwright.geometry.transform import Transform
from clothwright.geometry.turning import goes_one_way
from clothwright.geometry.vec import Vec, turn_between_deg
from tests.curvature import curvature
from tests.geometry.shapes import ARMHOLE, CAP, NECK, bows, cubic_paths, fine, moves

few = settings(max_examples=50, deadline=None)
INCH = 25.4
distances = st.sampled_from([15.0, -15.0, 6.0, -6.0, 15.875, -15.875, 25.0, -25.0])


def total_turning_deg(path: Path) -> float:
    """Return how far the direction of travel turns from start to end, counter-clockwise, degrees.

    Corners inside the path count with the angle between their two directions. A curve's own
    turning is followed leg by leg, so that a spiral may turn more than once round.
    """
    total = 0.0
    for k, segment in enumerate(path.segments):
        if k > 0:
            total += turn_between_deg(path.segments[k - 1].tangent(1.0), segment.tangent(0.0))
        tangents = [segment.tangent(i / 32) for i in range(33)]
        total += sum(turn_between_deg(a, b) for a, b in pairwise(tangents))
    return total


def reference(path: Path, distance: float) -> shapely.LineString:
    """Parallel of a fine polyline by shapely (there positive is to the left)."""
    return fine(path).offset_curve(-distance, quad_segs=200)


def away(path: Path, other: Path) -> np.ndarray:
    """Distances of many points of `other` from `path`, by shapely."""
    points = shapely.points([tuple(p) for p in other.flatten(0.005)])
    return shapely.distance(points, fine(path))


def tightest(path: Path) -> float:
    """Greatest curvature of a path, 1/mm, sampled."""
    return max(abs(curvature(s, i / 200)) for s in path.segments for i in range(201))


@pytest.mark.parametrize(
    ("d", "turns", "expected"),
    [
        (15.0, 1, 23.56),
        (15.0, 2, 47.12),
        (15.0, 4, 94.25),
        (5 / 8 * INCH, 1, 0.982 * INCH),
    ],
)
@pytest.mark.parametrize("radius", [60.0, 150.0, 400.0])
def test_cut_length_is_seam_length_and_distance_times_turning(
    d: float, turns: int, expected: float, radius: float
) -> None:
    """L_cut = L_seam ± d Θ: d = 1.5 cm, quarter turn ±2.356 cm, half turn ±4.712 cm, full circle
    ±9.425 cm; d = 5/8 in, quarter turn ±0.982 in (plane geometry); outside longer.
    """
    seam = arc((3, 4), radius, 20, 90 * turns)
    within = 0.05 if d == 15.0 else 0.0005 * INCH + 0.05
    assert parallel(seam, d).length - seam.length == pytest.approx(expected, abs=within)
    assert parallel(seam, -d).length - seam.length == pytest.approx(-expected, abs=within)
    back = seam.reversed()
    assert parallel(back, d).length - seam.length == pytest.approx(-expected, abs=within)


@few
@given(bows(), st.sampled_from([6.0, 15.0, 15.875]), st.sampled_from([1, -1]))
def test_length_law_for_any_smooth_curve(path: Path, d: float, side: int) -> None:
    """L_cut = L_seam + d Θ, Θ the total turning (left positive), wherever no radius is below d."""
    assume(tightest(path) * d < 0.95)
    cut = parallel(path, side * d)
    turning = math.radians(total_turning_deg(path))
    assert cut.length == pytest.approx(path.length + side * d * turning, abs=0.05)


@pytest.mark.parametrize("path", [ARMHOLE, CAP, NECK], ids=["armhole", "cap", "neck"])
@pytest.mark.parametrize("d", [15.0, -15.0, 6.0, -6.0])
def test_seams_against_shapely(path: Path, d: float) -> None:
    """An armhole, a cap and a neck: within 0.05 mm of the parallel of a fine polyline."""
    ours, theirs = fine(parallel(path, d)), reference(path, d)
    corner = 0.05 if path is not ARMHOLE else 0.06  # mitred here, rounded there, at two joints
    assert shapely.hausdorff_distance(ours, theirs) < corner


@few
@given(bows(), distances)
def test_every_point_lies_at_the_distance(path: Path, d: float) -> None:
    """Every point of the parallel lies d from the path within 0.02 mm, and none crosses."""
    try:
        cut = parallel(path, d)
    except CannotDo:
        assume(False)
        return
    gaps = away(path, cut)
    assert gaps.min() > abs(d) - 0.025
    assert gaps.max() < abs(d) + 0.02
    assert self_crossings(cut) == ()
    assert fine(cut, 1e-3).is_simple


@few
@given(bows(), distances)
def test_nothing_is_missing(path: Path, d: float) -> None:
    """Where no radius is below the distance every place of the path has its parallel point."""
    assume(tightest(path) * abs(d) < 0.95)
    cut = fine(parallel(path, d))
    for i in range(41):
        at = path.length * i / 40
        true = path.point_at(at) - path.tangent_at(at).perp * d
        assert cut.distance(shapely.Point(true)) < 0.015


HAIRPIN = Path((Cubic(Vec(0.0, 0.0), Vec(0.25, 0.0), Vec(0.0, 40.0), Vec(0.0, 39.0)),))
"""It turns back within a hair of its end: halved 14 times, its parallel was 0.026 mm off."""


@few
@example(HAIRPIN, 15.0)
@given(cubic_paths, distances)
def test_wild_curves_never_cross(path: Path, d: float) -> None:
    """Whatever the curve does: a parallel that does not cross itself, or a sentence why not."""
    assume(not self_crossings(path))
    assume(path.start.distance(path.end) > 1)
    try:
        cut = parallel(path, d)
    except CannotDo:
        return
    assert self_crossings(cut) == ()
    assert away(path, cut).max() < abs(d) + 0.02


@few
@given(bows(), moves(), st.sampled_from([15.0, -6.0]))
def test_moves_commute(path: Path, move: Transform, d: float) -> None:
    """Turned, moved or mirrored: the parallel of the moved path is the moved parallel."""
    assume(tightest(path) * abs(d) < 0.95)
    moved = parallel(path.transformed(move), -d if move.mirrors else d)
    assert fine(moved, 1e-3).hausdorff_distance(fine(parallel(path, d).transformed(move), 1e-3)) < (
        0.015
    )


@few
@given(bows(), st.sampled_from([15.0, -15.0, 6.0]))
def test_there_and_back(path: Path, d: float) -> None:
    """The parallel of the parallel on the other side is the path again."""
    assume(tightest(path) * abs(d) < 0.6)
    again = parallel(parallel(path, d), -d)
    assert fine(again, 1e-3).hausdorff_distance(fine(path, 1e-3)) < 0.03


def test_zero_is_the_path_itself() -> None:
    """No allowance, no change: the very same object."""
    assert parallel(ARMHOLE, 0.0) is ARMHOLE


def test_lines_are_exact() -> None:
    """Outward of a counter-clockwise rectangle by 15, closed; inward by 15, closed."""
    ring = polyline([(0, 0), (100, 0), (100, 60), (0, 60), (0, 0)])
    outer, inner = parallel(ring, 15), parallel(ring, -15)
    assert outer.flatten() == ((-15, -15), (115, -15), (115, 75), (-15, 75), (-15, -15))
    for p, q in zip(inner.flatten(), [(15, 15), (85, 15), (85, 45), (15, 45)], strict=False):
        assert p.is_near(q, 1e-9)
    assert inner.length == pytest.approx(2 * (70 + 30))


def test_start_of_a_closed_path_is_a_corner_like_the_others() -> None:
    """A ring of arcs keeps its shape whichever corner it starts with."""
    lens = [arc((0, 30), 100, 200, 140).segments, arc((0, -30), 100, 20, 140).segments]
    start = lens[0][0].start
    segments = [*lens[0], Line(lens[0][-1].end, lens[1][0].start), *lens[1]]
    ring = Path((*segments, Line(lens[1][-1].end, start)))
    turned = Path(ring.segments[3:] + ring.segments[:3])
    a, b = parallel(ring, 15), parallel(turned, 15)
    assert a.start.is_near(a.end, 1e-6)
    assert a.length == pytest.approx(b.length, abs=1e-3)
    assert fine(a).hausdorff_distance(fine(b)) < 1e-3


@pytest.mark.parametrize("angle_deg", [20, 45, 90, 135, 150])
def test_opening_corner_is_mitred(angle_deg: float) -> None:
    """The tip of a mitred corner lies d / cos(turn / 2) from the corner, up to the limit of 4."""
    turn = math.radians(angle_deg)
    bend = polyline([(0, 0), (100, 0), (100 + 100 * math.cos(turn), 100 * math.sin(turn))])
    cut = parallel(bend, 15)
    reach = max(p.distance((100, 0)) for p in cut.flatten()[1:-1])
    assert reach == pytest.approx(15 / math.cos(turn / 2))
    assert len(cut.segments) == 2


def test_needle_is_blunted() -> None:
    """A needle-sharp tip is cut square at 4 distances; no place comes nearer than the distance."""
    needle = polyline([(0, 0), (100, 0), (0, 2)])
    cut = parallel(needle, 15)
    assert len(cut.segments) == 3
    assert fine(cut).distance(shapely.Point(100, 0)) == pytest.approx(15)
    assert shapely.LineString(cut.segments[1].controls()).distance(
        shapely.Point(100, 0)
    ) == pytest.approx(60)
    there_and_back = parallel(polyline([(0, 0), (100, 0), (0, 0)]), 15)
    assert there_and_back.bounds()[1].x == pytest.approx(160)


def test_closing_corner_is_trimmed() -> None:
    """The inner side of a right angle meets d before the corner on both sides."""
    cut = parallel(polyline([(0, 0), (100, 0), (100, 100)]), -15)
    for p, q in zip(cut.flatten(), [(0, 15), (85, 15), (85, 100)], strict=True):
        assert p.is_near(q, 1e-9)


@pytest.mark.parametrize("radius", [3.0, 8.0, 14.0])
def test_tight_round_is_cut_off(radius: float) -> None:
    """Inside a round of less radius than the distance the two straight sides meet directly."""
    bend = Path(
        (
            Line(Vec(0, 0), Vec(100, 0)),
            quarter_arc(Vec(100, radius), radius, -90),
            Line(Vec(100 + radius, radius), Vec(100 + radius, 100)),
        )
    )
    cut = parallel(bend, -15)
    tip = 100 + radius - 15
    for p, q in zip(cut.flatten(), [(0, 15), (tip, 15), (tip, 100)], strict=True):
        assert p.is_near(q, 1e-6)


def test_cusp_inside_one_curve_is_cut_off() -> None:
    """A single cubic with a tight bend: its loop goes, the two flanks meet at the distance."""
    hook = Path((Cubic(Vec(0, 0), Vec(130, 5), Vec(130, 20), Vec(0, 60)),))
    cut = parallel(hook, -15)
    assert not parallel(hook, 15).length < hook.length
    assert self_crossings(cut) == ()
    assert away(hook, cut).min() > 15 - 0.025
    assert shapely.hausdorff_distance(fine(cut), reference(hook, -15)) < 0.05


def test_consumed_curve_says_so() -> None:
    """An arc that bends more tightly than the distance has no parallel there: a clear sentence."""
    with pytest.raises(CannotDo, match="15 mm beside this curve"):
        parallel(Path((quarter_arc(Vec(0, 0), 8, 0),)), -15)


@pytest.mark.parametrize(
    "curve",
    [
        Cubic(Vec(0, 0), Vec(0, 0), Vec(60, 20), Vec(100, 80)),
        Cubic(Vec(0, 0), Vec(50, 0), Vec(100, 80), Vec(100, 80)),
        Cubic(Vec(0, 0), Vec(0, 0), Vec(100, 80), Vec(100, 80)),
        Cubic(Vec(0, 0), Vec(20, 16), Vec(70, 56), Vec(100, 80)),
        Cubic(Vec(0, 0), Vec(0, 0), Vec(0, 0), Vec(100, 80)),
    ],
)
@pytest.mark.parametrize("d", [15.0, -15.0])
def test_handles_of_no_length(curve: Cubic, d: float) -> None:
    """Coinciding control points, as drawing programs write them, give a sound parallel."""
    path = Path((curve,))
    cut = parallel(path, d)
    gaps = away(path, cut)
    assert gaps.min() > 15 - 0.025
    assert gaps.max() < 15.02
    assert cut.length > 90


def test_specks_between_segments_do_no_harm() -> None:
    """Segments of no length, left by a drawing, are passed over."""
    speck = Line(Vec(100, 0), Vec(100, 0))
    path = Path((Line(Vec(0, 0), Vec(100, 0)), speck, Line(Vec(100, 0), Vec(100, 50))))
    assert parallel(path, 15).flatten() == ((0, -15), (115, -15), (115, 50))


def test_narrow_neck() -> None:
    """An open path whose parallel crosses itself far from any corner keeps its two ends."""
    bottle = polyline([(0, 0), (40, 0), (0, 60), (100, 60), (60, 0), (100, 0)])
    cut = parallel(bottle, -15)
    assert self_crossings(cut) == ()
    assert cut.start.is_near((0, 15), 1e-6)
    assert cut.end.is_near((100, 15), 1e-6)


def test_traced_outline_of_many_lines() -> None:
    """A wavy outline of 400 short lines: simple, at the distance, close to shapely's."""
    ring = [
        ((150 + 12 * math.sin(7 * a)) * math.cos(a), (150 + 12 * math.sin(7 * a)) * math.sin(a))
        for a in np.linspace(0, 2 * math.pi, 401)
    ]
    path = polyline([*ring[:-1], ring[0]])
    for d in (15.0, -15.0):
        cut = parallel(path, d)
        assert self_crossings(cut) == ()
        assert away(path, cut).min() > 15 - 0.025
        theirs = shapely.Polygon(ring).buffer(d, join_style="mitre").exterior
        assert fine(cut).hausdorff_distance(theirs) < 0.3  # shapely first drops 1 % of d


def test_total_turning_and_one_way() -> None:
    """Turning counts corners and more than one turn round; a half turn can still be one way."""
    assert total_turning_deg(arc((0, 0), 50, 0, 720)) == pytest.approx(720)
    assert total_turning_deg(polyline([(0, 0), (9, 0), (9, 9), (0, 9)])) == pytest.approx(180)
    assert total_turning_deg(CAP) == pytest.approx(
        math.degrees(math.atan(-0.1) - math.atan(0.15)), abs=1e-6
    )
    assert goes_one_way(ARMHOLE.segments)
    assert not goes_one_way(arc((0, 0), 50, 0, 200).segments)
