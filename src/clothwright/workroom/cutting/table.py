"""What lies on the table: the lay of the chosen plan, and a piece of it tried somewhere else."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.errors import CannotDo
from clothwright.lay.by_hand import LaidOut, Tried, Wanted, lay_of, shape_named, try_place, turned
from clothwright.lay.lying import lie_pinned
from clothwright.lay.problem import Pinned, Point, cut_of
from clothwright.rules.weighing.laid import Laid, lay_mark
from clothwright.store import Opened
from clothwright.store.beside.lays import kept_lay
from clothwright.store.beside.places import lay_file
from clothwright.workroom.searching.laying import placed_at
from clothwright.workroom.searching.lays import Lays, LayState


@dataclass(frozen=True, slots=True, kw_only=True)
class OnTable:
    """A lay as it lies on the table.

    laid: the lay, with the problem as it is now. fresh: it was searched for as the problem is now;
    else it is the lay kept last, with the pinned pieces where they were pinned since.
    mark: fingerprint of where everything lies; the ticks of the laying list belong to it.
    """

    laid: Laid
    fresh: bool
    mark: str
    table: LaidOut


def table_of(lays: Lays, at: Opened) -> tuple[LayState, OnTable | None]:
    """Return the state of the chosen plan's lay, and what lies on the table. Raises BadInput.

    at: the workbook as it is looked at.
    """
    state = lays.state()
    if state.stage == "failed" and state.laid is None and not state.busy:
        return state, None
    if state.laid is not None and state.laid.lay.placements:
        laid = state.laid
        made = lays.opened.once(
            "table",
            at.revision,
            lambda: _on_table(laid, fresh=True),
            of=(state.plan, lay_mark(laid.lay)),
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


def _on_table(laid: Laid, *, fresh: bool) -> OnTable:
    places = {p.shape: p for p in laid.lay.placements}
    table = LaidOut(problem=laid.compiled.problem, places=places)
    return OnTable(laid=laid, fresh=fresh, mark=lay_mark(laid.lay), table=table)


def _as_kept(lays: Lays, at: Opened, plan: str) -> OnTable | None:
    """Return the lay kept last, with the pins as they are now, whatever it was laid for.

    What lay where something is cut lies nowhere now, unless it is that.
    """
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
    gone = {(r.region, round(r.x, 2), round(r.y, 2)) for r in cut_of(problem).values()}
    places = {
        n: p
        for n, p in places.items()
        if p.region in known and (p.region, round(p.x, 2), round(p.y, 2)) not in gone
    }
    for rule in problem.rules:
        if isinstance(rule, Pinned) and rule.shape in shapes:
            places[rule.shape] = lie_pinned(shapes[rule.shape], rule)
    if not places:
        return None
    return _on_table(replace(start, lay=lay_of(problem, places)), fresh=False)


def try_by_hand(
    lays: Lays,
    at: Opened,
    shape: str,
    *,
    x: float,
    y: float,
    turn_deg: float,
    flipped: bool,
    step: Point,
    came: Point,
) -> Tried:
    """Return a piece of the chosen plan's lay tried where it was put (as `Wanted`), judged there.

    x, y: mm on its cloth. turn_deg: counter-clockwise. step: mm it was pushed by a key, else zeros.
    came: where from, mm. Raises BadInput, and CannotDo where pieces are not moved by hand.
    """
    put = Wanted(shape=shape, x=x, y=y, turn_deg=turn_deg, flipped=flipped, step=step, came=came)
    return try_place(_movable(lays, at, shape), put, at.book.unit)


def turn_by_hand(lays: Lays, at: Opened, shape: str) -> Tried:
    """Return a piece of the chosen plan's lay tried in its next allowed turn. As `try_by_hand`."""
    table = _movable(lays, at, shape)
    return try_place(table, turned(table, shape), at.book.unit)


def _movable(lays: Lays, at: Opened, shape: str) -> LaidOut:
    on = laid_table(lays, at)
    shape_named(on.table, shape)
    if on.laid.folds:
        raise CannotDo(
            what="a piece cannot be moved by hand", why="the cloth is folded, both layers are cut"
        )
    return on.table


def laid_table(lays: Lays, at: Opened) -> OnTable:
    """Return what lies on the table. Raises CannotDo when nothing does yet, BadInput."""
    table = table_of(lays, at)[1]
    if table is None:
        raise CannotDo(what="nothing can be moved or printed", why="this plan is not laid yet")
    return table
