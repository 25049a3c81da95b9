"""The problem made ready for the search: who may lie how, on what ground, bound by what."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from clothwright.geometry.vec import turn_apart
from clothwright.lay.atlas import Atlas, Kind, turned_points
from clothwright.lay.bands import TURN, Span, bands, stands, usable
from clothwright.lay.clearing import lines_of
from clothwright.lay.convex import convex_parts
from clothwright.lay.problem import (
    CLEAR,
    AtFigure,
    CutTogether,
    KeepOff,
    KeepWhole,
    LayProblem,
    OnLine,
    Pinned,
    Point,
    Region,
    Rule,
    SamePhase,
    SamePlace,
    SameTurn,
    Shape,
    TwoPoints,
    Upright,
    names_of,
)
from clothwright.lay.tilt import tilts
from clothwright.lay.turning import Follows, Turning, broken, turning_sets

RAGGED = 0.3
"""A remnant's outline is drawn in by at most this much (mm) so that it has few corners."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One way a shape may lie: its kind and its named points, from the reference point."""

    kind: Kind
    points: dict[str, Point]
    turn: int
    """Which of the shape's allowed turns this is."""
    tilted: bool = False
    """It departs from that turn within the grain's tolerance."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A shape with all its ways to lie and all that binds it.

    rules: those of lines and phases; off: bands it keeps off; upright: prints with a top that some
    way of its lies against; regions: indices of the cloths it may be cut from, the preferred first;
    group: the set that is turned together, and how its turn follows from the set's.
    """

    shape: Shape
    options: tuple[Option, ...]
    rules: tuple[Rule, ...]
    clear: tuple[KeepWhole, ...]
    off: tuple[KeepOff, ...]
    upright: tuple[Upright, ...]
    regions: tuple[int, ...]
    group: int | None
    follows: Follows
    pin: Pinned | None

    @property
    def bound(self) -> bool:
        """Some rule says where it may lie, other than the way its top points and what it keeps off.

        What all of them keep off leaves a narrower cloth, and that is all (`comb.strip`).
        """
        return bool(self.rules or self.clear or self.upright or self.pin)

    def bands(self, option: Option, region: str) -> Iterator[Span]:
        """Yield what an option keeps off on a cloth: from and to, mm across."""
        yield from bands((*self.off, *self.upright), region, option.kind.turn_deg)


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A tie of one shape's point to another's: its = sign * mine + const, modulo the repeat.

    rule: the rule's id; other: the other item; axis: 0 along, 1 across; mine, its: the points.
    """

    rule: str
    other: int
    axis: int
    repeat: float
    sign: float
    const: float
    mine: str
    its: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """One cloth: its usable rectangle, and what lies in the way.

    start, end: usable along the selvedge (end is infinite where the cloth may be overrun);
    limit: the end that a lay should keep; low, high: usable across.
    """

    region: Region
    start: float
    end: float
    limit: float
    low: float
    high: float
    obstacles: tuple[Kind, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """Everything the search needs. groups: per one-way group, the turns all its members allow.

    links: per item, the ties of its points to those of others, modulo a repeat.
    """

    problem: LayProblem
    atlas: Atlas
    items: tuple[Item, ...]
    grounds: tuple[Ground, ...]
    groups: tuple[tuple[float, ...], ...]
    links: tuple[tuple[Link, ...], ...] = ()


def prepare(problem: LayProblem) -> Model:
    """The model of a sound problem (see `sound.check_problem`)."""
    atlas = Atlas(gap=problem.gap)
    names = [region.name for region in problem.regions]
    number = {shape.id: index for index, shape in enumerate(problem.shapes)}
    together = turning_sets(problem.rules)
    member, groups = _groups(problem, together)
    items = []
    for shape in problem.shapes:
        mine = [rule for rule in problem.rules if shape.id in names_of(rule)]
        pin = next((rule for rule in mine if isinstance(rule, Pinned)), None)
        placing = tuple(
            r
            for r in mine
            if not isinstance(r, SameTurn | Pinned | CLEAR | KeepOff | Upright | CutTogether)
        )
        options = _on_figures(_options(shape, mine, pin, atlas), mine)
        wanted = shape.regions or tuple(names)
        if pin is not None:
            wanted = (pin.region,)
        items.append(
            Item(
                shape=shape,
                options=options,
                rules=placing,
                clear=tuple(lines_of(rule, shape) for rule in mine if isinstance(rule, CLEAR)),
                off=tuple(rule for rule in mine if isinstance(rule, KeepOff)),
                upright=tuple(
                    rule
                    for rule in mine
                    if isinstance(rule, Upright)
                    and not all(stands(rule, o.kind.turn_deg) for o in options)
                ),
                regions=tuple(names.index(name) for name in dict.fromkeys(wanted)),
                group=member.get(shape.id),
                follows=next((s[shape.id] for s in together if shape.id in s), Follows()),
                pin=pin,
            )
        )
    grounds = tuple(_ground(region, atlas) for region in problem.regions)
    return Model(
        problem=problem,
        atlas=atlas,
        items=tuple(items),
        grounds=grounds,
        groups=groups,
        links=_links(problem, number),
    )


def _on_figures(options: tuple[Option, ...], rules: Sequence[Rule]) -> tuple[Option, ...]:
    """The options once for each figure that a point may lie on.

    Under the rule's id each has the place that lies on the first figure when the point lies on
    the one that is meant.
    """
    for rule in (r for r in rules if isinstance(r, AtFigure)):
        first, used = rule.centres[0], [axis in rule.axes for axis in ("along", "across")]
        moves = dict.fromkeys(
            (
                round(first[0] - x, 6) if used[0] else 0.0,
                round(first[1] - y, 6) if used[1] else 0.0,
            )
            for x, y in rule.centres
        )
        options = tuple(
            replace(o, points={**o.points, rule.id: _shifted(o.points[rule.point], move)})
            for o in options
            for move in moves
        )
    return options


def _shifted(p: Point, by: Point) -> Point:
    return (p[0] + by[0], p[1] + by[1])


def _links(problem: LayProblem, number: dict[str, int]) -> tuple[tuple[Link, ...], ...]:
    """Every phase rule between two shapes that has a repeat, once from each side."""
    found: list[list[Link]] = [[] for _ in problem.shapes]
    for rule in (r for each in problem.rules for r in _coarse(each)):
        if not isinstance(rule, TwoPoints) or rule.shape_a == rule.shape_b or not rule.repeat:
            continue
        same = isinstance(rule, SamePhase)
        forth, back = (
            (-rule.shift, rule.shift)
            if isinstance(rule, SamePhase)
            else (2.0 * rule.about, 2.0 * rule.about)
        )
        a, b = number[rule.shape_a], number[rule.shape_b]
        ends = ((a, rule.point_a, b, rule.point_b), (b, rule.point_b, a, rule.point_a))
        for (here, mine, there, its), const in zip(ends, (forth, back), strict=True):
            found[here].append(
                Link(
                    rule=rule.id,
                    other=there,
                    axis=("along", "across").index(rule.axis),
                    repeat=rule.repeat,
                    sign=1.0 if same else -1.0,
                    const=const,
                    mine=mine,
                    its=its,
                )
            )
    return tuple(tuple(links) for links in found)


def _coarse(rule: Rule) -> tuple[Rule, ...]:
    """Return what a rule on both axes asks on each alone: its several places are one there."""
    if not isinstance(rule, SamePlace):
        return (rule,)
    shift = rule.shifts[0]
    return tuple(
        replace(one, repeat=one.repeat / len({round(s[k] - shift[k], 6) for s in rule.shifts}))
        for k, one in enumerate(rule.on_axes(shift))
    )


def _groups(
    problem: LayProblem, sets: Sequence[Turning]
) -> tuple[dict[str, int], tuple[tuple[float, ...], ...]]:
    """Sets of shapes that must be turned together, and the turns of each that most of it allows."""
    member = {name: index for index, names in enumerate(sets) for name in names}
    shapes = {shape.id: shape for shape in problem.shapes}
    groups = []
    for names in sets:
        ordered = [shape for shape in problem.shapes if shape.id in names]
        turns = dict.fromkeys(names[s.id].back.of(turn) for s in ordered for turn in s.turns_deg)
        pins = {r.shape: r for r in problem.rules if isinstance(r, Pinned) and r.shape in names}
        fits = {}
        for turn in turns:
            each = {n: follows.of(turn) for n, follows in names.items()}
            allowed = sum(_allows(shapes[n], pins.get(n), t) for n, t in each.items())
            fits[turn] = allowed - broken(problem.rules, each)
        most = max(fits.values(), default=0)
        groups.append(tuple(turn for turn in turns if fits[turn] == most))
    return member, tuple(groups)


def _allows(shape: Shape, pin: Pinned | None, turn: float) -> bool:
    turns = shape.turns_deg if pin is None else (pin.turn_deg,)
    return any(turn_apart(turn, other) <= shape.tilt_deg + TURN for other in turns)


def allowed_options(item: Item, turns: Sequence[float], model: Model) -> list[int]:
    """Indices of the options that the item's one-way group (turn in degrees) leaves."""
    if item.group is None or not model.groups[item.group]:
        return list(range(len(item.options)))
    wanted = item.follows.of(turns[item.group])
    free = item.shape.tilt_deg + TURN
    return [
        number
        for number, option in enumerate(item.options)
        if turn_apart(option.kind.turn_deg, wanted) <= free
    ]


def _options(
    shape: Shape, rules: Sequence[Rule], pin: Pinned | None, atlas: Atlas
) -> tuple[Option, ...]:
    if pin is not None:
        return (_option(shape, pin.turn_deg, pin.flipped, 0, atlas),)
    found = []
    for number, turn in enumerate(shape.turns_deg):
        for flipped in dict.fromkeys(shape.flips):
            level = _levelled(shape, rules, turn, flipped)
            found.append(_option(shape, level, flipped, number, atlas))
    exact = tuple(found) if shape.points else _different(found)
    if shape.tilt_deg <= 0.0 or any(isinstance(r, OnLine) and len(r.points) > 1 for r in rules):
        return exact
    return exact + tuple(
        _tilted(shape, option, tilt, atlas)
        for option in exact
        for tilt in tilts(option.kind.ring, shape.tilt_deg)
    )


def _tilted(shape: Shape, exact: Option, tilt: float, atlas: Atlas) -> Option:
    turn = exact.kind.turn_deg + tilt
    return replace(_option(shape, turn, exact.kind.flipped, exact.turn, atlas), tilted=True)


def _option(shape: Shape, turn: float, flipped: bool, number: int, atlas: Atlas) -> Option:
    return Option(
        kind=atlas.kind(shape.outline, turn, flipped),
        points=turned_points(shape.points, turn, flipped),
        turn=number,
    )


def _different(options: list[Option]) -> tuple[Option, ...]:
    """The options without those that look the same as an earlier one (a square turned round)."""
    kept: dict[bytes, Option] = {}
    for option in options:
        ring = np.round(option.kind.ring - option.kind.low, 4) + 0.0
        order = np.lexsort((ring[:, 1], ring[:, 0]))
        look = ring[order].tobytes() + np.round(option.kind.area, 3).tobytes()
        if not _same_ring(kept.get(look), option):
            kept[look] = option
    return tuple(kept.values())


def _same_ring(known: Option | None, option: Option) -> bool:
    if known is None:
        return False
    a = Polygon(known.kind.ring - known.kind.low)
    b = Polygon(option.kind.ring - option.kind.low)
    return bool(a.symmetric_difference(b).area <= 1e-3)


def _levelled(shape: Shape, rules: Iterable[Rule], turn: float, flipped: bool) -> float:
    """The turn, tilted within the grain's tolerance so that a hem lies level on its line."""
    if shape.tilt_deg <= 0.0:
        return turn
    for rule in rules:
        if isinstance(rule, OnLine) and len(rule.points) > 1 and rule.shape == shape.id:
            points = turned_points(shape.points, turn, flipped)
            ends = np.asarray([points[name] for name in rule.points])
            far = ends[int(np.argmax(np.hypot(*(ends - ends[0]).T)))] - ends[0]
            along = math.degrees(math.atan2(far[1], far[0]))
            wanted = 0.0 if rule.axis == "across" else 90.0
            tilt = (wanted - along + 90.0) % 180.0 - 90.0
            if 0.0 < abs(tilt) <= shape.tilt_deg:
                return turn + tilt
    return turn


def _ground(region: Region, atlas: Atlas) -> Ground:
    obstacles = [_flaw(ring, atlas) for ring in region.keep_out]
    if region.outline is not None and (outside := _outside(region)):
        obstacles.append(atlas.fixed(outside))
    (start, limit), (low, high) = usable(region, 0), usable(region, 1)
    return Ground(
        region=region,
        start=start,
        end=math.inf if region.outline is None else limit,
        limit=limit,
        low=low,
        high=high,
        obstacles=tuple(obstacles),
    )


def _flaw(ring: tuple[Point, ...], atlas: Atlas) -> Kind:
    poly = shapely.geometry.polygon.orient(Polygon(ring))
    return atlas.fixed(convex_parts(poly, bulge=0.2))


def _outside(region: Region) -> tuple[np.ndarray, ...]:
    """What of the rectangle round a remnant is not cloth, as convex parts."""
    cloth = Polygon(region.outline)
    lean = cloth.buffer(-RAGGED / 2, join_style="mitre").simplify(RAGGED / 2)
    if len(cloth.exterior.coords) > 60 and cloth.buffer(1e-6).covers(lean):
        cloth = lean
    left, low, right, high = cloth.bounds
    box = shapely.box(left - 50.0, min(low, 0.0) - 50.0, right + 50.0, max(high, 0.0) + 50.0)
    parts: list[np.ndarray] = []
    for part in shapely.get_parts(box.difference(cloth)):
        if part.area > 1e-6:
            parts.extend(_pieces(part))
    return tuple(parts)


def _pieces(part: BaseGeometry) -> tuple[np.ndarray, ...]:
    return convex_parts(part, bulge=0.0)
