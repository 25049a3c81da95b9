"""Cuts that a page's edge or a program made are mended exactly."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.mended import one_of, with_cuts_mended

COORDINATE = st.floats(-500.0, 500.0).map(lambda v: round(v, 3))
POINT = st.builds(Vec, COORDINATE, COORDINATE)


@given(st.lists(POINT, min_size=4, max_size=4, unique=True), st.floats(0.1, 0.9))
def test_halves_of_a_curve_are_one_again(points, t):
    """The curve found lies where the curve was that was cut in two (de Casteljau backwards)."""
    curve = Cubic(*points)
    a, b = curve.split(t)
    if min(a.p2.distance(a.p3), b.p0.distance(b.p1)) < 0.5:
        return
    whole = one_of(a, b)
    assert isinstance(whole, Cubic)
    for p, q in zip(whole.controls(), curve.controls(), strict=True):
        assert p.distance(q) < 0.02


def test_a_line_cut_in_three_is_one():
    """Straight lines that run on become one; a corner stays."""
    path = polyline([(0, 0), (3, 0), (10, 0), (10, 4), (10, 9)])
    assert with_cuts_mended(path, closed=False) == polyline([(0, 0), (10, 0), (10, 9)])


def test_a_ring_that_began_on_a_cut():
    """A closed line cut in the middle of its first side begins at a corner afterwards."""
    ring = polyline([(5, 0), (10, 0), (10, 10), (0, 10), (0, 0), (5, 0)])
    mended = with_cuts_mended(ring, closed=True)
    assert len(mended.segments) == 4
    assert mended.length == pytest.approx(40.0)


def test_what_was_not_one_stays_two():
    """A line that turns back, a bend of half a degree over 100 mm, two different curves."""
    assert one_of(Line(Vec(0, 0), Vec(10, 0)), Line(Vec(10, 0), Vec(2, 0))) is None
    assert one_of(Line(Vec(0, 0), Vec(100, 0)), Line(Vec(100, 0), Vec(200, 0.9))) is None
    a = Cubic(Vec(0, 0), Vec(10, 0), Vec(20, 0), Vec(30, 5))
    b = Cubic(Vec(30, 5), Vec(40, 10), Vec(40, 30), Vec(40, 50))
    assert one_of(a, b) is None
    assert with_cuts_mended(Path((a, b)), closed=False).segments == (a, b)
