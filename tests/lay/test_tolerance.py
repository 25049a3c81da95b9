"""A tolerance is used where it makes room, and the judge measures against it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from clothwright.lay.by_hand import LaidOut, Wanted, held_words, try_place
from clothwright.lay.judge import judge
from clothwright.lay.lying import lie
from clothwright.lay.phases import lies, settle
from clothwright.lay.problem import (
    AtPhase,
    KeepOff,
    LayProblem,
    OnLine,
    Region,
    Rule,
    SamePhase,
    Shape,
)
from clothwright.lay.solve import solve
from clothwright.pattern.finding import Severity
from clothwright.units import Unit


def _box(name: str, long: float, wide: float, points: dict[str, tuple[float, float]]) -> Shape:
    ring = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
    return Shape(
        id=name, piece=name, copy=1, outline=ring, turns_deg=(0.0,), regions=("c",), points=points
    )


def _problem(shapes: list[Shape], rules: list[Rule], long: float | None = None) -> LayProblem:
    cloth = Region(name="c", width=500.0, length=long)
    return LayProblem(regions=(cloth,), shapes=tuple(shapes), rules=tuple(rules))


def test_ten_mm_higher_fits_where_exactly_there_hangs_off_the_cloth() -> None:
    """A hem 20 mm from the edge with 30 mm below it hangs 10 mm off: the tolerance takes it up."""
    skirt = replace(_box("skirt", 200.0, 300.0, {"hem": (30.0, 0.0)}), turns_deg=(90.0,))
    on = OnLine(id="1 border", shape="skirt", points=("hem",), axis="across", at=20.0)
    exact = _problem([skirt], [on])
    assert solve(exact, seconds=0.0, rounds=0).unplaced
    loose = _problem([skirt], [replace(on, most=20.0)])
    lay = solve(loose, seconds=0.0, rounds=0)
    assert lay.fits
    assert judge(loose, lay) == ()
    at = lies(loose, {p.shape: p for p in lay.placements})["1 border"]
    assert 10.0 - 0.1 <= at <= 20.0 + 0.1
    assert [f.code for f in judge(exact, lay)] == ["lay-rule"]


def test_a_tolerance_saves_cloth_where_a_repeat_costs_it() -> None:
    """Two boxes of 203 mm at one phase of 100 mm need 503 mm, and 406 mm where 3 mm may be missed.

    By hand: the second begins at the next tooth after 203 (300), or at 203 with 3 mm to spare.
    """
    boxes = [_box(n, 203.0, 400.0, {"p": (0.0, 0.0)}) for n in ("a", "b")]
    same = SamePhase(
        id="1 meets", shape_a="a", point_a="p", shape_b="b", point_b="p", axis="along", repeat=100.0
    )
    assert solve(_problem(boxes, [same]), seconds=0.0, rounds=0).used["c"] == pytest.approx(
        503.0, abs=0.05
    )
    loose = _problem(boxes, [replace(same, least=-3.0, most=3.0)])
    lay = solve(loose, seconds=0.0, rounds=0)
    assert judge(loose, lay) == ()
    assert lay.used["c"] == pytest.approx(406.0, abs=0.05)


def test_a_rule_that_had_to_give_way_is_laid_at_its_nearest() -> None:
    """A loop that does not close is laid, the last rule missed by what was told before."""
    boxes = [_box(n, 90.0, 100.0, {"p": (0.0, 0.0), "q": (14.0, 0.0)}) for n in ("a", "b")]
    rules: list[Rule] = [
        SamePhase(
            id=f"{n} meets", shape_a="a", point_a=p, shape_b="b", point_b="p", axis="along",
            repeat=50.0,
        )
        for n, p in ((1, "p"), (2, "q"))
    ]  # fmt: skip
    problem = _problem(boxes, rules)
    assert solve(problem, seconds=0.0, rounds=0).unplaced
    found = settle(problem)
    lay = solve(found.problem, seconds=0.0, rounds=0)
    assert lay.fits
    assert judge(found.problem, lay) == ()
    at = lies(problem, {p.shape: p for p in lay.placements})
    assert at == pytest.approx({"1 meets": 0.0, "2 meets": 14.0}, abs=0.1)
    assert [r.mm for r in found.rests] == pytest.approx([14.0])


def test_a_piece_moved_by_hand_keeps_its_place_in_the_tolerance() -> None:
    """Pushed along, it snaps to the next repeat, as much higher as the lay has it now."""
    box = _box("a", 100.0, 100.0, {"p": (20.0, 0.0)})
    rule = AtPhase(
        id="1 phase", shape="a", point="p", axis="along", phase=0.0, repeat=60.0, most=8.0
    )
    problem = _problem([box], [rule])
    lay = solve(problem, seconds=0.0, rounds=0)
    place = replace(lay.placements[0], x=45.0)
    table = LaidOut(problem=problem, places={"a": place})
    wanted = Wanted(shape="a", x=100.0, y=0.0, turn_deg=0.0, flipped=False)
    assert try_place(table, wanted, Unit.cm).place.x == pytest.approx(105.0)


def test_the_rules_that_a_piece_cannot_keep_together_are_named() -> None:
    """Two places 7 mm apart in the repeat, and a third rule that has no part in it."""
    box = _box("a", 100.0, 100.0, {"p": (20.0, 0.0)})
    rules = [
        AtPhase(id=f"{n} x", shape="a", point="p", axis=axis, phase=phase, repeat=60.0)
        for n, axis, phase in ((1, "along", 0.0), (2, "across", 5.0), (3, "along", 7.0))
    ]
    said = {"1": ("a on the stem",), "2": ("a on the leaf",), "3": ("a on the bud",)}
    problem = replace(_problem([box], rules), said=said)
    place = lie(box, region="c", x=45.0, y=50.0, turn_deg=0.0, flipped=False)
    table = LaidOut(problem=problem, places={"a": place})
    first, _ = held_words(table, "a", Unit.cm)
    assert first.endswith("cannot all be kept along the cloth: “a on the stem”; “a on the bud”.")


@pytest.mark.parametrize("seed", range(36, 56))
def test_a_place_within_a_tolerance_is_found_where_a_grid_finds_one_and_else_not(seed: int) -> None:
    """Bands and edges leave strips: every place across is tried, a tenth of a mm apart.

    By numpy alone: a shape of 60 mm, its point 20 mm above its lower edge, on a line or at a place
    of a repeat with so much room.
    """
    rng = np.random.default_rng(seed)
    low, most = float(rng.integers(-40, 1)), float(rng.integers(0, 41))
    at = float(rng.integers(0, 300))
    values = {"id": "1 at", "shape": "a", "least": low, "most": most, "axis": "across"}
    on_line = bool(rng.integers(2))
    rule: Rule = (
        OnLine(**values, points=("p",), at=at)  # type: ignore[arg-type]
        if on_line
        else AtPhase(**values, point="p", phase=at, repeat=250.0)  # type: ignore[arg-type]
    )
    starts = [float(v) for v in rng.integers(0, 300, 2)]
    bands = [
        KeepOff(id=f"{n} off", shape="a", region="c", low=v, high=v + float(rng.integers(60, 110)))
        for n, v in enumerate(starts, start=2)
    ]
    turns = (float(rng.choice((0.0, 180.0))),)
    box = replace(_box("a", 100.0, 60.0, {"p": (0.0, 20.0)}), turns_deg=turns)
    cloth = Region(name="c", width=300.0, length=None, margin_lower=10.0, margin_upper=10.0)
    problem = LayProblem(regions=(cloth,), shapes=(box,), rules=(rule, *bands))

    edge = np.arange(10.0, 230.0 + 0.05, 0.1)
    point = edge + (20.0 if turns == (0.0,) else 40.0)
    off = (point - at) * (1.0 if turns == (0.0,) else -1.0)
    tries = off if on_line else off - 250.0 * np.round((off - (low + most) / 2.0) / 250.0)
    free = (tries >= low - 1e-9) & (tries <= most + 1e-9)
    for band in bands:
        free &= (edge + 60.0 <= band.low + 1e-9) | (edge >= band.high - 1e-9)
    lay = solve(problem, seconds=0.0, rounds=0)
    assert bool(free.any()) == (not lay.unplaced)
    assert [f.code for f in judge(problem, lay) if f.severity is Severity.FAULT] == []
