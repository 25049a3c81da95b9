"""Questions about areas: inside or outside, crossing or not, how many square mm.

Rings are point lists without the first point repeated at the end (repeating it does no harm).
Curves are flattened before they come here. This is the only geometry file that uses shapely.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LinearRing, Point, Polygon, box

from clothwright.geometry.area import polygon_area

Ring = Sequence[tuple[float, float]]
Points = Ring | NDArray[np.float64]
Fixed = tuple[tuple[float, float], ...]
"""A ring or a line that nothing changes any more."""
Spans = tuple[tuple[float, float], ...]
FAR_MM = 1e6
"""Farther than any cloth reaches."""


def is_simple(points: Ring) -> bool:
    """Tell whether the ring neither crosses nor touches itself and encloses an area."""
    return _is_ring(points) and bool(LinearRing(points).is_simple) and polygon_area(points) != 0.0


def inside(point: tuple[float, float], ring: Ring) -> bool:
    """Tell whether a point lies inside the ring or on its line (mm)."""
    return bool(_polygon(ring).covers(Point(point)))


def contains(outer: Ring, inner: Ring, *, tol: float = 0.0) -> bool:
    """Tell whether the inner ring lies within the outer one; `tol` mm of leaning out is allowed."""
    room = _polygon(outer)
    return bool((room.buffer(tol) if tol > 0 else room).covers(_polygon(inner)))


def _is_ring(points: Points) -> bool:
    return len({(float(x), float(y)) for x, y in points}) >= 3


def _polygon(points: Points) -> Polygon:
    """The area of a ring; one that crosses itself is mended so that every part counts once."""
    if not _is_ring(points):
        raise ValueError("a ring needs at least three different points")
    area = Polygon(points)
    return area if area.is_valid else shapely.make_valid(area, method="structure")


def grown(ring: Ring, margin: float) -> tuple[tuple[float, float], ...]:
    """Return the ring grown outwards by `margin` mm, counter-clockwise, corners mitred.

    Corners sharper than 60 degrees are cut off, never nearer than `margin` to the ring's corner.
    """
    wide = _polygon(ring).buffer(margin, join_style="mitre", mitre_limit=2.0)
    points = list(shapely.geometry.polygon.orient(wide).exterior.coords)[:-1]
    return tuple((float(x), float(y)) for x, y in points)


def all_inside(groups: Sequence[Points], ring: Ring) -> tuple[bool, ...]:
    """Tell for each group of points whether all of them lie inside the ring (not on its line)."""
    room = _polygon(ring)
    shapely.prepare(room)
    points = np.concatenate([np.reshape(group, (-1, 2)) for group in groups] or [np.empty((0, 2))])
    inside = shapely.contains_xy(room, points)
    ends = np.cumsum([len(group) for group in groups])
    return tuple(bool(part.all()) for part in np.split(inside, ends)[:-1])


def distances(points: NDArray[np.float64], line: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far each point (n x 2, mm) lies from a line through points (m x 2, m > 1), mm."""
    pieces = shapely.linestrings(np.stack([line[:-1], line[1:]], axis=1))
    tree = shapely.STRtree(pieces)
    _, away = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    return np.asarray(away, dtype=np.float64)


def strips(ring: Fixed, spans: Spans) -> tuple[Fixed, ...]:
    """Return the parts of a ring that lie between heights: (from y, to y) pairs apart, mm."""
    return _rings([_room(ring, spans)])


def cut_areas(areas: Sequence[Points], ring: Fixed, spans: Spans = ()) -> tuple[Fixed, ...]:
    """Return what of some areas lies in a ring, and between heights (`strips`) when any are given.

    As rings to be filled where an odd number of them lie about a point. Areas that lie over each
    other become one.
    """
    made = _seen([_polygon(a) for a in areas], ring, spans)
    if len(shapely.STRtree(made).query(made, "intersects")[0]) > len(made):
        made = np.array([shapely.union_all(made)], dtype=object)
    return _rings(made)


def cut_lines(lines: Sequence[Points], ring: Fixed, spans: Spans = ()) -> tuple[Fixed, ...]:
    """Return what of some open lines lies in a ring, and between heights when any are given."""
    parts = shapely.get_parts(_seen([shapely.LineString(line) for line in lines], ring, spans))
    return tuple(_told(p.coords) for p in parts if p.geom_type == "LineString" and not p.is_empty)


@lru_cache(maxsize=16)
def _room(ring: Fixed, spans: Spans) -> shapely.Geometry:
    room = _polygon(ring)
    if spans:
        boxes = [box(-FAR_MM, low, FAR_MM, high) for low, high in spans if high > low]
        room = room.intersection(shapely.union_all(boxes))
    shapely.prepare(room)
    return room


def _seen(made: Sequence[shapely.Geometry], ring: Fixed, spans: Spans) -> NDArray[np.object_]:
    """Return what of each lies in the room; what lies in it whole stays as it is."""
    room, parts = _room(ring, spans), np.array(made, dtype=object)
    parts = parts[shapely.intersects(room, parts)]
    across = ~shapely.covers(room, parts)
    parts[across] = shapely.intersection(parts[across], room)
    out: NDArray[np.object_] = parts
    return out


def thinned(line: Ring, within: float) -> Fixed:
    """Return an open line without the corners it stays within `within` mm of; its ends are kept.

    Douglas and Peucker, Cartographica 10 (1973) 112: the point farthest from the chord is kept if
    it lies farther off than `within`, and both halves are thinned in the same way (shapely's).

    >>> thinned(((0, 0), (1, 0.1), (2, 0), (2, 2)), 0.2)
    ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0))
    """
    return tuple(shapely.LineString(line).simplify(within, preserve_topology=False).coords)


def thinned_ring(ring: Ring, within: float) -> Fixed:
    """Return a closed ring (mm, its first point not repeated) without the corners it can spare.

    Its first point and the one farthest from that are kept.
    """
    if len(ring) < 4:
        return tuple(ring)
    far = max(range(len(ring)), key=lambda k: math.dist(ring[0], ring[k]))
    there, back = ring[: far + 1], (*ring[far:], ring[0])
    return (*thinned(there, within)[:-1], *thinned(back, within)[:-1])


def _rings(areas: Sequence[shapely.Geometry] | NDArray[np.object_]) -> tuple[Fixed, ...]:
    """Return the outlines and the holes of areas."""
    parts = [p for p in shapely.get_parts(list(areas)) if p.geom_type == "Polygon" and p.area > 0]
    return tuple(_told(r.coords)[:-1] for p in parts for r in (p.exterior, *p.interiors))


def _told(points: shapely.coords.CoordinateSequence) -> Fixed:
    return tuple((float(x), float(y)) for x, y in points)
