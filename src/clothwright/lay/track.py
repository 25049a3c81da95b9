"""What the rules leave of the cloth for one shape: a line, a comb of lines, or all of it.

Along each axis a shape's reference point is either fixed (a border line), on a comb (a phase of the
repeat), or free. Rules that tie it to a shape already laid count as if that shape's point were part
of the print.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from clothwright.lay.problem import AtFigure, AtPhase, MirrorPhase, OnLine, Point, Rule, SamePhase

AGREE = 0.08
"""Two rules may ask for places this far apart (mm); the judge allows 0.1."""
AXES = ("along", "across")


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """Where a reference point may lie on one axis: at `value`, on start + k * repeat, or anywhere.

    also: further combs that must hold as well.
    """

    value: float | None = None
    start: float = 0.0
    repeat: float = 0.0
    also: tuple[tuple[float, float], ...] = ()

    @property
    def free(self) -> bool:
        """No rule binds this axis."""
        return self.value is None and self.repeat == 0.0

    def takes(self, value: float, within: float = AGREE) -> bool:
        """The value is a place on this track, within so many mm."""
        if self.value is not None:
            return abs(value - self.value) <= within
        combs = (() if self.repeat == 0.0 else ((self.start, self.repeat),)) + self.also
        return all(apart(value - start, repeat) <= within for start, repeat in combs)

    def teeth(self, low: float, high: float, most: int = 4096) -> list[float]:
        """Every place (mm) from low to high, the least first (at most `most` of them)."""
        slack = 1e-6
        if self.value is not None:
            return [self.value] if low - slack <= self.value <= high + slack else []
        first = self.start + math.ceil((low - slack - self.start) / self.repeat) * self.repeat
        count = min(most, max(0, math.floor((high + slack - first) / self.repeat) + 1))
        found = (first + k * self.repeat for k in range(count))
        return [u for u in found if all(apart(u - s, r) <= AGREE for s, r in self.also)]


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


def track(asking: TriedShape, rules: Iterable[Rule]) -> Track | None:
    """The track of a shape on one axis, or None when its rules contradict each other."""
    values: list[float] = []
    combs: list[tuple[float, float]] = []
    for rule in rules:
        if isinstance(rule, AtFigure):
            _on_figure(rule, asking, values, combs)
            continue
        if getattr(rule, "axis", None) != AXES[asking.axis]:
            continue
        if not _read(rule, asking, values, combs):
            return None
    values += [start for start, repeat in combs if not repeat]
    combs = [(start, repeat) for start, repeat in combs if repeat]
    if values:
        value = (min(values) + max(values)) / 2.0
        if max(values) - min(values) > 2.0 * AGREE:
            return None
        if any(apart(value - start, repeat) > AGREE for start, repeat in combs):
            return None
        return Track(value=value)
    return _combined(combs)


def _combined(combs: list[tuple[float, float]]) -> Track | None:
    if not combs:
        return Track()
    combs.sort(key=lambda comb: -comb[1])
    start, repeat = combs[0]
    also = []
    for other, step in combs[1:]:
        if math.isclose(step, repeat, rel_tol=1e-9):
            if apart(other - start, repeat) > AGREE:
                return None
        else:
            also.append((other, step))
    return Track(start=start, repeat=repeat, also=tuple(also))


def _read(
    rule: Rule, asking: TriedShape, values: list[float], combs: list[tuple[float, float]]
) -> bool:
    """Adds what a rule asks of the reference point; False when it can never hold this way."""
    if isinstance(rule, OnLine):
        here = [asking.here(name) for name in rule.points]
        if max(here) - min(here) > 2.0 * AGREE:
            return False
        values.append(rule.at - (max(here) + min(here)) / 2.0)
    elif isinstance(rule, AtPhase):
        combs.append((rule.phase - asking.here(rule.point), rule.repeat))
    elif isinstance(rule, SamePhase):
        return _same(rule, asking, combs)
    elif isinstance(rule, MirrorPhase):
        _mirror(rule, asking, combs)
    return True


def _on_figure(
    rule: AtFigure, asking: TriedShape, values: list[float], combs: list[tuple[float, float]]
) -> None:
    """Adds where the point lies on the figure that an option means (`model`), else the first."""
    if AXES[asking.axis] not in rule.axes:
        return
    at = asking.here(rule.id if rule.id in asking.points else rule.point)
    start = rule.centres[0][asking.axis] - at
    repeat = (rule.repeat_along, rule.repeat_across)[asking.axis]
    if repeat is None:
        values.append(start)
    else:
        combs.append((start, repeat))


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


def _same(rule: SamePhase, asking: TriedShape, combs: list[tuple[float, float]]) -> bool:
    a, b = rule.shape_a, rule.shape_b
    if a == b:
        between = asking.here(rule.point_a) - asking.here(rule.point_b)
        return apart(between - rule.shift, rule.repeat) <= AGREE
    if a == asking.shape and b in asking.laid:
        there = asking.there(b, rule.point_b) + rule.shift
        combs.append((there - asking.here(rule.point_a), rule.repeat))
    elif b == asking.shape and a in asking.laid:
        there = asking.there(a, rule.point_a) - rule.shift
        combs.append((there - asking.here(rule.point_b), rule.repeat))
    return True


def _mirror(rule: MirrorPhase, asking: TriedShape, combs: list[tuple[float, float]]) -> None:
    a, b, both = rule.shape_a, rule.shape_b, 2.0 * rule.about
    if a == b:
        sum_here = asking.here(rule.point_a) + asking.here(rule.point_b)
        combs.append((rule.about - sum_here / 2.0, rule.repeat / 2.0))
    elif a == asking.shape and b in asking.laid:
        there = asking.there(b, rule.point_b)
        combs.append((both - there - asking.here(rule.point_a), rule.repeat))
    elif b == asking.shape and a in asking.laid:
        there = asking.there(a, rule.point_a)
        combs.append((both - there - asking.here(rule.point_b), rule.repeat))
