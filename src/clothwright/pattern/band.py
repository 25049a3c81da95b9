"""Bands sewn to an edge: what a curve asks of a straight strip, and what a mitre takes.

All by plane geometry (docs/sources.md, applied bands); lengths in mm, angles in degrees.
"""

from __future__ import annotations

import math

EASES = 0.03
"""A share of its length by which the sewn edge of a strip eases onto a curve (common practice)."""
MOST_GAP_MM = 3.0
"""mm that a straight part of a band may leave the curve at most, in its middle."""


def gained(theta_deg: float, depth: float) -> float:
    """Return by how much the outer line of a band on a curve is longer than the inner one, mm."""
    return depth * math.radians(theta_deg)


def chord_gap(radius: float, theta_deg: float, parts: int) -> float:
    """Return how far (mm) a curve leaves a band of so many straight parts at most."""
    return radius * (1.0 - math.cos(math.radians(theta_deg) / (2 * parts)))


def parts_for(radius: float, theta_deg: float) -> int:
    """Return into how many straight parts a band is cut so that it follows a curve, mm, degrees."""
    most = math.acos(max(-1.0, 1.0 - MOST_GAP_MM / radius))
    return max(1, math.ceil(math.radians(theta_deg) / (2 * most) - 1e-9))


def corners_agree(one: float, two: float, repeat: float, *, other_line: bool = False) -> bool:
    """Tell whether a border shows one figure at every corner of a rectangle with these sides, mm.

    The border is centred on a mirror line in the middle of each side, mirror lines lie half a
    repeat apart. other_line: one side is centred on the other kind of mirror line.
    """
    steps = abs(one - two) / 2 / repeat + (0.5 if other_line else 0.0)
    return abs(steps - round(steps)) * repeat <= 1e-6
