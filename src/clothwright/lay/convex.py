"""Outlines made fit for the search: few corners, cut into convex parts, never smaller than true.

Two shapes lie clear of each other when no convex part of the one meets a convex part of the other,
and for two convex parts the positions at which they meet are again a convex polygon (the Minkowski
difference, or no-fit polygon). So all the search needs of a shape is a short list of convex
parts that covers it. Both steps only ever grow the shape, so what is clear for the search is clear
in truth:

* `simplify_outward` drops corners that point inward and replaces edges of an outward curve by the
  corner their neighbours make, cheapest first, while nothing moves more than `most` mm;
* `convex_parts` cuts the outline into triangles and joins them again as long as the join bulges no
  more than `bulge` mm out of the outline.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

CORNERS = 40
MOST = 0.5
FREE = 0.02
"""A change this small (mm) is made even when there are few corners already."""

_TINY = 1e-9


def simplify_outward(
    ring: np.ndarray, *, corners: int = CORNERS, most: float = MOST, free: float = FREE
) -> np.ndarray:
    """A ring with fewer corners that covers the given counter-clockwise ring.

    Corners are dropped, the least change first, until at most `corners` are left or the next
    change would move the outline by more than `most` mm. Changes below `free` mm are always made.
    The result stays within the ring's own bounding box, so that what just fits still fits.
    """
    lean = ring
    while len(lean) > 4:
        moved, index, corner = _cheapest(lean)
        if moved > (most if len(lean) > corners else free):
            break
        lean = _without(lean, index, corner)
    low, high = ring.min(axis=0), ring.max(axis=0)
    box = shapely.box(low[0], low[1], high[0], high[1])
    poly = Polygon(lean)
    if not poly.is_valid:
        return ring
    poly = shapely.intersection(poly, box)
    truth = Polygon(ring)
    if poly.geom_type != "Polygon" or poly.interiors or poly.area < truth.area - 1e-6:
        return ring
    if truth.difference(poly).area > 1e-6 * max(1.0, truth.area**0.5):
        return ring
    return _ccw(np.asarray(poly.exterior.coords)[:-1])


def _ccw(ring: np.ndarray) -> np.ndarray:
    x, y = ring[:, 0], ring[:, 1]
    area = float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    return ring if area >= 0.0 else ring[::-1].copy()


def _cross(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    out: np.ndarray = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return out


def _cheapest(ring: np.ndarray) -> tuple[float, int, np.ndarray | None]:
    """The least change that drops a corner: mm moved, index, new corner (None: just drop it)."""
    before, after, second = (np.roll(ring, k, axis=0) for k in (1, -1, -2))
    chord = after - before
    length = np.maximum(np.hypot(chord[:, 0], chord[:, 1]), _TINY)
    turn = _cross(ring - before, after - ring)
    inward = np.where(turn <= _TINY, np.abs(turn) / length, np.inf)
    first = int(np.argmin(inward))
    # The edge from corner i to i+1 gives way to the point where its neighbours meet.
    along, back = ring - before, after - second
    denom = _cross(along, back)
    edge = after - ring
    safe = np.where(np.abs(denom) < _TINY, 1.0, denom)
    reach = _cross(edge, back) / safe
    other = _cross(edge, along) / safe
    meet = ring + along * reach[:, None]
    width = np.maximum(np.hypot(edge[:, 0], edge[:, 1]), _TINY)
    rise = np.abs(_cross(edge, meet - ring)) / width
    convex = (turn > 0.0) & (np.roll(turn, -1) > 0.0) & (np.abs(denom) >= _TINY)
    outward = np.where(convex & (reach >= 0.0) & (other >= 0.0), rise, np.inf)
    second_best = int(np.argmin(outward))
    if inward[first] <= outward[second_best]:
        return float(inward[first]), first, None
    return float(outward[second_best]), second_best, meet[second_best]


def _without(ring: np.ndarray, index: int, corner: np.ndarray | None) -> np.ndarray:
    if corner is None:
        return np.delete(ring, index, axis=0)
    changed = ring.copy()
    changed[index] = corner
    return np.delete(changed, (index + 1) % len(ring), axis=0)


def convex_parts(poly: BaseGeometry, *, bulge: float) -> tuple[np.ndarray, ...]:
    """Convex rings (counter-clockwise) that together cover the polygon, holes left out.

    They may overlap each other, and stand out of the polygon by at most `bulge` mm.
    """
    if poly.is_empty:
        return ()
    grown = poly.buffer(bulge, join_style="mitre") if bulge > 0.0 else poly.buffer(1e-7)
    shapely.prepare(grown)
    if not shapely.get_num_interior_rings(poly) and grown.covers(poly.convex_hull):
        return (_ring(poly.convex_hull),)
    parts = [
        part
        for part in shapely.get_parts(shapely.constrained_delaunay_triangles(poly))
        if part.area > 1e-9
    ]
    return tuple(_ring(part) for part in _joined(parts, grown))


def _joined(parts: list[BaseGeometry], grown: BaseGeometry) -> list[BaseGeometry]:
    """Neighbouring parts joined while their hull stays within the grown polygon."""
    pairs = _neighbours(parts)
    alive: dict[int, BaseGeometry] = dict(enumerate(parts))
    fresh = len(parts)
    while pairs:
        pair = max(pairs, key=lambda p: (pairs[p], p))
        del pairs[pair]
        first, second = pair
        hull = shapely.union(alive[first], alive[second]).convex_hull
        if not grown.covers(hull):
            continue
        del alive[first], alive[second]
        for old in [p for p in pairs if first in p or second in p]:
            shared = pairs.pop(old)
            other = next(k for k in old if k not in pair)
            key = (other, fresh)
            pairs[key] = max(shared, pairs.get(key, 0.0))
        alive[fresh] = hull
        fresh += 1
    kept = list(alive.values())
    kept.sort(key=lambda part: -part.area)
    return _needed(kept)


def _needed(parts: list[BaseGeometry]) -> list[BaseGeometry]:
    """The parts without those that lie wholly in another."""
    needed: list[BaseGeometry] = []
    for part in parts:
        if not any(other.covers(part) for other in needed):
            needed.append(part)
    return needed


def _neighbours(parts: Sequence[BaseGeometry]) -> dict[tuple[int, int], float]:
    """Pairs of triangles with a common edge, and its length."""
    edges: dict[tuple[tuple[float, float], tuple[float, float]], int] = {}
    pairs: dict[tuple[int, int], float] = {}
    for index, part in enumerate(parts):
        ring = [(round(x, 7), round(y, 7)) for x, y in part.exterior.coords[:-1]]
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
            key = (min(a, b), max(a, b))
            if key in edges:
                length = float(np.hypot(a[0] - b[0], a[1] - b[1]))
                pairs[(edges[key], index)] = length
            edges[key] = index
    return pairs


def _ring(poly: BaseGeometry) -> np.ndarray:
    ring = _ccw(np.asarray(poly.exterior.coords)[:-1])
    step = np.roll(ring, -1, axis=0) - ring
    kept: np.ndarray = ring[np.hypot(step[:, 0], step[:, 1]) > 1e-7]
    return kept
