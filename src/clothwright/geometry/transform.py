"""Affine moves of the plane; every function returns a new one."""

from __future__ import annotations

import math
from typing import NamedTuple

from clothwright.geometry.vec import Vec

RIGID = 1e-9
"""A share of a length that counts as no change."""


class Transform(NamedTuple):
    """x' = a x + c y + e, y' = b x + d y + f (the order of SVG's matrix).

    >>> rotation_deg(90).apply(Vec(1, 0)).is_near((0, 1), 1e-12)
    True
    """

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def apply(self, p: tuple[float, float]) -> Vec:
        """Return the moved point (mm)."""
        return Vec(
            self.a * p[0] + self.c * p[1] + self.e,
            self.b * p[0] + self.d * p[1] + self.f,
        )

    def apply_direction(self, v: tuple[float, float]) -> Vec:
        """Return the moved displacement (mm, without the shift)."""
        return Vec(self.a * v[0] + self.c * v[1], self.b * v[0] + self.d * v[1])

    def then(self, after: Transform) -> Transform:
        """Do this first, then `after`."""
        return Transform(
            after.a * self.a + after.c * self.b,
            after.b * self.a + after.d * self.b,
            after.a * self.c + after.c * self.d,
            after.b * self.c + after.d * self.d,
            after.a * self.e + after.c * self.f + after.e,
            after.b * self.e + after.d * self.f + after.f,
        )

    @property
    def determinant(self) -> float:
        """Area factor; negative when the move mirrors."""
        return self.a * self.d - self.b * self.c

    @property
    def is_rigid(self) -> bool:
        """True when the move changes no length (to a part in a thousand million).

        >>> rotation_deg(30).is_rigid, Transform(b=0.1).is_rigid
        (True, False)
        """
        along, off = math.hypot(self.a, self.b), self.a * self.c + self.b * self.d
        across = math.hypot(self.c, self.d)
        return max(abs(along - 1.0), abs(across - 1.0), abs(off)) < RIGID

    @property
    def mirrors(self) -> bool:
        """True when the move turns shapes over."""
        return self.determinant < 0

    def inverse(self) -> Transform:
        """Return the move back. Raises ZeroDivisionError when the move flattens the plane."""
        k = 1.0 / self.determinant
        a, b, c, d = self.d * k, -self.b * k, -self.c * k, self.a * k
        return Transform(a, b, c, d, -(a * self.e + c * self.f), -(b * self.e + d * self.f))


IDENTITY = Transform()


def translation(by: tuple[float, float]) -> Transform:
    """Shift by (dx, dy) mm."""
    return Transform(e=by[0], f=by[1])


def rotation_deg(angle_deg: float, about: tuple[float, float] = (0.0, 0.0)) -> Transform:
    """Turn counter-clockwise by degrees about a point; quarter turns are exact."""
    quarter, rest = divmod(angle_deg, 90.0)
    if rest == 0.0:
        cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    else:
        cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    x, y = about
    return Transform(cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)


def scaling(factor: float) -> Transform:
    """Scale by a factor, alike in both directions, about (0, 0)."""
    return Transform(factor, 0.0, 0.0, factor, 0.0, 0.0)


def reflection(p: tuple[float, float], q: tuple[float, float]) -> Transform:
    """Mirror in the line through two different points (mm)."""
    u = Vec(q[0] - p[0], q[1] - p[1]).unit
    a, b = u.x * u.x - u.y * u.y, 2 * u.x * u.y
    return Transform(a, b, b, -a, p[0] - a * p[0] - b * p[1], p[1] - b * p[0] + a * p[1])
