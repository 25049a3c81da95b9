"""Shapes that rules tie together, turned one way: what every rule gets, and what is left to them.

Along and across are settled each for itself, but for what keeps clear of a figure: of that one axis
is settled first, at the place that bars least of the other; both ways are tried.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.lay.axis_rules import AxisRule, Ways, asked_on
from clothwright.lay.clearing import Shadow, barring, clear_on, freest
from clothwright.lay.counting import SAME, GaveWay, follow
from clothwright.lay.octagon import Octagon
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
    return min(best, _held(one, 1), key=lambda each: worth_of(part.rules, each.got))


class _Set(NamedTuple):
    part: Tied
    ways: Ways
    rooms: Rooms
    wished: Wished | None
    barred: tuple[Shadow, ...]

    def asked(self, axis: int, clear: Sequence[AxisRule] = ()) -> tuple[AxisRule, ...]:
        """Return what is asked on an axis in order: pins, rooms, rules, then wishes."""
        rank = {r.id: n for n, r in enumerate(self.part.rules) if not isinstance(r, Pinned)}
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
    clear = tuple(clear_on(one.barred, other, octagon))
    its, counts = follow(one.asked(other, clear), size)
    octagons = octagon, counts[0].octagon
    got = (mine, its) if first == 0 else (its, mine)
    by_axis = octagons if first == 0 else octagons[::-1]
    near = dict(_clearances(one.barred, by_axis))
    return WhatIsGot({**_worst(one.part.rules, got), **near}, got, by_axis)


def _clearances(
    barred: Sequence[Shadow], octagons: tuple[Octagon, ...]
) -> Iterator[tuple[str, GaveWay]]:
    """Yield by how much each shape is too near a figure where it lies."""
    for each in barred:
        bounds = [octagon.bounds(((each.number, 1),)) for octagon in octagons]
        x, y = (sum(b) / 2.0 for b in bounds)
        if math.isfinite(x) and math.isfinite(y):
            yield each.rule, GaveWay(each.rule, each.missed((x, y)), 0.0)


def _worst(
    rules: Sequence[Rule], got: tuple[dict[str, GaveWay], dict[str, GaveWay]]
) -> dict[str, GaveWay]:
    figures = {r.id for r in rules if isinstance(r, AtFigure)}
    out: dict[str, GaveWay] = {}
    for name in {**got[0], **got[1]}:
        each = [axis[name] for axis in got if name in axis]
        worst = max(each, key=lambda g: g.mm)
        far = math.hypot(*(g.mm for g in each))
        out[name] = worst._replace(mm=far) if name in figures else worst
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
