"""Points, directions and moves of the plane."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.geometry.transform import (
    IDENTITY,
    Transform,
    reflection,
    rotation_deg,
    scaling,
    translation,
)
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from tests.geometry.shapes import moves, points


def matrix(move: Transform) -> np.ndarray:
    a, b, c, d, e, f = move
    return np.array([[a, c, e], [b, d, f], [0, 0, 1]])


def test_arithmetic_of_displacements() -> None:
    """Adding, scaling and turning work coordinate by coordinate; y is up."""
    assert Vec(1, 2) + Vec(3, 4) == Vec(4, 6)
    assert Vec(1, 2) - Vec(3, 5) == Vec(-2, -3)
    assert Vec(1, 2) * 2 == 2 * Vec(1, 2) == Vec(2, 4)
    assert Vec(2, 4) / 2 == Vec(1, 2)
    assert Vec(1, 0).perp == (0, 1)
    assert Vec(0, 0).unit == (0, 0)


def test_counter_clockwise_is_positive() -> None:
    """Angles and cross products grow counter-clockwise."""
    assert Vec(1, 0).cross((0, 1)) == 1
    assert turn_between_deg(Vec(1, 0), Vec(0, 1)) == pytest.approx(90)
    assert turn_between_deg(Vec(0, 1), Vec(1, 0)) == pytest.approx(-90)
    assert turn_between_deg(Vec(1, 0), Vec(-1, 0)) == pytest.approx(180)
    assert Vec(-1, 0).angle_deg == 180
    assert unit_at(210).is_near((-math.sqrt(3) / 2, -0.5), 1e-12)


@given(moves(), moves(), points)
def test_moves_follow_matrices(first: Transform, second: Transform, p: Vec) -> None:
    """Moves are the 3 x 3 matrices of numpy: chained, applied, undone."""
    both = first.then(second)
    assert np.allclose(matrix(both), matrix(second) @ matrix(first), atol=1e-9)
    assert both.apply(p).is_near((matrix(both) @ [p.x, p.y, 1])[:2], 1e-9)
    assert both.inverse().apply(both.apply(p)).is_near(p, 1e-9)
    assert abs(both.determinant) == pytest.approx(1)


@given(points, st.integers(-8, 8))
def test_quarter_turns_are_exact(p: Vec, quarters: int) -> None:
    """Quarter turns about the origin leave no rounding at all."""
    x, y = p
    for _ in range(quarters % 4):
        x, y = -y, x
    assert rotation_deg(90 * quarters).apply(p) == (x, y)


def test_mirror_leaves_its_line_and_swaps_sides() -> None:
    """A mirror keeps its own line, turns shapes over, and undoes itself."""
    mirror = reflection((10, 0), (20, 10))
    assert mirror.mirrors
    assert mirror.apply((15, 5)).is_near((15, 5), 1e-12)
    assert mirror.apply((10, 10)).is_near((20, 0), 1e-12)
    assert not IDENTITY.mirrors


def test_scaling_and_shift() -> None:
    """Scaling goes by (0, 0); a shift does not touch directions."""
    assert scaling(2).apply((3, 1)) == (6, 2)
    assert translation((3, 4)).apply_direction((1, 0)) == (1, 0)


def test_flattening_move_has_no_way_back() -> None:
    """A move that flattens the plane cannot be undone and says so."""
    with pytest.raises(ZeroDivisionError):
        Transform(1, 0, 0, 0).inverse()
