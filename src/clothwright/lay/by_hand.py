"""A lay on the table, and one piece of it tried somewhere else by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from clothwright.errors import BadInput, CannotDo, Sentence, did_you_mean, garbled, joined
from clothwright.geometry.vec import turn_apart
from clothwright.lay.judge import judge
from clothwright.lay.lying import lie, moved_points, overrun, used_on
from clothwright.lay.naming import quoted
from clothwright.lay.phases import lies, nearest_places, pointed
from clothwright.lay.problem import (
    AtFigure,
    LayProblem,
    Pinned,
    Point,
    Rule,
    Shape,
    cut_of,
    names_of,
)
from clothwright.lay.result import Lay, Placement
from clothwright.lay.track import LaidShape, Track, TriedShape, on_nearest, track
from clothwright.pattern.finding import Severity
from clothwright.units import Unit
from clothwright.words import say, show_length

NEAR_TEETH = 40
"""How many repeats either way are looked through for a place that keeps several rules."""
YIELDING = ("lay-overlap", "lay-gap")
"""Faults against pieces that are not pinned: the rest gives way when it is laid anew."""
MOST_MM = 1e6


@dataclass(frozen=True, kw_only=True)
class LaidOut:
    """A lay as it lies on the table. problem: as it is now; places: by the shapes' names."""

    problem: LayProblem
    places: Mapping[str, Placement]

    @cached_property
    def shapes(self) -> Mapping[str, Shape]:
        """Every shape by its name, those that do not lie anywhere too."""
        return {s.id: s for s in self.problem.shapes}

    @cached_property
    def rules(self) -> Mapping[str, tuple[Rule, ...]]:
        """The rules that speak of a shape, by its name."""
        found: dict[str, list[Rule]] = {s: [] for s in self.shapes}
        for rule in self.problem.rules:
            for name in {n for n in names_of(rule) if n in found}:
                found[name].append(rule)
        return {n: tuple(r) for n, r in found.items()}

    @cached_property
    def exact(self) -> LaidOut:
        """The same, each rule at the place of its tolerance where it lies now."""
        problem = nearest_places(self.problem, self.places)
        exact = pointed(problem, lies(problem, self.places))
        return replace(self, problem=exact)

    @cached_property
    def points(self) -> Mapping[str, LaidShape]:
        """The points of each shape where they lie."""
        return {n: LaidShape(points=_points(self.shapes[n], p)) for n, p in self.places.items()}

    @cached_property
    def pins(self) -> frozenset[str]:
        """The names of the shapes that are pinned, those that are cut too."""
        return frozenset(r.shape for r in self.problem.rules if isinstance(r, Pinned))

    @cached_property
    def cut(self) -> frozenset[str]:
        """The names of the shapes that are cut, and moved no more."""
        return frozenset(cut_of(self.problem))


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One piece tried at a place.

    place: the nearest place that keeps its rules. faults: what is wrong there, in sentences.
    over: the pieces it lies on or too near to. may_pin: it can be pinned there; what lies under it
    and is not pinned itself gives way when the rest is laid anew.
    """

    place: Placement
    faults: tuple[str, ...] = ()
    over: tuple[str, ...] = ()
    may_pin: bool = True


def _points(shape: Shape, p: Placement) -> dict[str, Point]:
    moved = moved_points(tuple(shape.points.values()), p.x, p.y, p.turn_deg, p.flipped)
    return dict(zip(shape.points, moved, strict=True))


def lay_of(problem: LayProblem, places: Mapping[str, Placement]) -> Lay:
    """Return a lay of these places, with what it says of itself measured anew."""
    used = {r.name: used_on(r.name, places.values()) for r in problem.regions}
    over = max((overrun(r, used[r.name]) for r in problem.regions), default=0.0)
    gone = {s.id: "it is new since the lay was made" for s in problem.shapes if s.id not in places}
    return Lay(
        placements=tuple(places.values()),
        unplaced=gone,
        used=used,
        fits=not gone and not over,
        short_by=over,
        stopped="moved by hand",
    )


def shape_named(table: LaidOut, name: str) -> Shape:
    """Return a shape that lies on the table. Raises BadInput."""
    if name not in table.places:
        raise BadInput(
            where="piece",
            what=f'"{name[:60]}" does not lie on the table.{did_you_mean(name, table.places)}',
            expected="a piece of the lay",
        )
    return table.shapes[name]


def _movable(table: LaidOut, name: str) -> Shape:
    """Return a shape that may be moved. Raises BadInput, and CannotDo for one that is cut."""
    shape = shape_named(table, name)
    if name in table.cut:
        raise CannotDo(
            what=f'"{name}" cannot be moved',
            why="it is cut already, and stays where it lies",
            nearest="to take its tick back in the list, if it is not cut after all",
        )
    return shape


def track_of(table: LaidOut, place: Placement, axis: int) -> Track | None:
    """Return where its rules let a piece lie on an axis (0 along, 1 across), others as they are.

    Of several figures of the print that a point may lie on, the one nearest to where it is now.
    """
    table = table.exact
    return _track(table, place, axis, table.rules[place.shape])


def _track(table: LaidOut, place: Placement, axis: int, rules: tuple[Rule, ...]) -> Track | None:
    shape = table.shapes[place.shape]
    here = lie(
        shape, region=place.region, x=0.0, y=0.0, turn_deg=place.turn_deg, flipped=place.flipped
    )
    laid = {n: p for n, p in table.points.items() if n != place.shape}
    points = _points(shape, here)
    points |= {
        r.id: on_nearest(r, points[r.point], (place.x, place.y))
        for r in rules
        if isinstance(r, AtFigure)
    }
    return track(TriedShape(shape=place.shape, points=points, laid=laid, axis=axis), rules)


def held_words(table: LaidOut, name: str, unit: Unit) -> tuple[str, ...]:
    """Say in sentences where the rules let a piece lie."""
    if name in table.cut:
        return ("It is cut, and stays where it lies.",)
    out = []
    for axis, way in enumerate(("along the cloth", "across the cloth")):
        found = track_of(table, table.places[name], axis)
        if found is None:
            out.append(say(_at_odds(table, table.places[name], axis), unit))
        elif found.value is not None:
            out.append(f"Held on one line {way} by the plan.")
        elif not found.free:
            out.append(f"Only every {show_length(found.repeat, unit)} {way}, by the print.")
    return tuple(out)


def _at_odds(table: LaidOut, place: Placement, axis: int) -> Sentence:
    """Say which rules a piece cannot keep together on an axis: none of them can be left out."""
    exact = table.exact
    rules = exact.rules[place.shape]
    for rule in reversed(rules):
        fewer = tuple(r for r in rules if r is not rule)
        if _track(exact, place, axis, fewer) is None:
            rules = fewer
    way = "along" if axis == 0 else "across"
    first = f"As the other pieces lie, its rules cannot all be kept {way} the cloth: "
    return joined(first, quoted(table.problem, rules), ".")


def nearest(found: Track | None, wanted: float, was: float, step: float) -> float:
    """Return the nearest place (mm) on a track; a step goes at least to the next one its way."""
    if found is None or found.free:
        return wanted
    if found.value is not None:
        return found.value
    reach = NEAR_TEETH * found.repeat
    teeth = found.teeth(wanted - reach, wanted + reach)
    if step:
        on = [t for t in teeth if (t - was) * step > 0.5 * abs(step)]
        if on:
            return min(on, key=lambda t: abs(t - wanted))
    return min(teeth, key=lambda t: abs(t - wanted), default=wanted)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Where a piece was put: mm and degrees on its cloth.

    step: mm it was pushed by a key (along, across), else zeros. came: where from, when pushed.
    """

    shape: str
    x: float
    y: float
    turn_deg: float
    flipped: bool
    step: Point = (0.0, 0.0)
    came: Point = (0.0, 0.0)


def try_place(table: LaidOut, wanted: Wanted, unit: Unit) -> Tried:
    """Return the nearest place that keeps the piece's rules, judged there.

    Raises BadInput, and CannotDo for a piece that is cut.
    """
    shape = _movable(table, wanted.shape)
    was = table.places[wanted.shape]
    if not (abs(wanted.x) < MOST_MM and abs(wanted.y) < MOST_MM and abs(wanted.turn_deg) < 3600):
        raise garbled()
    place = replace(was, x=wanted.x, y=wanted.y, turn_deg=wanted.turn_deg, flipped=wanted.flipped)
    x = nearest(track_of(table, place, 0), wanted.x, wanted.came[0], wanted.step[0])
    y = nearest(track_of(table, place, 1), wanted.y, wanted.came[1], wanted.step[1])
    there = lie(
        shape, region=was.region, x=x, y=y, turn_deg=wanted.turn_deg, flipped=wanted.flipped
    )
    return _judged(table, there, unit)


def turned(table: LaidOut, name: str) -> Wanted:
    """Return a piece in its next allowed turn or side, about its middle. As `try_place`."""
    shape = _movable(table, name)
    was = table.places[name]
    ways = [(t, f) for f in shape.flips for t in shape.turns_deg] or [(was.turn_deg, was.flipped)]
    near = min(
        range(len(ways)),
        key=lambda i: (
            ways[i][1] != was.flipped,
            turn_apart(ways[i][0], was.turn_deg),
        ),
    )
    turn, flipped = ways[(near + 1) % len(ways)]
    there = lie(shape, region=was.region, x=0.0, y=0.0, turn_deg=turn, flipped=flipped)
    (ax, ay), (bx, by) = _middle(was), _middle(there)
    return Wanted(shape=name, x=ax - bx, y=ay - by, turn_deg=turn, flipped=flipped)


def may_turn(shape: Shape) -> bool:
    """Tell whether a piece may lie in more than one way."""
    return len(shape.flips) * len(shape.turns_deg) > 1


def _middle(p: Placement) -> Point:
    xs, ys = [q[0] for q in p.outline], [q[1] for q in p.outline]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _judged(table: LaidOut, there: Placement, unit: Unit) -> Tried:
    """Judge one piece at a place against those near it and those its rules speak of."""
    rules = tuple(r for r in table.rules[there.shape] if not isinstance(r, Pinned))
    tied = {n for r in rules for n in names_of(r)}
    problem = table.problem
    others = tuple(
        p
        for n, p in table.places.items()
        if n != there.shape
        and p.region == there.region
        and (n in tied or _near(p, there, problem.gap))
    )
    far = tuple(table.places[n] for n in tied if n in table.places and n != there.shape)
    near = {p.shape: p for p in (*far, *others)}
    small = replace(
        problem,
        shapes=(*(table.shapes[n] for n in near), table.shapes[there.shape]),
        rules=rules,
    )
    found = judge(small, Lay(placements=(*near.values(), there), fits=True))
    faults, over, may_pin = [], [], True
    for f in found:
        mine = f.where.point == there.shape or f.code == "lay-rule"
        if f.severity is not Severity.FAULT or not mine:
            continue
        faults.append(say(f.words, unit))
        if f.code in YIELDING:
            over.append(f.where.other)
            may_pin = may_pin and f.where.other not in table.pins
        else:
            may_pin = False
    return Tried(place=there, faults=tuple(faults), over=tuple(over), may_pin=may_pin)


def _near(a: Placement, b: Placement, gap: float) -> bool:
    ax, ay = [q[0] for q in a.outline], [q[1] for q in a.outline]
    bx, by = [q[0] for q in b.outline], [q[1] for q in b.outline]
    return (
        min(ax) <= max(bx) + gap
        and min(bx) <= max(ax) + gap
        and min(ay) <= max(by) + gap
        and min(by) <= max(ay) + gap
    )
