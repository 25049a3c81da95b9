"""Lay a plan that is compiled, by one search or by several at once."""

from __future__ import annotations

import contextlib
import os
import time
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import replace
from typing import Required, TypedDict, Unpack

from clothwright.lay.ctrl_c import ended, result_of, uninterrupted
from clothwright.lay.folded import Fold
from clothwright.lay.folded_around import solve_folded_around
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve
from clothwright.lay.spreading import executor, one_core_here, stop_asked
from clothwright.rules.kinds.folded import asked_folds
from clothwright.rules.weighing.laid import Laid, laid_so, rank

WORTH_S = 4.0
"""Seconds below which a second search would end before its process has begun."""

LATE_S = 5.0
"""Seconds other searches may need longer than this one (they end at the same moment)."""


class How(TypedDict, total=False):
    """How long and how a plan is laid: the arguments of `lay_from`."""

    seconds: Required[float]
    seed: int
    rounds: int | None
    on_better: Callable[[Lay], None] | None
    on_laid: Callable[[Laid], None] | None
    should_stop: Callable[[], bool] | None


def lay_from(
    start: Laid,
    *,
    seconds: float,
    seed: int = 0,
    rounds: int | None = None,
    on_better: Callable[[Lay], None] | None = None,
    on_laid: Callable[[Laid], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> Laid:
    """Lay one plan, compiled as `start`. Raises BadInput; Ctrl-C keeps the best lay.

    seconds: how long it searches; with `rounds` at most. on_laid: as on_better, told the whole of
    it, how the cloths were folded too.
    """

    def told(lay: Lay, folds: Sequence[Fold] = ()) -> None:
        if on_better is not None:
            on_better(lay)
        if on_laid is not None:
            on_laid(laid_so(start, lay, folds))

    folds = asked_folds(start.plan)
    if folds:
        found = solve_folded_around(
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


def lay_on_cores(start: Laid, *, workers: int = 0, **how: Unpack[How]) -> Laid:
    """Lay one plan by several searches at once, each with its own seed and core; the best counts.

    seconds: of all together. workers: 0 for every core, where there is time enough to start them.
    With `rounds` it is one search, which can be repeated. The search here waits for no process to
    start, and tells its better lays; those of the others count at the end. The lay's `rounds` are
    those of all searches together. Raises BadInput; Ctrl-C keeps the best lay here.
    """
    seconds = how["seconds"]
    workers = workers or ((os.cpu_count() or 1) if seconds >= WORTH_S else 1)
    if workers == 1 or how.get("rounds") is not None:
        return lay_from(start, **how)
    until, seed = time.monotonic() + seconds, how.get("seed", 0)
    with executor(workers - 1) as pool, one_core_here(), ThreadPoolExecutor(1) as beside:
        with uninterrupted():
            jobs = beside.submit(
                lambda: [
                    pool.submit(_lay_until, start, until=until, seed=seed + 1000 * k)
                    for k in range(1, workers)
                ]
            )
        mine = lay_from(start, **how)
        others = [] if mine.lay.stopped == "interrupted" else _in_time(result_of(jobs))
    best = min((mine, *others), key=rank)
    rounds = mine.lay.rounds + sum(o.lay.rounds for o in others)
    return replace(best, lay=replace(best.lay, rounds=rounds, stopped=mine.lay.stopped))


def _lay_until(start: Laid, *, until: float, seed: int) -> Laid:
    """Lay a plan in a worker, whose start has cost time; it ends when the search at home does."""
    left = max(0.0, until - time.monotonic())
    return lay_from(start, seconds=left, seed=seed, should_stop=stop_asked)


def _in_time(jobs: Sequence[Future[Laid]]) -> list[Laid]:
    """Return what the other searches found."""
    found = []
    for job in jobs:
        with contextlib.suppress(BrokenProcessPool):
            found += [each.result() for each in ended([job], within=LATE_S)]
    return found
