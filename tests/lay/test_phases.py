"""Rules in their order of importance, settled before any lay, held against other ways to reckon.

Two ways that share nothing with the code: every place on a fine grid tried in turn, and mixed
integer programs solved by scipy (HiGHS), one a rule, each with the earlier ones held.
"""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import LinearConstraint, milp

from clothwright.lay.axis_rules import MOST_TURNS, all_ways
from clothwright.lay.judge import residuals
from clothwright.lay.phases import because, pointed, settle
from clothwright.lay.problem import (
    AtFigure,
    AtPhase,
    LayProblem,
    MirrorPhase,
    OnLine,
    Pinned,
    Region,
    Rule,
    SamePhase,
    SameTurn,
    Shape,
    Tolerant,
)
from clothwright.lay.result import Lay, Placement

STEP = 0.5


def _shape(name: str, points: dict[str, tuple[float, float]], **more: object) -> Shape:
    ring = ((0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0))
    values = {"turns_deg": (0.0,), "regions": ("cloth",), **more}
    return Shape(id=name, piece=name, copy=1, outline=ring, points=points, **values)  # type: ignore[arg-type]


def _problem(shapes: list[Shape], rules: list[Rule]) -> LayProblem:
    cloth = Region(name="cloth", width=1400.0, length=None)
    return LayProblem(regions=(cloth,), shapes=tuple(shapes), rules=tuple(rules))


def _random(
    rng: random.Random, repeat: float, count: int, size: int, together: int = 1
) -> LayProblem:
    """Return shapes with points at whole mm, and rules of every kind with whole tolerances.

    together: how many rules on shapes one rule of the plan asks for.
    """
    shapes = [
        _shape(f"s{n}", {p: (float(rng.randrange(12)), 0.0) for p in "pq"}) for n in range(count)
    ]
    rules: list[Rule] = []
    for n in range(size):
        low = float(rng.choice((0, 0, -1, -2)))
        tolerance = {
            "id": f"{n // together} r{n}",
            "least": low,
            "most": low + rng.choice((0, 0, 1, 2)),
        }
        a, b = rng.randrange(count), rng.randrange(count)
        two = {"shape_a": f"s{a}", "point_a": "p", "shape_b": f"s{b}", "point_b": rng.choice("pq")}
        kind = rng.randrange(6)
        if kind < 3 and a != b:
            shift = float(rng.randrange(6))
            rules.append(SamePhase(**tolerance, **two, axis="along", repeat=repeat, shift=shift))
        elif kind < 5:
            about = rng.randrange(12) / 2.0
            rules.append(MirrorPhase(**tolerance, **two, axis="along", repeat=repeat, about=about))
        else:
            phase = float(rng.randrange(6))
            rules.append(
                AtPhase(
                    **tolerance, shape=f"s{a}", point="q", axis="along", phase=phase, repeat=repeat
                )
            )
    return _problem(shapes, rules)


def _off(rule: Rule, at: dict[str, np.ndarray], problem: LayProblem) -> np.ndarray:
    """Return by how much a rule is missed at places, mm, before its tolerance and its repeat."""
    points = {s.id: s.points for s in problem.shapes}
    if isinstance(rule, AtPhase):
        return at[rule.shape] + points[rule.shape][rule.point][0] - rule.phase
    assert isinstance(rule, SamePhase | MirrorPhase)
    a = at[rule.shape_a] + points[rule.shape_a][rule.point_a][0]
    b = at[rule.shape_b] + points[rule.shape_b][rule.point_b][0]
    return a - b - rule.shift if isinstance(rule, SamePhase) else a + b - 2.0 * rule.about


def _by_grid(problem: LayProblem, repeat: float, step: float = STEP) -> list[float]:
    """Return the least miss of each rule in turn, every place of every shape tried.

    Of rules on shapes that one rule of the plan asks for, first the worst is made least.
    """
    names = [s.id for s in problem.shapes]
    steps = np.arange(0.0, repeat, step)
    grid = np.array(list(itertools.product(steps, repeat=len(names)))).T
    at = dict(zip(names, grid, strict=True))
    left, out = np.ones(grid.shape[1], dtype=bool), []
    for _, asked in itertools.groupby(problem.rules, key=lambda r: r.id.split()[0]):
        each = []
        for rule in asked:
            assert isinstance(rule, Tolerant)
            off = _off(rule, at, problem) - (rule.least + rule.most) / 2.0
            off = np.abs((off + repeat / 2.0) % repeat - repeat / 2.0)
            each.append(np.maximum(0.0, off - (rule.most - rule.least) / 2.0))
        for miss in (np.max(each, axis=0), *each):
            least = float(miss[left].min())
            left &= miss <= least + 1e-9
            out.append(least)
        del out[-len(each) - 1]
    return out


def _by_programs(problem: LayProblem, repeat: float) -> list[float]:
    """Return the same from a mixed integer program a rule: whole repeats are its integers."""
    names, rules = [s.id for s in problem.shapes], problem.rules
    n, m = len(names), len(rules)
    zero = {name: np.zeros(1) for name in names}
    rows, lows, highs, out = [], [], [], []
    for k, rule in enumerate(rules):
        assert isinstance(rule, Tolerant)
        row = np.zeros(n + m + 1)
        const = float(_off(rule, zero, problem)[0])
        for j, name in enumerate(names):
            row[j] += float(_off(rule, {**zero, name: np.ones(1)}, problem)[0]) - const
        row[n + k] = -repeat
        up, down = row.copy(), row.copy()
        up[-1], down[-1] = -1.0, 1.0
        now = [*rows, up, down]
        low = [*lows, -np.inf, rule.least - const]
        high = [*highs, rule.most - const, np.inf]
        cost = np.zeros(n + m + 1)
        cost[-1] = 1.0
        whole = np.r_[np.zeros(n), np.ones(m), 0.0]
        bounds = (
            np.r_[np.full(n, -4 * repeat), np.full(m, -40), 0.0],
            np.r_[np.full(n, 4 * repeat), np.full(m, 40), repeat],
        )
        found = milp(
            cost,
            constraints=LinearConstraint(np.array(now), low, high),
            integrality=whole,
            bounds=bounds,
        )  # type: ignore[arg-type]
        out.append(float(found.fun))
        rows.append(row)
        lows.append(rule.least - const - out[-1] - 1e-3)
        highs.append(rule.most - const + out[-1] + 1e-3)
    return out


def _settled(problem: LayProblem) -> list[float]:
    rests = {r.rule: r.mm for r in settle(problem).rests}
    return [rests.get(rule.id, 0.0) for rule in problem.rules]


@pytest.mark.parametrize("seed", range(40))
def test_each_rule_gets_what_no_place_on_a_grid_betters(seed: int) -> None:
    """Data in whole mm have their optimum at halves: an exhaustive grid of halves finds it."""
    problem = _random(random.Random(seed), 6.0, 3, 6)
    assert _settled(problem) == pytest.approx(_by_grid(problem, 6.0), abs=1e-6)


@pytest.mark.parametrize("seed", range(24))
def test_one_rule_on_several_shapes_shares_what_it_must_be_missed_by(seed: int) -> None:
    """Of what one rule of a plan asks the worst is the least there is, found on a grid as well.

    Two or three to share a miss put the optimum at a 24th of what is whole.
    """
    problem = _random(random.Random(200 + seed), 4.0, 2, 6, 2 + seed % 2)
    found = _by_grid(problem, 4.0, 1.0 / 24.0)
    assert _settled(problem) == pytest.approx(found, abs=1e-5)


def test_left_and_right_share_what_neither_can_have() -> None:
    """Two copies at one place, held 0.4 mm apart by what comes first: each is missed by 0.2."""
    shapes = [_shape(n, {"p": (0.0, 0.0)}) for n in ("left", "right")]
    apart = SamePhase(
        id="1 apart", shape_a="left", point_a="p", shape_b="right", point_b="p", axis="along",
        repeat=50.0, shift=0.4,
    )  # fmt: skip
    both = [
        AtPhase(id=f"2 at {n}", shape=n, point="p", axis="along", phase=7.0, repeat=50.0)
        for n in ("left", "right")
    ]
    problem = _problem(shapes, [apart, *both])
    rests = settle(problem).rests
    assert [(r.rule, r.mm) for r in rests] == [
        ("2 at left", pytest.approx(0.2)),
        ("2 at right", pytest.approx(0.2)),
    ]
    assert because(problem, rests[0]) == because(problem, rests[1]) == ("1 apart",)
    assert settle(settle(problem).problem).rests == ()


@pytest.mark.parametrize("seed", range(4))
def test_larger_sets_get_what_integer_programs_find(seed: int) -> None:
    """Four shapes, eight rules: scipy's mixed integer programs, one after the other, agree."""
    problem = _random(random.Random(100 + seed), 16.0, 4, 8)
    assert _settled(problem) == pytest.approx(_by_programs(problem, 16.0), abs=0.02)


# --- how a settled problem lies -------------------------------------------------------------------


def _lay(problem: LayProblem, at: dict[str, tuple[float, float, float, bool]]) -> Lay:
    """Return shapes laid at (x, y, turn, flipped), the outline left out: only rules are asked."""
    placed = tuple(
        Placement(shape=n, region="cloth", turn_deg=t, flipped=f, x=x, y=y, outline=())
        for n, (x, y, t, f) in at.items()
    )
    return Lay(placements=placed)


@pytest.mark.parametrize(("turn", "axis"), [(0.0, "along"), (180.0, "along"), (90.0, "across")])
@pytest.mark.parametrize("flipped", [False, True])
def test_higher_is_further_up_the_piece_however_it_lies(
    turn: float, axis: str, flipped: bool
) -> None:
    """A tolerance "0 to 20 mm higher" moves the point up the piece, at any turn and side.

    Independent: a point 5, 15 and 25 mm below the hem's own, seen by the judge, which shares no
    code with the search, lies on the line when the hem lies that much above it.
    """
    rule = OnLine(id="r", shape="a", points=("hem",), axis=axis, at=300.0, least=0.0, most=20.0)
    shape = _shape("a", {"hem": (10.0, 7.0)}, turns_deg=(turn,), flips=(flipped,))
    problem = _problem([shape], [rule])
    up = {"along": (1, 0), "across": (0, 1)}[axis]
    sign = -1.0 if turn == 180.0 else 1.0
    for higher, miss in ((-3.0, 3.0), (0.0, 0.0), (12.0, 0.0), (20.0, 0.0), (24.0, 4.0)):
        at = 300.0 + sign * (higher - 10.0)
        lay = _lay(problem, {"a": (at * up[0], at * up[1], turn, flipped)})
        assert residuals(problem, lay)["r"] == pytest.approx(miss, abs=1e-9)
        exact = pointed(problem, {"r": higher})
        kept = min(max(higher, 0.0), 20.0)
        assert residuals(exact, lay)["r"] == pytest.approx(abs(higher - kept), abs=1e-9)


def test_two_notches_and_a_side_seam_leave_the_last_a_rest_and_the_reason() -> None:
    """A loop of three seams that does not close: the rule named last gets what is left, 14 mm.

    By hand: the front notch puts the sleeve 3 up from the front, the side seam the back 5 up from
    the front, so at the back notch 3 - 5 + (12 + 4) = 14 of a repeat of 50.
    """
    shapes = [_shape(n, {"p": (0.0, 0.0), "q": (12.0, 0.0)}) for n in ("front", "back", "sleeve")]

    def meets(name: str, a: str, b: str, shift: float, point: str = "p") -> SamePhase:
        return SamePhase(
            id=name, shape_a=a, point_a=point, shape_b=b, point_b="p", axis="along",
            repeat=50.0, shift=shift,
        )  # fmt: skip

    front, side = meets("front notch", "sleeve", "front", 3.0), meets("side", "back", "front", 5.0)
    back = meets("back notch", "sleeve", "back", -4.0, "q")
    free = AtPhase(id="cf", shape="front", point="p", axis="along", phase=9.0, repeat=50.0)
    problem = _problem(shapes, [free, front, side, back])
    found = settle(problem)
    (rest,) = found.rests
    assert (rest.rule, rest.mm, rest.at) == ("back notch", pytest.approx(14.0), pytest.approx(14.0))
    assert because(problem, rest) == ("front notch", "side")
    assert settle(found.problem).rests == (), "what is settled is settled"
    late = settle(_problem(shapes, [free, back, front, side]))
    assert [r.rule for r in late.rests] == ["side"], "the order decides which rule gives way"


def test_a_tolerance_takes_up_what_a_loop_leaves() -> None:
    """The loop above closes when the three may each be missed by 5 mm: 5 + 5 + 4 is 14."""
    shapes = [_shape(n, {"p": (0.0, 0.0)}) for n in ("a", "b", "c")]
    rules: list[Rule] = [
        SamePhase(
            id=name, shape_a=name[0], point_a="p", shape_b=name[1], point_b="p", axis="along",
            repeat=50.0, shift=shift, least=-5.0, most=5.0,
        )
        for name, shift in (("ab", 0.0), ("bc", 0.0), ("ca", 14.0))
    ]  # fmt: skip
    problem = _problem(shapes, rules)
    assert settle(problem).rests == ()
    exact = pointed(problem)
    assert all(isinstance(r, Tolerant) and r.least == r.most == 0.0 for r in exact.rules)
    assert settle(exact).rests == (), "the places chosen agree with each other"


def test_a_line_of_the_border_and_a_pin_are_places_and_not_phases() -> None:
    """Two lines one repeat apart are two places: the later one is missed by the whole repeat."""
    shape = _shape("a", {"hem": (0.0, 0.0), "waist": (0.0, 0.0)})
    lines: list[Rule] = [
        AtPhase(id="phase", shape="a", point="hem", axis="across", phase=2.0, repeat=40.0),
        OnLine(id="one", shape="a", points=("hem",), axis="across", at=82.0),
        OnLine(id="two", shape="a", points=("waist",), axis="across", at=122.0),
    ]
    (rest,) = settle(_problem([shape], lines)).rests
    assert (rest.rule, rest.mm) == ("two", pytest.approx(40.0))
    pin = Pinned(id="pin", shape="a", region="cloth", x=0.0, y=80.0, turn_deg=0.0, flipped=False)
    rests = settle(_problem([shape], [*lines, pin])).rests
    assert {r.rule: r.mm for r in rests} == pytest.approx({"phase": 2.0, "one": 2.0, "two": 42.0})


def test_shapes_are_turned_so_that_the_first_rules_hold() -> None:
    """Of the turns a set may have, that counts in which the most important rule is nearest."""
    points = {"p": (3.0, 0.0), "q": (10.0, 0.0)}
    shape = _shape("a", points, turns_deg=(0.0, 180.0))
    rules: list[Rule] = [
        AtPhase(id="p", shape="a", point="p", axis="along", phase=0.0, repeat=30.0),
        AtPhase(id="q", shape="a", point="q", axis="along", phase=-7.0, repeat=30.0),
    ]
    found = settle(_problem([shape], rules))
    assert found.rests == ()
    assert found.problem.shapes[0].turns_deg == (0.0, 180.0)
    rules[1] = AtPhase(id="q", shape="a", point="q", axis="along", phase=-6.0, repeat=30.0)
    found = settle(_problem([shape], rules))
    assert [r.mm for r in found.rests] == pytest.approx([1.0])
    assert found.problem.shapes[0].turns_deg == (180.0,)
    one_way = SameTurn(id="nap", shapes=("a", "b"))
    other = _shape("b", points, turns_deg=(0.0,))
    found = settle(_problem([shape, other], [*rules, one_way]))
    assert [r.mm for r in found.rests] == pytest.approx([13.0]), "and nap leaves one turn only"


def test_a_figure_that_cannot_be_centred_lies_at_its_nearest() -> None:
    """A point is to lie on a figure of a half-drop and, first, on a place 6 mm beside it.

    By hand: of the two figures in the repeat of 100 by 80, at (10, 20) and (60, 60), the second is
    the nearer to a point held at 66 along: 6 mm past it. Across nothing holds it: it is exact.
    """
    shape = _shape("a", {"p": (3.0, 5.0)})
    first = AtPhase(id="held", shape="a", point="p", axis="along", phase=66.0, repeat=100.0)
    figure = AtFigure(
        id="figure", shape="a", point="p", centres=((10.0, 20.0), (60.0, 60.0)),
        repeat_along=100.0, repeat_across=80.0,
    )  # fmt: skip
    found = settle(_problem([shape], [first, figure]))
    assert [(r.rule, r.mm) for r in found.rests] == [("figure", pytest.approx(6.0))]
    assert settle(found.problem).rests == ()
    lay = _lay(found.problem, {"a": (63.0, 55.0, 0.0, False)})
    assert max(residuals(found.problem, lay).values()) == pytest.approx(0.0, abs=1e-6)
    alone = settle(_problem([shape], [figure, first])).rests
    assert [(r.rule, r.mm) for r in alone] == [("held", pytest.approx(6.0))]


def test_of_many_shapes_that_turn_two_ways_each_only_so_many_ways_are_tried() -> None:
    """Of 24 shapes the ways would be 2 to the 24th; what only some of them tell is not sure."""
    shapes = tuple(
        replace(_shape(f"s{n}", {"p": (7.0, 0.0)}), turns_deg=(0.0, 180.0)) for n in range(24)
    )
    assert len(list(itertools.islice(all_ways(shapes, ()), 1000))) == MOST_TURNS + 1
    rules: list[Rule] = [
        SamePhase(
            id=f"{n} r", shape_a=f"s{n}", point_a="p", shape_b=f"s{n + 1}", point_b="p",
            axis="along", repeat=10.0, shift=0.0,
        )
        for n in range(23)
    ]  # fmt: skip
    odd = SamePhase(
        id="23 r", shape_a="s0", point_a="p", shape_b="s23", point_b="p", axis="along",
        repeat=10.0, shift=3.0,
    )  # fmt: skip
    (rest,) = settle(LayProblem(regions=(), shapes=shapes, rules=(*rules, odd))).rests
    assert (rest.rule, rest.mm, rest.sure) == ("23 r", 3.0, False)
