"""A length that no lay of a problem can beat: what can be told before any search."""

from __future__ import annotations

import math

import numpy as np

from clothwright.geometry.area import polygon_area
from clothwright.lay.problem import LayProblem, OnLine, Pinned, Region, Shape

STEP_MM = 20.0
"""mm between the heights at which the shapes on a line are measured across."""


def least_used(problem: LayProblem, region: Region) -> float:
    """Return mm of a cloth's length that every lay uses at least, from the cut end.

    The largest of three: the longest piece; the area of all pieces over the usable width; and, at
    any one height, the breadths of all pieces whose height a rule fixes, side by side with their
    gaps (a bordered row). Only shapes that may go on no other cloth count. Plane geometry: pieces
    do not overlap, so their breadths at one height add up.
    """
    mine = [s for s in problem.shapes if s.regions == (region.name,)]
    if not mine:
        return 0.0
    wide = region.width - region.margin_lower - region.margin_upper
    area = sum(abs(polygon_area(s.outline)) for s in mine) / wide if wide > 0 else math.inf
    longest = max(_shortest_way(s) for s in mine)
    return region.margin_start + max(area, longest, _row(problem, region, mine))


def _shortest_way(shape: Shape) -> float:
    """Least length along the selvedge over the allowed turns; tilt is left out of account."""
    if shape.tilt_deg > 0:
        return 0.0
    return min(float(np.ptp(_turned(shape, t)[:, 0])) for t in shape.turns_deg)


def _turned(shape: Shape, turn_deg: float, *, flipped: bool = False) -> np.ndarray:
    a = math.radians(turn_deg)
    ring = np.asarray(shape.outline, dtype=float)
    if flipped:
        ring = ring * (1.0, -1.0)
    turn = np.array([[math.cos(a), math.sin(a)], [-math.sin(a), math.cos(a)]])
    return np.asarray(ring @ turn)


def _row(problem: LayProblem, region: Region, mine: list[Shape]) -> float:
    """Return the breadth of the fullest row of shapes whose height on the cloth is fixed."""
    fixed = [r for s in mine for r in [_fixed(problem, s)] if r is not None]
    if not fixed:
        return 0.0
    heights = np.arange(region.margin_lower, region.width - region.margin_upper, STEP_MM)
    return max(_breadth(fixed, float(y), problem.gap) for y in heights)


def _breadth(rings: list[np.ndarray], y: float, gap: float) -> float:
    found = [w for ring in rings for w in [_chords(ring, y)] if w > 0]
    return sum(found) + gap * (len(found) - 1) if found else 0.0


def _fixed(problem: LayProblem, shape: Shape) -> np.ndarray | None:
    """Return the outline of a shape at the one height its rules allow, or None if it is free."""
    if len(shape.turns_deg) != 1 or len(shape.flips) != 1 or shape.tilt_deg > 0:
        return None
    if any(isinstance(r, Pinned) and r.shape == shape.id for r in problem.rules):
        return None
    rule = next(
        (
            r
            for r in problem.rules
            if isinstance(r, OnLine) and r.axis == "across" and r.shape == shape.id
        ),
        None,
    )
    if rule is None or rule.least or rule.most:
        return None
    turn, flipped = shape.turns_deg[0], shape.flips[0]
    x, y = shape.points[rule.points[0]]
    a = math.radians(turn)
    height = x * math.sin(a) + (-y if flipped else y) * math.cos(a)
    return np.asarray(_turned(shape, turn, flipped=flipped) + np.array([0.0, rule.at - height]))


def _chords(ring: np.ndarray, y: float) -> float:
    """Return how much of the level line at height y lies inside a ring, mm."""
    a, b = ring, np.roll(ring, -1, axis=0)
    over = (a[:, 1] > y) != (b[:, 1] > y)
    if not over.any():
        return 0.0
    p, q = a[over], b[over]
    xs = np.sort(p[:, 0] + (y - p[:, 1]) / (q[:, 1] - p[:, 1]) * (q[:, 0] - p[:, 0]))
    return float((xs[1::2] - xs[0::2]).sum())
