"""Lines with fewer points, for drawings that need not be exact."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shapely import LineString

Point = tuple[float, float]


def thinned(line: Sequence[Point], within: float) -> tuple[Point, ...]:
    """Return an open line without the corners it stays within `within` mm of; its ends are kept.

    Douglas and Peucker, Cartographica 10 (1973) 112: the point farthest from the chord is kept if
    it lies farther off than `within`, and both halves are thinned in the same way (shapely's).

    >>> thinned(((0, 0), (1, 0.1), (2, 0), (2, 2)), 0.2)
    ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0))
    """
    return tuple(LineString(line).simplify(within, preserve_topology=False).coords)


def thinned_ring(ring: Sequence[Point], within: float) -> tuple[Point, ...]:
    """Return a closed ring (mm, its first point not repeated) without the corners it can spare.

    Its first point and the one farthest from that are kept.
    """
    if len(ring) < 4:
        return tuple(ring)
    far = max(range(len(ring)), key=lambda k: math.dist(ring[0], ring[k]))
    there, back = ring[: far + 1], (*ring[far:], ring[0])
    return (*thinned(there, within)[:-1], *thinned(back, within)[:-1])
