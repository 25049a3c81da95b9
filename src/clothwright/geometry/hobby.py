"""Fair curves through a few points.

Source: J. D. Hobby, Smooth, easy to compute interpolating splines, Discrete & Computational
Geometry 1 (1986), 123-140; tension 1, curl 1 at free ends.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec, turn_between_deg


def hobby_cubics(
    knots: Sequence[Vec],
    start_tangent: tuple[float, float] | None,
    end_tangent: tuple[float, float] | None,
) -> tuple[Cubic, ...]:
    """Return one cubic between each two neighbouring knots (mm; at least two, none together)."""
    chords = [b - a for a, b in pairwise(knots)]
    turns = [0.0, *(math.radians(turn_between_deg(a, b)) for a, b in pairwise(chords)), 0.0]
    leave = None if start_tangent is None else _angle(chords[0], start_tangent)
    arrive = None if end_tangent is None else _angle(chords[-1], end_tangent)
    if len(knots) == 2:
        thetas = _two_angles(leave, arrive)
    else:
        thetas = _angles([c.norm for c in chords], turns, leave, arrive)
    return tuple(
        _cubic(p, q, thetas[i], -turns[i + 1] - thetas[i + 1])
        for i, (p, q) in enumerate(pairwise(knots))
    )


def _two_angles(leave: float | None, arrive: float | None) -> list[float]:
    """Angles at both ends of a single chord; a free end completes a circular arc."""
    if leave is None and arrive is None:
        return [0.0, 0.0]
    if leave is None:
        return [-(arrive or 0.0), arrive or 0.0]
    return [leave, -leave if arrive is None else arrive]


def _angle(chord: Vec, direction: tuple[float, float]) -> float:
    """Radians from a chord to a direction."""
    if direction[0] == 0.0 and direction[1] == 0.0:
        raise ValueError("a tangent needs a direction that is not zero")
    return math.radians(turn_between_deg(chord, Vec(*direction)))


def _angles(
    lengths: list[float], turns: list[float], leave: float | None, arrive: float | None
) -> list[float]:
    """Angles from each outgoing chord to the curve's direction; the mock curvatures agree."""
    n = len(lengths)
    known, right = np.eye(n + 1), np.zeros(n + 1)
    if leave is None:
        known[0, 1], right[0] = 1.0, -turns[1]
    else:
        right[0] = leave
    for k in range(1, n):
        p, q = 1 / lengths[k - 1], 1 / lengths[k]
        known[k, k - 1 : k + 2] = p, 2 * (p + q), q
        right[k] = -2 * turns[k] * p - turns[k + 1] * q
    if arrive is None:
        known[n, n - 1] = 1.0
    else:
        right[n] = arrive
    return [float(angle) for angle in np.linalg.solve(known, right)]


def _cubic(start: Vec, end: Vec, theta: float, phi: float) -> Cubic:
    """The cubic that leaves at theta to the left of its chord and arrives at phi to the right."""
    chord = end - start
    third = 1 / 3
    first = _turned(chord, theta) * (_velocity(theta, phi) * third)
    last = _turned(chord, -phi) * (_velocity(phi, theta) * third)
    return Cubic(start, start + first, end - last, end)


def _turned(v: Vec, angle: float) -> Vec:
    cos, sin = math.cos(angle), math.sin(angle)
    return Vec(v.x * cos - v.y * sin, v.x * sin + v.y * cos)


def _velocity(theta: float, phi: float) -> float:
    """Hobby's handle length in thirds of the chord, kept under 4 as in his program."""
    st, ct, sp, cp = math.sin(theta), math.cos(theta), math.sin(phi), math.cos(phi)
    top = 2 + math.sqrt(2) * (st - sp / 16) * (sp - st / 16) * (ct - cp)
    bottom = 1 + (math.sqrt(5) - 1) / 2 * ct + (3 - math.sqrt(5)) / 2 * cp
    return min(4.0, top / bottom) if bottom > 0 else 4.0
