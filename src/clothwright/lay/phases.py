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
import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import NamedTuple

from clothwright.lay.axis_rules import (
    MOST_TURNS,
    AxisRule,
    Way,
    Ways,
    all_ways,
    asked_on,
    goes_along,
    singled,
)
from clothwright.lay.clearing import softened
from clothwright.lay.counting import SAME, GaveWay
from clothwright.lay.edges import rooms_of
from clothwright.lay.lying import moved_points
from clothwright.lay.problem import (
    CLEAR,
    AtFigure,
    AtPhase,
    LayProblem,
    OnLine,
    Pinned,
    Placing,
    Point,
    Rule,
    SamePlace,
    Shape,
    Tolerant,
    TwoPoints,
    asked_by,
    names_of,
)
from clothwright.lay.result import Placement
from clothwright.lay.tied import Rooms, Tied, held, sets, told, worth_of
from clothwright.lay.track import AXES, apart

GIVES_WAY = Tolerant | AtFigure | CLEAR
"""What stands in the order of importance."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """A problem whose rules can all hold, and those that had to give way to earlier ones.

    meant: by the id of a rule that stands where another gave way, the rule as it was asked.
    """

    problem: LayProblem
    rests: tuple[GaveWay, ...] = ()
    meant: Mapping[str, Rule] = field(default_factory=dict)


def settle(problem: LayProblem) -> Settled:
    """Return the problem with every rule that cannot hold put as near as the earlier ones leave."""
    rests: dict[str, GaveWay] = {}
    turned: dict[str, tuple[float, ...]] = {}
    put: dict[str, tuple[Rule, ...]] = {}
    for part in sets(problem):
        best = _best(part)
        placing = [r for r in best.part.rules if isinstance(r, GIVES_WAY)]
        missed = [r for r in placing if r.id in best.got and best.got[r.id].mm > SAME]
        for rule in missed:
            rests[rule.id] = best.got[rule.id]
            put[rule.id] = (*put.get(rule.id, ()), *_put(rule, best))
        if missed:
            turned |= {s.id: _turns(s, best.ways) for s in part.shapes}
    if not rests:
        return Settled(problem=problem)
    shapes = tuple(
        replace(s, turns_deg=turned[s.id]) if s.id in turned else s for s in problem.shapes
    )
    rules = tuple(new for r in problem.rules for new in put.get(r.id, (r,)))
    asked = {r.id: r for r in problem.rules}
    return Settled(
        problem=replace(problem, shapes=shapes, rules=rules),
        rests=tuple(rests[r.id] for r in problem.rules if r.id in rests),
        meant={new.id: asked[name] for name, news in put.items() for new in news},
    )


def _put(rule: Rule, best: _Best) -> Iterator[Rule]:
    """Yield a rule at the place that is left for it; one on two axes on each of them by itself.

    An axis on which it was not counted (`asked_on`) has it as it was asked.
    """
    if isinstance(rule, Placing):
        got = best.axes[AXES.index(rule.axis)].get(rule.id)
        on_both = sum(r.id == rule.id for r in best.part.rules) > 1
        name = f"{rule.id} {rule.axis}" if on_both else rule.id
        ends = (got.at, got.at) if got and got.mm > SAME else (rule.least, rule.most)
        yield replace(rule, id=name, least=ends[0], most=ends[1])
    elif isinstance(rule, CLEAR):
        yield softened(rule, best.got[rule.id].mm)
    elif isinstance(rule, AtFigure):
        for axis in (AXES.index(a) for a in rule.axes):
            got = best.axes[axis].get(rule.id)
            at = got.at if got else 0.0
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
    later = {r.id for r in part.rules[mine[-1] :] if isinstance(r, GIVES_WAY)}
    own = {part.rules[n].id for n in mine}
    rules = tuple(r for r in part.rules if r.id in own or r.id not in later)
    before = [r for r in rules if isinstance(r, Pinned | GIVES_WAY) and r.id not in own]
    names = list(dict.fromkeys(asked_by(r.id) for r in before))
    free = {r.id for r in rules}.difference(r.id for r in before)

    def missed(kept: Collection[str]) -> bool:
        some = tuple(r for r in rules if r.id in free or asked_by(r.id) in kept)
        got = _best(replace(part, rules=some)).got
        return any(told(g) for n, g in got.items() if n in own)

    few: Collection[str] = names
    for one in ((), *((name,) for name in names)):  # one alone is quickly tried, and often enough
        if missed(one):
            few = one
            break
    for name in reversed(names):
        if len(few) > 1 and missed(fewer := [n for n in few if n != name]):
            few = fewer
    return tuple(r.id for r in before if asked_by(r.id) in few)


def pointed(problem: LayProblem, wished: Mapping[str, float] | None = None) -> LayProblem:
    """Return the problem without tolerances: each rule at one place within what it may be missed.

    wished: rule id to where in its tolerance it should lie (in terms of `Tolerant`), exactly on its
    place (0) where nothing is said; the earlier rules have their wish first. The place that is
    meant becomes a point of its own on the shape, so that it turns with the shape.
    """
    meant: dict[str, tuple[float, float]] = {}
    for part in sets(problem):
        if any(_loose(r) for r in part.rules):
            meant |= _meant(part, wished or {}, partial(rooms_of, problem))
    if not meant:
        return problem
    points: dict[str, dict[str, Point]] = {s.id: dict(s.points) for s in problem.shapes}
    rules = tuple(_moved(r, meant[r.id], points) if r.id in meant else r for r in problem.rules)
    shapes = tuple(replace(s, points=points[s.id]) for s in problem.shapes)
    return replace(problem, shapes=shapes, rules=rules)


def steadied(problem: LayProblem) -> LayProblem:
    """Return the problem with one place in the repeat for what keeps clear, and all tied to it.

    There all of them have their rules, where a place that is left for one may leave another none,
    and where what is left at all is too small to be come upon.
    """
    shapes, rules = {s.id: s for s in problem.shapes}, list(problem.rules)
    for part in sets(problem):
        repeats = [(r.repeat_along, r.repeat_across) for r in part.rules if isinstance(r, CLEAR)]
        if not repeats:
            continue
        best, ways = turned(part)
        octagons = held(best, ways, rooms=rooms_of(problem, best, ways)).octagons
        for n, shape in enumerate(best.shapes):
            shapes[shape.id] = replace(
                shape, turns_deg=(ways[shape.id].turn_deg,), points={**shape.points, "": (0.0, 0.0)}
            )
            for axis, octagon in enumerate(octagons):
                at, repeat = sum(octagon.bounds(((n, 1),))) / 2.0, repeats[0][axis]
                if repeat is not None and math.isfinite(at):
                    rules.append(
                        AtPhase(
                            id=f"steady {AXES[axis]} {shape.id}",
                            shape=shape.id,
                            point="",
                            axis=AXES[axis],
                            phase=at,
                            repeat=repeat,
                        )
                    )
    said = {**problem.said, "steady": ("it lies where all that is tied to it keeps clear",)}
    return replace(problem, shapes=tuple(shapes.values()), rules=tuple(rules), said=said)


def nearest_places(problem: LayProblem, places: Mapping[str, Placement]) -> LayProblem:
    """Return the problem with the nearest of the places that a print has for two points laid.

    What they are asked stands on each axis by itself then.
    """
    shapes, rules = {s.id: s for s in problem.shapes}, list[Rule]()
    for rule in problem.rules:
        if not isinstance(rule, SamePlace) or not set(names_of(rule)) <= set(places):
            rules.append(rule)
            continue
        ends = ((rule.shape_a, rule.point_a), (rule.shape_b, rule.point_b))
        a, b = (_lies_at(shapes[name], places[name], point) for name, point in ends)
        repeats = (rule.repeat_along, rule.repeat_across)
        near = min(
            rule.shifts,
            key=lambda s: math.hypot(
                *(apart(a[k] - rule.signs[k] * b[k] - s[k], repeats[k]) for k in (0, 1))
            ),
        )
        rules += [replace(r, id=f"{r.id} {r.axis}") for r in rule.on_axes(near)]
    return replace(problem, rules=tuple(rules))


def _lies_at(shape: Shape, place: Placement, point: str) -> Point:
    by = Way(place.turn_deg, place.flipped)
    return moved_points([shape.points[point]], place.x, place.y, *by)[0]


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


# --- one set --------------------------------------------------------------------------------------


class _Best(NamedTuple):
    """A set turned best: several ways where the rules get the same in them; what they get then.

    axes: what they get on each axis in the first way.
    """

    part: Tied
    ways: list[Ways]
    got: dict[str, GaveWay]
    axes: tuple[dict[str, GaveWay], dict[str, GaveWay]] = ({}, {})


def _best(part: Tied) -> _Best:
    """Return how the shapes of a set are turned best; where all can hold, the first way.

    A rule that has not surely its nearest in every way, all of them tried, has not here either.
    """
    best: _Best | None = None
    unsure: set[str] = set()
    key: tuple[float, ...] = ()
    tries = itertools.product(singled(part.rules), all_ways(part.shapes, part.rules))
    for n, (rules, ways) in enumerate(tries):
        if n == MOST_TURNS:
            unsure = {r.id for r in part.rules}
            break
        one = replace(part, rules=rules)
        got, axes, _ = held(one, ways)
        unsure |= {name for name, g in got.items() if not g.sure}
        worth = worth_of(rules, got)
        if best is None or worth < key:
            best, key = _Best(one, [ways], got, axes), worth
        elif worth == key and all(
            abs(best.got[n].at - g.at) <= SAME for n, g in got.items() if g.mm > SAME
        ):
            best.ways.append(ways)
        if not any(key):
            break
    best = best or _Best(part, [], {})
    return best._replace(got={n: g._replace(sure=n not in unsure) for n, g in best.got.items()})


def turned(part: Tied) -> tuple[Tied, Ways]:
    """Return how the shapes of a set are turned (degrees) so that its rules hold best, and those.

    Of the places of a figure the rules have the one that was best.
    """
    best = _best(part)
    return best.part, best.ways[0]


def _turns(shape: Shape, ways: Sequence[Ways]) -> tuple[float, ...]:
    return tuple(dict.fromkeys(each[shape.id].turn_deg for each in ways))


def _meant(
    part: Tied, wished: Mapping[str, float], rooms: Callable[[Tied, Ways], Rooms]
) -> dict[str, tuple[float, float]]:
    """Return by how much the point of each rule with a tolerance is missed, in the shape's frame.

    All rules have their tolerance first, then, in their order, their wish within it.
    """
    part, ways = turned(part)
    out: dict[str, tuple[float, float]] = {}
    loose = {r.id: r for r in part.rules if isinstance(r, Tolerant) and _loose(r)}
    for axis, found in enumerate(held(part, ways, rooms=rooms(part, ways), wished=wished).axes):
        for name, got in found.items():
            if name in loose:
                at = min(max(got.at, loose[name].least), loose[name].most)
                along = goes_along(ways[names_of(loose[name])[0]], axis)
                up, side = out.get(name, (0.0, 0.0))
                out[name] = (up + at, side) if along else (up, side + at)
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
    if isinstance(rule, TwoPoints | SamePlace):
        return replace(rule, least=0.0, most=0.0, point_a=other(rule.point_a))
    return rule
