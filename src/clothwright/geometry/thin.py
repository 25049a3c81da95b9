"""Lines with fewer points, for drawings that need not be exact."""

from __future__ import annotations

import math
from collections.abc import Sequence

Point = tuple[float, float]


def thinned(line: Sequence[Point], within: float) -> tuple[Point, ...]:
    """Return an open line without the corners it stays within `within` mm of; its ends are kept.

    Douglas and Peucker, Cartographica 10 (1973) 112: the point farthest from the chord is kept if
    it lies farther off than `within`, and both halves are thinned in the same way.

    >>> thinned(((0, 0), (1, 0.1), (2, 0), (2, 2)), 0.2)
    ((0, 0), (2, 0), (2, 2))
    """
    keep, open_ = {0, len(line) - 1}, [(0, len(line) - 1)]
    while open_:
        first, last = open_.pop()
        (ax, ay), (bx, by) = line[first], line[last]
        ux, uy = bx - ax, by - ay
        square = ux * ux + uy * uy
        worst, far = first, within
        for k in range(first + 1, last):
            x, y = line[k][0] - ax, line[k][1] - ay
            t = min(1.0, max(0.0, (x * ux + y * uy) / square)) if square > 0.0 else 0.0
            off = math.hypot(x - t * ux, y - t * uy)
            if off > far:
                worst, far = k, off
        if worst != first:
            keep.add(worst)
            open_ += [(first, worst), (worst, last)]
    return tuple(line[k] for k in sorted(keep))


def thinned_ring(ring: Sequence[Point], within: float) -> tuple[Point, ...]:
    """Return a closed ring (mm, its first point not repeated) without the corners it can spare.

    Its first point and the one farthest from that are kept.
    """
    if len(ring) < 4:
        return tuple(ring)
    far = max(range(len(ring)), key=lambda k: math.dist(ring[0], ring[k]))
    there, back = ring[: far + 1], (*ring[far:], ring[0])
    return (*thinned(there, within)[:-1], *thinned(back, within)[:-1])
