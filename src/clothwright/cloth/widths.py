"""The published table for converting yardage from one width of cloth to another.

As printed by US cooperative extension services for decades and seen alike in two independent copies
(docs/sources.md). It is a table, not an area rule: areas miss it by up to 1/3 yd.
"""

from __future__ import annotations

from bisect import bisect_left

from clothwright.errors import BadInput
from clothwright.units import INCH, YARD

RANGES_IN = ((35, 36), (39, 39), (41, 42), (44, 45), (50, 50), (52, 54), (58, 60), (65, 66))
"""inches: the widths each column is for."""

YARDS: tuple[tuple[float, ...], ...] = (
    (1.75, 1.5, 1.5, 1.375, 1.25, 1.125, 1.0, 0.875),
    (2.0, 1.75, 1.75, 1.625, 1.5, 1.375, 1.25, 1.125),
    (2.25, 2.0, 2.0, 1.75, 1.625, 1.5, 1.375, 1.25),
    (2.5, 2.25, 2.25, 2.125, 1.75, 1.75, 1.625, 1.5),
    (2.875, 2.5, 2.5, 2.25, 2.0, 1.875, 1.75, 1.625),
    (3.125, 2.75, 2.75, 2.5, 2.25, 2.0, 1.875, 1.75),
    (3.375, 3.0, 2.875, 2.75, 2.375, 2.25, 2.0, 1.875),
    (3.75, 3.25, 3.125, 2.875, 2.625, 2.375, 2.25, 2.125),
    (4.25, 3.5, 3.375, 3.125, 2.75, 2.625, 2.375, 2.25),
    (4.5, 3.75, 3.625, 3.375, 3.0, 2.75, 2.625, 2.5),
    (4.75, 4.0, 3.875, 3.625, 3.25, 2.875, 2.75, 2.625),
    (5.0, 4.25, 4.125, 3.875, 3.375, 3.125, 2.875, 2.75),
)
"""yards, one row a garment, one column a width."""


def convert(yards: float, from_width: float, to_width: float) -> float:
    """Return the yards needed at another width (inches); between rows and columns in proportion.

    A guide: add 1/4 yd when the widths differ greatly, the design runs one way, or sleeves are cut
    in one with the body. Raises BadInput outside the table.

    >>> convert(1.75, 36, 60), convert(2.0, 60, 45)
    (1.0, 2.75)
    """
    source, target = column(from_width), column(to_width)
    if not source[0] <= yards <= source[-1]:
        raise BadInput(
            what=(
                yards * YARD,
                " at a width of ",
                from_width * INCH,
                " is outside the table",
            ),
            expected=(source[0] * YARD, " to ", source[-1] * YARD),
        )
    k = bisect_left(source, yards)
    if source[k] == yards:
        return target[k]
    share = (yards - source[k - 1]) / (source[k] - source[k - 1])
    return target[k - 1] + share * (target[k] - target[k - 1])


def column(width: float) -> tuple[float, ...]:
    """Return the table's figures (yards, one a row) at a width in inches. Raises BadInput."""
    for k, (low, high) in enumerate(RANGES_IN):
        if low <= width <= high:
            return tuple(row[k] for row in YARDS)
        if k + 1 < len(RANGES_IN) and high < width < RANGES_IN[k + 1][0]:
            share = (width - high) / (RANGES_IN[k + 1][0] - high)
            return tuple(row[k] + share * (row[k + 1] - row[k]) for row in YARDS)
    raise BadInput(
        what=("a width of ", width * INCH, " is outside the table"),
        expected=(RANGES_IN[0][0] * INCH, " to ", RANGES_IN[-1][1] * INCH),
    )
