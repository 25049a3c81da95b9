"""Chains of phase rules: whatever is laid first, the others of the chain still find a place."""

from __future__ import annotations

import itertools
import math

import pytest

from clothwright.lay.fit import holds
from clothwright.lay.judge import residuals
from clothwright.lay.model import Model, prepare
from clothwright.lay.place import lay_out
from clothwright.lay.problem import (
    AtPhase,
    KeepOff,
    LayProblem,
    MirrorPhase,
    OnLine,
    Region,
    Ring,
    Rule,
    SamePhase,
    Shape,
)
from clothwright.lay.solve import solve
from clothwright.units import Unit
from clothwright.words import say

REPEAT = 300.0


def panel(name: str, tall: float, wide: float, **more: object) -> Shape:
    """A block laid crosswise: `tall` across the cloth, `wide` along it; "hem" and "top" marked."""
    ring: Ring = ((0, 0), (tall, 0), (tall, wide), (0, wide))
    base: dict[str, object] = {
        "id": name,
        "piece": name,
        "copy": 1,
        "outline": ring,
        "turns_deg": (90.0,),
        "points": {"hem": (0.0, 0.0), "side": (0.0, wide), "top": (tall, 0.0)},
    }
    return Shape(**(base | more))  # type: ignore[arg-type]


def same(a: str, b: str, axis: str = "across", shift: float = 0.0) -> SamePhase:
    return SamePhase(
        id=f"{a}-{b} {axis}", shape_a=a, point_a="hem", shape_b=b, point_b="side", axis=axis,
        repeat=REPEAT, shift=shift,
    )  # fmt: skip


def mirrored(a: str, b: str, axis: str = "along", about: float = 40.0) -> MirrorPhase:
    return MirrorPhase(
        id=f"{a}|{b} {axis}", shape_a=a, point_a="hem", shape_b=b, point_b="hem", axis=axis,
        repeat=REPEAT, about=about,
    )  # fmt: skip


def model_of(shapes: list[Shape], rules: list[Rule], width: float = 1000.0) -> Model:
    region = Region(name="cloth", width=width, length=None)
    return prepare(LayProblem(regions=(region,), shapes=tuple(shapes), rules=tuple(rules)))


def all_laid(model: Model, order: tuple[int, ...]) -> None:
    draft = lay_out(model, order, [0.0] * len(model.groups))
    assert draft.refused == {}
    assert holds(model, draft)


@pytest.mark.parametrize("order", list(itertools.permutations(range(4))))
def test_ends_of_a_chain_laid_before_its_middle(order: tuple[int, ...]) -> None:
    """Four shapes at one level, the phase free: every order of laying places them all."""
    shapes = [panel(name, 200.0 + 50.0 * k, 90.0 + 10 * k) for k, name in enumerate("abcd")]
    rules: list[Rule] = []
    for a, b in itertools.pairwise("abcd"):
        rules += [same(a, b), same(a, b, "along", 17.0)]
    all_laid(model_of(shapes, rules), order)


@pytest.mark.parametrize("order", list(itertools.permutations(range(4))))
def test_mirrored_pairs_in_a_chain(order: tuple[int, ...]) -> None:
    """A pair mirrored along, each tied to a front: sums and differences in one chain."""
    shapes = [panel(name, 260.0, 110.0) for name in ("l", "r", "f", "g")]
    # "side" lies 110 mm before "hem" along the cloth, so f.hem = l.hem - 110, g.hem = r.hem - 90,
    # and the sum of f and g is that of l and r less 200.
    rules: list[Rule] = [
        mirrored("l", "r"), same("l", "r"), same("f", "l", "along"), same("f", "l"),
        same("g", "r", "along", 20.0), same("g", "r"), mirrored("f", "g", about=40.0 - 100.0),
    ]  # fmt: skip
    all_laid(model_of(shapes, rules), order)


@pytest.mark.parametrize("order", list(itertools.permutations(range(3))))
def test_a_tall_shape_with_little_play_settles_the_phase(order: tuple[int, ...]) -> None:
    """A shape nearly as tall as the cloth is wide still has a place when laid last."""
    shapes = [panel("a", 200.0, 90.0), panel("b", 240.0, 90.0), panel("tall", 960.0, 90.0)]
    rules: list[Rule] = [same("a", "b", shift=35.0), same("b", "tall", shift=35.0)]
    all_laid(model_of(shapes, rules), order)


@pytest.mark.parametrize("order", list(itertools.permutations(range(3))))
def test_a_border_at_the_far_end_settles_the_phase(order: tuple[int, ...]) -> None:
    """A line, or a phase, that binds the last of a chain binds the first too."""
    shapes = [panel(name, 300.0, 90.0) for name in "abc"]
    rules: list[Rule] = [
        same("a", "b"), same("b", "c"),
        OnLine(id="line", shape="c", points=("hem",), axis="across", at=130.0),
        AtPhase(id="phase", shape="c", point="hem", axis="along", phase=21.0, repeat=REPEAT),
        same("a", "b", "along"), same("b", "c", "along", 5.0),
    ]  # fmt: skip
    all_laid(model_of(shapes, rules), order)


@pytest.mark.parametrize("order", list(itertools.permutations(range(3))))
def test_a_ring_that_comes_back_mirrored(order: tuple[int, ...]) -> None:
    """Same phase and mirrored at once leave two phases in a repeat, known before any is laid."""
    shapes = [panel(name, 300.0, 90.0) for name in "abc"]
    rules: list[Rule] = [same("a", "b", "along"), same("b", "c", "along"), mirrored("a", "c")]
    all_laid(model_of(shapes, rules), order)


def test_a_ring_that_does_not_close_is_told() -> None:
    """Three ties that add up to 40 mm: two shapes are laid, the third is told the whole ring."""
    shapes = tuple(panel(name, 300.0, 90.0) for name in "abc")
    rules: tuple[Rule, ...] = (same("a", "b"), same("b", "c"), same("c", "a", shift=40.0))
    region = Region(name="cloth", width=1000.0, length=None)
    lay = solve(LayProblem(regions=(region,), shapes=shapes, rules=rules), seconds=30, rounds=5)
    (why,) = lay.unplaced.values()
    reason = say(why, Unit.mm)
    assert "contradict" in reason
    assert "40 mm" in reason
    for name in ("a-b across", "b-c across", "c-a across"):
        assert name in reason


def test_two_borders_at_odds_with_a_chain_are_told() -> None:
    """Two lines at the ends of a chain whose levels differ: the reason names lines and ties."""
    shapes = tuple(panel(name, 300.0, 90.0) for name in "abc")
    rules: tuple[Rule, ...] = (
        same("a", "b"), same("b", "c"),
        OnLine(id="low", shape="a", points=("hem",), axis="across", at=100.0),
        OnLine(id="high", shape="c", points=("hem",), axis="across", at=125.0),
    )  # fmt: skip
    region = Region(name="cloth", width=1000.0, length=None)
    lay = solve(LayProblem(regions=(region,), shapes=shapes, rules=rules), seconds=30, rounds=5)
    assert lay.unplaced
    (why,) = lay.unplaced.values()
    reason = say(why, Unit.mm)
    assert "25 mm" in reason
    assert "low" in reason
    assert "high" in reason


def test_a_contradiction_does_not_bar_the_rest_of_a_chain() -> None:
    """What can be laid of a contradictory chain is laid, each rule between two of them met."""
    shapes = tuple(panel(name, 300.0, 90.0) for name in "abcd")
    rules: tuple[Rule, ...] = (
        same("a", "b"), same("b", "c"), same("c", "a", shift=40.0), same("c", "d"),
    )  # fmt: skip
    region = Region(name="cloth", width=1000.0, length=None)
    asked = LayProblem(regions=(region,), shapes=shapes, rules=rules)
    lay = solve(asked, seconds=30, rounds=20)
    assert len(lay.placements) == 3
    assert max(residuals(asked, lay).values()) < 0.1


def test_a_band_to_keep_off_counts_as_lack_of_room() -> None:
    """A chain's last shape with little play beside a band is thought of when the first is laid."""
    shapes = [panel("a", 200.0, 90.0), panel("b", 200.0, 90.0), panel("tall", 860.0, 90.0)]
    rules: list[Rule] = [
        same("a", "b", shift=35.0), same("b", "tall", shift=35.0),
        KeepOff(id="off", shape="tall", region="cloth", low=0.0, high=100.0),
    ]  # fmt: skip
    for order in itertools.permutations(range(3)):
        all_laid(model_of(shapes, rules), order)


def test_a_hopeless_shape_does_not_bar_its_partners() -> None:
    """A shape wider than the cloth is refused; those tied to it are laid all the same."""
    shapes = [panel("a", 200.0, 90.0), panel("b", 200.0, 90.0), panel("huge", 1100.0, 90.0)]
    model = model_of(shapes, [same("a", "b"), same("b", "huge")])
    draft = lay_out(model, (0, 1, 2), [])
    assert list(draft.refused) == [2]
    assert math.isfinite(max(spot.x for spot in draft.spots))
