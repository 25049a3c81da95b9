"""Laying one row of points on another by a turn and a shift."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.transform import rotation_deg, translation

PLACE = st.tuples(st.floats(-500, 500), st.floats(-500, 500))


@given(st.lists(PLACE, min_size=2, max_size=8), st.floats(-179, 179), PLACE)
def test_a_row_that_was_moved_is_found_again(
    row: list[tuple[float, float]], turn_deg: float, by: tuple[float, float]
) -> None:
    """Points turned and shifted are laid on exactly; nothing is left over."""
    was = rotation_deg(turn_deg).then(translation(by))
    onto = [was.apply(p) for p in row]
    move, rest = rigid_fit(row, onto)
    assert rest < 1e-6
    assert move.determinant == pytest.approx(1.0)
    assert all(move.apply(p).is_near(q, 1e-5) for p, q in zip(row, onto, strict=True))


def test_it_agrees_with_scipy() -> None:
    """A row that does not fit is laid as scipy's least squares lays it (reference library)."""
    optimize = pytest.importorskip("scipy.optimize")
    row = [(0.0, 0.0), (10.0, 1.0), (21.0, -3.0), (30.0, 4.0)]
    onto = [(5.0, 5.0), (4.0, 16.0), (8.0, 25.0), (3.0, 36.0)]

    def off(p: tuple[float, float, float]) -> float:
        move = rotation_deg(p[0]).then(translation(p[1:]))
        return sum(move.apply(a).distance(b) ** 2 for a, b in zip(row, onto, strict=True))

    best = optimize.minimize(off, (90.0, 5.0, 5.0), method="Nelder-Mead", tol=1e-10)
    assert rigid_fit(row, onto)[1] == pytest.approx((best.fun / 4) ** 0.5, rel=1e-4)


@pytest.mark.parametrize(("row", "onto"), [([], []), ([(0.0, 0.0)], [])])
def test_rows_that_cannot_be_paired_are_refused(
    row: list[tuple[float, float]], onto: list[tuple[float, float]]
) -> None:
    """Empty rows and rows of different length are no fit."""
    with pytest.raises(ValueError, match="same number"):
        rigid_fit(row, onto)
