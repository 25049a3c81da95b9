"""The lay bench: one command, one table.

    python bench/lay_bench.py --seconds 20 --seeds 3
        [--free FOLDER] [--ruled] [--first] [--random N]

--free FOLDER: research instances as JSON in FOLDER (or in $LAY_INSTANCES): density in percent,
    ours and the packer alone in the same wall time, with the published mean and record.
--ruled: bound problems of our own: length used, against the comb baseline in the same time, against
    the same pieces free of rules (the price of the print), and against a bound no lay can beat.
--first: seconds to the first lay of 29 pieces.
--random N: random small problems by time: the worst overrun of the time asked for.
"""

from __future__ import annotations

import argparse
import os
import statistics
import time
from dataclasses import dataclass
from pathlib import Path

import lay_problems as problems

from clothwright.lay.comb import draft_from, job_for, packable
from clothwright.lay.fit import holds, lay_from, score
from clothwright.lay.improve import first_lay
from clothwright.lay.judge import judge, residuals
from clothwright.lay.model import prepare
from clothwright.lay.packer import Job, Loose, Packer
from clothwright.lay.place import lay_out
from clothwright.lay.problem import LayProblem
from clothwright.lay.result import Lay
from clothwright.lay.solve import least_length, solve


def packer_alone(problem: LayProblem, seconds: float, seed: int) -> float:
    """The packer by itself on a free problem: the length it reports within the wall time."""
    import numpy as np

    region = problem.regions[0]
    items = tuple(
        Loose(name=s.id, ring=np.asarray(s.outline), turns=s.turns_deg) for s in problem.shapes
    )
    job = Job(
        height=region.width,
        gap=problem.gap,
        seconds=round(seconds),
        seed=seed,
        workers=os.cpu_count() or 1,
        items=items,
    )
    until = time.perf_counter() + seconds
    packer, best = Packer(job), float("inf")
    while (left := until - time.perf_counter()) > 0 and not packer.ended:
        packed = packer.latest(min(left, 0.1))
        best = min(best, packed.width if packed else best)
    packed = packer.latest()
    packer.close()
    return min(best, packed.width if packed else best)


def comb_alone(problem: LayProblem, seconds: float, seed: int) -> Lay:
    """The baseline: bound shapes laid once, joined to a comb, the packer round it all the time."""
    until = time.perf_counter() + seconds
    model = prepare(problem)
    best = first_lay(model, lambda: False)
    job = job_for(
        model,
        best.draft,
        best.turns,
        seconds=round(seconds),
        seed=seed,
        workers=os.cpu_count() or 1,
    )
    if job is None:
        return lay_from(model, best.draft)
    base = best.draft
    packer = Packer(job)
    while (left := until - time.perf_counter()) > 0 and not packer.ended:
        packed = packer.latest(min(left, 0.1))
        if packed is None:
            continue
        draft = draft_from(model, packed, base)
        held = {spot.item for spot in draft.spots}
        missing = [k for k in range(len(model.items)) if k not in held]
        draft = lay_out(model, missing, best.turns, start=draft)
        if score(model, draft) < best.score and holds(model, draft):
            best.draft, best.score = draft, score(model, draft)
    packer.close()
    return lay_from(model, best.draft)


def used(lay: Lay) -> float:
    return sum(lay.used.values())


@dataclass(frozen=True, kw_only=True)
class Free:
    """A free instance: density in percent per seed, ours and the packer alone."""

    name: str
    ours: tuple[float, ...]
    alone: tuple[float, ...]
    published: tuple[float, float] | None

    @property
    def ratio(self) -> float:
        """Ours over the packer alone, of the means."""
        return statistics.mean(self.ours) / statistics.mean(self.alone)


@dataclass(frozen=True, kw_only=True)
class Ruled:
    """A ruled problem: mm used per seed.

    combed: False where the comb does not apply (a ragged end, nothing free, a piece left out);
    `comb` is then what it could do, often the first lay. free: the same pieces without rules.
    bound: no lay can be shorter. firsts: seconds to the first lay. residual: mm, how far the worst
    rule of the worst lay is from being met.
    """

    name: str
    ours: tuple[float, ...]
    comb: tuple[float, ...]
    combed: bool
    free: tuple[float, ...]
    bound: float
    firsts: tuple[float, ...]
    residual: float

    @property
    def gain(self) -> float:
        """Percent by which ours is shorter than the comb's, of the means."""
        return 100.0 * (1.0 - statistics.mean(self.ours) / statistics.mean(self.comb))

    @property
    def price(self) -> float:
        """Percent of length that the print costs over the same pieces without rules."""
        return 100.0 * (statistics.mean(self.ours) / statistics.mean(self.free) - 1.0)


def sound(problem: LayProblem, lay: Lay, name: str) -> None:
    """End the bench when a lay is none that may be cut."""
    faults = judge(problem, lay)
    if faults or lay.unplaced or not lay.placements:
        said = faults[0] if faults else lay.unplaced or "nothing is placed"
        raise SystemExit(f"{name}: a lay is not sound: {said}")


def free_row(path: Path, seconds: float, seeds: int) -> Free:
    """Lay a research instance by ourselves and by the packer alone, in turns."""
    problem = problems.research(path)
    ours, alone = [], []
    for seed in range(seeds):
        lay = solve(problem, seconds=seconds, seed=seed)
        sound(problem, lay, path.stem)
        ours.append(problems.density(problem, used(lay)))
        alone.append(problems.density(problem, packer_alone(problem, seconds, seed)))
    return Free(
        name=path.stem,
        ours=tuple(ours),
        alone=tuple(alone),
        published=problems.PUBLISHED.get(path.stem),
    )


def ruled_row(name: str, seconds: float, seeds: int) -> Ruled:
    """Lay a ruled problem by ourselves, by the comb, and without its rules, in turns."""
    problem = problems.RULED[name]()
    bare = problems.unruled(problem)
    model = prepare(problem)
    ours, combs, frees, firsts, worst, combed = [], [], [], [], 0.0, packable(model)
    for seed in range(seeds):
        began, when = time.perf_counter(), []
        lay = solve(
            problem,
            seconds=seconds,
            seed=seed,
            on_better=lambda _lay, b=began, w=when: w.append(time.perf_counter() - b),
        )
        sound(problem, lay, name)
        ours.append(used(lay))
        firsts.append(when[0])
        worst = max(worst, *residuals(problem, lay).values())
        comb = comb_alone(problem, seconds, seed)
        combs.append(used(comb))
        combed = combed and not comb.unplaced
        frees.append(used(solve(bare, seconds=seconds, seed=seed)))
    return Ruled(
        name=name,
        ours=tuple(ours),
        comb=tuple(combs),
        combed=combed,
        free=tuple(frees),
        bound=least_length(model),
        firsts=tuple(firsts),
        residual=worst,
    )


def first_seconds(runs: int) -> tuple[int, tuple[float, ...]]:
    """Return a number of pieces, and seconds to their first lay, for each of so many seeds."""
    times = []
    for seed in range(runs):
        problem = problems.thirty()
        began = time.perf_counter()
        lay = solve(problem, seconds=0.0, seed=seed)
        times.append(time.perf_counter() - began)
        sound(problem, lay, "thirty pieces")
    return len(problems.thirty().shapes), tuple(times)


def free_table(folder: Path, seconds: float, seeds: int) -> None:
    print(f"\nfree, {seconds:g} s, {seeds} seeds: density %")
    print(f"{'instance':10} {'ours':>7} {'packer':>7} {'ratio':>7} {'mean':>7} {'record':>7}")
    ratios = []
    for path in sorted(folder.glob("*.json")):
        row = free_row(path, seconds, seeds)
        mean, record = row.published or (0.0, 0.0)
        a, b = statistics.mean(row.ours), statistics.mean(row.alone)
        ratios.append(row.ratio)
        print(f"{row.name:10} {a:7.2f} {b:7.2f} {a / b:7.4f} {mean:7.2f} {record:7.2f}", flush=True)
    print(f"mean ratio to the packer alone: {statistics.mean(ratios):.4f}")


def ruled_table(seconds: float, seeds: int, only: list[str]) -> None:
    print(f"\nruled, {seconds:g} s, {seeds} seeds: mm used")
    head = ("problem", "ours", "comb", "gain %", "free", "bound", "first s")
    print("{:20} {:>8} {:>8} {:>7} {:>8} {:>8} {:>8}".format(*head))
    gains = []
    for name in only or problems.RULED:
        row = ruled_row(name, seconds, seeds)
        a, b, c = (statistics.mean(v) for v in (row.ours, row.comb, row.free))
        gains.append(row.gain)
        print(
            f"{name:20} {a:8.1f} {b:8.1f} {gains[-1]:7.2f} {c:8.1f} {row.bound:8.1f} "
            f"{max(row.firsts):8.2f}",
            flush=True,
        )
    print(f"mean gain over the comb: {statistics.mean(gains):.2f} %")


def first_table() -> None:
    pieces, times = first_seconds(5)
    print(f"\nfirst lay of {pieces} pieces: {min(times):.2f} s at best, "
          f"{max(times):.2f} s at worst of 5")  # fmt: skip


def random_table(count: int) -> None:
    import sys

    from hypothesis import HealthCheck, Phase, given, settings

    sys.path.insert(0, str(Path(__file__).parent.parent))
    from tests.lay.test_random import problems as random_problems
    from tests.lay.test_random import sound as random_sound

    worst = 0.0

    @settings(max_examples=count, deadline=None, phases=[Phase.generate],
              suppress_health_check=list(HealthCheck), database=None)  # fmt: skip
    @given(random_problems())
    def run(problem: LayProblem) -> None:
        nonlocal worst
        began = time.perf_counter()
        lay = solve(problem, seconds=0.4)
        worst = max(worst, time.perf_counter() - began - 0.4)
        random_sound(problem, lay)

    run()
    print(f"\n{count} random problems: all sound; at worst {worst:.2f} s past the time")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=20.0)
    parser.add_argument("--seeds", type=int, default=1)
    parser.add_argument("--free", type=Path, default=os.environ.get("LAY_INSTANCES"))
    parser.add_argument("--ruled", action="store_true")
    parser.add_argument("--first", action="store_true")
    parser.add_argument("--random", type=int, default=0)
    parser.add_argument("--only", action="append", default=[])
    asked = parser.parse_args()
    if asked.first:
        first_table()
    if asked.random:
        random_table(asked.random)
    if asked.free:
        free_table(Path(asked.free), asked.seconds, asked.seeds)
    if asked.ruled:
        ruled_table(asked.seconds, asked.seeds, asked.only)


if __name__ == "__main__":
    main()
