"""The parallel of a single segment, as exact lines and fitted cubics."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.tolerance import CURVE_MM
from clothwright.geometry.vec import Vec

_SAMPLES = 7
"""Places between the ends of every fitted cubic where it is compared with the true parallel."""

_DEPTH = 24
"""Halvings after which a fit is taken as it is, though it turns within a hair."""


class _Spot(NamedTuple):
    """The true parallel at a parameter t of the curve.

    x, y: its point; tx, ty: the curve's direction; w: speed of the parallel along it, negative
    where it runs backwards (the curve bends more tightly than the distance); bend: turning in
    radians per unit of t.
    """

    t: float
    x: float
    y: float
    tx: float
    ty: float
    w: float
    bend: float


def offset_segment(segment: Segment, distance: float) -> list[tuple[Segment, bool]]:
    """Return the raw parallel of one segment at `distance` mm to the right, in order.

    Each part comes with True, or with False where it runs backwards because the curve bends
    more tightly than the distance; both kinds meet in cusps.
    """
    if isinstance(segment, Line):
        by = segment.tangent(0.0).perp * -distance
        return [(Line(segment.p0 + by, segment.p1 + by), True)]
    ends = _spot(segment, 0.0, distance), _spot(segment, 1.0, distance)
    return _fitted(segment, distance, *ends, 0)


def _spot(curve: Cubic, t: float, d: float) -> _Spot:
    """O = B + d n with n to the right; dO/dt = T (|B'| + d dθ/dt)."""
    (ax, ay), (bx, by), (cx, cy), (ex, ey) = curve.p0, curve.p1, curve.p2, curve.p3
    ux, uy, vx, vy, wx, wy = bx - ax, by - ay, cx - bx, cy - by, ex - cx, ey - cy
    s = 1.0 - t
    p, q, r = 3 * s * s, 6 * s * t, 3 * t * t
    dx, dy = p * ux + q * vx + r * wx, p * uy + q * vy + r * wy
    fx, fy = 6 * (s * (vx - ux) + t * (wx - vx)), 6 * (s * (vy - uy) + t * (wy - vy))
    speed = math.hypot(dx, dy)
    if speed > 1e-7 * (abs(ux) + abs(uy) + abs(vx) + abs(vy) + abs(wx) + abs(wy)):
        tx, ty = dx / speed, dy / speed
        bend = (dx * fy - dy * fx) / (speed * speed)
    else:
        tx, ty = curve.tangent(t)
        gx, gy = 6 * (wx - 2 * vx + ux), 6 * (wy - 2 * vy + uy)
        size = fx * fx + fy * fy
        bend = (fx * gy - fy * gx) / (2 * size) if size > 0 else 0.0
        speed = 0.0
    p, q, r = 3 * s * s * t, 3 * s * t * t, t * t * t
    x = ax + (p + q + r) * ux + (q + r) * vx + r * wx
    y = ay + (p + q + r) * uy + (q + r) * vy + r * wy
    return _Spot(t, x + d * ty, y - d * tx, tx, ty, speed + d * bend, bend)


def _fitted(curve: Cubic, d: float, a: _Spot, b: _Spot, depth: int) -> list[tuple[Segment, bool]]:
    """Hermite cubics from spot a to spot b, halved until they agree with the true parallel."""
    step = (b.t - a.t) / (_SAMPLES + 1)
    spots = [_spot(curve, a.t + step * i, d) for i in range(1, _SAMPLES + 1)]
    turn = _cusp(curve, d, [a, *spots, b])
    if turn is not None and depth < _DEPTH:
        return _fitted(curve, d, a, turn, depth + 1) + _fitted(curve, d, turn, b, depth + 1)
    third = (b.t - a.t) / 3
    fit = _with_handles(a, b, a.w * third, b.w * third)
    if not _agrees(fit, spots):
        fit = _eased(a, b, third, spots)
        if depth < _DEPTH and not _agrees(fit, spots):
            middle = spots[_SAMPLES // 2]
            return _fitted(curve, d, a, middle, depth + 1) + _fitted(curve, d, middle, b, depth + 1)
    return [(fit, spots[_SAMPLES // 2].w > 0)]


def _with_handles(a: _Spot, b: _Spot, first: float, last: float) -> Cubic:
    """Return the cubic that leaves spot a and reaches spot b along the curve's directions."""
    return Cubic(
        Vec(a.x, a.y),
        Vec(a.x + a.tx * first, a.y + a.ty * first),
        Vec(b.x - b.tx * last, b.y - b.ty * last),
        Vec(b.x, b.y),
    )


def _eased(a: _Spot, b: _Spot, third: float, spots: list[_Spot]) -> Cubic:
    """The same with handle lengths that bring it nearest to the spots, measured across the curve.

    Least squares for the two corrections; only the distance across counts, because a point that
    is merely early or late along the curve still lies on it.
    """
    first, last = a.w * third, b.w * third
    ff = fl = ll = fe = le = 0.0
    for i, spot in enumerate(spots, 1):
        t = i / (_SAMPLES + 1)
        s = 1.0 - t
        p, q, r, k = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        gx = (p + q) * a.x + (r + k) * b.x + q * first * a.tx - r * last * b.tx - spot.x
        gy = (p + q) * a.y + (r + k) * b.y + q * first * a.ty - r * last * b.ty - spot.y
        off = gy * spot.tx - gx * spot.ty
        by_first = q * (a.ty * spot.tx - a.tx * spot.ty)
        by_last = -r * (b.ty * spot.tx - b.tx * spot.ty)
        ff, fl, ll = ff + by_first**2, fl + by_first * by_last, ll + by_last**2
        fe, le = fe - by_first * off, le - by_last * off
    under = ff * ll - fl * fl
    if under > 1e-9 * (ff + ll) ** 2:
        more_first, more_last = (fe * ll - le * fl) / under, (le * ff - fe * fl) / under
        if abs(more_first) < 0.3 * abs(first) and abs(more_last) < 0.3 * abs(last):
            first, last = first + more_first, last + more_last
    return _with_handles(a, b, first, last)


def _cusp(curve: Cubic, d: float, spots: list[_Spot]) -> _Spot | None:
    """The first place between the spots where the parallel turns back on itself, or None."""
    for a, b in pairwise(spots):
        if a.w * b.w < 0:
            low, high = a, b
            for _ in range(60):
                middle = _spot(curve, (low.t + high.t) / 2, d)
                if (middle.w > 0) == (low.w > 0):
                    low = middle
                else:
                    high = middle
            return low._replace(w=0.0)
    return None


def _agrees(fit: Cubic, spots: list[_Spot]) -> bool:
    """Tell whether the fitted cubic passes the spots within the tolerance."""
    (ax, ay), (bx, by), (cx, cy), (ex, ey) = fit.p0, fit.p1, fit.p2, fit.p3
    for i, spot in enumerate(spots, 1):
        t = i / (_SAMPLES + 1)
        s = 1.0 - t
        p, q, r, k = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        gx = p * ax + q * bx + r * cx + k * ex - spot.x
        gy = p * ay + q * by + r * cy + k * ey - spot.y
        along, aside = gx * spot.tx + gy * spot.ty, gy * spot.tx - gx * spot.ty
        bow = abs(spot.bend / spot.w) if spot.w else math.inf
        off = abs(aside) + min(abs(along), along * along * bow)
        if off > 0.8 * CURVE_MM:
            return False
    return True
