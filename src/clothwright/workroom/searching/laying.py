"""Lay a plan on the cloths, compare plans, keep the best lay of each plan with the workbook."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Unpack

from clothwright.errors import ClothwrightError
from clothwright.lay.lying import lie, lie_pinned, used_on
from clothwright.lay.problem import Shape, cut_of
from clothwright.lay.result import Lay, Placement
from clothwright.pattern.pattern import Pattern
from clothwright.rules.around_cut import as_cut
from clothwright.rules.compile import compile_lay
from clothwright.rules.following import followed_plan
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.laid import Laid, laid_so, rank
from clothwright.rules.weighing.laying import How, lay_from, lay_on_cores
from clothwright.store.beside.lays import KeptPlace, keep_lay, kept_lay
from clothwright.store.book.lock import held
from clothwright.workbook import Workbook, replay


def compile_plan(book: Workbook, plan: Plan, pattern: Pattern | None = None) -> Laid:
    """Return the plan with its lay problem and nothing laid yet. Raises BadInput, Mistakes.

    Its rules name the pieces as they are called after all changes.
    pattern: the pieces as changed, where they are at hand.
    """
    pattern = pattern or replay(book).pattern
    gap = book.settings.gap
    compiled = compile_lay(pattern, book.cloths, plan, gap=gap, cut=book.cut)
    return Laid(
        plan=followed_plan(plan, pattern),
        pattern=as_cut(pattern, compiled),
        cloths=book.cloths,
        compiled=compiled,
        lay=Lay(placements=(), stopped="not laid yet"),
        uncut=_uncut(book, plan, pattern) if book.cut else "",
    )


def _uncut(book: Workbook, plan: Plan, pattern: Pattern) -> str:
    """Return the fingerprint of a plan if nothing were cut; "" where it could not be laid then."""
    with suppress(ClothwrightError):
        return compile_plan(replace(book, cut=()), plan, pattern).mark
    return ""


def lay_plan(book: Workbook, plan_name: str = "", **how: Unpack[How]) -> Laid:
    """Lay one plan (the chosen one without a name) as `how` says. Raises BadInput, Mistakes."""
    return lay_from(compile_plan(book, book.plan(plan_name)), **how)


def lay_by_many(
    book: Workbook, plan_name: str = "", *, workers: int = 0, **how: Unpack[How]
) -> Laid:
    """Lay one plan by several searches at once (`lay_on_cores`). Raises BadInput, Mistakes."""
    return lay_on_cores(compile_plan(book, book.plan(plan_name)), workers=workers, **how)


def recall(
    folder: FilePath, book: Workbook, plan_name: str = "", start: Laid | None = None
) -> Laid | None:
    """Return the kept lay of a plan, or None when there is none for the pieces as they are now.

    What is cut since lies in it where it was cut; where it moved, the lay may have faults, and is
    none. start: the plan compiled, where it is at hand.
    """
    data = kept_lay(folder, book.plan(plan_name).name)
    if data is None:
        return None
    start = start or compile_plan(book, book.plan(plan_name))
    problem = start.compiled.problem
    if data.digest != start.kept_mark:
        return None
    shapes = {s.id: s for s in problem.shapes}
    cut = cut_of(problem)
    placements = tuple(
        lie_pinned(shapes[p.shape], cut[p.shape])
        if p.shape in cut
        else placed_at(shapes[p.shape], p)
        for p in data.placements
        if p.shape in shapes
    )
    lay = Lay(
        placements=placements,
        unplaced=data.unplaced,
        used={r.name: used_on(r.name, placements) for r in problem.regions},
        fits=data.fits,
        short_by=data.short_by_mm,
        seed=data.seed,
        seconds=data.seconds,
        rounds=data.rounds,
        stopped=data.stopped,
    )
    kept = laid_so(start, lay, data.folds)
    return kept if lay.whole and not kept.faults else None


def placed_at(shape: Shape, at: KeptPlace) -> Placement:
    """Return a shape where it was kept to lie, with its outline as it is now, mm."""
    return lie(
        shape, region=at.cloth, x=at.x_mm, y=at.y_mm, turn_deg=at.turn_deg, flipped=at.flipped
    )


def keep_better(folder: FilePath, book: Workbook, laid: Laid) -> Laid:
    """Keep a lay with the workbook unless a better one is kept already; return the better one.

    One that was stopped half made is not kept. Raises BadInput when the disk fails.
    """
    name, report = laid.plan.name, laid.report
    start = compile_plan(book, book.plan(name)) if kept_lay(folder, name) else None
    with held(folder):  # another search may be about to keep a lay of the same plan
        earlier = recall(folder, book, name, start)
        if earlier is not None and rank(earlier) <= rank(laid):
            return earlier
        if laid.lay.whole:
            keep_lay(folder, name, report)
    return laid


def recall_or_lay(
    folder: FilePath, book: Workbook, plan: str = "", *, seconds: float, seed: int = 0
) -> Laid:
    """Return the kept lay of a plan, or one made in so many seconds, at least 1, and kept.

    Raises BadInput, Mistakes, CannotDo.
    """
    kept = recall(folder, book, plan)
    if kept is not None:
        return kept
    return keep_better(folder, book, lay_plan(book, plan, seconds=max(1.0, seconds), seed=seed))
