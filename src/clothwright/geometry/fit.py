"""Curves made from points: arcs, fair curves through a few points, fits to many points."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from clothwright.geometry.hobby import hobby_cubics
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, quarter_arc
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec

_ARC_ERROR = 2.73e-4
"""Radial error of one cubic for a quarter turn, as part of the radius; it falls with the sixth
power of the angle."""

_ARC_MM = 1e-3
"""mm: how far a drawn arc may lie from the circle."""


def arc(centre: tuple[float, float], radius: float, start_deg: float, sweep_deg: float) -> Path:
    """Return a circular arc, counter-clockwise for a positive sweep, of any sweep.

    Within 0.001 mm of the true circle. Raises ValueError for a radius or a sweep of zero.

    >>> round(arc((0, 0), 100, 0, 360).length, 2)
    628.32
    """
    if radius <= 0.0 or sweep_deg == 0.0:
        raise ValueError("an arc needs a radius above zero and a sweep other than zero")
    fine = 90.0 * min(1.0, (_ARC_MM / (_ARC_ERROR * radius)) ** (1 / 6))
    count = math.ceil(abs(sweep_deg) / fine - 1e-9)
    step = sweep_deg / count
    parts = [quarter_arc(Vec(*centre), radius, start_deg + i * step, step) for i in range(count)]
    for i in range(1, count):
        parts[i] = Cubic(parts[i - 1].p3, parts[i].p1, parts[i].p2, parts[i].p3)
    return Path(tuple(parts))


def smooth_through(
    points: Sequence[tuple[float, float]],
    start_tangent: tuple[float, float] | None = None,
    end_tangent: tuple[float, float] | None = None,
) -> Path:
    """Return a fair curve through points in the order given, as a curved ruler would draw it.

    points: at least two, in mm, neighbours apart; one cubic between each two. Tangents are
    directions of travel (any length); without them an end goes on as a nearly circular arc. The
    curve turns, moves, mirrors and scales with its points, and is the same drawn from
    either end (source: see `hobby`).

    Raises ValueError for fewer than two points or two neighbours at one place.

    >>> smooth_through([(0, 0), (10, 0)]).is_straight
    True
    """
    knots = [Vec(*p) for p in points]
    if len(knots) < 2:
        raise ValueError("a curve through points needs at least two of them")
    chords = [b - a for a, b in pairwise(knots)]
    for i, chord in enumerate(chords):
        if chord.norm <= JOIN_MM:
            raise ValueError(f"points {i} and {i + 1} of a curve are at the same place")
    if len(knots) == 2 and start_tangent is None and end_tangent is None:
        return Path((Line(*knots),))
    return Path(hobby_cubics(knots, start_tangent, end_tangent))
