"""What rules ask of the places of shapes on one axis, once it is known how they are turned."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple, TypeGuard

from clothwright.lay.atlas import turned_points
from clothwright.lay.octagon import Sum
from clothwright.lay.problem import (
    AtFigure,
    AtPhase,
    MirrorPhase,
    OnLine,
    Pinned,
    Placing,
    Point,
    Rule,
    SamePhase,
    SamePlace,
    Shape,
    Tolerant,
    asked_by,
    names_of,
)
from clothwright.lay.track import AXES, goes_into
from clothwright.lay.turning import Follows, Turning, broken, may, turning_sets

MOST_TURNS = 64
"""So many ways to turn the shapes of one set are tried."""


class Way(NamedTuple):
    """How a shape is turned (degrees), and whether it is turned over."""

    turn_deg: float
    flipped: bool


Span = tuple[float, float]
Ways = Mapping[str, Way]
"""How every shape is turned, by its id."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AxisRule:
    """One rule on one axis: sum + const lies in a window (mm), modulo the repeat (0: none).

    sum: of places of shapes, by their numbers; empty where the rule is about one shape's own shape.
    own: mm on the axis for 1 mm along the shape's own axis (`problem.Tolerant`). line: the number
    of the shape whose place on the cloth itself it says, None for a place of the repeat. of: what
    is asked together, and shares what it must be missed by.
    """

    rule: str
    of: str
    sum: Sum
    const: float
    windows: tuple[Span, ...]
    repeat: float
    own: float
    line: int | None = None

    @property
    def low(self) -> float:
        """The least mm of any window."""
        return min(low for low, _ in self.windows)

    @property
    def high(self) -> float:
        """The most mm of any window."""
        return max(high for _, high in self.windows)


def all_ways(shapes: Sequence[Shape], rules: Sequence[Rule]) -> Iterator[Ways]:
    """Yield the ways in which shapes may be turned together, the first ones wanted first."""
    pins = {r.shape: Way(r.turn_deg, r.flipped) for r in rules if isinstance(r, Pinned)}
    sets = turning_sets(rules)
    lots: list[tuple[list[Shape], list[TurnedSo]]] = []
    left = list(shapes)
    while left:
        first = left[0].id
        together = next((s for s in sets if first in s), {first: Follows()})
        lot = [s for s in left if s.id in together]
        left = [s for s in left if s.id not in together]
        lots.append((lot, _turns_of(lot, together, rules)))
    every = itertools.product(*(t for _, t in lots))
    for turns in itertools.islice(every, MOST_TURNS + 1):  # one more tells that there are more
        yield {
            s.id: pins.get(s.id, Way(turn[s.id], s.flips[0]))
            for (lot, _), turn in zip(lots, turns, strict=True)
            for s in lot
        }


TurnedSo = Mapping[str, float]


def _turns_of(lot: Sequence[Shape], together: Turning, rules: Sequence[Rule]) -> list[TurnedSo]:
    """Return the turns that shapes may have together; where they have none, what each may."""
    tried: list[TurnedSo] = []
    for turn in lot[0].turns_deg:
        mine = together[lot[0].id].back.of(turn)
        tried.append({s.id: together[s.id].of(mine) for s in lot})
    shared = [
        t for t in tried if all(may(s.turns_deg, t[s.id]) for s in lot) and not broken(rules, t)
    ]
    return shared or [
        {s.id: t[s.id] if may(s.turns_deg, t[s.id]) else s.turns_deg[0] for s in lot} for t in tried
    ]


def asked_on(
    axis: int,
    shapes: Sequence[Shape],
    rules: Sequence[Rule],
    ways: Ways,
    more: Sequence[AxisRule] = (),
) -> tuple[AxisRule, ...]:
    """Return what rules ask on an axis (0 along, 1 across), the pins first, and what more is asked.

    What is left out: a rule whose repeat falls together with the others too seldom, or never, and
    of `more` what has a repeat that others do not go into.
    """
    number = {s.id: n for n, s in enumerate(shapes)}
    points = {s.id: turned_points(s.points, *ways[s.id]) for s in shapes}
    pins = [_pin(r, axis, number) for r in rules if isinstance(r, Pinned)]
    found = [_one(r, axis, number, points, ways) for r in rules if _is_on(r, axis)]
    for ask in more:
        longest = max((a.repeat for a in found), default=ask.repeat)
        if goes_into(min(ask.repeat, longest), max(ask.repeat, longest)):
            found.append(ask)
    period = common_repeat(a.repeat for a in found)
    lines = [replace(a, repeat=period) if a.line is not None else a for a in (*pins, *found)]
    return tuple(a for a in lines if not period or goes_into(a.repeat, period))


MOST_TOGETHER = 12
"""A repeat counts beside others where all fall together after no more of the longest."""


def common_repeat(repeats: Iterable[float]) -> float:
    """Return after how many mm repeats fall together; those that do too seldom are left out.

    >>> common_repeat([60.0, 90.0, 0.0, 30.0]), common_repeat([60.0, 59.9])
    (180.0, 60.0)
    """
    falling = sorted({r for r in repeats if r}, reverse=True)
    period = longest = max(falling, default=0.0)
    for repeat in falling:
        times = (period * k for k in range(1, MOST_TOGETHER + 1))
        whole = (p for p in times if goes_into(repeat, p) and p <= MOST_TOGETHER * longest)
        period = next(whole, period)
    return period


def singled(rules: Sequence[Rule]) -> Iterator[tuple[Rule, ...]]:
    """Yield rules at one place each of the several that a print has for them within its repeat.

    What two points ask on both axes at once is then a rule on each, of the same name.
    """
    each = [tuple(_places_of(r)) for r in rules]
    for one in itertools.islice(itertools.product(*each), MOST_TURNS + 1):
        yield tuple(itertools.chain.from_iterable(one))


def _places_of(rule: Rule) -> Iterator[tuple[Rule, ...]]:
    if isinstance(rule, AtFigure):
        yield from ((replace(rule, centres=(c,)),) for c in rule.centres)
    elif isinstance(rule, SamePlace):
        yield from (rule.on_axes(shift) for shift in rule.shifts)
    else:
        yield (rule,)


def _is_on(rule: Rule, axis: int) -> TypeGuard[Placing | AtFigure]:
    if isinstance(rule, AtFigure):
        return AXES[axis] in rule.axes
    return isinstance(rule, Placing) and rule.axis == AXES[axis]


def _pin(rule: Pinned, axis: int, number: Mapping[str, int]) -> AxisRule:
    n = number[rule.shape]
    at = (rule.x, rule.y)[axis]
    sum_: Sum = ((n, 1),)
    return AxisRule(
        rule=rule.id,
        of=asked_by(rule.id),
        sum=sum_,
        const=-at,
        windows=((0.0, 0.0),),
        repeat=0.0,
        own=1.0,
        line=n,
    )


def _one(
    rule: Placing | AtFigure,
    axis: int,
    number: Mapping[str, int],
    points: Mapping[str, Mapping[str, Point]],
    ways: Ways,
) -> AxisRule:
    own, low, high = own_way(ways[names_of(rule)[0]], axis), 0.0, 0.0
    if isinstance(rule, Tolerant):
        low, high = sorted((own * rule.least, own * rule.most))
    n, line, repeat = number[names_of(rule)[0]], None, 0.0
    sum_: Sum = ((n, 1),)
    if isinstance(rule, OnLine):
        here = [points[rule.shape][p][axis] for p in rule.points]
        const, spread = (max(here) + min(here)) / 2.0 - rule.at, (max(here) - min(here)) / 2.0
        line, low, high = (
            n,
            min(low + spread, (low + high) / 2.0),
            max(high - spread, (low + high) / 2.0),
        )
    elif isinstance(rule, AtFigure):
        const = points[rule.shape][rule.point][axis] - rule.centres[0][axis]
        repeat = (rule.repeat_along, rule.repeat_across)[axis] or 0.0
        line = None if repeat else n
    elif isinstance(rule, AtPhase):
        const, repeat = points[rule.shape][rule.point][axis] - rule.phase, rule.repeat
    else:
        repeat = rule.repeat
        sum_, const = _both(rule, axis, number, points)
    return AxisRule(
        rule=rule.id,
        of=asked_by(rule.id),
        sum=sum_,
        const=const,
        windows=((low, high),),
        repeat=repeat,
        own=own,
        line=line,
    )


def _both(
    rule: SamePhase | MirrorPhase,
    axis: int,
    number: Mapping[str, int],
    points: Mapping[str, Mapping[str, Point]],
) -> tuple[Sum, float]:
    a, b = number[rule.shape_a], number[rule.shape_b]
    here, there = points[rule.shape_a][rule.point_a][axis], points[rule.shape_b][rule.point_b][axis]
    if isinstance(rule, SamePhase):
        return ((a, 1), (b, -1)) if a != b else (), here - there - rule.shift
    return ((a, 1), (b, 1)), here + there - 2.0 * rule.about


def goes_along(way: Way, axis: int) -> bool:
    """Tell whether an axis of the cloth is the one along a shape's grain, or nearer to it."""
    up, side = _ends(way, axis)
    return abs(up) >= abs(side) - 1e-9


def own_way(way: Way, axis: int) -> float:
    """Return the mm on an axis for 1 mm along the shape's own (`problem.Tolerant`).

    >>> own_way(Way(180.0, False), 0), own_way(Way(90.0, True), 0)
    (-1.0, 1.0)
    """
    return _ends(way, axis)[0 if goes_along(way, axis) else 1]


def _ends(way: Way, axis: int) -> tuple[float, float]:
    ends = turned_points({"up": (1.0, 0.0), "side": (0.0, 1.0)}, *way)
    return round(ends["up"][axis], 12), round(ends["side"][axis], 12)
