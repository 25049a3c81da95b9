"""Small lays against the exact optimum on a grid, by a general-purpose solver (CP-SAT)."""

from __future__ import annotations

import random

import pytest

from clothwright.lay.judge import judge
from clothwright.lay.problem import AtPhase, LayProblem, Region, Shape
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve

cp_model = pytest.importorskip("ortools.sat.python.cp_model", reason="ortools is not installed")

CELL = 20.0
"""mm: sizes and phases are whole cells, so that an optimum lies on the grid."""
TALL = 16
"""cells across the cloth."""


def six(seed):
    """Six rectangles of whole cells."""
    rng = random.Random(seed)
    return [(rng.randint(3, 10), rng.randint(3, 10)) for _ in range(6)]


def optimum(sizes, phases):
    """The least length in cells; phases: {shape: (phase, repeat)} for its left edge."""
    model = cp_model.CpModel()
    top = sum(a for a, _ in sizes) + 12
    end = model.new_int_var(0, top, "end")
    xs, ys = [], []
    for k, (a, b) in enumerate(sizes):
        x = model.new_int_var(0, top - a, f"x{k}")
        y = model.new_int_var(0, TALL - b, f"y{k}")
        xs.append(model.new_fixed_size_interval_var(x, a, f"ix{k}"))
        ys.append(model.new_fixed_size_interval_var(y, b, f"iy{k}"))
        model.add(x + a <= end)
        if k in phases:
            phase, repeat = phases[k]
            model.add_modulo_equality(phase % repeat, x, repeat)
    model.add_no_overlap_2d(xs, ys)
    model.minimize(end)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = 20.0
    solver.parameters.num_workers = 2
    assert solver.solve(model) == cp_model.OPTIMAL
    return solver.value(end)


def problem(sizes, phases):
    shapes = tuple(
        Shape(
            id=f"{k}",
            piece=f"{k}",
            copy=1,
            turns_deg=(0.0,),
            regions=("c",),
            outline=((0.0, 0.0), (a * CELL, 0.0), (a * CELL, b * CELL), (0.0, b * CELL)),
            points={"left": (0.0, 0.0)},
        )
        for k, (a, b) in enumerate(sizes)
    )
    rules = tuple(
        AtPhase(
            id=f"p{k}", shape=f"{k}", point="left", axis="along", phase=p * CELL, repeat=r * CELL
        )
        for k, (p, r) in phases.items()
    )
    return LayProblem(
        regions=(Region(name="c", width=TALL * CELL, length=None),), shapes=shapes, rules=rules
    )


@pytest.mark.parametrize("bound", [False, True], ids=["free", "phases"])
@pytest.mark.parametrize("seed", range(4))
def test_six_pieces_within_two_percent_of_the_optimum(seed, bound):
    """Free, and with two left edges on phases of a repeat of five cells.

    The search goes on until it is there; where it counts rounds, it has 400 of them.
    """
    sizes = six(seed)
    phases = {0: (2, 5), 3: (4, 5)} if bound else {}
    near = optimum(sizes, phases) * CELL * 1.02 + 0.05
    asked = problem(sizes, phases)
    told: list[Lay] = []
    lay = solve(
        asked,
        seconds=120.0,
        rounds=400 if bound else None,
        seed=seed,
        on_better=told.append,
        should_stop=lambda: bool(told) and told[-1].used["c"] <= near,
    )
    assert judge(asked, lay) == ()
    assert lay.used["c"] <= near
