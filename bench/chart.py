"""The yardage chart: what a second worker adds, and the demo's needs beside the width table.

python bench/chart.py

A lay that ends by time takes its time on any core, so two workers would look twice as fast even
where they share one. So lays of a fixed number of rounds are timed too: the same work, by one
worker and by two. What the machine itself gives two processes at that moment (other work may be
going on beside) is measured with a plain loop and stands in front: no chart can do better.
"""

from __future__ import annotations

import importlib.util
import itertools
import os
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.widths import convert
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.errors import BadInput
from clothwright.lay.spreading import spread
from clothwright.pattern.pattern import Pattern
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.yardage import Cell, CellTask
from clothwright.workbook import Workbook, replay
from clothwright.workroom.planning.chart import chart, tasks_of

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from tests.cluster import cluster

IN, YARD = 25.4, 914.4
WIDTHS_IN = (36, 45, 54, 60)
ROUNDS = 10
SECONDS = 2.0
TABLE_SECONDS = 8.0
WITHIN_YD = 0.25


def took(tasks: Sequence[CellTask], *, workers: int, scheduler: str = "") -> float:
    """Seconds for a whole chart, with the start of a pool's processes (a scheduler runs before)."""
    began = time.perf_counter()
    made = chart(tasks, workers=workers, scheduler=scheduler)
    spent = time.perf_counter() - began
    if any(c.need is None for c in made.cells):
        raise SystemExit(f"an entry has no lay: {made.cells}")
    return spent


def by_pool(tasks: Sequence[CellTask], workers: int) -> float:
    return took(tasks, workers=workers)


def by_scheduler(tasks: Sequence[CellTask], workers: int) -> float:
    with cluster(workers) as address:
        return took(tasks, workers=1, scheduler=address)


def spin(turns: int) -> int:
    """Plain work that fits in the cache: what the machine's cores give, and nothing of ours."""
    x = 1
    for k in range(turns):
        x = (x * 48271 + k) % 2147483647
    return x


def spun(workers: int) -> float:
    began = time.perf_counter()
    spread(
        [15_000_000] * 8,
        spin,
        workers=workers,
        done=lambda _k, _x: None,
        failed=lambda _k, why: print(why),
    )
    return time.perf_counter() - began


@dataclass(frozen=True, kw_only=True)
class Speed:
    """Seconds for the same work by one worker and by two, one of each per run, in turns.

    why: the reason when it was not measured.
    """

    what: str
    one: tuple[float, ...] = ()
    two: tuple[float, ...] = ()
    why: str = ""

    @property
    def ratio(self) -> float:
        """Return the better of the runs by one over the better of those by two."""
        return min(self.one) / min(self.two)


def speeds(*, rounds: int, seconds: float, runs: int, widths: int = 4) -> Iterator[Speed]:
    """Time the same lays by one and by two workers, by processes and by a scheduler.

    seconds: 0 leaves out the lays that end by time. widths: of 4, how many; two lays for each.
    """
    book = coat_and_skirt()
    said = {
        "widths": (1150.0, 1250.0, 1400.0, 1500.0)[:widths],
        "plans": ("skirt only",),
    }
    kinds = [(f"lays of {rounds} rounds", tasks_of(book, seconds=600.0, rounds=rounds, **said))]
    if seconds:
        kinds.append((f"lays of {seconds:g} s", tasks_of(book, seconds=seconds, **said)))
    yield _compared("the machine itself, 8 plain loops", spun, runs)
    for kind, tasks in kinds:
        yield _compared(f"processes, {len(tasks)} {kind}", partial(by_pool, tasks), runs)
    for kind, tasks in kinds:
        what = f"distributed, {len(tasks)} {kind}"
        if importlib.util.find_spec("distributed") is None:
            yield Speed(what=what, why='the extra "cluster" is not installed')
        else:
            yield _compared(what, partial(by_scheduler, tasks), runs)


def _compared(what: str, run: Callable[[int], float], runs: int) -> Speed:
    spent = [(run(1), run(2)) for _ in range(runs)]
    one, two = zip(*spent, strict=True)
    return Speed(what=what, one=one, two=two)


def throughput() -> None:
    """Print how much faster two workers are than one."""
    print(f"{os.cpu_count()} cores", flush=True)
    for speed in speeds(rounds=ROUNDS, seconds=SECONDS, runs=2):
        if speed.why:
            print(f"{speed.what}: not measured: {speed.why}")
            continue
        load = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"
        print(
            f"{speed.what}: 1 worker {min(speed.one):.1f} s, 2 workers {min(speed.two):.1f} s, "
            f"ratio {speed.ratio:.2f} (load average {load})",
            flush=True,
        )


def only(pattern: Pattern, names: Sequence[str]) -> Pattern:
    """The pieces whose names begin so, and the seams that join only them."""
    pieces = tuple(p for p in pattern.pieces if p.name.startswith(tuple(names)))
    kept = {p.name for p in pieces}
    seams = tuple(s for s in pattern.seams if kept.issuperset(r.piece for r in (*s.a, *s.b)))
    return Pattern(pieces=pieces, seams=seams)


def garments() -> Iterator[tuple[str, Workbook]]:
    """The demo's skirt, its coat, and both, on plain cloth without rules."""
    book = coat_and_skirt()
    pattern = replay(book).pattern
    cloth = Cloth(name="plain", width=1000.0)
    bare = replace(book, steps=(), cloths=(cloth,), plans=(Plan(name="free"),), chosen_plan="")
    skirt, coat = ("skirt", "waistband"), ("coat", "front facing", "back neck facing")
    for name, names in (("skirt", skirt), ("coat", coat), ("coat and skirt", skirt + coat)):
        yield name, replace(bare, bought=only(pattern, names))


def against_the_table() -> None:
    """Print real lays at four widths, and what the table converts each to the others."""
    for name, book in garments():
        tasks = tasks_of(
            book, widths=[w * IN for w in WIDTHS_IN], naps=(False,), seconds=TABLE_SECONDS
        )
        cells = chart(tasks, workers=2).cells
        said = ", ".join(
            f"{c.need / YARD:.2f} yd at {w} in" if c.need else f"none at {w} in ({c.why})"
            for w, c in zip(WIDTHS_IN, cells, strict=True)
        )
        print(f"{name}: {said}", flush=True)
        for (a, here), (b, there) in itertools.permutations(zip(WIDTHS_IN, cells, strict=True), 2):
            print("   " + converted(a, here, b, there))


def converted(a: int, here: Cell, b: int, there: Cell) -> str:
    """Say how far a real lay is from what the table makes of the lay at another width."""
    if here.need is None or there.need is None:
        return f"{a} to {b} in: no lay"
    try:
        rule, by = convert(here.need / YARD, a, b), "table"
    except BadInput:
        rule, by = here.need / YARD * a / b, "outside the table; by area"
    off = there.need / YARD - rule
    verdict = "within 1/4" if abs(off) <= WITHIN_YD else "MORE than 1/4"
    return f"{a} to {b} in: {by} {rule:.2f} yd, lay {off:+.2f} yd ({verdict})"


if __name__ == "__main__":
    throughput()
    against_the_table()
