"""Roots of the one equation behind crossings."""

from __future__ import annotations

import pytest

from clothwright.geometry.roots import bernstein_roots, quadratic_roots


@pytest.mark.parametrize("a", [0.0, 2e-15, -2e-15, 9e-15])
def test_nearly_constant_has_no_root(a: float) -> None:
    """A quadratic whose bend is rounding and whose slope is nothing has no root, and no fall."""
    assert quadratic_roots(a, 0.0, 1.0) == ()


def test_nearly_straight_has_one() -> None:
    """A bend that is rounding is left out: -2t + 1 is zero half-way."""
    assert quadratic_roots(1e-15, -2.0, 1.0) == (0.5,)


def test_a_cubic_that_is_nearly_a_constant() -> None:
    """A control polygon level but for rounding neither falls nor finds a root."""
    assert bernstein_roots((1.0, 1.0, 1.0 + 3e-15, 1.0 + 6e-15), 1e-4) == ()
