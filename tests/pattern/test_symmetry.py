"""A piece is its own mirror image where shape, notches and darts are."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.checks.specimens import back, front, sleeve

from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.piece import Notch
from clothwright.pattern.symmetry import is_symmetrical, mirror_axes
from clothwright.pattern.whole import moved, unfolded


@pytest.mark.parametrize("turn", [0.0, 37.0, 190.0])
def test_an_opened_piece_mirrors_about_its_fold(turn: float) -> None:
    """The line is where the fold was, wherever the piece lies (plane geometry)."""
    for half in (front(), back()):
        assert half.fold is not None
        fold = half.fold.path
        move = rotation_deg(turn, (10.0, 20.0))
        (axis,) = mirror_axes(moved(unfolded(half), move))
        way = move.apply(fold.end) - move.apply(fold.start)
        assert abs(turn_between_deg(axis.along, way)) % 180 == pytest.approx(0.0, abs=1e-6)
        assert abs((move.apply(fold.start) - axis.at).cross(axis.along)) < 1e-6


def test_notches_tell_left_from_right() -> None:
    """The sleeve's outline mirrors, its single and double notches do not; nor one notch alone."""
    assert not is_symmetrical(sleeve())
    opened = unfolded(front())
    hem = opened.edge("hem")
    lop = opened.with_edge(replace(hem, notches=(*hem.notches, Notch(at=60.0))))
    assert is_symmetrical(opened)
    assert not is_symmetrical(lop)
    assert not is_symmetrical(front())
