"""Questions about areas, with answers known from elementary geometry."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from clothwright.geometry.fit import arc
from clothwright.geometry.region import (
    contains,
    cut_areas,
    cut_lines,
    inside,
    is_simple,
    polygon_area,
    strips,
)
from clothwright.geometry.transform import Transform, translation
from tests.geometry.shapes import moves

few = settings(max_examples=50, deadline=None)
SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
NOTCHED = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (50.0, 40.0), (0.0, 100.0))


def shifted(dx: float, dy: float) -> tuple[tuple[float, float], ...]:
    return tuple(translation((dx, dy)).apply(p) for p in SQUARE)


def test_area_has_a_sign() -> None:
    """Counter-clockwise is positive; a repeated first point changes nothing."""
    assert polygon_area(SQUARE) == 10_000
    assert polygon_area(SQUARE[::-1]) == -10_000
    assert polygon_area((*SQUARE, SQUARE[0])) == 10_000
    assert polygon_area(NOTCHED) == 7_000


def test_area_of_a_circle() -> None:
    """A flattened circle has the area of the circle less what the chords cut off."""
    ring = arc((500, 900), 80, 0, 360).flatten(0.001)
    assert polygon_area(ring) == pytest.approx(math.pi * 80**2, rel=2e-5)


@few
@given(moves())
def test_area_moves(move: Transform) -> None:
    """Area stays when turned or moved and changes sign in the mirror."""
    sign = -1 if move.mirrors else 1
    assert polygon_area([move.apply(p) for p in NOTCHED]) == pytest.approx(sign * 7_000)


def test_simple() -> None:
    """A ring that crosses or touches itself, or is flat, is not simple."""
    assert is_simple(SQUARE)
    assert not is_simple(((0, 0), (100, 100), (100, 0), (0, 100)))
    assert not is_simple(((0, 0), (100, 0), (100, 100), (50, 0), (0, 100)))
    assert not is_simple(((0, 0), (100, 0), (200, 0)))
    assert not is_simple(((0, 0), (100, 0)))


def test_inside_and_contains() -> None:
    """The line itself counts as inside; leaning out is allowed only up to the tolerance."""
    assert inside((50, 50), SQUARE)
    assert inside((100, 50), SQUARE)
    assert not inside((50, 60), NOTCHED)
    assert contains(SQUARE, NOTCHED)
    assert not contains(NOTCHED, SQUARE)
    assert not contains(SQUARE, shifted(0.05, 0))
    assert contains(SQUARE, shifted(0.05, 0), tol=0.1)


def test_ring_that_crosses_itself_counts_each_part_once() -> None:
    """A bow-tie covers its two triangles."""
    bow = ((0, 0), (100, 100), (100, 0), (0, 100))
    assert inside((10, 50), bow)
    assert inside((90, 50), bow)
    assert not inside((50, 10), bow)
    assert not inside((50, 90), bow)


def test_two_points_are_no_ring() -> None:
    """Fewer than three different points enclose nothing; a sentence says so."""
    with pytest.raises(ValueError, match="three different points"):
        contains(SQUARE, ((0, 0), (1, 1), (0, 0)))


U_SHAPE = ((0, 0), (9, 0), (9, 8), (6, 8), (6, 3), (3, 3), (3, 8), (0, 8))


def test_a_line_through_a_hollow_has_two_stretches() -> None:
    """A line that leaves the area and comes in again is kept inside only."""
    lines = cut_lines([((-5, 5), (20, 5)), ((4, -5), (4, 20)), ((4, 5), (5, 5))], U_SHAPE)
    assert sorted(sorted(line) for line in lines) == [
        [(0, 5), (3, 5)],
        [(4, 0), (4, 3)],
        [(6, 5), (9, 5)],
    ]
    assert cut_lines([((1, 1), (2, 7))], U_SHAPE, ((2, 3), (5, 6)))[0][0][1] == 2
    assert cut_lines([((0, 20), (9, 20))], U_SHAPE) == ()


def test_areas_are_cut_off_at_a_ring_and_between_heights() -> None:
    """A square across the hollow is left in both arms; what lies over each other counts once."""
    square = ((-1, 4), (10, 4), (10, 6), (-1, 6))
    assert sum(abs(polygon_area(r)) for r in cut_areas([square], U_SHAPE)) == 12.0
    assert sum(abs(polygon_area(r)) for r in cut_areas([square], U_SHAPE, ((4, 5),))) == 6.0
    assert sum(abs(polygon_area(r)) for r in cut_areas([square, square], U_SHAPE)) == 12.0
    assert cut_areas([square], U_SHAPE, ((20, 30),)) == ()
    assert sum(abs(polygon_area(r)) for r in strips(U_SHAPE, ((1, 2), (5, 6)))) == 9.0 + 6.0
