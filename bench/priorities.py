"""What the order of importance and tolerances cost in time, and what a tolerance saves in length.

    python bench/priorities.py [--rounds 20] [--pairs 3]

Side by side, in turns: each plan of the demos with a print is compiled and laid for the same rounds

* as it was stated, its rules not settled;
* settled, as it is compiled now;
* settled, with room for every rule: 5 mm either way on the body, 2 mm where two points meet.

The ratio is that of the processor's time, the middle of the pairs.
"""

from __future__ import annotations

import argparse
import contextlib
import statistics
import time
from collections.abc import Iterator
from dataclasses import replace
from unittest import mock

from clothwright.demo import DEMOS
from clothwright.lay import phases
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.rules import settling
from clothwright.rules.compile import compile_lay
from clothwright.rules.known import kind_of
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.workbook import Workbook, replay

ROOM = {"lower": 5.0, "higher": 5.0, "aside": 5.0, "within": 2.0}


def loose(plan: Plan) -> Plan:
    """Return the plan with room for every rule on the print."""

    def one(rule: PlacingRule) -> PlacingRule:
        mine = {name: mm for name, mm in ROOM.items() if hasattr(rule, name)}
        return replace(rule, **mine) if mine else rule  # type: ignore[arg-type]

    return replace(plan, rules=tuple(one(r) for r in plan.rules))


@contextlib.contextmanager
def unsettled() -> Iterator[None]:
    """Leave rules as they are stated."""
    with mock.patch.object(settling, "settle", lambda problem: phases.Settled(problem=problem)):
        yield


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--rounds", type=int, default=20)
    asked.add_argument("--pairs", type=int, default=3)
    told = asked.parse_args()
    print(f"{'plan':44} {'stated':>7} {'order':>6} {'room':>6} {'mm':>7} {'with room':>9}")
    for demo in DEMOS:
        book = demo.make()
        for plan in (p for p in book.plans if any(kind_of(r).on_print for r in p.rules)):
            row(book, plan, told)


def row(book: Workbook, plan: Plan, told: argparse.Namespace) -> None:
    """Lay one plan in the three ways in turn, and print its row."""
    pattern = replay(book).pattern

    def lay(one: Plan) -> tuple[float, float]:
        began = time.process_time()
        problem = compile_lay(pattern, book.cloths, one).problem
        found = solve(problem, seconds=600.0, rounds=told.rounds)
        spent = time.process_time() - began
        assert judge(problem, found) == (), one.name
        return spent, sum(found.used.values())

    lay(plan)  # outlines are remembered from here on
    rows = []
    for _ in range(told.pairs):
        with unsettled():
            before = lay(plan)
        rows.append((before, lay(plan), lay(loose(plan))))
    order = statistics.median(now[0] / before[0] for before, now, _ in rows)
    room = statistics.median(with_room[0] / before[0] for before, _, with_room in rows)
    seconds, (_, exact), (_, roomy) = rows[0][0][0], rows[0][1], rows[0][2]
    label = f"{book.title}: {plan.name}"
    print(f"{label:44} {seconds:6.2f}s {order:6.2f} {room:6.2f} {exact:7.0f} {roomy:9.0f}")


if __name__ == "__main__":
    main()
