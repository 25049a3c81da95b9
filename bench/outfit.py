"""A change plus all checks on a 30-piece outfit, and the first lay of the demo outfit.

    python bench/outfit.py

Aims: a change and every check together under 100 ms; first valid lay under 1 s after start-up.
"""

from __future__ import annotations

import statistics
import time
from dataclasses import replace

from clothwright.checks import run_checks
from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.lay.result import Lay
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workbook import Step, change_of, check_settings, replay
from clothwright.workroom.searching.laying import lay_plan

RUNS = 15


def thirty_pieces(pattern: Pattern) -> Pattern:
    """Return the pattern three times over under other names, thirty pieces or more."""
    pieces, seams = [], []
    for k in range(3):
        tag = "" if k == 0 else f" {k + 1}"
        pieces += [replace(p, name=p.name + tag) for p in pattern.pieces]
        for s in pattern.seams:
            a = tuple(EdgeRef(r.piece + tag, r.edge, r.reversed) for r in s.a)
            b = tuple(EdgeRef(r.piece + tag, r.edge, r.reversed) for r in s.b)
            seams.append(replace(s, name=s.name + tag, a=a, b=b))
    return Pattern(pieces=tuple(pieces), seams=tuple(seams))


def change_and_checks() -> None:
    """Time one new change after another, each followed by every check."""
    book = coat_and_skirt()
    pattern = thirty_pieces(book.bought)
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


def replayed() -> None:
    """Time the replay of the demo's own list of changes and the checks after it."""
    book = coat_and_skirt()
    more = Step(change="lengthen", params={"pieces": "coat back", "level": "waist", "by": "1 cm"})
    book = replace(book, steps=(*book.steps, more))
    took = []
    for _ in range(RUNS):
        began = time.perf_counter()
        run_checks(replay(book).pattern, check_settings(book))
        took.append((time.perf_counter() - began) * 1000)
    print(f"replay of {len(book.steps)} changes and all checks: {statistics.median(took):.0f} ms")


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
    replayed()
    first_lay()
