"""A shape as it lies: turned over, turned, then moved (the words of `lay.problem`)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from clothwright.lay.problem import Pinned, Point, Region, Shape
from clothwright.lay.result import Placement

FITS = 0.01
"""A lay past the end of its cloth by no more (mm) fits."""


def moved_points(
    points: Sequence[Point], x: float, y: float, turn_deg: float, flipped: bool
) -> tuple[Point, ...]:
    """Return points of a shape's frame where they lie on the cloth, mm."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    side = -1.0 if flipped else 1.0
    return tuple(
        (cos * px - sin * side * py + x, sin * px + cos * side * py + y) for px, py in points
    )


def lie(
    shape: Shape, *, region: str, x: float, y: float, turn_deg: float, flipped: bool
) -> Placement:
    """Return a shape as it lies: turned over, turned, then moved by (x, y) mm.

    Its outline runs counter-clockwise, turned over or not.
    """
    ring = moved_points(shape.outline, x, y, turn_deg, flipped)
    return Placement(
        shape=shape.id,
        region=region,
        turn_deg=turn_deg,
        flipped=flipped,
        x=x,
        y=y,
        outline=ring[::-1] if flipped else ring,
    )


def lie_pinned(shape: Shape, pin: Pinned) -> Placement:
    """Return a shape as it is pinned."""
    return lie(
        shape, region=pin.region, x=pin.x, y=pin.y, turn_deg=pin.turn_deg, flipped=pin.flipped
    )


def used_on(region: str, placements: Iterable[Placement]) -> float:
    """Return how far from the cut end a region is used by what lies there, mm."""
    return max((0.0, *(x for p in placements if p.region == region for x, _ in p.outline)))


def overrun(region: Region, used: float) -> float:
    """Return how far (mm) a lay that uses so much of a cloth runs past its end; 0 for a hair."""
    end = region.length
    if end is None and region.outline is not None:
        end = max(x for x, _ in region.outline)
    over = 0.0 if end is None else used - (end - region.margin_end)
    return over if over > FITS else 0.0
