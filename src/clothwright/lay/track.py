"""What the rules leave of the cloth for one shape: a line, a comb of lines, or all of it.

Along each axis a shape's reference point is either fixed (a border line), on a comb (a phase of the
repeat), or free. Rules that tie it to a shape already laid count as if that shape's point were part
of the print.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.lay.problem import AtFigure, AtPhase, MirrorPhase, OnLine, Point, Rule, SamePhase

AGREE = 0.08
"""Two rules may ask for places this far apart (mm); the judge allows 0.1."""
AXES = ("along", "across")


class Comb(NamedTuple):
    """What a rule asks on one axis: to lie on start + k * step (mm), or at start for a step of 0.

    times: by how many mm the rule is missed for each mm off that.
    """

    start: float
    step: float
    times: float = 1.0

    def off(self, place: float) -> float:
        """By how many mm the rule is missed at a place."""
        return self.times * apart(place - self.start, self.step)


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """Where a reference point may lie on one axis: at `value`, on start + k * repeat, or anywhere.

    asked: what all the rules ask, that comb among it. sift: what of it not every tooth is on.
    """

    value: float | None = None
    start: float = 0.0
    repeat: float = 0.0
    asked: tuple[Comb, ...] = ()
    sift: tuple[Comb, ...] = ()

    @property
    def free(self) -> bool:
        """No rule binds this axis."""
        return self.value is None and self.repeat == 0.0

    def takes(self, value: float, within: float = AGREE) -> bool:
        """No rule is missed by more than so many mm there."""
        own = Comb(self.start if self.value is None else self.value, self.repeat)
        asked = self.asked or (() if self.free else (own,))
        return all(comb.off(value) <= within for comb in asked)

    def teeth(self, low: float, high: float, most: int = 4096) -> list[float]:
        """Every place (mm) from low to high, the least first (at most `most` of them)."""
        slack = 1e-6
        if self.value is not None:
            return [self.value] if low - slack <= self.value <= high + slack else []
        first = self.start + math.ceil((low - slack - self.start) / self.repeat) * self.repeat
        count = min(most, max(0, math.floor((high + slack - first) / self.repeat) + 1))
        found = (first + k * self.repeat for k in range(count))
        return [u for u in found if all(comb.off(u) <= AGREE for comb in self.sift)]


def on_all(combs: Sequence[Comb]) -> Track | None:
    """The places that lie on every comb, the widest one exactly; None where there are none."""
    fixed = [comb.start for comb in combs if not comb.step]
    if not combs:
        return Track()
    if fixed:
        value = (min(fixed) + max(fixed)) / 2.0
        held = all(comb.off(value) <= AGREE for comb in combs)
        return Track(value=value, asked=tuple(combs)) if held else None
    main = max(combs, key=lambda comb: comb.step)
    sift = tuple(comb for comb in combs if not goes_into(comb.step, main.step))
    if any(comb.off(main.start) > AGREE for comb in combs if comb not in sift):
        return None
    return Track(start=main.start, repeat=main.step, asked=tuple(combs), sift=sift)


def goes_into(repeat: float, period: float) -> bool:
    """Whether a whole number of repeats is as long as the period; of what does not come again, 0.

    >>> goes_into(30.0, 90.0), goes_into(35.0, 64.0), goes_into(0.0, 64.0)
    (True, False, True)
    """
    if not repeat:
        return True
    times = period / repeat
    return abs(times - round(times)) < 1e-9


def apart(value: float, repeat: float) -> float:
    """How far a value is from the nearest whole repeat, mm; from zero without one."""
    return abs(value) if not repeat else abs((value + repeat / 2.0) % repeat - repeat / 2.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidShape:
    """A shape already laid, as the rules see it: its moved points by name, cloth frame."""

    points: Mapping[str, Point]


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedShape:
    """One shape asking where it may lie: its points as they would lie, and the shapes laid."""

    shape: str
    points: Mapping[str, Point]
    laid: Mapping[str, LaidShape]
    axis: int

    def here(self, point: str) -> float:
        """A point of the asking shape on the axis, mm from its reference point."""
        return self.points[point][self.axis]

    def there(self, shape: str, point: str) -> float:
        """A point of a shape already laid on the axis, mm in the cloth's frame."""
        return self.laid[shape].points[point][self.axis]


def track(asking: TriedShape, rules: Sequence[Rule]) -> Track | None:
    """The track of a shape on one axis, or None when its rules contradict each other."""
    mine = [rule for rule in rules if isinstance(rule, AtFigure) or _is_on(rule, asking.axis)]
    if not all(_can_hold(rule, asking) for rule in mine):
        return None
    return on_all(list(combs_of(asking, mine)))


def combs_of(asking: TriedShape, rules: Iterable[Rule]) -> Iterator[Comb]:
    """What rules ask of the reference point on the axis; of two shapes, where the other is laid."""
    for rule in rules:
        if isinstance(rule, AtFigure):
            yield from _on_figure(rule, asking)
        elif not _is_on(rule, asking.axis):
            continue
        elif isinstance(rule, OnLine):
            yield from (Comb(rule.at - asking.here(name), 0.0) for name in rule.points)
        elif isinstance(rule, AtPhase):
            yield Comb(rule.phase - asking.here(rule.point), rule.repeat)
        elif isinstance(rule, SamePhase):
            yield from _same(rule, asking)
        elif isinstance(rule, MirrorPhase):
            yield from _mirror(rule, asking)


def _is_on(rule: Rule, axis: int) -> bool:
    return getattr(rule, "axis", None) == AXES[axis]


def _can_hold(rule: Rule, asking: TriedShape) -> bool:
    """Whether two points of the shape itself, where that is asked, lie as they should."""
    if not isinstance(rule, SamePhase) or rule.shape_a != rule.shape_b:
        return True
    between = asking.here(rule.point_a) - asking.here(rule.point_b)
    return apart(between - rule.shift, rule.repeat) <= AGREE


def _on_figure(rule: AtFigure, asking: TriedShape) -> Iterator[Comb]:
    """Where the point lies on the figure that an option means (`model`), else the first.

    On two axes it may be missed on each by so much less that the distance is no more than allowed.
    """
    if AXES[asking.axis] not in rule.axes:
        return
    at = asking.here(rule.id if rule.id in asking.points else rule.point)
    start = rule.centres[0][asking.axis] - at
    repeat = (rule.repeat_along, rule.repeat_across)[asking.axis]
    yield Comb(start, repeat or 0.0, math.sqrt(len(rule.axes)))


def on_nearest(rule: AtFigure, point: Point, at: Point) -> Point:
    """Return what lies on the rule's first figure when its point lies on the one nearest by.

    point: mm from the shape's reference point; at: where that lies on the cloth, mm.
    """
    repeats = (rule.repeat_along, rule.repeat_across)
    used = [k for k in (0, 1) if AXES[k] in rule.axes]

    def away(centre: Point) -> float:
        found = ((point[k] + at[k] - centre[k], repeats[k]) for k in used)
        return math.hypot(*(d if r is None else apart(d, r) for d, r in found))

    near = min(rule.centres, key=away)
    x, y = (rule.centres[0][k] - near[k] if k in used else 0.0 for k in (0, 1))
    return (point[0] + x, point[1] + y)


def _same(rule: SamePhase, asking: TriedShape) -> Iterator[Comb]:
    a, b = rule.shape_a, rule.shape_b
    if a == asking.shape and b in asking.laid:
        there = asking.there(b, rule.point_b) + rule.shift
        yield Comb(there - asking.here(rule.point_a), rule.repeat)
    elif b == asking.shape and a in asking.laid:
        there = asking.there(a, rule.point_a) - rule.shift
        yield Comb(there - asking.here(rule.point_b), rule.repeat)


def _mirror(rule: MirrorPhase, asking: TriedShape) -> Iterator[Comb]:
    """Where a point mirrors another; about its own place a miss counts twice."""
    a, b, both = rule.shape_a, rule.shape_b, 2.0 * rule.about
    if a == b:
        sum_here = asking.here(rule.point_a) + asking.here(rule.point_b)
        yield Comb(rule.about - sum_here / 2.0, rule.repeat / 2.0, times=2.0)
    elif a == asking.shape and b in asking.laid:
        yield Comb(both - asking.there(b, rule.point_b) - asking.here(rule.point_a), rule.repeat)
    elif b == asking.shape and a in asking.laid:
        yield Comb(both - asking.there(a, rule.point_a) - asking.here(rule.point_b), rule.repeat)
