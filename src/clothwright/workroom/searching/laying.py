"""Lay a plan on the cloths, compare plans, keep the best lay of each plan with the workbook."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from dataclasses import replace
from pathlib import Path as FilePath

from clothwright.lay.fold_search import solve_folded
from clothwright.lay.folded import Fold
from clothwright.lay.lying import lie, used_on
from clothwright.lay.problem import Shape
from clothwright.lay.result import Lay, Placement
from clothwright.lay.solve import solve
from clothwright.lay.spreading import executor, one_core_here, stop_asked
from clothwright.pattern.pattern import Pattern
from clothwright.rules.compile import compile_lay
from clothwright.rules.folded import asked_folds
from clothwright.rules.following import followed_plan
from clothwright.rules.laid import Laid, laid_so, rank
from clothwright.rules.plan import Plan
from clothwright.store.beside.lays import KeptPlace, keep_lay, kept_lay
from clothwright.workbook import Workbook, replay
from clothwright.workroom.searching.cores import all_cores

WORTH_S = 4.0
"""Seconds below which a second search would end before its process has begun."""

LATE_S = 5.0
"""Seconds other searches may need longer than this one (they end at the same moment)."""


def compile_plan(book: Workbook, plan: Plan, pattern: Pattern | None = None) -> Laid:
    """Return the plan with its lay problem and nothing laid yet. Raises BadInput, Mistakes.

    Its rules name the pieces as they are called after all changes.
    pattern: the pieces as changed, where they are at hand.
    """
    pattern = pattern or replay(book).pattern
    compiled = compile_lay(pattern, book.cloths, plan, gap=book.settings.gap)
    return Laid(
        plan=followed_plan(plan, pattern),
        pattern=pattern,
        cloths=book.cloths,
        compiled=compiled,
        lay=Lay(placements=(), stopped="not laid yet"),
    )


def lay_plan(
    book: Workbook,
    plan_name: str = "",
    *,
    seconds: float,
    seed: int = 0,
    rounds: int | None = None,
    on_better: Callable[[Lay], None] | None = None,
    on_laid: Callable[[Laid], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> Laid:
    """Lay one plan (the chosen one without a name). Raises BadInput; Ctrl-C keeps the best lay.

    seconds: how long it searches; with `rounds` at most. on_laid: as on_better, told the whole of
    it, how the cloths were folded too.
    """
    start = compile_plan(book, book.plan(plan_name))

    def told(lay: Lay, folds: Sequence[Fold] = ()) -> None:
        if on_better is not None:
            on_better(lay)
        if on_laid is not None:
            on_laid(laid_so(start, lay, folds))

    folds = asked_folds(start.plan)
    if folds:
        found = solve_folded(
            start.compiled,
            folds,
            seconds=seconds,
            seed=seed,
            rounds=rounds,
            on_found=lambda one: told(one.lay, one.folds),
            should_stop=should_stop,
        )
        return laid_so(start, found.lay, found.folds)
    lay = solve(
        start.compiled.problem,
        seconds=seconds,
        seed=seed,
        rounds=rounds,
        on_better=told,
        should_stop=should_stop,
    )
    return replace(start, lay=lay)


def lay_by_many(
    book: Workbook,
    plan_name: str = "",
    *,
    seconds: float,
    seed: int = 0,
    rounds: int | None = None,
    workers: int = 0,
    on_better: Callable[[Lay], None] | None = None,
    on_laid: Callable[[Laid], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> Laid:
    """Lay one plan by several searches at once, each with its own seed and core; the best counts.

    seconds: of all together. workers: 0 for every core, where there is time enough to start them.
    With `rounds` it is one search, which can be repeated. The search here tells its better lays;
    those of the other processes count at the end. The lay's `rounds` are those of all searches
    together. Raises BadInput; Ctrl-C keeps the best lay here.
    """
    book.plan(plan_name)
    workers = workers or (all_cores() if seconds >= WORTH_S else 1)
    if workers == 1 or rounds is not None:
        return lay_plan(
            book,
            plan_name,
            seconds=seconds,
            seed=seed,
            rounds=rounds,
            on_better=on_better,
            on_laid=on_laid,
            should_stop=should_stop,
        )
    until = time.monotonic() + seconds
    with executor(workers - 1) as pool, one_core_here():
        jobs = [
            pool.submit(_lay_until, book, plan_name, until=until, seed=seed + 1000 * k)
            for k in range(1, workers)
        ]
        mine = lay_plan(
            book,
            plan_name,
            seconds=seconds,
            seed=seed,
            on_better=on_better,
            on_laid=on_laid,
            should_stop=should_stop,
        )
        others = _in_time(jobs, mine)
    best = min((mine, *others), key=rank)
    rounds = mine.lay.rounds + sum(o.lay.rounds for o in others)
    return replace(best, lay=replace(best.lay, rounds=rounds, stopped=mine.lay.stopped))


def _lay_until(book: Workbook, plan_name: str, *, until: float, seed: int) -> Laid:
    """Lay a plan in a worker, whose start has cost time; it ends when the search at home does."""
    left = max(0.0, until - time.monotonic())
    return lay_plan(book, plan_name, seconds=left, seed=seed, should_stop=stop_asked)


def _in_time(jobs: Sequence[Future[Laid]], mine: Laid) -> list[Laid]:
    """Return what the other searches found, unless this one was stopped by the maker."""
    if mine.lay.stopped == "interrupted":
        return []
    found = []
    for job in jobs:
        try:
            found.append(job.result(timeout=LATE_S))
        except (TimeoutError, BrokenProcessPool):
            continue
    return found


def recall(
    folder: FilePath, book: Workbook, plan_name: str = "", start: Laid | None = None
) -> Laid | None:
    """Return the kept lay of a plan, or None when there is none for the pieces as they are now.

    start: the plan compiled, where it is at hand.
    """
    data = kept_lay(folder, book.plan(plan_name).name)
    if data is None:
        return None
    start = start or compile_plan(book, book.plan(plan_name))
    problem = start.compiled.problem
    if data.digest != start.mark:
        return None
    shapes = {s.id: s for s in problem.shapes}
    placements = tuple(placed_at(shapes[p.shape], p) for p in data.placements if p.shape in shapes)
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
    return None if kept.faults else kept


def placed_at(shape: Shape, at: KeptPlace) -> Placement:
    """Return a shape where it was kept to lie, with its outline as it is now, mm."""
    return lie(
        shape, region=at.cloth, x=at.x_mm, y=at.y_mm, turn_deg=at.turn_deg, flipped=at.flipped
    )


def keep_better(folder: FilePath, book: Workbook, laid: Laid) -> Laid:
    """Keep a lay with the workbook unless a better one is kept already; return the better one.

    Raises OSError when the disk fails.
    """
    earlier = recall(folder, book, laid.plan.name)
    if earlier is not None and rank(earlier) <= rank(laid):
        return earlier
    keep_lay(folder, laid.plan.name, laid.report)
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
