"""A change plus all checks on a 30-piece outfit, and the first lay of the demo outfit.

    python bench/outfit.py

Aims: a change and every check together under 100 ms; first valid lay under 1 s after start-up.
"""

from __future__ import annotations

import statistics
import time
from dataclasses import replace

from many import many

from clothwright.checks import run_checks
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.geometry.transform import translation
from clothwright.lay.result import Lay
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workbook import change_of, check_settings, replay
from clothwright.workroom.searching.laying import lay_plan

RUNS = 15


def change_and_checks() -> None:
    """Time one new change after another, each followed by every check."""
    book = coat_and_skirt()
    pattern = many(3).bought
    settings = check_settings(book)
    change = change_of("lengthen")
    run_checks(pattern, settings)
    took = []
    for k in range(RUNS):
        raw = {"pieces": "coat back", "level": "waist", "by": f"{k + 1}.37 mm"}
        params = read_params(change.params, raw, unit=Unit.mm, where="bench")
        began = time.perf_counter()
        changed = change.apply(pattern, params).pattern
        found = run_checks(changed, settings)
        took.append((time.perf_counter() - began) * 1000)
    print(
        f"{len(pattern.pieces)} pieces, {len(pattern.seams)} seams, {len(found)} findings: "
        f"a change and all checks {min(took):.0f} / {statistics.median(took):.0f} / "
        f"{max(took):.0f} ms (min / median / max of {RUNS}; aim: under 100)"
    )


def replayed(outfits: int, steps: int, aim: float) -> None:
    """Time the replay of a list of changes, none of it remembered, and the checks after it."""
    book = many(outfits, steps)
    took = []
    for k in range(3):
        shift = translation((1.0 + k, 0.0))
        pieces = tuple(moved(p, shift) for p in book.bought.pieces)
        fresh = replace(book, bought=replace(book.bought, pieces=pieces))
        began = time.process_time()
        done = replay(fresh)
        found = run_checks(done.pattern, check_settings(fresh))
        took.append((time.process_time() - began) * 1000)
        lost = [t.error for t in done.told if t.error]
    print(
        f"{len(book.bought.pieces)} pieces, {len(book.steps)} changes ({len(lost)} not done), "
        f"{len(found)} findings: replay and all checks {min(took):.0f} / {max(took):.0f} ms of "
        f"processor time (aim: under {aim:.0f})"
    )


def first_lay() -> None:
    """Time the first valid lay of every plan of the demo outfit."""
    book = coat_and_skirt()
    for plan in book.plans:
        firsts = []
        for seed in range(3):
            began = time.perf_counter()
            seen: list[float] = []

            def tell(_lay: Lay, began: float = began, seen: list[float] = seen) -> None:
                seen.append(time.perf_counter() - began)

            lay_plan(book, plan.name, seconds=2.0, seed=seed, on_better=tell)
            firsts.append(seen[0])
        print(
            f"first valid lay, {plan.name}: {min(firsts):.2f} / {statistics.median(firsts):.2f} / "
            f"{max(firsts):.2f} s (min / median / max of 3 seeds; aim: under 1)"
        )


if __name__ == "__main__":
    change_and_checks()
    replayed(3, 20, 300.0)
    replayed(14, 90, 1500.0)
    first_lay()
