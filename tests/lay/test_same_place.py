"""Two points at one place of a brick print: its half step is as good as a whole one, everywhere.

The lattice by hand: 60 along, 84 across, each next row half of that aside, so that it comes again
after (60, 42), (120, 0) and (0, 84) mm.
"""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from clothwright.lay.by_hand import LaidOut, track_of
from clothwright.lay.judge import judge, residuals
from clothwright.lay.lying import lie, used_on
from clothwright.lay.phases import settle
from clothwright.lay.problem import AtPhase, LayProblem, OnLine, Region, Rule, SamePlace, Shape
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve

MEET = SamePlace(
    id="1 meet",
    shape_a="a",
    point_a="p",
    shape_b="b",
    point_b="p",
    signs=(1, 1),
    shifts=((0.0, 0.0), (60.0, 42.0)),
    repeat_along=120.0,
    repeat_across=84.0,
)
MIRRORED = replace(MEET, signs=(1, -1), shifts=((0.0, 20.0), (60.0, 62.0)))


def problem(*rules: Rule, width: float = 200.0) -> LayProblem:
    """Two squares of 40 mm on an endless cloth."""
    ring = ((0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0))
    shapes = tuple(
        Shape(id=n, piece=n, copy=1, outline=ring, turns_deg=(0.0,), points={"p": (0.0, 0.0)})
        for n in ("a", "b")
    )
    region = Region(name="cloth", width=width, length=None)
    return LayProblem(regions=(region,), shapes=shapes, rules=rules)


def laid(asked: LayProblem, a: tuple[float, float], b: tuple[float, float]) -> Lay:
    """Both squares where they are put."""
    placed = tuple(
        lie(s, region="cloth", x=x, y=y, turn_deg=0.0, flipped=False)
        for s, (x, y) in zip(asked.shapes, (a, b), strict=True)
    )
    return Lay(placements=placed, used={"cloth": used_on("cloth", placed)})


@pytest.mark.parametrize("step", [(0, 0), (60, 42), (60, -42), (120, 0), (0, 84), (180, 126)])
def test_every_step_of_the_print_counts_and_no_other(step: tuple[int, int]) -> None:
    """The judge: 0 there, and half a step on one axis alone, or 3 mm aside, is so far missed."""
    asked = problem(MEET)
    for (dx, dy), mm in (((0, 0), 0.0), ((60, 0), 42.0), ((0, 42), 42.0), ((3, -1), 3.0)):
        lay = laid(asked, (200.0 + step[0] + dx, 60.0 + step[1] + dy), (200.0, 60.0))
        assert residuals(asked, lay)["1 meet"] == pytest.approx(mm)


def test_in_a_mirror_the_half_step_counts_too() -> None:
    """Across they are 20 mm together, or 62 with the half step along."""
    asked = problem(MIRRORED)
    for along, across, mm in ((0, 20, 0.0), (60, 62, 0.0), (60, 20, 42.0), (0, 62, 42.0)):
        lay = laid(asked, (200.0 + along, across - 5.0), (200.0, 5.0))
        assert residuals(asked, lay)["1 meet"] == pytest.approx(mm)


@pytest.mark.parametrize(("first", "mm"), [(10.0, 0.0), (70.0, 0.0), (80.0, 10.0)])
def test_what_earlier_rules_leave_a_half_step_away_is_kept(first: float, mm: float) -> None:
    """b at phase (10, 30); a a half step on is no miss; 10 mm beyond is one."""
    row = 72.0 if first > 60.0 else 30.0
    places = {"a": (first, row), "b": (10.0, 30.0)}
    fixed = [
        AtPhase(
            id=f"0 {n} {axis}", shape=n, point="p", axis=axis, phase=at[k], repeat=(120.0, 84.0)[k]
        )
        for n, at in places.items()
        for k, axis in enumerate(("along", "across"))
    ]
    found = settle(problem(*fixed, MEET))
    assert [rest.mm for rest in found.rests] == ([pytest.approx(mm)] if mm else [])
    assert {r.id for r in found.problem.rules if r.id not in {f.id for f in fixed}} == (
        {"1 meet along", "1 meet across"} if mm else {"1 meet"}
    )


@pytest.mark.parametrize("rule", [MEET, MIRRORED])
@pytest.mark.parametrize("order", ["ab", "ba"])
def test_the_search_lays_what_fits_by_the_half_step_alone(rule: SamePlace, order: str) -> None:
    """b on a line at 20; at a's only other line, 62 or 42, whole steps have no place for it."""
    b, a = (20.0, 62.0) if rule is MEET else (20.0, 42.0)
    at = {"a": a, "b": b}
    lines = (OnLine(id=f"0 {n}", shape=n, points=("p",), axis="across", at=at[n]) for n in order)
    asked = problem(rule, *lines)
    lay = solve(asked, seconds=5.0, rounds=2)
    assert judge(asked, lay) == ()
    assert not lay.unplaced
    assert lay.used["cloth"] < 200.0


def test_a_piece_moved_by_hand_is_held_at_the_step_where_it_lies() -> None:
    """At (60, 42) of its partner it is held there by whole repeats, not drawn to another row."""
    asked = problem(MEET)
    table = LaidOut(
        problem=asked,
        places={p.shape: p for p in laid(asked, (261.0, 60.0), (200.0, 20.0)).placements},
    )
    along, across = (track_of(table, table.places["a"], axis) for axis in (0, 1))
    assert along is not None
    assert across is not None
    assert (along.takes(260.0), across.takes(62.0)) == (True, True)
    assert (along.takes(200.0), across.takes(20.0)) == (False, False)


def test_of_three_tied_in_a_ring_each_pair_may_be_a_half_step_apart() -> None:
    """c lies a half step from a, and so from b: no pair of whole steps would close the ring."""
    two = problem()
    shapes = (*two.shapes, replace(two.shapes[0], id="c", piece="c"))
    ring = tuple(
        replace(MEET, id=f"{n} ring", shape_a=a, shape_b=b)
        for n, (a, b) in enumerate(itertools.combinations("abc", 2))
    )
    lines = tuple(
        OnLine(id=f"l {n}", shape=n, points=("p",), axis="across", at=y)
        for n, y in (("a", 20.0), ("b", 20.0), ("c", 62.0))
    )
    asked = replace(two, shapes=shapes, rules=(*lines, *ring))
    assert settle(asked).rests == ()
    lay = solve(asked, seconds=5.0, rounds=2)
    assert judge(asked, lay) == ()
    assert not lay.unplaced
