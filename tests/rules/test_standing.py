"""Nothing is laid against its print: turns are met with its tops, and what cannot be is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.errors import BadInput, Mistakes
from clothwright.lay import problem as put
from clothwright.lay.fold_search import solve_folded, with_folds
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.may_run_into import MayRunInto
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.known import said
from clothwright.rules.plan import Plan
from clothwright.rules.stating import mistaken_rules
from clothwright.units import Unit
from clothwright.words import say
from tests.few_rounds import LONG_S
from tests.lay.panels import skirt

LOWER = Border(name="vine", side="lower", base=20.0, height=100.0)
UPPER = Border(name="fern", side="upper", base=20.0, height=100.0)


def cloth(up="either", *borders, name="peony", **more):
    """1000 mm of cloth printed with figures of one way, and borders."""
    design = Print(repeat_along=60.0, up=up, borders=borders)
    return Cloth(name=name, width=1000.0, length=3000.0, print=design, **more)


def problem(*rules, on=()):
    return compile_lay(skirt(), on or (cloth(),), Plan(name="p", rules=rules)).problem


def turns_of(piece, *rules, on=()):
    (found,) = {s.turns_deg for s in problem(*rules, on=on).shapes if s.piece == piece}
    return found


def refused(*rules, on):
    """The numbers and fields of the rules told as mistaken, and what is told."""
    plan = Plan(name="p", rules=rules)
    found = mistaken_rules(plan, skirt(), on)
    with pytest.raises((BadInput, Mistakes)):
        compile_lay(skirt(), on, plan)
    return [(m.number, w.field) for m in found for w in m.wrong], [
        str(w.error) for m in found for w in m.wrong
    ]


@pytest.mark.parametrize(
    ("up", "grain", "left"),
    [
        ("end", "along", (0.0,)),
        ("start", "along", (180.0,)),
        ("upper", "across", (90.0,)),
        ("lower", "across", (270.0,)),
        ("end", "bias", (45.0, 315.0)),
        ("lower", "bias", (225.0, 315.0)),
        ("either", "bias", (45.0, 135.0, 225.0, 315.0)),
    ],
)
def test_a_grain_rule_leaves_what_stands_upright(up, grain, left):
    """Of the turns along, across or on the bias those within 45 degrees of the print's top."""
    assert turns_of("back", OnGrain(piece="back", grain=grain), on=(cloth(up),)) == left


def test_without_a_rule_every_top_points_where_the_prints_does():
    """One turn for all, whichever way it is; either way where the print has no top."""
    ways = ("end", "upper", "start", "lower")
    assert [turns_of("front", on=(cloth(up),)) for up in ways] == [
        (0.0,),
        (90.0,),
        (180.0,),
        (270.0,),
    ]
    assert turns_of("front", on=(cloth(),)) == (0.0, 180.0)


def test_a_grain_against_the_print_is_refused_beside_its_field():
    """Along the grain, figures that point to a selvedge would lie on their side."""
    rule = OnGrain(piece="back", grain="along")
    places, (words,) = refused(rule, on=(cloth("upper"),))
    assert places == [(1, "grain")]
    assert '"back" would lie with its top away from the cut end or towards the cut end' in words
    assert 'the print of "peony" stands with its top towards the upper selvedge' in words
    assert "lie on its side" in words
    assert "both tops one way" in words


def test_a_hem_on_a_border_across_the_figures_is_refused():
    """The border turns the skirt to the selvedge, the ground's figures point along."""
    hem = OnBorder(piece="front", edge="hem", border="vine")
    places, (words,) = refused(hem, on=(cloth("end", LOWER),))
    assert places == [(1, "border")]
    assert "towards the upper selvedge" in words
    assert turns_of("front", hem, on=(cloth("upper", LOWER),)) == (90.0,)


@pytest.mark.parametrize("edges", [("left",), ("left", "hem")])
def test_two_edges_on_one_border_name_it_once(edges):
    """The ground and the border stand one way: they are said together, whoever lays it there."""
    rules = [OnBorder(piece="front", edge=e, border="vine") for e in edges]
    _, (words, *_) = refused(*rules, on=(cloth("upper", LOWER),))
    both = 'the print of "peony" and the border "vine" stand with their tops towards the upper'
    assert both in words
    assert words.partition("(by")[0].count('"vine"') == 1


def test_hems_on_both_selvedges_of_a_one_way_cloth():
    """Of two mirrored borders only one stands as the ground does; the other hem is refused."""
    rules = (
        OnBorder(piece="front", edge="hem", border="vine"),
        OnBorder(piece="back", edge="hem", border="fern"),
    )
    places, (words,) = refused(*rules, on=(cloth("upper", LOWER, UPPER),))
    assert places == [(2, "border")]
    assert "stand on its head" in words


def test_rules_that_turn_and_lay_it_name_each_other():
    """A pin against a border's top: both are told, each with the other's sentence."""
    pin = Pin(piece="front", copy=1, cloth="peony", x=500.0, y=300.0, turn_deg=270.0)
    hem = OnBorder(piece="front", edge="hem", border="vine")
    places, words = refused(hem, pin, on=(cloth("either", LOWER),))
    assert places == [(1, "border"), (2, "turn_deg")]
    assert "front 1 is pinned on peony" in words[0]
    assert "front, hem, lies along the vine" in words[1]


def test_upside_down_only_on_a_border_without_a_top():
    """Her own wish does not lay a border against itself; without a top it may be had."""
    rule = OnBorder(piece="front", edge="hem", border="vine", upside_down=True)
    places, (words,) = refused(rule, on=(cloth("either", LOWER),))
    assert places == [(1, "border")]
    assert "stand on its head" in words
    free = replace(LOWER, down="either")
    assert turns_of("front", rule, on=(cloth("either", free),)) == (270.0,)


def test_of_two_cloths_the_one_it_stands_on():
    """It is cut from what leaves it upright; from another only where it stands there too."""
    first, second = cloth("upper"), cloth("end", name="second")
    along = OnGrain(piece="back", grain="along")
    found = {s.piece: s for s in problem(along, on=(first, second)).shapes}
    assert found["back"].regions == ("second",)
    assert found["back"].turns_deg == (0.0,)
    assert found["front"].regions == ("peony",)
    both = problem(on=(first, replace(first, name="second"))).shapes
    assert {s.regions for s in both} == {("peony", "second")}


def test_a_pin_on_the_cloth_that_is_not_the_first_keeps_its_turn():
    """It is looked for on the cloth it is pinned on."""
    pin = Pin(piece="front", copy=1, cloth="second", x=500.0, y=300.0, turn_deg=180.0)
    on = (cloth("end"), cloth("start", name="second"))
    found = {s.id: s for s in problem(pin, on=on).shapes}
    assert (found["front"].turns_deg, found["front"].regions) == ((180.0,), ("second",))


# --- borders --------------------------------------------------------------------------------------


def test_what_no_rule_names_keeps_off_every_border():
    """Both borders for the back, the other one for the front, whose hem lies on the vine."""
    rules = problem(
        OnBorder(piece="front", edge="hem", border="vine"), on=(cloth("either", LOWER, UPPER),)
    ).rules
    off = {(r.shape, r.low, r.high) for r in rules if isinstance(r, put.KeepOff)}
    vine, fern = (20.0, 120.0), (880.0, 980.0)
    assert off == {(s, *b) for s in ("back 1", "back 2") for b in (vine, fern)} | {("front", *fern)}
    (up,) = (r for r in rules if isinstance(r, put.Upright))
    assert (up.shape, up.up_deg, up.low, up.high) == ("front", 90.0, 20.0, 120.0)


def test_a_rule_that_keeps_it_off_by_so_much_counts_alone():
    """Its own distance, also where it is less than none."""
    rules = problem(KeepOff(piece="back", border="vine", by=-5.0), on=(cloth("end", LOWER),)).rules
    bands = {(r.low, r.high) for r in rules if isinstance(r, put.KeepOff) and "back" in r.shape}
    assert bands == {(25.0, 115.0)}


def test_what_may_run_into_a_border_lies_upright_on_it_or_beside():
    """Along the grain a border with a top bars it, one without does not; on the bias it may."""
    into = MayRunInto(piece="front", border="vine")

    def least(*rules, border=LOWER):
        asked = problem(into, *rules, on=(cloth("either", border),))
        lay = solve(asked, seconds=LONG_S, rounds=2)
        assert judge(asked, lay) == ()
        return min(y for p in lay.placements if p.shape == "front" for _, y in p.outline)

    assert least() >= 120.0 - 1e-3
    assert least(border=replace(LOWER, down="either")) < 120.0
    assert least(OnGrain(piece="front", grain="bias")) < 120.0


def test_into_and_off_contradict():
    """The later of the two is told and names the other."""
    rules = (MayRunInto(piece="back", border="vine"), KeepOff(piece="back", border="vine"))
    places, (words,) = refused(*rules, on=(cloth("end", LOWER),))
    assert places == [(2, "")]
    assert "back may run into the vine" in words


BESIDE = {(160.0, 0.0), (160.0, 50.0)}


@pytest.mark.parametrize(("above", "by"), [(0.0, 0.0), (90.0, 0.0), (160.0, 70.0), *sorted(BESIDE)])
def test_on_and_off_contradict_where_the_edge_lies_in_the_band(above, by):
    """The band is 100 high: an edge 160 above its lower line leaves 60 between, by hand."""
    rules = (
        OnBorder(piece="back", edge="hem", border="vine", above=above),
        KeepOff(piece="back", border="vine", by=by),
    )
    on = (cloth("either", LOWER),)
    if (above, by) in BESIDE:
        assert problem(*rules, on=on).rules
        return
    for one, other in (rules, rules[::-1]):
        places, (words,) = refused(one, other, on=on)
        assert places == [(2, "")]
        assert str(say(said(one), Unit.mm)) in words


def test_what_has_no_room_beside_the_border_is_told_before_any_search():
    """500 + 20 mm across, 600 wide, a border to 120: told with the way out, which lays it."""
    border = replace(LOWER, down="either")
    narrow = replace(cloth("either", border), width=600.0)
    across = OnGrain(piece="back", grain="across")
    with pytest.raises(BadInput) as caught:
        problem(across, on=(narrow,))
    told = str(caught.value)
    assert '"back" is 520 mm across' in told
    assert "at most the 470 mm beside the border" in told
    assert "the rule that it may run into the border" in told
    asked = problem(across, MayRunInto(piece="back", border="vine"), on=(narrow,))
    assert judge(asked, solve(asked, seconds=LONG_S, rounds=2)) == ()
    wider = replace(narrow, width=660.0)
    assert solve(problem(across, on=(wider,)), seconds=LONG_S, rounds=2).unplaced == {}


def test_a_pin_on_a_border_it_keeps_off_is_told_before_any_search():
    """The pin's own place lies in the band, from y = 20 to 120; further up it holds."""
    pin = Pin(piece="front", copy=1, cloth="peony", x=500.0, y=100.0, turn_deg=0.0)
    on = (cloth("end", LOWER),)
    with pytest.raises(BadInput, match='"front" is pinned where it runs into a border of "peony"'):
        problem(pin, on=on)
    assert problem(replace(pin, y=600.0), on=on).rules


def test_what_is_pinned_is_not_advised_what_the_plan_has_already():
    """Pinned head down on a border it may run into, the other border being off: turn it."""
    other = UPPER
    on = (cloth("either", LOWER, other),)
    pin = Pin(piece="front", copy=1, cloth="peony", x=500.0, y=100.0, turn_deg=270.0)
    with pytest.raises(BadInput) as caught:
        problem(pin, MayRunInto(piece="front", border="vine"), on=on)
    told = str(caught.value)
    assert "may run into" not in told
    assert "its top against the border's" in told
    assert "laying it so that it stands upright on the border" in told
    with pytest.raises(BadInput, match="leaving out the rule that keeps it off"):
        problem(pin, KeepOff(piece="front", border="vine"), on=on)


# --- folds ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("up", "way"), [("end", "lengthwise"), ("upper", "crosswise")])
def test_a_fold_that_keeps_the_lower_layer_upright_is_laid(up, way):
    """A lengthwise fold turns across round, a crosswise one along: the other way is kept."""
    done = compile_lay(skirt(), (cloth(up),), Plan(name="p"))
    found = solve_folded(done, (Folded(cloth="peony", way=way),), seconds=LONG_S, rounds=2)
    asked = with_folds(done, found.folds).problem
    assert judge(asked, found.lay) == ()
    assert {p.turn_deg for p in found.lay.placements} == {0.0 if up == "end" else 90.0}


def test_two_rules_that_turn_one_piece_otherwise_are_both_refused():
    """A hem on a border turns a piece across; "along the grain" was passed over in silence."""
    hem = OnBorder(piece="back", edge="hem", border="vine")
    on = (cloth("either", LOWER),)
    numbers, told = refused(hem, OnGrain(piece="back", grain="along"), on=on)
    assert [n for n, _ in numbers] == [1, 2]
    assert all("would have to lie two ways" in t for t in told)
    assert "along the grain" in told[0]
    assert "lies along the vine" in told[1]
    assert turns_of("back", hem, OnGrain(piece="back", grain="across"), on=on) == (90.0,)
