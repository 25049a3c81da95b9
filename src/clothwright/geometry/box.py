"""The box round a thing, its sides across and up."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from clothwright.geometry.vec import Vec


class Box(NamedTuple):
    """A rectangle by its lower left and its upper right corner, mm."""

    low: Vec
    high: Vec

    @property
    def size(self) -> Vec:
        """Width and height, mm."""
        return self.high - self.low

    @property
    def middle(self) -> Vec:
        """The point in its middle."""
        return (self.low + self.high) / 2

    @property
    def corners(self) -> tuple[Vec, Vec, Vec, Vec]:
        """Its corners, counter-clockwise from the lower left one."""
        return self.low, Vec(self.high.x, self.low.y), self.high, Vec(self.low.x, self.high.y)

    def holds(self, other: Box | Vec, tol: float = 0.0) -> bool:
        """Tell whether a point, or all of a box, lies in it, or no more than `tol` mm outside."""
        a, b = other if isinstance(other, Box) else (other, other)
        return (
            self.low.x - tol <= a.x
            and self.low.y - tol <= a.y
            and b.x <= self.high.x + tol
            and b.y <= self.high.y + tol
        )

    def meets(self, other: Box, tol: float = 0.0) -> bool:
        """Tell whether both have a point in common, or come within `tol` mm each way."""
        return (
            self.low.x <= other.high.x + tol
            and other.low.x <= self.high.x + tol
            and self.low.y <= other.high.y + tol
            and other.low.y <= self.high.y + tol
        )

    def common(self, other: Box) -> Box:
        """Return what both have in common; its sides are less than nothing where that is none."""
        return Box(Vec(*map(max, self.low, other.low)), Vec(*map(min, self.high, other.high)))

    def is_near(self, other: Box, tol: float) -> bool:
        """Tell whether both corners lie within `tol` mm of the other's."""
        return self.low.is_near(other.low, tol) and self.high.is_near(other.high, tol)

    def of_size(self, size: Vec) -> Box:
        """Return the box of this size (mm) round the same middle."""
        return Box(self.middle - size / 2, self.middle + size / 2)

    def moved(self, by: Vec) -> Box:
        """Return it elsewhere."""
        return Box(self.low + by, self.high + by)

    def grown(self, by: float) -> Box:
        """Return it larger by as much (mm) on every side."""
        return Box(self.low - Vec(by, by), self.high + Vec(by, by))


def box_round(points: Iterable[tuple[float, float]]) -> Box:
    """Return the smallest box that holds points, mm. Raises ValueError when there are none."""
    xs, ys = zip(*points, strict=True)
    return Box(Vec(min(xs), min(ys)), Vec(max(xs), max(ys)))


def box_of_all(boxes: Iterable[Box]) -> Box:
    """Return the smallest box that holds boxes, mm. Raises ValueError when there are none."""
    return box_round(corner for box in boxes for corner in box)
