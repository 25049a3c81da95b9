"""Shapes that rules tie together, turned one way: what every rule gets, and what is left to them.

Along and across are settled each for itself, but for what keeps clear of a figure: of that one axis
is settled first, at the place that bars least of the other; both ways are tried.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.lay.axis_rules import AxisRule, Span, Ways, asked_on
from clothwright.lay.clearing import Shadow, barring, clear_on, freest
from clothwright.lay.counting import SAME, Count, GaveWay, follow
from clothwright.lay.farthest import Farthest, farthest
from clothwright.lay.octagon import Octagon, finite
from clothwright.lay.problem import AtFigure, LayProblem, Pinned, Rule, Shape, asked_by, names_of

Wished = Mapping[str, float]
"""By a rule's id, where in its tolerance it should lie, in terms of `Tolerant`."""
Rooms = tuple[Sequence[AxisRule], Sequence[AxisRule]]
"""Along and across, what comes before every rule."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tied:
    """Shapes that rules tie together, and the rules on them in their order."""

    shapes: tuple[Shape, ...]
    rules: tuple[Rule, ...]


def sets(problem: LayProblem) -> tuple[Tied, ...]:
    """Return the shapes in sets that no rule joins."""
    mark = {s.id: n for n, s in enumerate(problem.shapes)}
    for rule in problem.rules:
        first, *others = (mark[name] for name in names_of(rule))
        mark = {name: first if n in others else n for name, n in mark.items()}
    return tuple(
        Tied(
            shapes=tuple(s for s in problem.shapes if mark[s.id] == n),
            rules=tuple(r for r in problem.rules if mark[names_of(r)[0]] == n),
        )
        for n in dict.fromkeys(mark.values())
    )


# --- what the rules of a set get ------------------------------------------------------------------


class WhatIsGot(NamedTuple):
    """What every rule gets, on the axis on which it is worst and on each; what then bounds places.

    Of what is missed on two axes at once the distance is told.
    """

    got: dict[str, GaveWay]
    axes: tuple[dict[str, GaveWay], dict[str, GaveWay]]
    octagons: tuple[Octagon, Octagon]


def held(
    part: Tied, ways: Ways, *, rooms: Rooms = ((), ()), wished: Wished | None = None
) -> WhatIsGot:
    """Return what the rules of a set, turned so, get: each as much as the earlier ones leave.

    wished: once all have what they can have, each rule as near as can be to its wish, or to the
    place it says.
    """
    barred = barring(part.shapes, part.rules, ways)
    one = _Set(part, ways, rooms, wished, barred)
    best = _held(one, 0)
    if not barred or not any(worth_of(part.rules, best.got)):
        return best

    def worth(found: WhatIsGot) -> tuple[float, ...]:
        return worth_of(part.rules, found.got)

    best = min(best, _held(one, 1), key=worth)
    missed = {b.rule for b in barred if told(best.got.get(b.rule))}
    spots = tuple(_spots(one, missed))
    if spots:
        put = one._replace(spots=spots)
        best = min(best, _held(put, 0), key=worth)
    sure = set(_sure(one, best.got, spots))
    got = {n: g._replace(sure=n in sure) for n, g in best.got.items()}
    return best._replace(got=got)


class _Set(NamedTuple):
    part: Tied
    ways: Ways
    rooms: Rooms
    wished: Wished | None
    barred: tuple[Shadow, ...]
    spots: tuple[Spot, ...] = ()

    @property
    def rank(self) -> Mapping[str, int]:
        """The order of the rules, by their ids; a pin comes before all of them."""
        return {r.id: n for n, r in enumerate(self.part.rules) if not isinstance(r, Pinned)}

    def asked(self, axis: int, clear: Sequence[AxisRule] = ()) -> tuple[AxisRule, ...]:
        """Return what is asked on an axis in order: pins, rooms, rules, then wishes."""
        rank = {**self.rank, **{s.on[axis].rule: self.rank[s.rules[0]] for s in self.spots}}
        clear = (*(s.on[axis] for s in self.spots), *clear)
        asked = asked_on(axis, self.part.shapes, self.part.rules, self.ways, clear)
        asked = tuple(sorted(asked, key=lambda a: rank.get(a.rule, -1)))
        wish = [_wish(a, self.wished) for a in asked if self.wished is not None and a not in clear]
        return (*self.rooms[axis], *asked, *wish)


def _wish(ask: AxisRule, wished: Wished | None) -> AxisRule:
    at = ask.own * (wished or {}).get(ask.rule, 0.0)
    return replace(ask, windows=((at, at),), of=f"{ask.of} wished")


def _held(one: _Set, first: int) -> WhatIsGot:
    """Follow the rules of one axis, then those of the other with what keeps clear of figures."""
    size, other = len(one.part.shapes), 1 - first
    mine, counts = follow(one.asked(first), size)
    octagon = freest(one.barred, first, counts[0].octagon)
    spotted = {rule for spot in one.spots for rule in spot.rules}
    free = [b for b in one.barred if b.rule not in spotted]
    clear = tuple(clear_on(free, other, octagon))
    its, counts = follow(one.asked(other, clear), size)
    octagons = octagon, counts[0].octagon
    got = (mine, its) if first == 0 else (its, mine)
    by_axis = octagons if first == 0 else octagons[::-1]
    near = dict(_clearances(one.barred, by_axis))
    return WhatIsGot({**_worst(one.part.rules, got), **near}, got, by_axis)


def _clearances(
    barred: Sequence[Shadow], octagons: tuple[Octagon, ...]
) -> Iterator[tuple[str, GaveWay]]:
    """Yield by how much each shape is too near where it lies, of the figures of one rule alike."""
    for _, group in _by_rule(barred):
        bounds = [octagon.bounds(((group[0].number, 1),)) for octagon in octagons]
        x, y = (sum(b) / 2.0 for b in bounds)
        if math.isfinite(x) and math.isfinite(y):
            missed = max(each.missed((x, y)) for each in group)
            yield from ((each.rule, GaveWay(each.rule, missed, 0.0)) for each in group)


def _by_rule(barred: Sequence[Shadow]) -> Iterator[tuple[tuple[str, int], list[Shadow]]]:
    """Yield what one rule of a plan bars for one shape, by that rule and the shape's number."""
    found: dict[tuple[str, int], list[Shadow]] = {}
    for each in barred:
        found.setdefault((asked_by(each.rule), each.number), []).append(each)
    yield from found.items()


# --- the places that lie farthest from figures ----------------------------------------------------


class Spot(NamedTuple):
    """A shape put where it is clearest of the figures of some rules.

    on: what that asks on each axis. most: no place that the earlier rules leave is clear by more
    mm; less than 0 where all are too near.
    """

    rules: tuple[str, ...]
    on: tuple[AxisRule, AxisRule]
    most: float


def _spots(one: _Set, missed: Set[str]) -> Iterator[Spot]:
    """Yield the place of each shape that some of these rules keep clear, one after another."""
    groups = sorted(_by_rule(one.barred), key=lambda g: one.rank[g[1][0].rule])
    kept: list[Shadow] = []
    put = one
    for (of, number), group in groups:
        if missed.isdisjoint(b.rule for b in group):
            kept += group
            continue
        mine = [b for b in kept if b.number == number]
        found = farthest(_rooms(put, group), group, mine)
        free = farthest(_rooms(one, group), group, mine) if put.spots else found
        if found is not None and free is not None:
            rules = tuple(b.rule for b in group)
            spot = Spot(rules=rules, on=_put(of, group, found), most=free.most)
            put = put._replace(spots=(*put.spots, spot))
            yield spot


def _rooms(one: _Set, group: Sequence[Shadow]) -> tuple[list[Span], list[Span]]:
    """Return where what comes before some rules leaves their shape, modulo the repeat."""
    number, first = group[0].number, one.rank[group[0].rule]
    later = {rule for rule, rank in one.rank.items() if rank >= first}
    rooms: list[list[Span]] = []
    for axis, repeat in enumerate(group[0].repeats):
        asked = [a for a in one._replace(wished=None).asked(axis) if a.rule not in later]
        counts = follow(asked, len(one.part.shapes), repeat or 0.0)[1]
        rooms.append(_within(counts, number, repeat) or [_beside(group, axis)])
    return rooms[0], rooms[1]


def _within(counts: Sequence[Count], number: int, repeat: float | None) -> list[Span]:
    found: dict[tuple[float, float], Span] = {}
    for count in counts:
        low, high = count.octagon.bounds(((number, 1),))
        if repeat is not None and (not finite((low, high)) or high - low > repeat):
            return [(0.0, repeat)]
        if not finite((low, high)):
            return []
        start = low if repeat is None else low % repeat
        found.setdefault((round(start, 3), round(high - low, 3)), (low, high))
    return list(found.values())


def _beside(group: Sequence[Shadow], axis: int) -> Span:
    """Return from where to where on an axis a figure that comes once is near, and a bit beyond."""
    reach = 2.0 * max(b.radius for b in group)
    ends = [b.core.bounds for b in group]
    return min(e[axis] for e in ends) - reach, max(e[axis + 2] for e in ends) + reach


def _put(of: str, group: Sequence[Shadow], found: Farthest) -> tuple[AxisRule, AxisRule]:
    number = group[0].number
    along, across = (
        AxisRule(
            rule=f"{group[0].rule} farthest",
            of=f"{of} farthest {number}",
            sum=((number, 1),),
            const=-found.at[axis],
            windows=((0.0, 0.0),),
            repeat=group[0].repeats[axis] or 0.0,
            own=1.0,
            line=number if group[0].repeats[axis] is None else None,
        )
        for axis in (0, 1)
    )
    return along, across


def _sure(one: _Set, got: Mapping[str, GaveWay], spots: Sequence[Spot]) -> Iterator[str]:
    """Yield the rules that can be missed by no less, as far as those before them are had so.

    What keeps clear of figures: where no place that the earlier ones leave is clearer. Others:
    where they get no more without all that keeps clear.
    """
    alone: dict[str, GaveWay] = {}
    most = {rule: spot.most for spot in spots for rule in spot.rules}
    clear = {b.rule for b in one.barred}
    for rule in (r.id for r in one.part.rules if r.id in got):
        if rule in clear:
            if got[rule].mm <= max(SAME, SAME - most.get(rule, 0.0)):
                yield rule
            continue
        if got[rule].mm > SAME and not alone:
            alone = _held(one._replace(barred=(), wished=None), 0).got
        if got[rule].mm > SAME and not (got[rule].sure and got[rule].mm <= alone[rule].mm + SAME):
            return
        yield rule


def _worst(
    rules: Sequence[Rule], got: tuple[dict[str, GaveWay], dict[str, GaveWay]]
) -> dict[str, GaveWay]:
    figures = {r.id for r in rules if isinstance(r, AtFigure)}
    several = Counter(map(asked_by, figures))
    out: dict[str, GaveWay] = {}
    for name in {**got[0], **got[1]}:
        each = [axis[name] for axis in got if name in axis]
        worst = max(each, key=lambda g: g.mm)
        far = math.hypot(*(g.mm for g in each))
        sure = several[asked_by(name)] < 2 or far <= worst.mm + SAME
        out[name] = worst._replace(mm=far, sure=sure) if name in figures else worst
    return out


def worth_of(rules: Sequence[Rule], got: Mapping[str, GaveWay]) -> tuple[float, ...]:
    """Return how rules are missed: of each rule the worst, then what it asks in turn."""
    out: list[float] = []
    for _, together in itertools.groupby(rules, key=lambda r: asked_by(r.id)):
        each = [told(got.get(r.id)) for r in together]
        out += [max(each), *each]
    return tuple(out)


def told(got: GaveWay | None) -> float:
    """Return by how many mm a rule is missed, 0 for what counts as held."""
    return round(got.mm, 3) if got is not None and got.mm > SAME else 0.0
