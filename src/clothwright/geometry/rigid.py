"""The turn and shift that lays one row of points on another, without stretching or mirroring."""

from __future__ import annotations

import math
from collections.abc import Sequence

from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec


def rigid_fit(
    moved: Sequence[tuple[float, float]], onto: Sequence[tuple[float, float]]
) -> tuple[Transform, float]:
    """Return the move with the least squares between the rows, and what is left (RMS, mm).

    moved, onto: the same number of points, at least one, paired in order. One point alone, or
    points that all coincide, give a shift without a turn. Source: orthogonal Procrustes in the
    plane (textbook; from memory).

    Raises ValueError when the rows differ in length or are empty.

    >>> move, rest = rigid_fit([(0, 0), (1, 0)], [(5, 5), (5, 6)])
    >>> move.apply((1, 0)).is_near((5, 6), 1e-9), rest < 1e-9
    (True, True)
    """
    if len(moved) != len(onto) or not moved:
        raise ValueError("a fit needs two rows of the same number of points")
    p, q = _middle(moved), _middle(onto)
    dot = cross = 0.0
    for a, b in zip(moved, onto, strict=True):
        u, v = Vec(*a) - p, Vec(*b) - q
        dot, cross = dot + u.dot(v), cross + u.cross(v)
    turn = rotation_deg(math.degrees(math.atan2(cross, dot)) if dot or cross else 0.0)
    move = translation(-p).then(turn).then(translation(q))
    off = sum(move.apply(a).distance(b) ** 2 for a, b in zip(moved, onto, strict=True))
    return move, math.sqrt(off / len(moved))


def _middle(points: Sequence[tuple[float, float]]) -> Vec:
    n = len(points)
    return Vec(sum(p[0] for p in points) / n, sum(p[1] for p in points) / n)
