"""Folded cloth that is partly cut: what is left to cut double or singly, around what is cut."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from clothwright.lay.compiled import Compiled
from clothwright.lay.fold_search import FoldedLay, Wish, solve_folded
from clothwright.lay.folded import Folding, why_single
from clothwright.lay.ground import around
from clothwright.lay.solve import solve


def solve_folded_around(
    compiled: Compiled,
    folds: Sequence[Folding],
    *,
    seconds: float,
    seed: int = 0,
    rounds: int | None = None,
    on_found: Callable[[FoldedLay], None] | None = None,
    should_stop: Wish | None = None,
) -> FoldedLay:
    """Return the best lay found with these cloths folded, all as in `solve_folded`.

    What is cut already lies there as a flaw does, on either layer. A fold for which that leaves no
    pair to cut is none any more.
    """
    ground = around(compiled.problem)
    left = {s.id for s in ground.rest.shapes}
    rest = replace(
        compiled, problem=ground.rest, copies=tuple(c for c in compiled.copies if c.id in left)
    )
    if ground.cut:
        folds = [f for f in folds if not why_single(rest, rest.cloth(f.cloth), f.way)]

    def told(found: FoldedLay) -> None:
        if on_found is not None:
            on_found(replace(found, lay=ground.whole(found.lay)))

    if not folds:
        lay = solve(
            ground.rest,
            seconds=seconds,
            seed=seed,
            rounds=rounds,
            on_better=lambda better: told(FoldedLay(folds=(), lay=better)),
            should_stop=should_stop,
        )
        return FoldedLay(folds=(), lay=ground.whole(lay))
    found = solve_folded(
        rest,
        folds,
        seconds=seconds,
        seed=seed,
        rounds=rounds,
        on_found=told,
        should_stop=should_stop,
    )
    return replace(found, lay=ground.whole(found.lay))
