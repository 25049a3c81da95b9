"""The search for a lay on folded cloth: the doubled pieces first, then the rest around them.

Each folded cloth's doubled part is laid as a problem of its own (`lay.folded`); what it gives is
opened out and stays; what is cut singly is laid around it on the whole cloth. A partial fold is
tried at several depths. The first whole lay comes before any is made better.
"""

from __future__ import annotations

import itertools
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from clothwright.errors import CannotDo
from clothwright.lay.compiled import Compiled
from clothwright.lay.folded import Doubled, Fold, Folding, depths, doubled, opened, why_single
from clothwright.lay.problem import LayProblem, Pinned, Shape, names_of
from clothwright.lay.result import Lay, Placement
from clothwright.lay.solve import solve

TRIALS = 12
"""So many combinations of depths are laid at once in the beginning; the best is made better."""
LEAST_TRYING = 0.5
"""s: further depths are tried only so long, when little or no time is given."""
DOUBLED_SHARE = 0.6
"""Share of the time for the doubled part; the rest is for what is cut singly."""

DOUBLED = ("what is cut double lies on both layers",)

OnBetter = Callable[[Lay], None]
Wish = Callable[[], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedLay:
    """A lay on the opened-out cloths, and how they were folded for it."""

    folds: tuple[Fold, ...]
    lay: Lay

    @property
    def worth(self) -> tuple[int, float, float]:
        """What has no place, how much is missing (mm), how much is used (mm); less is better."""
        lay = self.lay
        return len(lay.unplaced), lay.short_by or 0.0, sum(lay.used.values())


def with_folds(compiled: Compiled, folds: Sequence[Fold]) -> Compiled:
    """Return the lay problem with the folds as rules, for the judge."""
    rules = tuple(rule for fold in folds for rule in fold.rules)
    problem = replace(compiled.problem, rules=(*compiled.problem.rules, *rules))
    return replace(compiled, problem=problem)


def solve_folded(
    compiled: Compiled,
    folds: Sequence[Folding],
    *,
    seconds: float,
    seed: int = 0,
    rounds: int | None = None,
    on_better: OnBetter | None = None,
    on_found: Callable[[FoldedLay], None] | None = None,
    should_stop: Wish | None = None,
) -> FoldedLay:
    """Return the best lay found with these cloths folded; seconds, seed, rounds as in `solve`.

    on_found: as on_better, told how the cloths were folded too.
    Raises CannotDo with the reason when a cloth may not be folded so, BadInput for a cloth or a
    way that is not there.
    """
    began = time.monotonic()
    choices = [_choices(compiled, folded) for folded in folds]
    search = _Search(
        compiled=compiled,
        seed=seed,
        rounds=rounds,
        on_better=on_better,
        on_found=on_found,
        should_stop=should_stop,
    )
    combos = list(itertools.product(*choices))[:TRIALS]
    best: FoldedLay | None = None
    nearest = combos[0]
    for parts in combos:
        found = search.lay(parts, 0.0)
        if best is None or found.worth < best.worth:
            best, nearest = found, parts
            search.tell(best)
        spent = time.monotonic() - began
        if search.stopped() or (rounds is None and spent > max(LEAST_TRYING, seconds * 0.4)):
            break
    left = seconds - (time.monotonic() - began)
    if best is not None and (left > 0.1 or rounds is not None) and not search.stopped():
        again = search.lay(nearest, max(left, 0.0))
        if again.worth < best.worth:
            best = again
            search.tell(best)
    if best is None:
        raise CannotDo(what="nothing can be folded", why="no fold is asked for", nearest="--fold")
    lay = replace(best.lay, seconds=time.monotonic() - began, rounds=search.made)
    return replace(best, lay=lay)


def _choices(compiled: Compiled, folded: Folding) -> tuple[Doubled, ...]:
    cloth = compiled.cloth(folded.cloth)
    why = why_single(compiled, cloth, folded.way)
    if why:
        raise CannotDo(
            what=f'"{folded.cloth}" cannot be folded {folded.way}',
            why=why,
            nearest="a single layer, right side up",
        )
    asked = (folded.depth,) if folded.depth else depths(compiled, cloth, folded.way)
    if not asked:
        raise CannotDo(
            what=f'"{folded.cloth}" cannot be folded {folded.way}',
            why="its widest pieces on the fold need the whole of it",
            nearest="a lengthwise fold, selvedges together",
        )
    return tuple(doubled(compiled, cloth, folded.way, depth) for depth in asked)


@dataclass(slots=True, kw_only=True)
class _Search:
    compiled: Compiled
    seed: int
    rounds: int | None
    on_better: OnBetter | None
    on_found: Callable[[FoldedLay], None] | None
    should_stop: Wish | None
    made: int = 0

    def stopped(self) -> bool:
        return self.should_stop is not None and self.should_stop()

    def tell(self, found: FoldedLay) -> None:
        if not found.lay.whole:
            return
        if self.on_better is not None:
            self.on_better(found.lay)
        if self.on_found is not None:
            self.on_found(found)

    def lay(self, parts: Sequence[Doubled], seconds: float) -> FoldedLay:
        """Lay the doubled parts, open them out, lay the rest around."""
        shapes = {s.id: s for s in self.compiled.problem.shapes}
        folds, fixed, gone = [], list[Placement](), dict[str, str]()
        held = sum(len(part.doubles) for part in parts)
        single = len(shapes) - sum(2 if d.mate else 1 for p in parts for d in p.doubles.values())
        share = DOUBLED_SHARE if single > 0 else 0.95
        for part in parts:
            time_for = seconds * share * len(part.doubles) / max(1, held)
            lay = self._solved(part.problem, time_for)
            used = max(lay.used.values(), default=0.0)
            fold, placed = opened(part, lay.placements, shapes, used)
            folds.append(fold)
            fixed.extend(placed)
            for name, why in lay.unplaced.items():
                gone[name] = f"{why} (on the doubled cloth)"
                if part.doubles[name].mate:
                    gone[part.doubles[name].mate] = gone[name]
        whole = self._around(shapes, fixed, gone, seconds * (1.0 - share))
        return FoldedLay(folds=tuple(_cut_so(f, whole) for f in folds), lay=whole)

    def _solved(self, problem: LayProblem, seconds: float) -> Lay:
        rounds = self.rounds if seconds > 0 or self.rounds is not None else None
        lay = solve(
            problem,
            seconds=seconds if self.rounds is None else 60.0,
            seed=self.seed,
            rounds=rounds,
            should_stop=self.should_stop,
        )
        self.made += lay.rounds
        return lay

    def _around(
        self,
        shapes: dict[str, Shape],
        fixed: Sequence[Placement],
        gone: dict[str, str],
        seconds: float,
    ) -> Lay:
        """Return the whole lay: what is cut double stays, the rest is laid on what is left."""
        problem = self.compiled.problem
        here = {p.shape for p in fixed}
        rest = [s for s in shapes.values() if s.id not in here and s.id not in gone]
        pins = tuple(
            Pinned(
                id=f"doubled {p.shape}",
                shape=p.shape,
                region=p.region,
                x=p.x,
                y=p.y,
                turn_deg=p.turn_deg,
                flipped=p.flipped,
            )
            for p in fixed
        )
        kept = tuple(s for s in problem.shapes if s.id not in gone)
        rules = tuple(r for r in problem.rules if not set(names_of(r)) & set(gone))
        said = {**problem.said, "doubled": DOUBLED}
        inner = replace(problem, shapes=kept, rules=(*rules, *pins), said=said)
        lay = self._solved(inner, seconds if rest else 0.0)
        unplaced = {**lay.unplaced, **gone}
        return replace(
            lay,
            unplaced={s.id: unplaced[s.id] for s in problem.shapes if s.id in unplaced},
            fits=lay.fits and not gone,
            short_by=None if gone else lay.short_by,
        )


def _cut_so(fold: Fold, lay: Lay) -> Fold:
    """Return the fold with only what found a place."""
    here = {p.shape for p in lay.placements}
    return replace(
        fold,
        pairs=tuple(pair for pair in fold.pairs if set(pair) <= here),
        on_fold=tuple(name for name in fold.on_fold if name in here),
    )
