"""The published table for converting yardage from one width of cloth to another.

As printed by US cooperative extension services for decades and seen alike in two independent copies
(docs/sources.md). It is a table, not an area rule: areas miss it by up to 1/3 yd.
"""

from __future__ import annotations

from bisect import bisect_left

from clothwright.errors import BadInput

WIDTHS_IN = (36.0, 39.0, 42.0, 45.0, 50.0, 54.0, 60.0, 66.0)
"""inches: the upper end of each column's range of widths."""

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


def convert(yards: float, from_in: float, to_in: float) -> float:
    """Return the yards needed at another width, between rows in proportion.

    A guide: add 1/4 yd when the widths differ greatly, the design runs one way, or sleeves are cut
    in one with the body. Raises BadInput outside the table.

    >>> convert(1.75, 36, 60), convert(2.0, 60, 45)
    (1.0, 2.75)
    """
    a, b = _column(from_in), _column(to_in)
    source = [row[a] for row in YARDS]
    if not source[0] <= yards <= source[-1]:
        raise BadInput(
            what=f"{yards:g} yd at {from_in:g} in is outside the table",
            expected=f"{source[0]:g} to {source[-1]:g} yd",
        )
    k = bisect_left(source, yards)
    if source[k] == yards:
        return YARDS[k][b]
    share = (yards - source[k - 1]) / (source[k] - source[k - 1])
    return YARDS[k - 1][b] + share * (YARDS[k][b] - YARDS[k - 1][b])


def _column(width_in: float) -> int:
    k = bisect_left(WIDTHS_IN, width_in)
    if not 35.0 <= width_in <= WIDTHS_IN[-1]:
        raise BadInput(
            what=f"a width of {width_in:g} in is outside the table", expected="35 to 66 in"
        )
    return k
