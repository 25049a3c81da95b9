"""A first look at the print on the pieces, from a plan's rules alone, and what can be slid in it.

What the rules leave free can be slid, and what they fix as well: sliding is another plan, with the
place that the print has then as a rule. Nothing is laid; pieces may overlap on the cloth.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.motions import band, ground
from clothwright.cloth.prints import Print
from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import Copy, points_of
from clothwright.lay.floating import Floating, Lattice, comes_again, floating
from clothwright.lay.lying import moved_points
from clothwright.lay.problem import Point, Rule
from clothwright.lay.result import Placement
from clothwright.lay.track import AXES
from clothwright.pattern.parts import held_together
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.rules.compile import compile_stated
from clothwright.rules.following import followed
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.known import kind_of
from clothwright.rules.names import pieces_of
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.printed import printed_at
from clothwright.rules.stating import stated
from clothwright.rules.table import CuttingTable, Landmark, WrongRule

SLANT = 0.5
"""As much of its way up as this must go to the side as well for the print to move slantwise."""
SHIFT_MM = 100.0
"""mm: a border is slid no further than this, or its own height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """One thing that can be slid. key: names it. upright: up and down, else to the sides.

    slant: on the bias, 1 when what moves up moves to the right as well, -1 to the left, 2 when it
    does the one on some pieces and the other on others; else 0.
    pieces: whose print moves. most: mm either way. moves: by the shape, how far it moves along and
    across on the cloth for 1 mm that the print moves up, or to the right as it is seen.
    """

    key: str
    upright: bool
    slant: int
    pieces: tuple[str, ...]
    most: float
    moves: Mapping[str, tuple[float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstLook:
    """A plan as its rules alone put its pieces on the print. table: its copies as they may lie."""

    plan: Plan
    compiled: Compiled
    table: CuttingTable
    seen: Floating
    slides: tuple[Slide, ...] = ()


def first_look(pattern: Pattern, cloths: Sequence[Cloth], plan: Plan) -> FirstLook:
    """Return the pieces on the print, and what can be slid. Raises BadInput, Mistakes."""
    look = looked_at(pattern, cloths, plan)
    places = {p.shape: p for p in look.seen.lay.placements}
    found = []
    for one in _handles(pattern, look):
        rules = one.slid(look, 1.0)
        if look.compiled.gave_way:
            new = looked_at(pattern, cloths, replace(plan, rules=rules)).compiled
        else:
            new = _restated(pattern, look, rules)
        moves = {
            p.shape: step
            for p in _seen(new).lay.placements
            if any(step := _step(new, places[p.shape], p))
        }
        pieces = tuple(dict.fromkeys(look.compiled.copy(s).piece.name for s in moves))
        if moves:
            found.append(
                Slide(
                    key=one.key,
                    upright=one.upright,
                    slant=_slant(look, moves),
                    pieces=pieces,
                    most=one.most,
                    moves=moves,
                )
            )
    return replace(look, slides=tuple(found))


def slid(pattern: Pattern, look: FirstLook, amounts: Mapping[str, float]) -> Plan:
    """Return the plan with its print slid: by a slide's key, mm up or to the right.

    Places that were free become rules of their own; a slide that is not there is left out.
    """
    plan = look.plan
    for one in _handles(pattern, look):
        if mm := amounts.get(one.key, 0.0):
            plan = replace(plan, rules=one.slid(replace(look, plan=plan), mm))
    return plan


def looked_at(pattern: Pattern, cloths: Sequence[Cloth], plan: Plan) -> FirstLook:
    """Return the pieces on the print, nothing to slide. Raises BadInput, Mistakes."""
    found = stated(pattern, cloths, plan)
    compiled = compile_stated(found, plan)
    return FirstLook(plan=plan, compiled=compiled, table=found.table, seen=_seen(compiled))


def _seen(compiled: Compiled) -> Floating:
    lattices = {c.name: _lattice(c.print) for c in compiled.cloths}
    anchors = {c.id: _anchor(c, compiled) for c in compiled.copies}
    return floating(compiled.problem, lattices, anchors)


def _restated(pattern: Pattern, look: FirstLook, rules: Sequence[PlacingRule]) -> Compiled:
    """Return a look's problem with the rules that are other ones, or more, stated anew."""
    asked: dict[str, Rule] = {}
    for number, rule in enumerate(rules, start=1):
        if rule not in look.plan.rules[number - 1 : number]:
            for now in followed(rule, pattern, look.plan.rules):
                mine = kind_of(now).asks(now, look.table)
                for each in (r for r in mine if not isinstance(r, Landmark)):
                    asked[f"{number} {each.id}"] = replace(each, id=f"{number} {each.id}")
    problem = look.compiled.problem
    old = tuple(asked.pop(r.id, r) for r in problem.rules)
    new = replace(problem, rules=(*old, *asked.values()))
    return replace(look.compiled, problem=new)


def _anchor(copy: Copy, compiled: Compiled) -> tuple[str, Point]:
    """Return a point of a copy, and where it is put if free (mm): on a mirror line of the print."""
    shape = next(s for s in compiled.problem.shapes if s.id == copy.id)
    design = compiled.cloth(shape.regions[0]).print
    ways = ((design.origin_along, design.axes_along), (design.origin_across, design.axes_across))
    x, y = (origin + next(iter(axes), 0.0) for origin, axes in ways)
    return _point(copy.piece, points_of(copy)), (x, y)


def _lattice(design: Print) -> Lattice:
    """Return where a print comes again; along, a border's repeat where the ground has none."""
    all_over = ground(design)
    along, across = all_over.period
    borders = (band(b, design).period[0] for b in design.borders)
    along = along or next((p for p in borders if p), None)
    level = (all_over.level(0) or along, all_over.level(1))
    return Lattice((along, across), all_over.shifts, level)


def _step(new: Compiled, was: Placement, now: Placement) -> tuple[float, float]:
    """Return how far a shape has moved on the cloth, mm, but for where the print comes again."""
    lattice = _lattice(new.cloth(was.region).print)
    own = [comes_again(new.problem.rules, was.shape, axis) for axis in AXES]
    along, across = (o or p for o, p in zip(own, lattice.period, strict=True))
    tried = [
        (_wrapped(now.x - was.x - dx, along), _wrapped(now.y - was.y - dy, across))
        for dx, dy in lattice.shifts
    ]
    return min(tried, key=lambda step: math.hypot(*step))


def _slant(look: FirstLook, moves: Mapping[str, tuple[float, float]]) -> int:
    """Return the slant of a slide, as `Slide` has it, from how each shape moves on the cloth."""
    signs = set[int]()
    for place in look.seen.lay.placements:
        dx, dy = moves.get(place.shape, (0.0, 0.0))
        t = math.radians(place.turn_deg)
        up, right = dx * math.cos(t) + dy * math.sin(t), dx * math.sin(t) - dy * math.cos(t)
        if SLANT * abs(up) < abs(right) < abs(up) / SLANT:
            signs.add(1 if up * right > 0 else -1)
    return 2 if len(signs) > 1 else next(iter(signs), 0)


def _wrapped(mm: float, period: float | None) -> float:
    return round(mm if period is None else (mm + period / 2.0) % period - period / 2.0, 6)


# --- what can be taken hold of --------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _OfBorder:
    """What lies on one border with pieces that are sewn side by side. numbers: of its rules."""

    numbers: tuple[int, ...]
    most: float
    upright: bool = True

    @property
    def key(self) -> str:
        return "border " + " ".join(map(str, self.numbers))

    def slid(self, look: FirstLook, mm: float) -> tuple[PlacingRule, ...]:
        return tuple(
            replace(r, above=r.above - mm) if isinstance(r, OnBorder) and n in self.numbers else r
            for n, r in enumerate(look.plan.rules, start=1)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _OfPhase:
    """A point at a place of the repeat on one axis. number: of its rule, 0 for one still to be.

    up: mm on the axis by which the print moves for 1 mm up or to the right; rule: as it is now.
    """

    number: int
    rule: AtPhase
    axis: str
    up: float
    repeat: float
    upright: bool

    @property
    def key(self) -> str:
        return f"{self.number or self.rule.piece} {self.axis}"

    @property
    def most(self) -> float:
        return self.repeat / 2.0

    def slid(self, look: FirstLook, mm: float) -> tuple[PlacingRule, ...]:
        place = ((getattr(self.rule, self.axis) or 0.0) - mm * self.up) % self.repeat
        rules = look.plan.rules
        if not self.number:
            return (*rules, _put(self.rule, self.axis, place))
        there = _put(rules[self.number - 1], self.axis, place)
        return (*rules[: self.number - 1], there, *rules[self.number :])


def _put(rule: PlacingRule, axis: str, mm: float) -> PlacingRule:
    if not isinstance(rule, AtPhase):
        return rule
    return replace(rule, along=mm) if axis == "along" else replace(rule, across=mm)


def _handles(pattern: Pattern, look: FirstLook) -> Iterator[_OfBorder | _OfPhase]:
    """Yield what a print can be taken by: borders, places that rules say, places that are free."""
    yield from _borders(pattern, look)
    placed = {p.shape: p for p in look.seen.lay.placements}
    for number, rule in enumerate(look.plan.rules, start=1):
        first = next((c.id for c in look.compiled.copies if c.piece.name in pieces_of(rule)), "")
        if isinstance(rule, AtPhase) and first:
            for axis in (a for a in AXES if getattr(rule, a) is not None):
                yield from _phase(look, placed[first], rule, number, axis)
    for k in (0, 1):
        pieces = dict.fromkeys(look.compiled.copy(s).piece.name for s in look.seen.free[k])
        for piece in pieces:
            yield from _free(look, piece, k)


def _borders(pattern: Pattern, look: FirstLook) -> Iterator[_OfBorder]:
    """Yield each border with the pieces on it that are sewn side by side."""
    on = {n: r for n, r in enumerate(look.plan.rules, start=1) if isinstance(r, OnBorder)}
    high = {b.name: b.height for c in look.compiled.cloths for b in c.print.borders}
    for group in held_together(pattern, [r.piece for r in on.values()], kinds=("plain",)):
        mine = {n: r.border for n, r in on.items() if r.piece in group}
        for name in dict.fromkeys(mine.values()):
            numbers = tuple(n for n, border in mine.items() if border == name)
            yield _OfBorder(numbers=numbers, most=min(SHIFT_MM, high.get(name, SHIFT_MM)))


def _free(look: FirstLook, piece: str, k: int) -> Iterator[_OfPhase]:
    """Yield the place of a piece that nothing says on an axis (0 along, 1 across), as it is now."""
    copies = [c for c in look.compiled.copies if c.piece.name == piece]
    bordered = any(isinstance(r, OnBorder) and r.piece == piece for r in look.plan.rules)
    own = [c for c in copies if c.id in look.seen.free[k]]
    points = points_of(own[0])
    point = _point(own[0].piece, points)
    lies = next(p for p in look.seen.lay.placements if p.shape == own[0].id)
    if not bordered and not any(ground(look.compiled.cloth(lies.region).print).says):
        return
    here = moved_points([points[point]], lies.x, lies.y, lies.turn_deg, lies.flipped)[0]
    at = here[k] - look.compiled.cloth(lies.region).print.origin(AXES[k])
    some = "all" if len(own) == len(copies) else "first"
    along, across = (at, None) if k == 0 else (None, at)
    rule = AtPhase(piece=piece, point=point, copies=some, along=along, across=across)
    yield from _phase(look, lies, rule, 0, AXES[k])


def _phase(
    look: FirstLook, lies: Placement, rule: AtPhase, number: int, axis: str
) -> Iterator[_OfPhase]:
    """Yield a place of the repeat, where what is printed at the point repeats that way."""
    k, one = AXES.index(axis), look.table.lying[lies.shape]
    try:
        place = points_of(one.copy)[rule.point]
        design = printed_at(look.table, one, place, name=rule.point, field=axis)
        repeat = design.repeat(axis, axis, alone=None in (rule.along, rule.across))
    except WrongRule:
        return
    if not repeat:
        return
    turn = math.radians(lies.turn_deg)
    up, right = (math.cos(turn), math.sin(turn)), (math.sin(turn), -math.cos(turn))
    upright = abs(up[k]) >= abs(right[k]) - 1e-9
    yield _OfPhase(
        number=number,
        rule=rule,
        axis=axis,
        up=up[k] if upright else right[k],
        repeat=repeat,
        upright=upright,
    )


def _point(piece: Piece, points: Mapping[str, Point]) -> str:
    """Return the point of a piece by which its print is placed: on its fold or centre, else any."""
    middle = [f"{e.name} middle" for e in piece.edges if e.role in (Role.FOLD, Role.CENTRE)]
    return next((name for name in middle if name in points), next(iter(points)))
