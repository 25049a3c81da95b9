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
from pathlib import Path

import lay_problems as problems

from clothwright.lay.comb import draft_from, job_for
from clothwright.lay.fit import holds, lay_from, score
from clothwright.lay.improve import first_lay
from clothwright.lay.judge import judge
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


def free_table(folder: Path, seconds: float, seeds: int) -> None:
    print(f"\nfree, {seconds:g} s, {seeds} seeds: density %")
    print(f"{'instance':10} {'ours':>7} {'packer':>7} {'ratio':>7} {'mean':>7} {'record':>7}")
    ratios = []
    for path in sorted(folder.glob("*.json")):
        problem = problems.research(path)
        ours, alone = [], []
        for seed in range(seeds):
            lay = solve(problem, seconds=seconds, seed=seed)
            assert not judge(problem, lay), path
            ours.append(problems.density(problem, used(lay)))
            alone.append(problems.density(problem, packer_alone(problem, seconds, seed)))
        mean, record = problems.PUBLISHED.get(path.stem, (0.0, 0.0))
        a, b = statistics.mean(ours), statistics.mean(alone)
        ratios.append(a / b)
        print(
            f"{path.stem:10} {a:7.2f} {b:7.2f} {a / b:7.4f} {mean:7.2f} {record:7.2f}", flush=True
        )
    print(f"mean ratio to the packer alone: {statistics.mean(ratios):.4f}")


def ruled_table(seconds: float, seeds: int, only: list[str]) -> None:
    print(f"\nruled, {seconds:g} s, {seeds} seeds: mm used")
    head = ("problem", "ours", "comb", "gain %", "free", "bound", "first s")
    print("{:20} {:>8} {:>8} {:>7} {:>8} {:>8} {:>8}".format(*head))
    gains = []
    for name, make in problems.RULED.items():
        if only and name not in only:
            continue
        problem = make()
        ours, combs, firsts = [], [], []
        for seed in range(seeds):
            began, when = time.perf_counter(), []
            lay = solve(
                problem,
                seconds=seconds,
                seed=seed,
                on_better=lambda _lay, b=began, w=when: w.append(time.perf_counter() - b),
            )
            assert not judge(problem, lay), name
            ours.append(used(lay))
            firsts.append(when[0])
            combs.append(used(comb_alone(problem, seconds, seed)))
        free = used(solve(problems.unruled(problem), seconds=seconds))
        a, b = statistics.mean(ours), statistics.mean(combs)
        gains.append(100.0 * (1.0 - a / b))
        low = least_length(prepare(problem))
        print(
            f"{name:20} {a:8.1f} {b:8.1f} {gains[-1]:7.2f} {free:8.1f} {low:8.1f} "
            f"{max(firsts):8.2f}",
            flush=True,
        )
    print(f"mean gain over the comb: {statistics.mean(gains):.2f} %")


def first_table() -> None:
    times = []
    for seed in range(5):
        began = time.perf_counter()
        lay = solve(problems.thirty(), seconds=0.0, seed=seed)
        times.append(time.perf_counter() - began)
        assert not judge(problems.thirty(), lay)
    print(f"\nfirst lay of {len(problems.thirty().shapes)} pieces: {min(times):.2f} s at best, "
          f"{max(times):.2f} s at worst of 5")  # fmt: skip


def random_table(count: int) -> None:
    import sys

    from hypothesis import HealthCheck, Phase, given, settings

    sys.path.insert(0, str(Path(__file__).parent.parent))
    from tests.lay.test_random import problems as random_problems
    from tests.lay.test_random import sound

    worst = 0.0

    @settings(max_examples=count, deadline=None, phases=[Phase.generate],
              suppress_health_check=list(HealthCheck), database=None)  # fmt: skip
    @given(random_problems())
    def run(problem: LayProblem) -> None:
        nonlocal worst
        began = time.perf_counter()
        lay = solve(problem, seconds=0.4)
        worst = max(worst, time.perf_counter() - began - 0.4)
        sound(problem, lay)

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
