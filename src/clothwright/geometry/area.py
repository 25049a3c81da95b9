"""The area inside a ring of points; nothing else is needed for it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise


def polygon_area(points: Sequence[tuple[float, float]]) -> float:
    """Return the signed area in square mm: positive when the ring runs counter-clockwise.

    A ring that crosses itself counts its loops with their own signs (shoelace rule).

    >>> polygon_area([(0, 0), (4, 0), (4, 3), (0, 3)])
    12.0
    """
    x0, y0 = points[0]
    shifted = [(x - x0, y - y0) for x, y in points]
    shifted.append(shifted[0])
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise(shifted)) / 2.0
