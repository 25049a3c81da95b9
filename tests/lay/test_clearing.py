"""What keeps clear of a figure has its place in the order of importance.

Held against every place of a grid, tried by numpy: nothing that stands before is given up, no place
of the grid betters what is told, and a lay has it.
"""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from clothwright.lay.judge import judge, residuals
from clothwright.lay.phases import because, settle
from clothwright.lay.problem import (
    AtFigure,
    AtPhase,
    KeepClear,
    KeepWhole,
    LayProblem,
    Region,
    Rule,
    SamePhase,
    Shape,
)
from clothwright.lay.solve import solve
from clothwright.lay.tolerance import best_pointed

REPEAT, STEP = 120.0, 10.0
NEAR = 0.1
"""mm: a circle is laid by as 96 sides round it, 0.03 mm out at the corners of one of 50 mm."""


def _problem(names: str, rules: list[Rule], **more: float) -> LayProblem:
    ring = ((0.0, 0.0), (20.0, 0.0), (20.0, 15.0), (0.0, 15.0))
    shapes = tuple(
        Shape(id=n, piece=n, copy=1, outline=ring, turns_deg=(0.0,), points={"p": (5.0, 4.0)})
        for n in names
    )
    cloth = Region(name="c", width=more.pop("width", 400.0), length=None, **more)
    return LayProblem(regions=(cloth,), shapes=shapes, rules=tuple(rules))


def _clear(name: str, shape: str, centre: tuple[float, float], radius: float) -> KeepClear:
    return KeepClear(
        id=name, shape=shape, point="p", radius=radius, centre=centre, repeat_along=REPEAT,
        repeat_across=REPEAT,
    )  # fmt: skip


def _at(name: str, shape: str, axis: str, phase: float, most: float = 0.0) -> AtPhase:
    return AtPhase(
        id=name, shape=shape, point="p", axis=axis, phase=phase, repeat=REPEAT, most=most
    )


def _random(rng: random.Random) -> LayProblem:
    """Two shapes, rules on either axis with whole steps, one figure for each shape at most."""
    rules: list[Rule] = []
    for n in range(6):
        shape, axis = rng.choice("ab"), rng.choice(("along", "across"))
        kind, whole = rng.randrange(3), STEP * rng.randrange(12)
        if kind == 0 and not any(isinstance(r, KeepClear) and r.shape == shape for r in rules):
            centre = (whole, STEP * rng.randrange(12))
            rules.append(_clear(f"{n} clear", shape, centre, rng.choice((20.0, 30.0, 50.0))))
        elif kind == 1:
            rules.append(
                SamePhase(
                    id=f"{n} same", shape_a="a", point_a="p", shape_b="b", point_b="p", axis=axis,
                    repeat=REPEAT, shift=whole,
                )
            )  # fmt: skip
        else:
            rules.append(_at(f"{n} at", shape, axis, whole, rng.choice((0.0, 0.0, 20.0))))
    return _problem("ab", rules)


def _wrapped(mm: np.ndarray) -> np.ndarray:
    return np.asarray((mm + REPEAT / 2.0) % REPEAT - REPEAT / 2.0)


def _missed(rule: Rule, at: dict[str, np.ndarray]) -> np.ndarray:
    """Return by how many mm a rule is missed, the points p of the shapes lying at places."""
    if isinstance(rule, KeepClear):
        off = [_wrapped(at[rule.shape][k] - rule.centre[k]) for k in (0, 1)]
        return np.maximum(0.0, rule.radius - np.hypot(*off))
    axis = ("along", "across").index(rule.axis)
    if isinstance(rule, SamePhase):
        return np.abs(_wrapped(at["a"][axis] - at["b"][axis] - rule.shift))
    assert isinstance(rule, AtPhase)
    off = _wrapped(at[rule.shape][axis] - rule.phase - rule.most / 2.0)
    return np.maximum(0.0, np.abs(off) - rule.most / 2.0)


def _places() -> dict[str, np.ndarray]:
    """Return every place of two points on a grid of 10 mm."""
    steps = np.arange(0.0, REPEAT, STEP)
    grid = np.array(list(itertools.product(steps, repeat=4))).T
    return {"a": grid[:2], "b": grid[2:]}


GRID = _places()


@pytest.mark.parametrize("seed", range(24))
def test_nothing_on_a_grid_betters_what_is_told_and_a_lay_has_it(seed: int) -> None:
    """Rule after rule: where the earlier ones are as near, no place is nearer than is told."""
    problem = _random(random.Random(seed))
    found = settle(problem)
    told = {r.rule: r.mm for r in found.rests}
    left = np.ones(GRID["a"].shape[1], dtype=bool)
    for rule in problem.rules:
        missed = _missed(rule, GRID)
        if left.any():
            assert told.get(rule.id, 0.0) <= missed[left].min() + NEAR, rule.id
        left &= missed <= told.get(rule.id, 0.0) + NEAR
    lay = solve(found.problem, seconds=0.0, rounds=0)
    assert lay.unplaced == {}
    assert judge(found.problem, lay) == ()


def test_what_is_named_first_keeps_clear_and_the_later_rule_gives_way() -> None:
    """A point 20 mm from a figure across, to lie on it along: by hand sqrt(50² - 20²) beside it."""
    first = _clear("1 clear", "a", (30.0, 40.0), 50.0)
    across, along = _at("2 at", "a", "across", 60.0), _at("3 at", "a", "along", 30.0)
    problem = _problem("a", [first, across, along])
    (rest,) = settle(problem).rests
    assert (rest.rule, rest.mm) == ("3 at", pytest.approx(np.sqrt(50.0**2 - 20.0**2), abs=NEAR))
    assert because(problem, rest) == ("1 clear", "2 at")
    late = _problem("a", [across, along, first])
    (rest,) = settle(late).rests
    assert (rest.rule, rest.mm) == ("1 clear", pytest.approx(30.0))
    whole = KeepWhole(
        id="1 whole", shape="a", parts=(((-5.0, 4.0), (5.0, 4.0)),), radius=50.0,
        centre=(30.0, 40.0), repeat_along=REPEAT, repeat_across=REPEAT,
    )  # fmt: skip
    (rest,) = settle(replace(problem, rules=(whole, across, along))).rests
    assert rest.rule == "3 at", "the line ends where the point is: as near on that side"
    assert rest.mm == pytest.approx(np.sqrt(50.0**2 - 20.0**2), abs=NEAR)


def _narrow() -> LayProblem:
    """Return two shapes tied along that both keep clear at one phase of the repeat only."""
    rules: list[Rule] = [
        _at("1 at", "a", "across", 40.0), _at("2 at", "b", "across", 40.0),
        _clear("3 clear", "a", (30.0, 40.0), 58.0), _clear("4 clear", "b", (81.0, 40.0), 58.0),
        SamePhase(
            id="5 same", shape_a="a", point_a="p", shape_b="b", point_b="p", axis="along",
            repeat=REPEAT, shift=67.0,
        ),
    ]  # fmt: skip
    return _problem("ab", rules)


def test_a_narrow_window_beside_figures_is_found_for_shapes_tied_together() -> None:
    """Of a repeat of 120, 4 mm are left for a and 4 for b, and both lie there at one phase only.

    By hand: figures of 58 mm leave 4 mm between one and the next, on their level; the points are
    held on it, and the shapes tied along, so that both windows must be met at once.
    """
    problem = _narrow()
    assert settle(problem).rests == ()
    lay = solve(problem, seconds=0.0, rounds=0)
    assert lay.unplaced == {}
    assert judge(problem, lay) == ()


def test_without_time_to_try_all_lie_where_each_keeps_clear() -> None:
    """A machine too slow for a whole first lay is given the phase at which there is one."""
    steady = best_pointed(_narrow(), lambda: True)
    assert {r.shape for r in steady.rules if r.id.startswith("steady along")} == {"a", "b"}


def _figures(rng: random.Random) -> tuple[list[tuple[float, float]], tuple[float, float]]:
    """Return the centres of a figure and the oblong they come again in: dropped or not."""
    wide, high = rng.choice((50.0, 90.0, 120.0)), rng.choice((44.0, 84.0, 150.0))
    x, y = round(rng.uniform(0.0, wide), 1), round(rng.uniform(0.0, high), 1)
    centres = [(x, y)] + ([(-x, y)] if rng.random() < 0.5 else [])
    if rng.random() < 0.6:
        centres += [(a + wide / 2.0, b + high) for a, b in centres]
        high *= 2.0
    return centres, (wide, high)


def _away(at: np.ndarray, centres: list[tuple[float, float]], size: tuple[float, float]) -> Any:
    """Return how far places (n, 2) are from the nearest copy of any centre, mm."""
    whole = np.array(size)
    each = [(at - c + whole / 2.0) % whole - whole / 2.0 for c in centres]
    return np.min([np.hypot(*e.T) for e in each], axis=0)


@pytest.mark.parametrize("seed", range(20))
def test_what_cannot_be_clear_is_told_as_a_grid_finds_it_and_laid_so(seed: int) -> None:
    """A bound and reached: the farthest place of a grid of 0.5 mm, and half its diagonal, by numpy.

    The point is free, or held along; it is to keep some mm farther off than any place is, or
    1 mm less far.
    """
    rng = random.Random(seed)
    centres, size = _figures(rng)
    at = rng.choice((None, round(rng.uniform(0.0, size[0]), 1)))
    xs = np.arange(0.0, size[0], 0.5) if at is None else np.array([at])
    grid = np.stack(np.meshgrid(xs, np.arange(0.0, size[1], 0.5)), axis=-1).reshape(-1, 2)
    farthest = float(_away(grid, centres, size).max())
    more = rng.choice((-1.0, 2.0, 30.0))
    held = [] if at is None else [replace(_at("0 at", "a", "along", at), repeat=size[0])]
    clear = [
        replace(
            _clear(f"1 clear {k}", "a", centre, farthest + more),
            repeat_along=size[0], repeat_across=size[1],
        )
        for k, centre in enumerate(centres)
    ]  # fmt: skip
    problem = _problem("a", [*held, *clear])
    found = settle(problem)
    told = max((r.mm for r in found.rests), default=0.0)
    assert max(0.0, more - 0.36) - 0.05 <= told <= max(0.0, more) + 0.05
    assert all(r.sure for r in found.rests)
    lay = solve(found.problem, seconds=0.0, rounds=0)
    assert lay.unplaced == {}
    missed = max(residuals(problem, lay)[r.id] for r in clear)
    assert missed <= told + NEAR
    assert missed >= told - NEAR


def test_what_was_only_tried_is_not_told_as_a_bound() -> None:
    """Two points of a shape on figures both ways: the worst of both is shared axis by axis."""
    points = {"p": (0.0, 0.0), "q": (37.0, 23.0)}
    rules = tuple(
        AtFigure(
            id=f"1 at {p}", shape="a", point=p, centres=((0.0, 0.0),), repeat_along=REPEAT,
            repeat_across=REPEAT,
        )
        for p in points
    )  # fmt: skip
    problem = _problem("a", list(rules))
    problem = replace(problem, shapes=(replace(problem.shapes[0], points=points),))
    assert {r.sure for r in settle(problem).rests} == {False}
    alone = _problem("a", [_at("0 at", "a", "along", 50.0), replace(rules[0], shape="a")])
    assert {r.sure for r in settle(alone).rests} == {True}
