"""The width conversion table against its published worked look-ups and its own behaviour."""

from __future__ import annotations

from itertools import pairwise

import pytest

from clothwright.cloth.widths import RANGES_IN, YARDS, column, convert
from clothwright.errors import BadInput


@pytest.mark.parametrize(
    ("yards", "from_in", "to_in", "expected"),
    [
        (1.75, 36, 60, 1.0),
        (3.375, 36, 45, 2.75),
        (3.375, 36, 60, 2.0),
        (5.0, 36, 45, 3.875),
        (2.0, 60, 45, 2.75),
    ],
)
def test_published_look_ups(yards, from_in, to_in, expected):
    """Worked look-ups printed with the table; the last is repeated on two further pages."""
    assert convert(yards, from_in, to_in) == expected


def test_rows_fall_and_columns_rise():
    """Wider cloth never needs more; each row needs more than the one above at every width."""
    assert all(len(row) == len(RANGES_IN) for row in YARDS)
    assert all(a >= b for row in YARDS for a, b in pairwise(row))
    assert all(a < b for upper, lower in pairwise(YARDS) for a, b in zip(upper, lower, strict=True))


def test_it_is_no_area_rule():
    """By area 3 1/8 yd of 45 in would be 3.91 yd of 36 in; printed is 4 1/4."""
    assert convert(3.125, 45, 36) - 3.125 * 45 / 36 == pytest.approx(0.34, abs=0.01)


@pytest.mark.parametrize(
    ("width", "first"), [(35, 1.75), (36, 1.75), (44.5, 1.375), (47.5, 1.3125), (59, 1.0)]
)
def test_widths_between_columns(width, first):
    """A column serves its whole range of widths; between two it goes in proportion, never below."""
    assert column(width)[0] == first


def test_between_rows_in_proportion():
    """Half way between 1 3/4 and 2 yd of 36 in is half way between 1 and 1 1/4 yd of 60 in."""
    assert convert(1.875, 36, 60) == pytest.approx(1.125)
    assert convert(convert(3.3, 36, 54), 54, 36) == pytest.approx(3.3)


@pytest.mark.parametrize(("yards", "width"), [(9.0, 45), (0.2, 45), (2.0, 90), (2.0, 20)])
def test_outside_the_table(yards, width):
    """Nothing is made up beyond the table."""
    with pytest.raises(BadInput, match="outside the table"):
        convert(yards, width, 60)
