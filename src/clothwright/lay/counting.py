"""Rules of one axis followed in their order, each as near as the earlier ones leave.

What the earlier rules leave is kept exactly, as bounds on places and on their sums and differences
(`octagon`). A rule modulo a repeat holds for one whole number of repeats or another: each that
can be is a count of its own, and all of them are followed. What one rule of a plan asks of several
shapes is followed together: the worst of it is as small as it can be, then each in its order.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from clothwright.lay.axis_rules import AxisRule, common_repeat
from clothwright.lay.octagon import Octagon, finite
from clothwright.lay.track import AGREE

SAME = AGREE / 2.0
"""mm: a rule that is missed by no more than this counts as held, by the search and by the judge."""
NEAR = 1e-6
"""mm: two places as good as each other."""
MOST_COUNTS = 256
"""So many ways to count whole repeats are followed at once."""


class GaveWay(NamedTuple):
    """How a rule lies at the nearest that the ones before it leave.

    mm: by how much it is missed, beyond its tolerance. at: where it lies, in terms of `Tolerant`.
    sure: there is no nearer place; else it is the nearest that was found.
    """

    rule: str
    mm: float
    at: float
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Count:
    """One way to count whole repeats: the bounds that follow, and how many repeats each rule has.

    lines: of each shape on a line, so that two lines of one shape mean the same place.
    """

    octagon: Octagon
    repeats: Mapping[str, int] = field(default_factory=dict)
    lines: Mapping[int, int] = field(default_factory=dict)


Followed = tuple[dict[str, float], list[Count]]
"""By how many mm each rule is missed, and the counts that are left."""


def follow(
    asked: Sequence[AxisRule], places: int, period: float = 0.0
) -> tuple[dict[str, GaveWay], list[Count]]:
    """Return what every rule of one axis gets, in their order, and the counts that are left.

    places: how many shapes there are. period: mm in which all counts are told apart, if that is
    more than the longest repeat.
    """
    counts, missed = [Count(Octagon.of(places))], dict[str, float]()
    period = common_repeat((period, *(a.repeat for a in asked)))
    for _, together in itertools.groupby(asked, key=lambda a: a.of):
        got, counts = _together(tuple(together), counts, period)
        missed = got | missed  # a wish for a rule comes after what it must be missed by
    return {a.rule: GaveWay(a.rule, missed[a.rule], _lies(a, counts[0])) for a in asked}, counts


def _together(asked: Sequence[AxisRule], counts: list[Count], period: float) -> Followed:
    """Follow what one rule of a plan asks: the worst is as small as can be, then each in turn."""
    found = _one_by_one(asked, counts, period)
    most = max(found[0].values())
    if most <= NEAR or len(asked) == 1:
        return found
    most = _least_worst(lambda by: _worst(_wider(asked, by), counts, period), most)
    return _one_by_one(asked, _one_by_one(_wider(asked, most), counts, period)[1], period)


def _worst(asked: Sequence[AxisRule], counts: list[Count], period: float) -> float:
    return max(_one_by_one(asked, counts, period)[0].values())


def _least_worst(beyond: Callable[[float], float], most: float) -> float:
    """Return the least width (mm) from which on nothing is missed beyond it.

    beyond: by how much the worst is missed for a width; piece by piece a straight line downwards,
    so that where it would end is tried first, and then the middle. most: what it is for none.
    """
    least, rest, slope, high = 0.0, most, 2.0, most
    while high - least > 1.5 * NEAR:
        end = least + rest / slope
        for by in (end, end - NEAR, (least + high) / 2.0):
            if not least < by < high:
                continue
            if (now := beyond(by)) <= NEAR / 4.0:
                high = by
            else:
                slope = max((rest - now) / (by - least), NEAR)
                least, rest = by, now
    return high


def _wider(asked: Sequence[AxisRule], by: float) -> Sequence[AxisRule]:
    return [
        replace(a, windows=tuple((low - by, high + by) for low, high in a.windows)) for a in asked
    ]


def _one_by_one(asked: Sequence[AxisRule], counts: list[Count], period: float) -> Followed:
    missed = {}
    for ask in asked:
        tried = [t for count in counts for t in _tries(ask, count, period)]
        missed[ask.rule] = miss = min(t.miss for t in tried)
        best = [t for t in tried if t.miss <= miss + NEAR / 8.0]
        counts = [_taken(ask, t) for t in best[:MOST_COUNTS]]
    return missed, counts


def _lies(ask: AxisRule, count: Count) -> float:
    """Return where a rule lies in a count, in terms of `Tolerant`: the middle of what is left."""
    low, high = count.octagon.bounds(ask.sum)
    return ((low + high) / 2.0 + ask.const - count.repeats[ask.rule] * ask.repeat) / ask.own


class _Try(NamedTuple):
    """A rule with so many whole repeats in one count: how far it is missed, what it may be then."""

    of: Count
    repeats: int
    miss: float
    low: float
    high: float


def _tries(ask: AxisRule, count: Count, period: float) -> Iterator[_Try]:
    """Yield a rule in each window, with every whole number of repeats that can be nearest."""
    low, high = (b + ask.const for b in count.octagon.bounds(ask.sum))
    for k in _wholes(ask, count, (low, high), period):
        a, b = low - k * ask.repeat, high - k * ask.repeat
        for least, most in ask.windows:
            miss = max(0.0, least - b, a - most)
            near = min(max(least, a), b), max(min(most, b), a)
            yield _Try(count, k, miss, *((min(near), max(near)) if miss else near))


def _wholes(
    ask: AxisRule, count: Count, bounds: tuple[float, float], period: float
) -> Sequence[int]:
    """Return how many whole repeats a rule may have; two counts that mean the same are one."""
    if ask.rule in count.repeats:
        return (count.repeats[ask.rule],)
    if ask.line is not None and ask.line in count.lines:
        return (count.lines[ask.line],)
    if not ask.repeat:
        return (0,)
    if finite(bounds):
        first = math.ceil((bounds[0] - ask.high) / ask.repeat) - 1
        return range(first, math.floor((bounds[1] - ask.low) / ask.repeat) + 2)
    twice = count.octagon.tied(ask.sum) or len({n for n, _ in ask.sum}) < len(ask.sum)
    if twice or ask.repeat < period - NEAR:
        return range(round((2.0 if twice else 1.0) * period / ask.repeat))
    return (0,)


def _taken(ask: AxisRule, tried: _Try) -> Count:
    shift = tried.repeats * ask.repeat - ask.const
    octagon = tried.of.octagon.within(ask.sum, tried.low + shift, tried.high + shift)
    lines = tried.of.lines
    if ask.line is not None:
        lines = {**lines, ask.line: tried.repeats}
    return Count(octagon, {**tried.of.repeats, ask.rule: tried.repeats}, lines)
