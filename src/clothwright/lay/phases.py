"""The places of shapes on the print that their rules leave, before anything is laid.

Only where a shape lies within the repeat counts here, not whether shapes overlap. Rules are taken
in their order, which is their order of importance: what the earlier ones leave is kept exactly, as
bounds on places and on their sums and differences (`octagon`), and a later rule comes as near as
that lets it (`counting`).

Along and across the cloth are settled each for itself, and so is every set of shapes that rules
tie together. Shapes are tried in every turn that their set may have; a tilt of the grain is not.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.lay.axis_rules import (
    MOST_TURNS,
    AxisRule,
    Way,
    Ways,
    all_ways,
    asked_on,
    goes_along,
    one_centre,
)
from clothwright.lay.counting import SAME, Count, GaveWay, follow
from clothwright.lay.problem import (
    AtFigure,
    AtPhase,
    LayProblem,
    OnLine,
    Pinned,
    Point,
    Rule,
    Shape,
    Tolerant,
    TwoPoints,
    asked_by,
    names_of,
)
from clothwright.lay.result import Placement
from clothwright.lay.track import AXES


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """A problem whose rules can all hold, and those that had to give way to earlier ones."""

    problem: LayProblem
    rests: tuple[GaveWay, ...] = ()


def settle(problem: LayProblem) -> Settled:
    """Return the problem with every rule that cannot hold put as near as the earlier ones leave."""
    rests: dict[str, GaveWay] = {}
    turned: dict[str, tuple[float, ...]] = {}
    put: dict[str, tuple[Rule, ...]] = {}
    for part in sets(problem):
        best = _best(part)
        placing = [r for r in best.part.rules if isinstance(r, Tolerant | AtFigure)]
        missed = [r for r in placing if r.id in best.got and best.got[r.id].mm > SAME]
        for rule in missed:
            rests[rule.id] = best.got[rule.id]
            put[rule.id] = tuple(_put(rule, best))
        if missed:
            turned |= {s.id: _turns(s, best.ways) for s in part.shapes}
    if not rests:
        return Settled(problem=problem)
    shapes = tuple(
        replace(s, turns_deg=turned[s.id]) if s.id in turned else s for s in problem.shapes
    )
    rules = tuple(new for r in problem.rules for new in put.get(r.id, (r,)))
    return Settled(
        problem=replace(problem, shapes=shapes, rules=rules),
        rests=tuple(rests[r.id] for r in problem.rules if r.id in rests),
    )


def _put(rule: Rule, best: _Best) -> Iterator[Rule]:
    """Yield a rule at the place that is left for it; a figure's on each of its axes by itself."""
    if isinstance(rule, Tolerant):
        at = best.got[rule.id].at
        yield replace(rule, least=at, most=at)
    elif isinstance(rule, AtFigure):
        for axis in (AXES.index(a) for a in rule.axes):
            at = _followed(best.part, best.ways[0], axis)[0][rule.id].at
            name, centre = f"{rule.id} {AXES[axis]}", rule.centres[0][axis]
            repeat = (rule.repeat_along, rule.repeat_across)[axis]
            if repeat is None:
                new: OnLine | AtPhase = OnLine(
                    id=name, shape=rule.shape, points=(rule.point,), axis=AXES[axis], at=centre
                )
            else:
                new = AtPhase(
                    id=name,
                    shape=rule.shape,
                    point=rule.point,
                    axis=AXES[axis],
                    phase=centre,
                    repeat=repeat,
                )
            yield replace(new, least=at, most=at)


def because(problem: LayProblem, rest: GaveWay) -> tuple[str, ...]:
    """Return the fewest rules (their ids) before one, or pins, that together keep it off its place.

    problem: as it was before it was settled. What one rule of a plan asks stays together, and what
    it asks of other shapes is no reason. None of them can be left out.
    """
    part = next(p for p in sets(problem) if any(r.id == rest.rule for r in p.rules))
    mine = [n for n, r in enumerate(part.rules) if asked_by(r.id) == asked_by(rest.rule)]
    later = {r.id for r in part.rules[mine[-1] :] if isinstance(r, Tolerant | AtFigure)}
    own = {part.rules[n].id for n in mine}
    kept = tuple(r for r in part.rules if r.id in own or r.id not in later)
    before = [r for r in kept if isinstance(r, Tolerant | Pinned | AtFigure) and r.id not in own]
    for name in dict.fromkeys(asked_by(r.id) for r in reversed(before)):
        fewer = tuple(r for r in kept if r not in before or asked_by(r.id) != name)
        if any(_told(g) for n, g in _best(replace(part, rules=fewer)).got.items() if n in own):
            kept = fewer
    return tuple(r.id for r in before if r in kept)


def pointed(problem: LayProblem, wished: Mapping[str, float] | None = None) -> LayProblem:
    """Return the problem without tolerances: each rule at one place within what it may be missed.

    wished: rule id to where in its tolerance it should lie (in terms of `Tolerant`), exactly on its
    place (0) where nothing is said; the earlier rules have their wish first. The place that is
    meant becomes a point of its own on the shape, so that it turns with the shape.
    """
    meant: dict[str, tuple[float, float]] = {}
    for part in sets(problem):
        if any(_loose(r) for r in part.rules):
            meant |= _meant(part, wished or {})
    if not meant:
        return problem
    points: dict[str, dict[str, Point]] = {s.id: dict(s.points) for s in problem.shapes}
    rules = tuple(_moved(r, meant[r.id], points) if r.id in meant else r for r in problem.rules)
    shapes = tuple(replace(s, points=points[s.id]) for s in problem.shapes)
    return replace(problem, shapes=shapes, rules=rules)


def lies(problem: LayProblem, places: Mapping[str, Placement]) -> dict[str, float]:
    """Return where each rule on laid shapes lies in its tolerance, in terms of `Tolerant`, mm.

    Modulo the repeat it is the nearest to the middle of the tolerance.
    """
    shapes = [s for s in problem.shapes if s.id in places]
    rules = [r for r in problem.rules if set(names_of(r)) <= set(places)]
    ways = {s.id: Way(places[s.id].turn_deg, places[s.id].flipped) for s in shapes}
    at = [(places[s.id].x, places[s.id].y) for s in shapes]
    return {
        a.rule: _nearest(a, sum(s * at[n][axis] for n, s in a.sum) + a.const) / a.own
        for axis in (0, 1)
        for a in asked_on(axis, shapes, rules, ways)
    }


def _nearest(ask: AxisRule, off: float) -> float:
    if not ask.repeat or ask.line is not None:
        return off
    return off - ask.repeat * round((off - (ask.low + ask.high) / 2.0) / ask.repeat)


def _loose(rule: Rule) -> bool:
    return isinstance(rule, Tolerant) and bool(rule.least or rule.most)


# --- sets of shapes -----------------------------------------------------------------------------


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


# --- one set --------------------------------------------------------------------------------------


class _Best(NamedTuple):
    """A set turned best: several ways where the rules get the same in them; what they get then."""

    part: Tied
    ways: list[Ways]
    got: dict[str, GaveWay]


def _best(part: Tied) -> _Best:
    """Return how the shapes of a set are turned best; where all can hold, the first way."""
    best: _Best | None = None
    key: tuple[float, ...] = ()
    tries = itertools.product(one_centre(part.rules), all_ways(part.shapes, part.rules))
    for rules, ways in itertools.islice(tries, MOST_TURNS):
        one = replace(part, rules=rules)
        got = _got(one, ways)
        worth = _worth(rules, got)
        if best is None or worth < key:
            best, key = _Best(one, [ways], got), worth
        elif worth == key and all(
            abs(best.got[n].at - g.at) <= SAME for n, g in got.items() if g.mm > SAME
        ):
            best.ways.append(ways)
        if not any(key):
            break
    return best or _Best(part, [], {})


def _worth(rules: Sequence[Rule], got: Mapping[str, GaveWay]) -> tuple[float, ...]:
    """Return how rules are missed: of each rule the worst, then what it asks in turn."""
    out: list[float] = []
    for _, together in itertools.groupby(rules, key=lambda r: asked_by(r.id)):
        each = [_told(got.get(r.id)) for r in together]
        out += [max(each), *each]
    return tuple(out)


def _got(part: Tied, ways: Ways) -> dict[str, GaveWay]:
    """Return what each rule gets with the shapes turned so, on the axis on which it is worst."""
    out: dict[str, GaveWay] = {}
    for axis in (0, 1):
        for name, got in _followed(part, ways, axis)[0].items():
            if name not in out or got.mm > out[name].mm:
                out[name] = got
    return out


def turned(part: Tied) -> tuple[Tied, Ways]:
    """Return how the shapes of a set are turned (degrees) so that its rules hold best, and those.

    Of the places of a figure the rules have the one that was best.
    """
    best = _best(part)
    return best.part, best.ways[0]


def _told(got: GaveWay | None) -> float:
    return round(got.mm, 3) if got is not None and got.mm > SAME else 0.0


def _followed(part: Tied, ways: Ways, axis: int) -> tuple[dict[str, GaveWay], list[Count]]:
    return follow(asked_on(axis, part.shapes, part.rules, ways), len(part.shapes))


def _turns(shape: Shape, ways: Sequence[Ways]) -> tuple[float, ...]:
    return tuple(dict.fromkeys(each[shape.id].turn_deg for each in ways))


def _meant(part: Tied, wished: Mapping[str, float]) -> dict[str, tuple[float, float]]:
    """Return by how much the point of each rule with a tolerance is missed, in the shape's frame.

    All rules have their tolerance first, then, in their order, their wish within it.
    """
    part, ways = turned(part)
    out: dict[str, tuple[float, float]] = {}
    loose = {r.id: names_of(r)[0] for r in part.rules if _loose(r)}
    for axis in (0, 1):
        asked = asked_on(axis, part.shapes, part.rules, ways)
        wish = [
            replace(a, low=w, high=w, of=f"{a.of} wished")
            for a in asked
            for w in (a.own * wished.get(a.rule, 0.0),)
        ]
        for name, got in follow((*asked, *wish), len(part.shapes))[0].items():
            if name in loose:
                along = goes_along(ways[loose[name]], axis)
                out[name] = (got.at, 0.0) if along else (0.0, got.at)
    return out


def _moved(rule: Rule, by: Point, points: dict[str, dict[str, Point]]) -> Rule:
    """Return a rule as it is exactly for its point moved on the shape, which `points` gets too."""
    mine = points[names_of(rule)[0]]

    def other(name: str) -> str:
        new = f"{name}, {rule.id}"
        mine[new] = (mine[name][0] - by[0], mine[name][1] - by[1])
        return new

    if isinstance(rule, OnLine):
        return replace(rule, least=0.0, most=0.0, points=tuple(other(n) for n in rule.points))
    if isinstance(rule, AtPhase):
        return replace(rule, least=0.0, most=0.0, point=other(rule.point))
    if isinstance(rule, TwoPoints):
        return replace(rule, least=0.0, most=0.0, point_a=other(rule.point_a))
    return rule
