"""Each rule on the print holds for what is printed where its own points lie, seen from outside.

Source: the painted cloth (`painted`), a border's band as docs/file-format.md has it, and the places
of points by numpy alone; nothing of `rules` or `lay` reckons here.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np
import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border
from clothwright.errors import ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.rules.first_look import looked_at
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.may_run_into import MayRunInto
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.stating import stated
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import compile_plan
from tests.outfits import OUTFITS
from tests.outfits.compared import told_of
from tests.outfits.painted import Painting, band_painting, ground_painting, in_band
from tests.outfits.placing import put
from tests.outfits.sewn import on_cloth
from tests.outfits.skirts import POCKET

Placed = Mapping[str, Any]
NEAR = 0.11
"""mm: the judge lets a rule be missed by 0.1."""


def floated(book: Workbook, plan: str) -> list[Placed]:
    """Every piece where the rules of a plan alone put it on the print, as a stranger reads it."""
    start = compile_plan(book, book.plan(plan))
    seen = looked_at(start.pattern, book.cloths, book.plan(plan)).seen
    return list(told_of(replace(start, lay=seen.lay))["placements"])


def place(pattern: Pattern, at: Placed, point: str, *, twin: bool) -> np.ndarray:
    """Where a point of a piece, or of its mirrored half, lies on the cloth, mm."""
    piece = pattern.piece(at["piece"])
    return on_cloth(piece, np.array([tuple(piece.points()[point])]), at, twin)[0][0]


def printed_there(cloth: Cloth, *points: np.ndarray) -> Painting:
    """The painting on which all of some points lie; an AssertionError where there is no one."""
    here = [
        [k for k, b in enumerate(cloth.print.borders) if in_band(b, cloth.width, p[None])[0]]
        for p in points
    ]
    assert all(h == here[0] for h in here), "the points lie on different designs"
    if here[0]:
        return band_painting(cloth.print.borders[here[0][0]], cloth.print, cloth.width)
    return ground_painting(cloth.print) or Painting(np.zeros((1, 3)), (0.0, 0.0), 1.0)


def apart(painting: Painting, a: np.ndarray, b: np.ndarray, *, mirror: str = "") -> np.ndarray:
    """How far a point is from the nearest place where the painting has the other, mm on each axis.

    mirror: "along" or "across", by a motion that mirrors so; else by one that mirrors nothing.
    """
    wanted = {"": (1.0, 1.0), "along": (-1.0, 1.0), "across": (1.0, -1.0)}[mirror]
    tried = []
    for signs, shift in painting.motions():
        if signs == wanted:
            gap = a - (b * signs + shift)
            for k, period in enumerate(painting.period):
                gap[k] = 0.0 if period == 0 else gap[k]
                gap[k] -= period * round(gap[k] / period) if period else 0.0
            tried.append(np.abs(gap))
    return min(tried, key=lambda gap: float(np.hypot(*gap)))


def missed(book: Workbook, plan: Plan, placed: list[Placed]) -> Iterator[tuple[str, float]]:
    """Yield by how many mm each rule on the print is missed at its points, worst axis asked."""
    cloth, pattern = book.cloths[0], book.bought
    of = {n: [p for p in placed if p["piece"] == n] for n in {p["piece"] for p in placed}}
    for rule in plan.rules:
        if isinstance(rule, AtPhase):
            at = place(pattern, of[rule.piece][0], rule.point, twin=False)
            origin = np.array([cloth.print.origin_along + (rule.along or 0.0), at[1]])
            yield "at-phase", along(printed_there(cloth, at), at, origin)
        elif isinstance(rule, Mirrored):
            a, b = (place(pattern, p, rule.point, twin=False) for p in of[rule.piece])
            yield "mirrored", max(apart(printed_there(cloth, a, b), a, b, mirror=rule.way))
        elif isinstance(rule, Meets):
            one, two = of[rule.piece_a], of[rule.piece_b]
            for k in (0, 1):
                j = 1 - k if rule.piece_b == "skirt back" else k  # drawn for the other half
                a = place(pattern, one[k % len(one)], rule.point_a, twin=k >= len(one))
                b = place(pattern, two[j % len(two)], rule.point_b, twin=j >= len(two))
                painting = printed_there(cloth, a, b)
                lies = [int(p["turn_deg"]) % 180 == 90 for p in (one[0], two[0])]
                axis = (rule.match == "upright") != lies[0]
                both = max(apart(painting, a, b))
                yield "meets", both if rule.match == "both" else alone(painting, a, b, int(axis))


def along(painting: Painting, a: np.ndarray, b: np.ndarray) -> float:
    """How far two points are apart along the cloth, from where the painting stands level again."""
    return alone(painting, a, b, 0)


def alone(painting: Painting, a: np.ndarray, b: np.ndarray, axis: int) -> float:
    """The same on one axis, seen by itself: of all copies the one that is nearest there."""
    gaps = []
    for signs, shift in painting.motions():
        if signs == (1.0, 1.0):
            gap, period = float(a[axis] - b[axis] - shift[axis]), painting.period[axis]
            gap = 0.0 if period == 0 else gap
            gaps.append(abs(gap - period * round(gap / period)) if period else abs(gap))
    return min(gaps)


@pytest.mark.parametrize("plan", [p.name for p in OUTFITS["two repeats"]().plans[1:]])
def test_a_rule_counts_by_what_is_printed_where_its_points_lie(plan: str) -> None:
    """The hem by the border's 90 mm, the waist over it by the ground's bricks of 60 by 84."""
    book = OUTFITS["two repeats"]()
    found = list(missed(book, book.plan(plan), floated(book, plan)))
    assert {"at-phase", "meets"} <= {kind for kind, _ in found}
    assert all(mm < NEAR for _, mm in found), found


def by_chance(seed: int) -> tuple[Workbook, Plan]:
    """The skirt on a cloth with repeats by chance, rules at points by chance."""
    rng = random.Random(seed)
    book = OUTFITS["two repeats"]()
    design = book.cloths[0].print
    border = Border(
        name="scallop",
        side=rng.choice(["lower", "upper"]),
        base=rng.uniform(0.0, 50.0),
        height=rng.uniform(60.0, 200.0),
        repeat=rng.choice([None, 45.0, 70.0, 90.0]),
    )
    ground = rng.choice([(None, None), (60.0, 84.0), (60.0, None), (45.0, 36.0)])
    design = replace(
        design,
        repeat_along=ground[0],
        repeat_across=ground[1],
        drop=rng.choice(["straight", "half-drop", "brick"]) if all(ground) else "straight",
        borders=(border,),
        figures=(),
    )
    points = [f"{where} {end}" for where in ("side", "centre") for end in ("hem", "waist")]
    above = rng.choice([20.0, 30.0, 70.0])
    hems = [
        OnBorder(piece=n, edge="hem", border="scallop", above=above, follows="best")
        for n in ("skirt front", "skirt back")
        if rng.random() < 0.9
    ]
    rules: list[PlacingRule] = [*hems]
    end = rng.choice(["hem", "waist"])
    rules.append(AtPhase(piece="skirt front", point=rng.choice(points[2:]), along=0.0))
    if len(hems) > 1:
        rules.append(Mirrored(piece="skirt back", point=rng.choice(points)))
    rules.append(
        Meets(
            piece_a="skirt front",
            point_a=f"side {end}",
            piece_b="skirt back",
            point_b=f"side {end}",
            match=rng.choice(["upright", "upright", "level", "both"]),
        )
    )
    cloth = replace(book.cloths[0], print=design, width=1600.0)
    plan = Plan(name="asked", rules=tuple(rules))
    return replace(book, cloths=(cloth,), plans=(plan,), chosen_plan=""), plan


def test_what_is_kept_at_random_is_seen_and_the_rest_is_refused_or_told() -> None:
    """Of 16 plans some are refused and some give way; in all others each rule is seen to hold."""
    kept = 0
    for seed in range(16):
        book, plan = by_chance(seed)
        try:
            look = looked_at(book.bought, book.cloths, plan)
        except ClothwrightError:
            continue
        if not look.compiled.gave_way:
            kept += 1
            found = list(missed(book, plan, floated(book, "asked")))
            assert all(mm < NEAR for _, mm in found), (seed, found)
    assert kept >= 4


@pytest.mark.parametrize(("step", "mm"), [((60, 42), 0.0), ((-60, 126), 0.0), ((60, 0), 42.0)])
def test_a_pocket_a_brick_away_from_its_place_meets_there(step: tuple[int, int], mm: float) -> None:
    """Pinned a row on, half a repeat aside, it shows the print under it; else it is so far out."""
    book = OUTFITS["two repeats"]()
    front, pocket = (book.bought.piece(n) for n in ("skirt front", "pocket"))
    pins = [Pinned(put(front, "pocket place start", (700.0, 500.0)))]
    for copy, twin in ((1, False), (2, True)):
        at = place(book.bought, pins[0].at, "pocket place start", twin=twin)
        on = (at[0] + 600.0 + step[0], at[1] + step[1])
        pins.append(Pinned(put(pocket, "pocket corner", on, copy=copy, flipped=twin)))
    plan = Plan(name="asked", rules=(*(p.rule for p in pins), POCKET))
    found = stated(book.bought, book.cloths, plan)
    assert not found.mistaken
    missed = [n for f in found.gave_way.values() for n in f.words if isinstance(n, float)]
    assert missed == ([pytest.approx(mm)] if mm else [])


class Pinned(NamedTuple):
    """A placement as in the JSON of a lay, and the rule that pins a piece so."""

    at: Placed

    @property
    def rule(self) -> Pin:
        """The pin."""
        p = self.at
        return Pin(
            piece=p["piece"],
            copy=p["copy"],
            cloth="two repeats",
            x=p["x_mm"],
            y=p["y_mm"],
            turn_deg=p["turn_deg"],
            flipped=p["flipped"],
        )


def test_where_a_point_may_lie_on_either_design_the_rule_is_refused() -> None:
    """A pocket that may run into the border, at a place of a repeat: 90 mm or 60 is not known."""
    book = OUTFITS["two repeats"]()
    free = MayRunInto(piece="pocket", border="scallop")
    found = stated(book.bought, book.cloths, Plan(name="asked", rules=(free, POCKET)))
    [[wrong]] = [one.wrong for one in found.mistaken]
    assert wrong.field == "match"
    assert 'lies on the border "scallop" or the ground' in str(wrong.error)


def test_a_border_and_the_ground_have_nothing_that_meets() -> None:
    """One hem on the border and the other off it: at the side the rule is refused, not kept."""
    book = OUTFITS["two repeats"]()
    hem, side = book.plan("motifs of the border").rules[0], _side_hem(book)
    found = stated(book.bought, book.cloths, Plan(name="asked", rules=(hem, side)))
    assert "nothing of the print" in str(found.mistaken[0].wrong[0].error)


def _side_hem(book: Workbook) -> Meets:
    [found] = [r for r in book.plan("motifs of the border").rules if isinstance(r, Meets)]
    return found
