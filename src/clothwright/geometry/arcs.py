"""Circular and elliptical arcs as cubics, near enough for any garment."""

from __future__ import annotations

import math
from dataclasses import replace

from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec

STEP = math.pi / 8
"""radians: one cubic turns by no more; it is within 3e-7 of the radius of the true circle."""


def ellipse_arc(
    centre: Vec, radii: tuple[float, float], turn_deg: float, start: float, sweep: float
) -> tuple[Cubic, ...]:
    """Return cubics along an ellipse turned by turn_deg, from angle start on by sweep (radians).

    Angles are those of the ellipse's own circle, counter-clockwise. Method: each cubic has its
    ends, tangents and middle on the arc; handles 4/3 tan(step / 4) (standard).
    """
    count = max(1, math.ceil(abs(sweep) / STEP))
    step = sweep / count
    k = 4 / 3 * math.tan(step / 4)
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))

    def at(x: float, y: float) -> Vec:
        x, y = x * radii[0], y * radii[1]
        return Vec(centre.x + cos * x - sin * y, centre.y + sin * x + cos * y)

    made = []
    for n in range(count):
        a, b = start + n * step, start + (n + 1) * step
        ca, sa, cb, sb = math.cos(a), math.sin(a), math.cos(b), math.sin(b)
        made.append(
            Cubic(
                at(ca, sa), at(ca - k * sa, sa + k * ca), at(cb + k * sb, sb - k * cb), at(cb, sb)
            )
        )
    return tuple(made)


def arc_between(
    start: Vec, end: Vec, radii: tuple[float, float], turn_deg: float, *, large: bool, left: bool
) -> tuple[Cubic, ...]:
    """Return the arc of an ellipse (mm, degrees) as cubics; empty when both ends are one point.

    large: the longer way round. left: counter-clockwise (y up). Radii too small to reach are
    enlarged (SVG 2, appendix B.2.4 and B.2.5). The arc's ends are exactly start and end.
    """
    rx, ry = abs(radii[0]), abs(radii[1])
    if start == end:
        return ()
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    half = (start - end) / 2
    x, y = cos * half.x + sin * half.y, cos * half.y - sin * half.x
    reach = (x / rx) ** 2 + (y / ry) ** 2
    if reach > 1:
        rx, ry = rx * math.sqrt(reach), ry * math.sqrt(reach)
    rest = (rx * ry) ** 2 / ((rx * y) ** 2 + (ry * x) ** 2) - 1
    size = math.sqrt(max(0.0, rest)) * (-1 if large is left else 1)
    cx, cy = size * rx * y / ry, -size * ry * x / rx
    middle = (start + end) / 2
    centre = Vec(middle.x + cos * cx - sin * cy, middle.y + sin * cx + cos * cy)
    first = math.atan2((y - cy) / ry, (x - cx) / rx)
    last = math.atan2((-y - cy) / ry, (-x - cx) / rx)
    sweep = (last - first) % (2 * math.pi)
    if not left:
        sweep -= 2 * math.pi
    made = list(ellipse_arc(centre, (rx, ry), turn_deg, first, sweep))
    made[0] = replace(made[0], p0=start)
    made[-1] = replace(made[-1], p3=end)
    return tuple(made)
