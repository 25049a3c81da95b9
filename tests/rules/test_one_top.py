"""All tops of a cloth one way, whatever the grain: kept, or refused with the names of the rules.

That nap and one-way designs want all tops one way is common practice (docs/sources.md); that a
piece on the bias still counts, within 45 degrees, is this house's word for "still" (docs/lay.md).
"""

from __future__ import annotations

from dataclasses import replace

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.lay import problem as put
from clothwright.lay.judge import judge
from clothwright.lay.lying import lie
from clothwright.lay.solve import solve
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import Plan
from tests.few_rounds import LONG_S
from tests.lay.panels import skirt
from tests.rules.test_standing import refused as refused_on

ACROSS = OnGrain(piece="back", grain="across")
BIAS = OnGrain(piece="back", grain="bias")
VELVET = Cloth(name="velvet", width=1400.0, length=6000.0, nap=True)
PLAIN = Cloth(name="plain", width=1400.0, length=6000.0)


def problem(*rules, on=(VELVET,)):
    return compile_lay(skirt(), on, Plan(name="p", rules=rules)).problem


def turns(*rules, on=(VELVET,)):
    return {s.piece: s.turns_deg for s in problem(*rules, on=on).shapes}


def refused(*rules, on=(VELVET,)):
    """The numbers and fields of the rules told as mistaken, and what is told."""
    return refused_on(*rules, on=on)


def test_a_piece_across_the_others_on_a_nap_is_refused():
    """The pile of one piece would run round the body, that of the other up it."""
    places, (words,) = refused(ACROSS)
    assert places == [(1, "grain")]
    assert '"front" would lie with its top away from the cut end or towards the cut end' in words
    assert '"back" towards the upper selvedge or towards the lower selvedge' in words
    assert 'all tops on "velvet" point one way, for it has a nap' in words
    assert "which pieces may lie otherwise" in words


def test_one_way_and_the_rule_that_turns_a_piece_name_each_other():
    """Both are told, each beside its own field with the other's sentence."""
    places, words = refused(OneWay(), ACROSS, on=(PLAIN,))
    assert places == [(1, "pieces"), (2, "grain")]
    assert "back lies across the grain" in words[0]
    assert "all tops one way: every piece" in words[1]
    assert "nap" not in "".join(words)


def test_hems_on_both_selvedges_point_two_ways():
    """A border up each selvedge turns front and back half round to each other."""
    borders = tuple(Border(name=s, side=s, base=20.0, height=100.0) for s in ("lower", "upper"))
    both = (
        OnBorder(piece="front", edge="hem", border="lower"),
        OnBorder(piece="back", edge="hem", border="upper"),
    )
    on = replace(PLAIN, print=Print(borders=borders))
    assert refused(OneWay(), *both, on=(on,))[0] == [
        (1, "pieces"),
        (2, "border"),
        (3, "border"),
    ]
    assert refused(*both, on=(replace(on, nap=True),))[0] == [(1, "border"), (2, "border")]


def test_the_plan_says_what_lies_otherwise():
    """Named as outside, a piece lies across on a nap and by the rule; the rest turns alike."""
    for on in (VELVET, PLAIN):
        found = problem(OneWay(outside=("back",)), ACROSS, on=(on,))
        assert {s.turns_deg for s in found.shapes if s.piece == "back"} == {(90.0, 270.0)}
        assert not [r for r in found.rules if "back 1" in put.names_of(r)]
    assert turns(ACROSS, OnGrain(piece="front", grain="across")) == {
        "front": (90.0, 270.0),
        "back": (90.0, 270.0),
    }


def test_on_the_bias_a_top_still_points_there():
    """Beside pieces along the grain it leans to either side, never more than 45 degrees from them.

    A pinned piece decides which way that is; a chevron leans both ways at once.
    """
    assert turns(BIAS) == {"front": (0.0,), "back": (45.0, 315.0)}
    pin = Pin(piece="front", copy=1, cloth="velvet", x=700.0, y=700.0, turn_deg=180.0)
    assert turns(BIAS, pin) == {"front": (180.0,), "back": (135.0, 225.0)}
    lean = Chevron(
        piece_a="back", point_a="lower right", piece_b="back", point_b="lower right", bias=True
    )
    striped = replace(VELVET, print=Print(repeat_across=40.0, axes_across=(0.0,)))
    backs = [s.turns_deg for s in problem(lean, on=(striped,)).shapes if s.piece == "back"]
    assert sorted(backs) == [(45.0,), (315.0,)]


def test_rules_that_share_a_piece_are_one():
    """Front and back, back and front again: a piece tilted by a pin ties both of them."""
    pin = Pin(piece="back", copy=1, cloth="plain", x=700.0, y=700.0, turn_deg=183.0)
    found = turns(OneWay(pieces=("back",)), OneWay(), pin, on=(PLAIN,))
    assert found == {"front": (180.0,), "back": (180.0,)}


def test_the_judge_finds_a_top_turned_round():
    """A lay by the rules has no fault; any shape turned half round has one, whatever its grain."""
    asked = problem(BIAS)
    lay = solve(asked, seconds=LONG_S, rounds=1)
    assert lay.fits
    assert judge(asked, lay) == ()
    for turned in lay.placements:
        shape = next(s for s in asked.shapes if s.id == turned.shape)
        there = lie(
            shape,
            region="velvet",
            x=turned.x,
            y=turned.y,
            turn_deg=turned.turn_deg + 180.0,
            flipped=turned.flipped,
        )
        planted = tuple(there if p is turned else p for p in lay.placements)
        said = [
            "".join(map(str, f.words))
            for f in judge(asked, replace(lay, placements=planted))
            if f.code == "lay-rule"
        ]
        assert f"{shape.id} lies with its top another way than the rest on velvet." in said


def test_cloth_that_is_not_the_first_wish_has_its_nap_too():
    """What finds no room on plain cloth goes on velvet, and points one way there."""
    short = replace(PLAIN, length=650.0)
    asked = problem(on=(replace(short, width=500.0), VELVET))
    bound = {r.shape for r in asked.rules if isinstance(r, put.Upright)}
    assert bound == {"front", "back 1", "back 2"}
    lay = solve(asked, seconds=LONG_S, rounds=1)
    assert lay.fits
    there = [p.turn_deg for p in lay.placements if p.region == "velvet"]
    assert len(there) > 1
    assert set(there) == {0.0}
