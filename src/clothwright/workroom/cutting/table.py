"""The lay that lies on the table, and one piece of it tried somewhere else."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, CannotDo, did_you_mean, garbled
from clothwright.lay.judge import judge
from clothwright.lay.lying import lie, moved_points
from clothwright.lay.model import names_of
from clothwright.lay.problem import (
    LayProblem,
    Pinned,
    Point,
    Rule,
    Shape,
)
from clothwright.lay.result import Lay, Placement
from clothwright.lay.track import Asking, Track, track
from clothwright.lay.track import LaidShape as LaidPoints
from clothwright.pattern.finding import Severity
from clothwright.rules.laid import Laid, lay_mark
from clothwright.store import Opened
from clothwright.store.beside.lays import kept_lay
from clothwright.store.beside.places import lay_file
from clothwright.units import Unit
from clothwright.words import say, show_length
from clothwright.workroom.searching.laying import placed_at
from clothwright.workroom.searching.lays import Lays, LayState

NEAR_TEETH = 40
"""How many repeats either way are looked through for a place that keeps several rules."""
YIELDING = ("lay-overlap", "lay-gap")
"""Faults against pieces that are not pinned: the rest gives way when it is laid anew."""
MOST_MM = 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A lay as it lies on the table.

    laid: the lay, with the problem as it is now. fresh: it was searched for as the problem is now;
    else it is the lay kept last, with the pinned pieces where they were pinned since.
    mark: fingerprint of where everything lies; the ticks of the laying list belong to it.
    """

    laid: Laid
    fresh: bool
    mark: str
    shapes: Mapping[str, Shape]
    places: Mapping[str, Placement]
    rules: Mapping[str, tuple[Rule, ...]]
    points: Mapping[str, LaidPoints]
    pins: frozenset[str]

    @property
    def problem(self) -> LayProblem:
        """The lay problem as it is now."""
        return self.laid.compiled.problem


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


# --- what lies on the table -----------------------------------------------------------------------


def table_of(lays: Lays, at: Opened) -> tuple[LayState, Table | None]:
    """Return the state of the chosen plan's lay, and what lies on the table. Raises BadInput.

    at: the workbook as it is looked at.
    """
    state = lays.state()
    if state.stage == "failed" and state.laid is None and not state.busy:
        return state, None
    if state.laid is not None and state.laid.lay.placements:
        laid = state.laid
        made = lays.opened.once(
            "table", at.revision, lambda: _table(laid), of=(state.plan, lay_mark(laid.lay))
        )
        return state, made
    file = lay_file(lays.opened.folder, state.plan)
    try:
        seen = file.stat().st_mtime_ns
    except OSError:
        return state, None
    kept = lays.opened.once(
        "kept table", at.revision, lambda: _as_kept(lays, at, state.plan), of=(state.plan, seen)
    )
    return state, kept


def _table(laid: Laid, *, fresh: bool = True) -> Table:
    problem = laid.compiled.problem
    shapes = {s.id: s for s in problem.shapes}
    rules: dict[str, list[Rule]] = {s: [] for s in shapes}
    for rule in problem.rules:
        for name in {n for n in names_of(rule) if n in rules}:
            rules[name].append(rule)
    places = {p.shape: p for p in laid.lay.placements}
    return Table(
        laid=laid,
        fresh=fresh,
        mark=lay_mark(laid.lay),
        shapes=shapes,
        places=places,
        rules={n: tuple(r) for n, r in rules.items()},
        points={n: LaidPoints(points=_points(shapes[n], p)) for n, p in places.items()},
        pins=frozenset(r.shape for r in problem.rules if isinstance(r, Pinned)),
    )


def _as_kept(lays: Lays, at: Opened, plan: str) -> Table | None:
    """Return the lay kept last, with the pins as they are now, whatever it was laid for."""
    start = lays.start_of(at, plan)
    problem = start.compiled.problem
    shapes = {s.id: s for s in problem.shapes}
    kept = kept_lay(lays.opened.folder, plan)
    if kept is None:
        return None
    places = {
        p.shape: placed_at(shapes[p.shape], p)
        for p in (() if kept.folds else kept.placements)
        if p.shape in shapes
    }
    known = {r.name for r in problem.regions}
    places = {n: p for n, p in places.items() if p.region in known}
    for rule in problem.rules:
        if isinstance(rule, Pinned) and rule.shape in shapes:
            places[rule.shape] = lie(
                shapes[rule.shape],
                region=rule.region,
                x=rule.x,
                y=rule.y,
                turn_deg=rule.turn_deg,
                flipped=rule.flipped,
            )
    if not places:
        return None
    return _table(replace(start, lay=_lay_of(problem, places)), fresh=False)


def _lay_of(problem: LayProblem, places: Mapping[str, Placement]) -> Lay:
    """Return a lay of these places, with what it says of itself measured anew."""
    used, over = {}, 0.0
    for region in problem.regions:
        ends = [x for p in places.values() if p.region == region.name for x, _ in p.outline]
        used[region.name] = max(ends, default=0.0)
        end = region.length
        if end is None and region.outline is not None:
            end = max(x for x, _ in region.outline)
        if end is not None:
            over = max(over, used[region.name] - (end - region.margin_end))
    over = over if over > 0.01 else 0.0
    gone = {s.id: "it is new since the lay was made" for s in problem.shapes if s.id not in places}
    return Lay(
        placements=tuple(places.values()),
        unplaced=gone,
        used=used,
        fits=not gone and not over,
        short_by=over,
        stopped="moved by hand",
    )


# --- one piece tried ------------------------------------------------------------------------------


def shape_named(table: Table, name: str) -> Shape:
    """Return a shape that lies on the table. Raises BadInput."""
    if name not in table.places:
        raise BadInput(
            where="piece",
            what=f'"{name[:60]}" does not lie on the table.{did_you_mean(name, table.places)}',
            expected="a piece of the lay",
        )
    return table.shapes[name]


def track_of(table: Table, place: Placement, axis: int) -> Track | None:
    """Return where its rules let a piece lie on an axis (0 along, 1 across), others as they are."""
    shape = table.shapes[place.shape]
    here = lie(
        shape, region=place.region, x=0.0, y=0.0, turn_deg=place.turn_deg, flipped=place.flipped
    )
    laid = {n: p for n, p in table.points.items() if n != place.shape}
    asking = Asking(shape=place.shape, points=_points(shape, here), laid=laid, axis=axis)
    return track(asking, table.rules[place.shape])


def held_words(table: Table, name: str, unit: Unit) -> tuple[str, ...]:
    """Say in sentences where the rules let a piece lie."""
    out = []
    for axis, way in enumerate(("along the cloth", "across the cloth")):
        found = track_of(table, table.places[name], axis)
        if found is None:
            out.append(f"Its rules contradict each other {way}.")
        elif found.value is not None:
            out.append(f"Held on one line {way} by the plan.")
        elif not found.free:
            out.append(f"Only every {show_length(found.repeat, unit)} {way}, by the print.")
    return tuple(out)


def _nearest(found: Track | None, wanted: float, was: float, step: float) -> float:
    """Return the nearest place on a track; a step goes at least to the next place its way."""
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


def try_place(table: Table, wanted: Wanted, unit: Unit) -> Tried:
    """Return the nearest place that keeps the piece's rules, judged there. Raises BadInput."""
    shape = shape_named(table, wanted.shape)
    was = table.places[wanted.shape]
    if not (abs(wanted.x) < MOST_MM and abs(wanted.y) < MOST_MM and abs(wanted.turn_deg) < 3600):
        raise garbled()
    place = replace(was, turn_deg=wanted.turn_deg, flipped=wanted.flipped)
    x = _nearest(track_of(table, place, 0), wanted.x, wanted.came[0], wanted.step[0])
    y = _nearest(track_of(table, place, 1), wanted.y, wanted.came[1], wanted.step[1])
    there = lie(
        shape, region=was.region, x=x, y=y, turn_deg=wanted.turn_deg, flipped=wanted.flipped
    )
    return _judged(table, there, unit)


def try_by_hand(lays: Lays, at: Opened, shape: str, wanted: Wanted | None) -> Tried:
    """Return a piece of the chosen plan's lay tried where it was put, judged there.

    wanted: None for its next allowed turn. Raises BadInput, and CannotDo where pieces are not moved
    by hand.
    """
    table = laid_table(lays, at)
    shape_named(table, shape)
    if table.laid.folds:
        raise CannotDo(
            what="a piece cannot be moved by hand", why="the cloth is folded, both layers are cut"
        )
    return try_place(table, wanted or turned(table, shape), at.book.unit)


def laid_table(lays: Lays, at: Opened) -> Table:
    """Return what lies on the table. Raises CannotDo when nothing does yet, BadInput."""
    table = table_of(lays, at)[1]
    if table is None:
        raise CannotDo(what="nothing can be moved or printed", why="this plan is not laid yet")
    return table


def turned(table: Table, name: str) -> Wanted:
    """Return a piece in its next allowed turn or side, about its middle. Raises BadInput."""
    shape = shape_named(table, name)
    was = table.places[name]
    ways = [(t, f) for f in shape.flips for t in shape.turns_deg] or [(was.turn_deg, was.flipped)]
    near = min(
        range(len(ways)),
        key=lambda i: (
            ways[i][1] != was.flipped,
            abs((ways[i][0] - was.turn_deg + 180) % 360 - 180),
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


def _judged(table: Table, there: Placement, unit: Unit) -> Tried:
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
