"""How rules turn copies together: as in a mirror of the print, or as they are sewn.

Source: plane geometry. A mirror of the print in a line across the cloth takes a top at t degrees to
180 - t, one in a line along it to -t. A strip whose arrow runs along it lies at 90 degrees to what
it is sewn to.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.geometry.vec import Vec
from clothwright.lay.judge import judge, residuals
from clothwright.lay.problem import LayProblem, Region, SameTurn, Shape
from clothwright.lay.result import Lay, Placement
from clothwright.lay.solve import solve
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Grain
from clothwright.pattern.refs import parse_edge
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.stating import mistaken_rules
from tests.lay.panels import panel

CHECK = Print(repeat_along=50.0, repeat_across=40.0, look="check")
ENDS = {"along": replace(CHECK, axes_along=(10.0,)), "across": replace(CHECK, axes_across=(6.0,))}


def cloth(design: Print, **more: object) -> Cloth:
    return Cloth(name="c", width=1500.0, length=4000.0, print=design, **more)  # type: ignore[arg-type]


def pair() -> Pattern:
    return Pattern(pieces=(panel("front", 200.0, 500.0, "pair"),))


def mirrored(way: str) -> Mirrored:
    return Mirrored(piece="front", point="lower left", way=way)


def turns(pattern: Pattern, design: Print, *rules: PlacingRule) -> list[float]:
    """The turns of every copy in a lay that keeps all rules, the first ones first."""
    problem = compile_lay(pattern, (cloth(design),), Plan(name="p", rules=rules)).problem
    lay = solve(problem, seconds=2.0, rounds=1)
    assert (judge(problem, lay), dict(lay.unplaced)) == ((), {})
    return [p.turn_deg for p in sorted(lay.placements, key=lambda p: p.shape)]


@pytest.mark.parametrize("grain", ["along", "across", "bias"])
@pytest.mark.parametrize("way", ENDS)
def test_a_pair_is_turned_as_the_mirror_of_its_print_turns_it(way: str, grain: str) -> None:
    """End for end, alike or each leaning its own way, by the mirror and the grain."""
    one, two = turns(pair(), ENDS[way], mirrored(way), OnGrain(piece="front", grain=grain))
    assert two == ((180.0 if way == "along" else 0.0) - one) % 360.0


def wrong(pattern: Pattern, cloth_: Cloth, *rules: PlacingRule) -> list[tuple[int, str, str]]:
    """Every mistake: the rule's number, the field, and what is wrong."""
    found = mistaken_rules(Plan(name="p", rules=rules), pattern, (cloth_,))
    return [(m.number, w.field, str(w.error)) for m in found for w in m.wrong]


def test_without_a_mirror_nothing_mirrors() -> None:
    """No such line in the print, as it has a top; or two that she has laid slanting alike."""
    [(_, field, words)] = wrong(pair(), cloth(ENDS["along"]), mirrored("across"))
    assert field == "way"
    assert "no mirror axis" in words
    up = replace(ENDS["along"], up="end")
    [(_, field, words)] = wrong(pair(), cloth(up), mirrored("along"))
    assert (field, "no mirror axis" in words) == ("way", True)
    pins = [
        Pin(piece="front", copy=n, cloth="c", x=600.0 * n, y=500.0, turn_deg=45.0, flipped=n == 2)
        for n in (1, 2)
    ]
    [(_, field, words)] = wrong(pair(), cloth(ENDS["along"]), mirrored("along"), *pins)
    assert (field, "would have to slant opposite ways" in words) == ("way", True)


def test_a_border_mirrors_only_about_a_line_that_is_said() -> None:
    """Bars across it would be the same either way round; of its own motifs nobody knows it."""
    border = Border(name="vine", side="lower", base=40.0, height=100.0, repeat=80.0, down="either")
    bars = Print(repeat_across=40.0, borders=(border,))
    [(_, field, words)] = wrong(pair(), cloth(bars), mirrored("along"))
    assert (field, "no mirror axis" in words) == ("way", True)
    assert wrong(pair(), cloth(replace(bars, axes_along=(20.0,))), mirrored("along")) == []
    assert wrong(pair(), cloth(replace(bars, borders=())), mirrored("along")) == []


def test_what_turns_all_tops_one_way_does_not_go_with_end_for_end() -> None:
    """A rule and a nap: the later of two rules is told, with the earlier one in its words."""
    plain = cloth(ENDS["along"])
    [(number, _, words)] = wrong(pair(), plain, OneWay(), mirrored("along"))
    assert number == 2
    assert "“all tops one way: every piece”" in words
    [(number, _, words)] = wrong(pair(), replace(plain, nap=True), mirrored("along"))
    assert (number, "the nap of the cloth" in words) == (1, True)
    assert wrong(pair(), plain, OneWay(), mirrored("across")) != []
    assert wrong(pair(), cloth(ENDS["across"]), OneWay(), mirrored("across")) == []


def banded() -> Pattern:
    """A front 200 wide with a band on its upper edge; the band's arrow runs along it."""
    front, band = panel("front", 200.0, 500.0, "once"), panel("band", 200.0, 60.0, "once")
    band = replace(band, grain=Grain(start=Vec(20.0, 30.0), end=Vec(180.0, 30.0)))
    waist = Seam(name="waist", a=(parse_edge("front.top reversed"),), b=(parse_edge("band.hem"),))
    return Pattern(pieces=(front, band), seams=(waist,))


MEETS = Meets(
    piece_a="front", point_a="upper left", piece_b="band", point_b="lower left", match="upright"
)


def test_a_band_with_its_arrow_along_it_meets_only_where_it_lies_across() -> None:
    """On one grain its print is turned by 90 degrees as it is sewn: the rule cannot be kept.

    Laid across, its top 90 degrees clockwise of the front's, bars of both run on.
    """
    [(number, field, words)] = wrong(banded(), cloth(CHECK), MEETS)
    assert (number, field) == (1, "match")
    assert "turned by 90°" in words
    band, front = turns(banded(), CHECK, MEETS, OnGrain(piece="band", grain="across"))
    assert (band - front) % 360.0 == 270.0


SQUARE = ((-50.0, -50.0), (50.0, -50.0), (50.0, 50.0), (-50.0, 50.0))


def two(rule: SameTurn, *turned: float) -> float:
    """How far a rule on shapes named a, b, ... is missed when they are turned so."""
    named = list(zip("abcd", turned, strict=False))
    shapes = tuple(Shape(id=n, piece=n, copy=1, outline=SQUARE, turns_deg=(t,)) for n, t in named)
    region = Region(name="c", width=1000.0, length=1000.0)
    places = tuple(
        Placement(shape=n, region="c", turn_deg=t, flipped=False, x=200.0 * k, y=100.0, outline=())
        for k, (n, t) in enumerate(named, start=1)
    )
    problem = LayProblem(regions=(region,), shapes=shapes, rules=(rule,))
    return residuals(problem, Lay(placements=places))["r"]


@pytest.mark.parametrize(
    ("by", "mirror", "turned", "off"),
    [
        (0.0, False, (45.0, 45.0, 45.0), 0.0),
        (90.0, False, (0.0, 90.0, 90.0), 0.0),
        (180.0, True, (45.0, 135.0), 0.0),
        (0.0, True, (45.0, 315.0), 0.0),
        (0.0, True, (45.0, 45.0), 141.42),
        (180.0, False, (0.0, 0.0), 200.0),
    ],
)
def test_the_judge_measures_how_far_a_turn_is_from_what_follows(
    by: float, mirror: bool, turned: tuple[float, ...], off: float
) -> None:
    """As the chord at 100 mm: of 90 degrees 141.42 mm, of 180 degrees 200 mm."""
    rule = SameTurn(id="r", shapes=tuple("abc"[: len(turned)]), by_deg=by, mirrored=mirror)
    assert two(rule, *turned) == pytest.approx(off, abs=0.01)
