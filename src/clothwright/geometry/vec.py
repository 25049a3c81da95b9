"""A point or a direction in the plane, in mm."""

from __future__ import annotations

import math
from typing import NamedTuple


class Vec(NamedTuple):
    """A point or a displacement (x, y) in mm; y is up.

    >>> Vec(3, 4).norm
    5.0
    >>> Vec(1, 2).perp
    Vec(x=-2, y=1)
    """

    x: float
    y: float

    def __add__(self, other: tuple[float, float]) -> Vec:  # type: ignore[override]
        """Add coordinate by coordinate."""
        return Vec(self.x + other[0], self.y + other[1])

    def __sub__(self, other: tuple[float, float]) -> Vec:
        """Return the displacement from `other` to this point."""
        return Vec(self.x - other[0], self.y - other[1])

    def __mul__(self, factor: float) -> Vec:  # type: ignore[override]
        """Scale by a number."""
        return Vec(self.x * factor, self.y * factor)

    def __rmul__(self, factor: float) -> Vec:  # type: ignore[override]
        """Scale by a number written in front."""
        return Vec(self.x * factor, self.y * factor)

    def __truediv__(self, divisor: float) -> Vec:
        """Scale by 1 / divisor."""
        return Vec(self.x / divisor, self.y / divisor)

    def __neg__(self) -> Vec:
        """Return the opposite displacement."""
        return Vec(-self.x, -self.y)

    @property
    def norm(self) -> float:
        """Length in mm."""
        return math.hypot(self.x, self.y)

    @property
    def unit(self) -> Vec:
        """The same direction with length 1; a zero displacement stays zero."""
        n = math.hypot(self.x, self.y)
        return Vec(self.x / n, self.y / n) if n > 0 else Vec(0.0, 0.0)

    @property
    def perp(self) -> Vec:
        """Turned a quarter counter-clockwise (to the left)."""
        return Vec(-self.y, self.x)

    @property
    def angle_deg(self) -> float:
        """Direction in degrees, counter-clockwise from +x, in (-180, 180]."""
        return math.degrees(math.atan2(self.y, self.x))

    def dot(self, other: tuple[float, float]) -> float:
        """Scalar product, mm²."""
        return self.x * other[0] + self.y * other[1]

    def cross(self, other: tuple[float, float]) -> float:
        """Return z of the vector product, mm²; positive when `other` lies to the left."""
        return self.x * other[1] - self.y * other[0]

    def distance(self, other: tuple[float, float]) -> float:
        """Distance in mm between two points."""
        return math.hypot(self.x - other[0], self.y - other[1])

    def lerp(self, other: tuple[float, float], t: float) -> Vec:
        """Return the point at fraction t (0 to 1) of the way to `other`."""
        return Vec(self.x + (other[0] - self.x) * t, self.y + (other[1] - self.y) * t)

    def is_near(self, other: tuple[float, float], tol: float) -> bool:
        """Tell whether both points lie within `tol` mm of each other."""
        return self.distance(other) <= tol


def unit_at(angle_deg: float) -> Vec:
    """Return the direction of length 1 at an angle in degrees from +x, counter-clockwise."""
    a = math.radians(angle_deg)
    return Vec(math.cos(a), math.sin(a))


def turn_apart(a_deg: float, b_deg: float) -> float:
    """Return the angle between two headings in degrees, 0 to 180, whichever way round.

    >>> turn_apart(350.0, 10.0)
    20.0
    """
    return abs((a_deg - b_deg + 180.0) % 360.0 - 180.0)


def turn_between_deg(a: Vec, b: Vec) -> float:
    """Return the angle in degrees from direction a to b, counter-clockwise, in (-180, 180]."""
    return math.degrees(math.atan2(a.cross(b), a.dot(b)))
