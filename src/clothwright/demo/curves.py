"""Fair curves for drafting: splines, corner curves, trued darts. Angles in degrees from +x."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from clothwright.errors import CannotDo
from clothwright.geometry.intersect import meet
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec, unit_at

ROUND = 0.5523
"""Handle share that makes a quarter turn of a corner curve an ellipse (within 0.03 %)."""


def straight(*points: tuple[float, float]) -> Path:
    """Return straight lines through the points."""
    vs = [Vec(*p) for p in points]
    return Path(tuple(Line(p, q) for p, q in pairwise(vs)))


def bend(start: Vec, start_deg: float, end: Vec, end_deg: float) -> Path:
    """Return one gentle curve (mm) that leaves and arrives in given directions."""
    reach = start.distance(end) / 3
    return Path(
        (Cubic(start, start + unit_at(start_deg) * reach, end - unit_at(end_deg) * reach, end),)
    )


def scoop(
    start: Vec,
    start_deg: float,
    end: Vec,
    end_deg: float,
    *,
    full: float = ROUND,
    full_end: float = 0.0,
) -> Path:
    """Return a curve (mm) round a corner, like a quarter of an ellipse; `full`, 0 to 1, fills it.

    full_end: the same for the curve's end, where it is to differ.
    """
    corner = meet(start, unit_at(start_deg), end, unit_at(end_deg))
    if corner is None or (corner - start).dot(unit_at(start_deg)) <= 0:
        return bend(start, start_deg, end, end_deg)
    return Path((Cubic(start, start.lerp(corner, full), end.lerp(corner, full_end or full), end),))


def spline(points: Sequence[tuple[float, float]], start_deg: float, end_deg: float) -> Path:
    """Return the smoothly bending curve through the points with given end directions.

    Cubic spline over chord lengths with clamped ends: direction and bend are continuous.
    """
    ps = [Vec(*p) for p in points]
    n = len(ps) - 1
    h = [ps[i].distance(ps[i + 1]) for i in range(n)]
    m = [
        unit_at(start_deg),
        *_inner_slopes(ps, h, unit_at(start_deg), unit_at(end_deg)),
        unit_at(end_deg),
    ]
    return Path(
        tuple(
            Cubic(ps[i], ps[i] + m[i] * (h[i] / 3), ps[i + 1] - m[i + 1] * (h[i] / 3), ps[i + 1])
            for i in range(n)
        )
    )


def _inner_slopes(ps: list[Vec], h: list[float], first: Vec, last: Vec) -> list[Vec]:
    """Solve the spline's three-term equations for the slopes at its inner points."""
    n = len(ps) - 1
    diagonal: list[float] = []
    right: list[Vec] = []
    for i in range(1, n):
        r = (ps[i] - ps[i - 1]) * (3 * h[i] / h[i - 1]) + (ps[i + 1] - ps[i]) * (
            3 * h[i - 1] / h[i]
        )
        d = 2 * (h[i - 1] + h[i])
        if i == 1:
            r = r - first * h[1]
        else:
            w = h[i] / diagonal[-1]
            d -= w * h[i - 2]
            r = r - right[-1] * w
        if i == n - 1:
            r = r - last * h[i - 1]
        diagonal.append(d)
        right.append(r)
    slopes: list[Vec] = []
    for i in range(n - 1, 0, -1):
        above = slopes[0] * h[i - 1] if slopes else Vec(0.0, 0.0)
        slopes.insert(0, (right[i - 1] - above) / diagonal[i - 1])
    return slopes


def dart_cap(before: Path, point: Vec, b: Vec, after: Path, *, pressed: str) -> Path:
    """Return the line across a dart's mouth, from the end of `before` to b, as fold-and-cut.

    The half of the dart next to the side it is pressed to is that side's seam mirrored in its leg;
    the other half is the mirror image of it in the dart's middle.
    """
    a = before.end
    middle = (a - point).unit + (b - point).unit
    leg, along = (a, -before.end_tangent) if pressed == "start" else (b, after.start_tangent)
    along = reflection(point, leg).apply_direction(along)
    tip = meet(leg, along, point, middle)
    return straight(a, a.lerp(b, 0.5) if tip is None else tip, b)


def square_left(direction: Vec) -> float:
    """Return the direction in degrees that turns off to the left at a right angle."""
    return direction.perp.angle_deg


def solve(miss: Callable[[float], float], low: float, high: float) -> float:
    """Return where a function is zero between two values (to 1e-10 mm), by false position.

    The end that stays has its value halved each time (the Illinois way), so that both close in.
    Raises CannotDo when both ends lie on the same side.
    """
    at_low, at_high = miss(low), miss(high)
    if at_low * at_high > 0:
        raise CannotDo(
            what="a draft does not close",
            why=f"nothing between {low:.1f} and {high:.1f} mm makes the lengths agree",
            nearest="measurements nearer to each other",
        )
    for _ in range(200):
        if abs(high - low) < 1e-10 or at_high == 0.0:
            break
        middle = high - at_high * (high - low) / (at_high - at_low)
        at_middle = miss(middle)
        if at_middle * at_high < 0:
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = middle, at_middle
        if abs(at_high) < 1e-10:
            break
    return high
