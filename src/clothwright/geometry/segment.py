"""Straight lines and cubic Bezier curves: length, point, direction, exact splitting."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from clothwright.geometry.roots import bernstein_roots
from clothwright.geometry.tolerance import LENGTH_MM
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec

_GAUSS = (
    (0.14887433898163122, 0.2955242247147529),
    (0.4333953941292472, 0.26926671930999635),
    (0.6794095682990244, 0.21908636251598204),
    (0.8650633666889845, 0.1494513491505806),
    (0.9739065285171717, 0.06667134430868814),
)
"""Nodes and weights of the ten-point Gauss-Legendre rule on [-1, 1] (positive half)."""

_AGREE = LENGTH_MM / 50
"""mm: how well two estimates of a length must agree. Beside a near cusp they may agree by chance
far better than both are true, hence the margin."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight segment from p0 to p1, mm."""

    p0: Vec
    p1: Vec

    @property
    def start(self) -> Vec:
        """First point."""
        return self.p0

    @property
    def end(self) -> Vec:
        """Last point."""
        return self.p1

    @property
    def length(self) -> float:
        """Length in mm."""
        return self.p0.distance(self.p1)

    def point(self, t: float) -> Vec:
        """Return the point (mm) at parameter t in [0, 1]."""
        return self.p0.lerp(self.p1, t)

    def derivative(self, t: float) -> Vec:  # noqa: ARG002
        """Return the first derivative by t, mm (the same everywhere)."""
        return self.p1 - self.p0

    def tangent(self, t: float) -> Vec:  # noqa: ARG002
        """Return the direction of travel, length 1."""
        return (self.p1 - self.p0).unit

    def length_to(self, t: float) -> float:
        """Return the length in mm from the start to parameter t."""
        return self.length * t

    def t_at(self, distance: float) -> float:
        """Return the parameter at a distance in mm from the start, clamped to the segment."""
        whole = self.length
        return min(1.0, max(0.0, distance / whole)) if whole > 0 else 0.0

    def split(self, t: float) -> tuple[Line, Line]:
        """Split at parameter t (0 to 1)."""
        m = self.point(t)
        return Line(self.p0, m), Line(m, self.p1)

    def reversed(self) -> Line:
        """Return the same line travelled the other way."""
        return Line(self.p1, self.p0)

    def transformed(self, move: Transform) -> Line:
        """Return the moved line."""
        return Line(move.apply(self.p0), move.apply(self.p1))

    def controls(self) -> tuple[Vec, ...]:
        """Return the points whose hull holds the segment."""
        return (self.p0, self.p1)

    def flatten(self, sagitta: float) -> tuple[Vec, ...]:  # noqa: ARG002
        """Return the points (mm) after the start that stand for the segment: its end."""
        return (self.p1,)


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bezier curve with control points p0 p1 p2 p3, mm."""

    p0: Vec
    p1: Vec
    p2: Vec
    p3: Vec

    @property
    def start(self) -> Vec:
        """First point."""
        return self.p0

    @property
    def end(self) -> Vec:
        """Last point."""
        return self.p3

    @property
    def length(self) -> float:
        """Arc length in mm, within `tolerance.LENGTH_MM`."""
        return _cubic_length(self)

    def point(self, t: float) -> Vec:
        """Return the point (mm) at parameter t in [0, 1]."""
        s = 1.0 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        return Vec(
            a * self.p0.x + b * self.p1.x + c * self.p2.x + d * self.p3.x,
            a * self.p0.y + b * self.p1.y + c * self.p2.y + d * self.p3.y,
        )

    def derivative(self, t: float) -> Vec:
        """Return the first derivative by t, mm."""
        s = 1.0 - t
        a, b, c = 3 * s * s, 6 * s * t, 3 * t * t
        return Vec(
            a * (self.p1.x - self.p0.x) + b * (self.p2.x - self.p1.x) + c * (self.p3.x - self.p2.x),
            a * (self.p1.y - self.p0.y) + b * (self.p2.y - self.p1.y) + c * (self.p3.y - self.p2.y),
        )

    def second_derivative(self, t: float) -> Vec:
        """Return the second derivative by t."""
        u = self.p2 - self.p1 * 2 + self.p0
        v = self.p3 - self.p2 * 2 + self.p1
        return u * (6 * (1 - t)) + v * (6 * t)

    def tangent(self, t: float) -> Vec:
        """Return the direction of travel, length 1, also where control points coincide.

        Where the curve stands still (a cusp, or a handle of no length) it is the direction of
        leaving in the first half and of arriving in the second.
        """
        d = self.derivative(t)
        size = max(self.p0.distance(p) for p in (self.p1, self.p2, self.p3))
        if d.norm > 1e-7 * size:
            return d.unit
        bend = self.second_derivative(t)
        if bend.norm > 1e-7 * size:
            return -bend.unit if t > 0.5 else bend.unit
        return (self.p3 - self.p0).unit

    def length_to(self, t: float) -> float:
        """Return the arc length in mm from the start to parameter t."""
        if t <= 0.0:
            return 0.0
        return self.length if t >= 1.0 else _length_up_to(self, t)

    def t_at(self, distance: float) -> float:
        """Return the parameter at an arc length in mm from the start, clamped to the curve."""
        whole = self.length
        if distance <= 0.0 or whole == 0.0:
            return 0.0
        return 1.0 if distance >= whole else _cubic_t_at(self, distance)

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        """Split exactly at parameter t, 0 to 1 (de Casteljau)."""
        a, b, c = self.p0.lerp(self.p1, t), self.p1.lerp(self.p2, t), self.p2.lerp(self.p3, t)
        d, e = a.lerp(b, t), b.lerp(c, t)
        m = d.lerp(e, t)
        return Cubic(self.p0, a, d, m), Cubic(m, e, c, self.p3)

    def reversed(self) -> Cubic:
        """Return the same curve travelled the other way."""
        return Cubic(self.p3, self.p2, self.p1, self.p0)

    def transformed(self, move: Transform) -> Cubic:
        """Return the moved curve."""
        return Cubic(*(move.apply(p) for p in (self.p0, self.p1, self.p2, self.p3)))

    def controls(self) -> tuple[Vec, ...]:
        """Return the points whose hull holds the segment."""
        return (self.p0, self.p1, self.p2, self.p3)

    def flatten(self, sagitta: float) -> tuple[Vec, ...]:
        """Return points after the start whose chords stay within `sagitta` mm of the curve.

        The number of equal steps comes from the bound n = sqrt(max |B''| / (8 sagitta)).
        """
        bend = max((self.p2 - self.p1 * 2 + self.p0).norm, (self.p3 - self.p2 * 2 + self.p1).norm)
        n = max(1, math.ceil(math.sqrt(6 * bend / (8 * sagitta))))
        return (*(self.point(i / n) for i in range(1, n)), self.p3)


Segment = Line | Cubic


@lru_cache(maxsize=65536)
def _cubic_length(curve: Cubic) -> float:
    return _length_up_to(curve, 1.0)


@lru_cache(maxsize=32768)
def _cubic_t_at(curve: Cubic, distance: float) -> float:
    """Return where a curve is `distance` mm long (more than nothing, less than the whole).

    Remembered, as seams are walked in the same steps again and again.
    """
    low, high, t = 0.0, 1.0, distance / curve.length
    for _ in range(60):
        error = curve.length_to(t) - distance
        if abs(error) < 1e-7:
            break
        low, high = (low, t) if error > 0 else (t, high)
        speed = curve.derivative(t).norm
        guess = t - error / speed if speed > 0 else -1.0
        t = guess if low < guess < high else (low + high) / 2
    return t


def _length_up_to(curve: Cubic, t: float) -> float:
    """Arc length from the start, integrated piece by piece between the places of least speed."""
    knots = [0.0, *(s for s in _slow_places(curve) if s < t), t]
    return sum(_integrate(curve, a, b, _gauss(curve, a, b), _AGREE) for a, b in pairwise(knots))


def _slow_places(curve: Cubic) -> tuple[float, ...]:
    """Where a curve that turns back may come near a cusp: zeros of B' . B'' inside (0, 1)."""
    u, v, w = curve.p1 - curve.p0, curve.p2 - curve.p1, curve.p3 - curve.p2
    if u.dot(v) >= 0.0 and v.dot(w) >= 0.0 and u.dot(w) >= 0.0:
        return ()
    return _turning_places(u, v, w)


@lru_cache(maxsize=4096)
def _turning_places(u: Vec, v: Vec, w: Vec) -> tuple[float, ...]:
    """Zeros of B' . B'' inside (0, 1). Remembered, as a curve is measured to many places."""
    a, b = u - v * 2 + w, (v - u) * 2
    k3, k2, k1, k0 = 2 * a.dot(a), 3 * a.dot(b), b.dot(b) + 2 * a.dot(u), b.dot(u)
    third = k0 + k1 / 3
    found = bernstein_roots((k0, third, third + (k1 + k2) / 3, k0 + k1 + k2 + k3), 0.0)
    return tuple(t for t in found if 0.0 < t < 1.0)


def _integrate(
    curve: Cubic, t0: float, t1: float, whole: float, tol: float, *, depth: int = 0
) -> float:
    """Arc length between two parameters, halving until whole and halves agree within tol mm.

    whole: the length as one piece, by `_gauss`.
    """
    middle = (t0 + t1) / 2
    first, last = _gauss(curve, t0, middle), _gauss(curve, middle, t1)
    if abs(whole - (first + last)) <= tol or depth >= 24:
        return first + last
    return _integrate(curve, t0, middle, first, tol / 2, depth=depth + 1) + _integrate(
        curve, middle, t1, last, tol / 2, depth=depth + 1
    )


def _gauss(curve: Cubic, t0: float, t1: float) -> float:
    half, middle = (t1 - t0) / 2, (t0 + t1) / 2
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = curve.p0, curve.p1, curve.p2, curve.p3
    ux, uy, vx, vy, wx, wy = bx - ax, by - ay, cx - bx, cy - by, dx - cx, dy - cy
    total = 0.0
    for node, weight in _GAUSS:
        for t in (middle - half * node, middle + half * node):
            s = 1.0 - t
            p, q, r = s * s, 2 * s * t, t * t
            total += weight * math.hypot(p * ux + q * vx + r * wx, p * uy + q * vy + r * wy)
    return 3 * half * total


def quarter_arc(centre: Vec, radius: float, start_deg: float, sweep_deg: float = 90.0) -> Cubic:
    """Return a cubic for a circular arc of at most a quarter turn (error < 0.03 % of radius)."""
    a0, a1 = math.radians(start_deg), math.radians(start_deg + sweep_deg)
    k = 4 / 3 * math.tan((a1 - a0) / 4) * radius
    p0 = centre + Vec(math.cos(a0), math.sin(a0)) * radius
    p3 = centre + Vec(math.cos(a1), math.sin(a1)) * radius
    t0, t1 = Vec(-math.sin(a0), math.cos(a0)), Vec(-math.sin(a1), math.cos(a1))
    return Cubic(p0, p0 + t0 * k, p3 - t1 * k, p3)
