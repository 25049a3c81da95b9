"""Curves made from points: arcs, fair curves through a few points, fits to many points."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from clothwright.geometry.hobby import hobby_cubics
from clothwright.geometry.least_squares import fitted_cubics
from clothwright.geometry.path import Path, join_all
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


def fit_curve(
    points: Sequence[tuple[float, float]],
    tol: float,
    *,
    corners: Iterable[int] = (),
    start_tangent: tuple[float, float] | None = None,
    end_tangent: tuple[float, float] | None = None,
) -> Path:
    """Return few cubics that pass every point within `tol` mm, smooth except at the corners.

    points: a dense list in mm, such as a traced outline; corners: indices of points where the
    direction may jump (the curve passes exactly through them and through both ends). Tangents
    are directions of travel at the two ends (any length), estimated from the points when
    missing. A stretch whose points lie on one straight line within `tol` becomes a line, unless
    a tangent asks for a bend. Method: see `least_squares`.

    Raises ValueError for fewer than two points or a tolerance that is not above zero.

    >>> dense = [(math.cos(a / 50) * 90, math.sin(a / 50) * 90) for a in range(80)]
    >>> len(fit_curve(dense, 0.05).segments)
    1
    """
    if tol <= 0.0:
        raise ValueError("a fit needs a tolerance above zero")
    knots, knot_of = _apart(points)
    if len(knots) < 2:
        raise ValueError("a fit needs at least two points that are apart")
    stops = {knot_of[c] for c in corners}
    cuts = [0, *sorted(stops - {0, len(knots) - 1}), len(knots) - 1]
    stretches = []
    for a, b in pairwise(cuts):
        first = _unit(start_tangent) if a == 0 else None
        last = _unit(end_tangent) if b == len(knots) - 1 else None
        stretches.append(_stretch(knots[a : b + 1], tol, first, last))
    return join_all(stretches)


def _unit(direction: tuple[float, float] | None) -> Vec | None:
    return None if direction is None else Vec(*direction).unit


def _apart(points: Sequence[tuple[float, float]]) -> tuple[list[Vec], list[int]]:
    """The points as vectors, without repeats of the one before; and which of them each became."""
    kept: list[Vec] = []
    became: list[int] = []
    for p in points:
        if not kept or kept[-1].distance(p) > JOIN_MM:
            kept.append(Vec(*p))
        became.append(len(kept) - 1)
    return kept, became


def _stretch(knots: list[Vec], tol: float, first: Vec | None, last: Vec | None) -> Path:
    """A smooth stretch: a line when the points are straight, else fitted cubics."""
    chord = knots[-1] - knots[0]
    if chord.norm > 0 and first is None and last is None:
        axis = chord.unit
        heights = [abs(axis.cross(p - knots[0])) for p in knots]
        ahead = [axis.dot(p - knots[0]) for p in knots]
        if max(heights) <= tol and min(ahead) >= -tol and max(ahead) <= chord.norm + tol:
            return Path((Line(knots[0], knots[-1]),))
    return Path(fitted_cubics(knots, tol, first, last))
