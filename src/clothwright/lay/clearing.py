"""Where on one axis a shape keeps clear of every figure, the other one being settled.

A rule that keeps a point or lines clear of a figure bars an area in each repeat of the print. A
line through that area, where the shape lies on one axis, leaves intervals of the other one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import shapely
import shapely.affinity
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from clothwright.lay.atlas import SIDES, Parts, turned
from clothwright.lay.axis_rules import AxisRule, Span, Ways
from clothwright.lay.counting import SAME
from clothwright.lay.octagon import Octagon, finite
from clothwright.lay.problem import CLEAR, KeepWhole, Point, Rule, Shape, asked_by

TRIED = 33
"""So many places are tried on an axis that leaves some."""
MOST_KEPT = 256


@dataclass(frozen=True, slots=True, kw_only=True)
class Shadow:
    """What one rule bars: its core is where the shape, numbered so, would lie on the centre.

    area: the core and the radius (mm) round it, as many-sided as the search has it. repeats: along
    and across, None for none.
    """

    rule: str
    number: int
    core: BaseGeometry
    area: BaseGeometry
    radius: float
    repeats: tuple[float | None, float | None]

    @property
    def enough(self) -> float:
        """By how many mm a place is clear at most: farther off is as good."""
        return self.radius / 4.0

    @property
    def unnamed(self) -> Shadow:
        """The same for whatever rule, and shape, bars it."""
        return replace(self, rule="", number=0)

    def spare(self, places: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return by how many mm a shape at each of (n, 2) places is clear of every figure.

        Less than 0 where it is too near, and no more than what is enough.
        """
        left, low, right, high = self.core.bounds
        reach = self.radius + self.enough
        xs = _copies(places[:, 0], left - reach, right + reach, self.repeats[0])
        ys = _copies(places[:, 1], low - reach, high + reach, self.repeats[1])
        x, y = xs[:, :, None], ys[:, None, :]
        if isinstance(self.core, shapely.Point):
            away = np.hypot(x - left, y - low)
        else:
            away = shapely.distance(self.core, shapely.points(*np.broadcast_arrays(x, y)))
        least: NDArray[np.float64] = np.minimum(away.min(axis=(1, 2)), reach) - self.radius
        return least

    def missed(self, at: Point) -> float:
        """Return by how many mm a shape that lies there is too near."""
        return max(0.0, -float(self.spare(np.array([at]))[0]))

    def shut(self, axis: int, at: float) -> tuple[Span, ...]:
        """Return what is barred on an axis where the shape lies at so many mm on the other one."""
        first, repeat = 1 - axis, self.repeats[1 - axis]
        low, high = self.area.bounds[first], self.area.bounds[first + 2]
        images = range(1)
        if repeat is not None:
            images = range(math.ceil((at - high) / repeat), math.floor((at - low) / repeat) + 1)
        return tuple(s for k in images for s in _met(self.area, axis, at - k * (repeat or 0.0)))


@lru_cache(maxsize=64 * MOST_KEPT)
def _met(area: BaseGeometry, axis: int, here: float) -> tuple[Span, ...]:
    """Return where a line along an axis, at so many mm of the other one, lies in an area."""
    ends = area.bounds[axis] - 1.0, area.bounds[axis + 2] + 1.0
    line = [(v, here) if axis == 0 else (here, v) for v in ends]
    met = shapely.get_parts(area.intersection(shapely.LineString(line)))
    return tuple((part.bounds[axis], part.bounds[axis + 2]) for part in met)


def _copies(
    at: NDArray[np.float64], low: float, high: float, repeat: float | None
) -> NDArray[np.float64]:
    """Return places (n) on an axis, each (n, k) with its copies from low to high, and some more."""
    if repeat is None:
        return at[:, None]
    first = (at - low) % repeat + low
    return first[:, None] + repeat * np.arange(math.ceil((high - low) / repeat))


def barring(shapes: Sequence[Shape], rules: Iterable[Rule], ways: Ways) -> tuple[Shadow, ...]:
    """Return what rules bar that keep shapes, turned so, clear of figures."""
    kept = [rule for rule in rules if isinstance(rule, CLEAR)]
    return tuple(
        shadow(lines_of(rule, shape), n, *ways[shape.id])
        for n, shape in enumerate(shapes)
        for rule in kept
        if rule.shape == shape.id
    )


def lines_of(rule: CLEAR, shape: Shape) -> KeepWhole:
    """Return a rule as one on lines of the shape: a point of it is the shortest of them."""
    if isinstance(rule, KeepWhole):
        return rule
    return KeepWhole(
        id=rule.id,
        shape=rule.shape,
        parts=((shape.points[rule.point],),),
        radius=rule.radius,
        centre=rule.centre,
        repeat_along=rule.repeat_along,
        repeat_across=rule.repeat_across,
    )


def shadow(rule: KeepWhole, number: int, turn: float, flipped: bool) -> Shadow:
    """Return what a rule bars of its shape, numbered so, at a turn (degrees) and side."""
    core, area = _area(rule.parts, rule.radius, rule.centre, turn, flipped)
    return Shadow(
        rule=rule.id,
        number=number,
        core=core,
        area=area,
        radius=rule.radius,
        repeats=(rule.repeat_along, rule.repeat_across),
    )


def core_of(parts: Parts, centre: Point, turn: float, flipped: bool) -> BaseGeometry:
    """Return where a shape's reference point (mm) would lie for its parts to lie on a centre."""
    lines = [
        shapely.MultiPoint(-turned(np.asarray(part, dtype=float), turn, flipped)).convex_hull
        for part in parts
    ]
    return shapely.affinity.translate(shapely.union_all(lines), *centre)


@lru_cache(maxsize=MOST_KEPT)
def _area(
    parts: Parts, radius: float, centre: Point, turn: float, flipped: bool
) -> tuple[BaseGeometry, BaseGeometry]:
    turns = (np.arange(SIDES) + 0.5) * (2.0 * math.pi / SIDES)
    disc = radius / math.cos(math.pi / SIDES) * np.column_stack((np.cos(turns), np.sin(turns)))
    cores = [core_of((part,), centre, turn, flipped) for part in parts]
    hulls = [
        shapely.MultiPoint((shapely.get_coordinates(c)[:, None] + disc).reshape(-1, 2)).convex_hull
        for c in cores
    ]
    return shapely.union_all(cores), shapely.union_all(hulls)


def freest(barred: Sequence[Shadow], axis: int, octagon: Octagon) -> Octagon:
    """Return an axis with every shape that keeps clear where it bars least of the other one.

    A shape that nothing holds on the axis stays free where figures do not come again.
    """
    for n in dict.fromkeys(b.number for b in barred):
        mine = [b for b in barred if b.number == n]
        low, high = octagon.bounds(((n, 1),))
        repeat = max((b.repeats[axis] or 0.0 for b in mine), default=0.0)
        if not finite((low, high)):
            low, high = (low, low + repeat) if math.isfinite(low) else (high - repeat, high)
            low, high = (low, high) if finite((low, high)) else (0.0, repeat)
        high = min(high, low + repeat) if repeat else high
        best = _freest(mine, 1 - axis, np.linspace(low, high, TRIED if high > low else 1))
        octagon = octagon.within(((n, 1),), best, best)
    return octagon


def _freest(barred: Sequence[Shadow], other: int, places: np.ndarray) -> float:
    """Return the place (mm) that bars least of the other axis, the first that bars none."""
    best, least = float(places[0]), math.inf
    for at in places:
        length = sum(high - low for each in barred for low, high in each.shut(other, float(at)))
        if length < least:
            best, least = float(at), length
        if not least:
            break
    return best


def clear_on(barred: Sequence[Shadow], axis: int, other: Octagon) -> Iterator[AxisRule]:
    """Yield what rules ask on an axis, the other one being settled to a place for each shape."""
    for each in barred:
        repeat = each.repeats[axis]
        low, high = other.bounds(((each.number, 1),))
        if repeat is None or not finite((low, high)):
            continue
        windows = tuple(_left(list(each.shut(axis, (low + high) / 2.0)), repeat))
        if windows:
            yield AxisRule(
                rule=each.rule,
                of=asked_by(each.rule),
                sum=((each.number, 1),),
                const=0.0,
                windows=windows,
                repeat=repeat,
                own=1.0,
            )


def _left(shut: list[Span], repeat: float) -> Iterator[Span]:
    """Yield what spans leave of a repeat: places modulo the repeat.

    >>> list(_left([(90.0, 110.0), (40.0, 50.0)], 100.0))
    [(10.0, 40.0), (50.0, 90.0)]
    """
    if not shut:
        yield 0.0, repeat
        return
    start = shut[0][1] % repeat
    at = start
    moved = sorted(((a - start) % repeat + start, b - a) for a, b in shut)
    for low, size in moved:
        if low > at:
            yield at, low
        at = max(at, low + size)


def softened(rule: CLEAR, by: float) -> CLEAR:
    """Return a rule that keeps clear by so many mm less, so that the search has a place for it."""
    return replace(rule, radius=(rule.radius - by) * math.cos(math.pi / SIDES) - SAME)
