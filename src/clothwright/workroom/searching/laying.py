"""Lay a plan on the cloths, compare plans, keep the best lay of each plan with the workbook."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from dataclasses import asdict, dataclass, replace
from functools import cached_property
from pathlib import Path as FilePath

from clothwright.cloth.cloth import Cloth, to_buy
from clothwright.geometry.area import polygon_area
from clothwright.lay.compiled import Compiled
from clothwright.lay.fold_search import solve_folded, with_folds
from clothwright.lay.folded import Fold
from clothwright.lay.judge import judge, residuals
from clothwright.lay.leftover import Rest, bias_yield, largest_rest
from clothwright.lay.lying import lie
from clothwright.lay.match import SeamMatch, match_seams
from clothwright.lay.problem import CutTogether, LayProblem, Shape
from clothwright.lay.report import lay_report
from clothwright.lay.result import Lay, Placement
from clothwright.lay.solve import solve
from clothwright.pattern.finding import Finding
from clothwright.pattern.pattern import Pattern
from clothwright.rules.compile import compile_lay
from clothwright.rules.folded import Folded, asked_folds
from clothwright.rules.following import followed_plan
from clothwright.rules.plan import Plan
from clothwright.store.beside.lays import KeptPlace, keep_lay, kept_lay
from clothwright.workbook import Workbook, replay
from clothwright.workroom.searching.cores import all_cores
from clothwright.workroom.searching.spreading import executor, one_core_here, stop_asked

BIAS_MM = 1.25 * 25.4
"""mm: width of the bias strip that a leftover is measured in (1 1/4 in)."""

WORTH_S = 4.0
"""Seconds below which a second search would end before its process has begun."""

LATE_S = 5.0
"""Seconds other searches may need longer than this one (they end at the same moment)."""


@dataclass(frozen=True, kw_only=True)
class Laid:
    """One plan laid on the cloths: the lay, what the judge says of it, and how the print meets.

    cloths: as the maker described them (before washing).
    """

    plan: Plan
    pattern: Pattern
    cloths: tuple[Cloth, ...]
    compiled: Compiled
    lay: Lay
    folds: tuple[Fold, ...] = ()
    """How cloths were folded for it; the lay itself is stated on the opened-out cloth."""

    @cached_property
    def mark(self) -> str:
        """The fingerprint of what is laid: pieces, cloths, rules and the folds asked for."""
        return digest(self.compiled.problem, asked_folds(self.plan))

    @cached_property
    def faults(self) -> tuple[Finding, ...]:
        """What the independent judge finds wrong; empty for a lay that may be cut."""
        return judge(self.compiled.problem, self.lay)

    @cached_property
    def residuals(self) -> Mapping[str, float]:
        """How far each rule is from being met, mm."""
        return residuals(self.compiled.problem, self.lay)

    @cached_property
    def matches(self) -> tuple[SeamMatch, ...]:
        """How the print meets along every seam it crosses."""
        return match_seams(self.pattern, self.compiled, self.lay)

    @property
    def laid_cloths(self) -> tuple[Cloth, ...]:
        """The cloths that something is laid on."""
        return tuple(c for c in self.cloths if c.name in self.lay.used)

    @property
    def off_grain(self) -> tuple[str, ...]:
        """Names of pieces that do not lie along the selvedge, the usual grain."""
        names = {p.shape for p in self.lay.placements if round(p.turn_deg) % 180 != 0}
        return tuple(sorted({self.compiled.copy(n).piece.name for n in names}))

    @property
    def left_over(self) -> dict[str, float]:
        """Length left beyond the lay on each cloth of fixed length, mm (0 when it is short)."""
        return {
            r.name: max(0.0, r.length - r.margin_end - self.lay.used.get(r.name, 0.0))
            for r in self.compiled.problem.regions
            if r.length is not None
        }

    def usable_width(self, cloth: str) -> float:
        """Return the width between the margins of a cloth, mm."""
        r = next(r for r in self.compiled.problem.regions if r.name == cloth)
        return r.width - r.margin_lower - r.margin_upper

    @cached_property
    def rests(self) -> tuple[Rest, ...]:
        """The largest empty rectangle of every cloth in hand, where there is one."""
        found = (
            largest_rest(self.compiled.problem, self.lay, r.name)
            for r in self.compiled.problem.regions
            if r.length is not None
        )
        return tuple(r for r in found if r is not None)

    @property
    def filled(self) -> dict[str, float]:
        """Share of each used length that is covered by pieces (0 to 1)."""
        out = {}
        for name, used in self.lay.used.items():
            area = sum(
                abs(polygon_area(p.outline)) for p in self.lay.placements if p.region == name
            )
            out[name] = area / (used * self.compiled.cloth(name).width) if used > 0 else 0.0
        return out

    @property
    def buy(self) -> dict[str, float]:
        """Length to buy of each cloth that is still to be bought, mm before washing."""
        return {
            c.name: to_buy(self.lay.used[c.name], c.shrink_along)
            for c in self.cloths
            if c.length is None and c.name in self.lay.used
        }

    @property
    def cost(self) -> float | None:
        """Price of what is used or bought of every cloth with a price; None when none has one.

        In the workbook's currency, to its hundredth; prices are by the metre.
        """
        priced = [c for c in self.cloths if c.price_per_m is not None and c.name in self.lay.used]
        if not priced:
            return None
        total = sum(
            (c.price_per_m or 0.0) * to_buy(self.lay.used[c.name], c.shrink_along) / 1000.0
            for c in priced
        )
        return round(total, 2)

    @property
    def report(self) -> dict[str, object]:
        """The lay as plain data (docs/lay-json.md)."""
        return {
            **lay_report(self.compiled, self.lay, plan=self.plan.name, matches=self.matches),
            "digest": self.mark,
            "folds": [asdict(fold) for fold in self.folds],
            "faults": [f.code for f in self.faults],
            "off_grain": list(self.off_grain),
            "left_over": [
                {"cloth": n, "length_mm": round(left, 3), "width_mm": self.usable_width(n)}
                for n, left in self.left_over.items()
            ],
            "rests": [
                {
                    "cloth": r.region,
                    "x_mm": r.x,
                    "y_mm": r.y,
                    "along_mm": r.along,
                    "across_mm": r.across,
                    "bias_mm": round(bias_yield(r.along, r.across, BIAS_MM).pieced, 1),
                }
                for r in self.rests
            ],
            "filled": {n: round(share, 4) for n, share in self.filled.items()},
            "to_buy_mm": {n: round(v, 2) for n, v in self.buy.items()},
            "cost": self.cost,
        }


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


def laid_so(start: Laid, lay: Lay, folds: Sequence[Fold] = ()) -> Laid:
    """Return a plan laid this way; with folds, the judge measures their mirror images too."""
    compiled = with_folds(start.compiled, folds) if folds else start.compiled
    return replace(start, lay=lay, compiled=compiled, folds=tuple(folds))


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


def digest(problem: LayProblem, folds: Sequence[Folded] = ()) -> str:
    """Return a fingerprint of a lay problem: a kept lay counts only for the same problem.

    folds: those the plan asks for; where a fold came to lie does not count.
    """
    rules = tuple(r for r in problem.rules if not isinstance(r, CutTogether))
    asked = repr(replace(problem, rules=rules)) + (repr(tuple(folds)) if folds else "")
    return hashlib.sha256(asked.encode()).hexdigest()[:16]


def lay_mark(lay: Lay) -> str:
    """Return a fingerprint of where every piece of a lay lies, to 0.01 mm."""
    rows = sorted(
        (p.shape, p.region, round(p.x, 2), round(p.y, 2), round(p.turn_deg, 2), p.flipped)
        for p in lay.placements
    )
    return hashlib.sha256(repr(rows).encode()).hexdigest()[:16]


def rank(laid: Laid) -> tuple[int, int, float, float]:
    """Return a sort key: sound first, everything placed, least short, least used (both mm)."""
    lay = laid.lay
    short = lay.short_by if lay.short_by is not None else 1e9
    return (len(laid.faults), len(lay.unplaced), short, sum(lay.used.values()))


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
        used={r.name: _used(r.name, placements) for r in problem.regions},
        fits=data.fits,
        short_by=data.short_by_mm,
        seed=data.seed,
        seconds=data.seconds,
        rounds=data.rounds,
        stopped=data.stopped,
    )
    kept = laid_so(start, lay, data.folds)
    return None if kept.faults else kept


def _used(region: str, placements: Sequence[Placement]) -> float:
    return max((x for p in placements if p.region == region for x, _ in p.outline), default=0.0)


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
