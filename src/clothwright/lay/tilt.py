"""The turns beside an exact one that the grain's tolerance leaves, few but the useful ones.

The whole tolerance and half of it, either way; and the tilts at which the shape is narrowest across
the cloth and shortest along it. A turned outline's extent is least where an edge of its hull lies
level or at an end of the range (between those it follows one arch of a sine), so that these two are
exact.
"""

from __future__ import annotations

import numpy as np
from shapely.geometry import MultiPoint

LEAST_DEG = 0.02
"""Tilts nearer than this (degrees) to another, or to none at all, are no ways of their own."""
GAIN_MM = 0.05
"""A tilt counts as narrower when it gains at least this much."""


def tilts(ring: np.ndarray, tilt_deg: float) -> tuple[float, ...]:
    """Return the tilts (degrees, counter-clockwise, none of them 0) worth trying for an outline.

    ring: (points, 2) the outline as it lies at its exact turn, mm. tilt_deg: how far it may depart
    from that turn, either way.
    """
    if tilt_deg <= LEAST_DEG:
        return ()
    hull = np.asarray(MultiPoint(ring).convex_hull.exterior.coords)
    steps = np.diff(hull, axis=0)
    level = -np.degrees(np.arctan2(steps[:, 1], steps[:, 0]))
    level = (level + 45.0) % 90.0 - 45.0
    ends = np.concatenate([level[np.abs(level) <= tilt_deg], [-tilt_deg, tilt_deg, 0.0]])
    found = [0.0]
    for axis in (1, 0):
        sizes = [_extent(hull, angle, axis) for angle in ends]
        best = int(np.argmin(sizes))
        if sizes[best] < sizes[-1] - GAIN_MM:
            _add(found, float(ends[best]))
    for angle in (-tilt_deg, tilt_deg, -tilt_deg / 2.0, tilt_deg / 2.0):
        _add(found, angle)
    return tuple(found[1:])


def _add(found: list[float], angle: float) -> None:
    if all(abs(angle - other) > LEAST_DEG for other in found):
        found.append(angle)


def _extent(points: np.ndarray, angle_deg: float, axis: int) -> float:
    angle = np.radians(angle_deg)
    way = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])[axis]
    return float(np.ptp(points @ way))
