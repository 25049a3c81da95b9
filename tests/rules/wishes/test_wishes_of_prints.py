"""What is wished follows the print: which way its top points, how large its motifs are, its bars.

A front on the fold, a pair of backs and a pocket, 500 mm long (`tests.lay.panels`), on prints that
are turned, bordered or uneven. What a cutter places: docs/sources.md, which seams first, where the
bars go, figures on a piece.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from clothwright.cloth.motions import ground
from clothwright.cloth.prints import Border, Figure, Print
from clothwright.demo.curves import bend
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.lay.judge import residuals
from clothwright.lay.meeting.values import MeetingKind
from clothwright.lay.problem import SameTurn
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Mark, Role
from clothwright.pattern.refs import parse_edge
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import Plan
from clothwright.rules.stating import outfit_of, stated
from clothwright.rules.wishes.proposing import carried, proposed
from clothwright.rules.wishes.wish import Wish, WishedPlan
from clothwright.rules.wishes.wished import plans_from
from clothwright.units import Unit
from clothwright.words import is_met, say
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import lay_plan
from tests.few_rounds import LONG_S
from tests.lay.panels import bordered, panel, skirt
from tests.outfits import OUTFITS

CHECK = Print(
    repeat_along=50.0,
    repeat_across=40.0,
    axes_along=(0.0,),
    axes_across=(0.0,),
    look="check",
)
UNEVEN = replace(CHECK, axes_across=())
PLACE = polyline([(80, 300), (80, 400), (160, 400), (160, 300), (80, 300)])


def pocketed() -> Pattern:
    """The skirt with a pocket of 80 by 100 mm marked on its front."""
    start = skirt()
    front = replace(start.pieces[0], marks=(Mark(name="pocket place", path=PLACE),))
    return replace(start, pieces=(front, start.pieces[1], panel("pocket", 80.0, 100.0, "once")))


def book(design: Print, *plans: Plan, pattern: Pattern | None = None) -> Workbook:
    cloth = replace(bordered(), print=design)
    return Workbook(
        title="t", unit=Unit.cm, bought=pattern or skirt(), cloths=(cloth,), plans=plans
    )


def wishes(own: Workbook) -> dict[str, Wish]:
    outfit = outfit_of(own.bought, own.cloths, own.plan())
    return {w.name: w for w in proposed(outfit, own.plans, own.plan().name, Unit.cm)}


def usual(own: Workbook) -> tuple[Wish, ...]:
    return tuple(w for w in wishes(own).values() if w.usual)


def made(own: Workbook, *mine: Wish) -> tuple[WishedPlan, ...]:
    return plans_from(own.bought, own.cloths, mine, carried(own.plan().rules), Unit.cm)


# --- a pocket lies as what it is sewn on ----------------------------------------------------------


def test_a_matched_pocket_turns_with_the_front_that_a_border_has_turned():
    """Both wishes are had, the pocket lies across as the front does, and the lay keeps both."""
    own = book(bordered().print, pattern=pocketed())
    known = wishes(own)
    first = made(own, known["border round the hem"], known["matched pocket"])[0]
    assert first.given_up == ()
    assert OnGrain(piece="pocket", grain="across") in first.plan.rules
    laid = lay_plan(replace(own, plans=(first.plan,)), seconds=LONG_S, rounds=0)
    assert not laid.lay.unplaced
    assert laid.faults == ()
    pocket = {p.turn_deg % 180.0 for p in laid.lay.placements if p.shape.startswith("pocket")}
    assert pocket == {90.0}
    assert all(map(is_met, residuals(laid.compiled.problem, laid.lay).values()))


def test_a_matched_pocket_on_a_front_along_the_cloth_needs_no_rule_of_its_grain():
    """Nothing turns the front: the rule that they meet is all there is."""
    own = book(bordered().print, pattern=pocketed())
    first = made(own, wishes(own)["matched pocket"])[0]
    assert [type(r) for r in first.plan.rules] == [Meets]


def test_a_rule_that_leaves_two_pieces_no_way_to_lie_alike_is_told_before_any_lay():
    """Stated by hand, without the pocket's grain: it is that rule's mistake, not a lay in vain."""
    (meets,) = made(
        own := book(bordered().print, pattern=pocketed()), wishes(own)["matched pocket"]
    )[0].plan.rules
    hem = OnBorder(piece="front", edge="hem", border="b")
    found = stated(own.bought, own.cloths, Plan(name="x", rules=(hem, meets)))
    assert [m.number for m in found.mistaken] == [2]
    assert "would have to lie as" in str(found.mistaken[0].wrong[0].error)
    across = OnGrain(piece="pocket", grain="across")
    assert not stated(own.bought, own.cloths, Plan(name="x", rules=(hem, meets, across))).mistaken


def test_a_hem_on_a_band_of_no_way_looks_into_the_cloth():
    """At the upper selvedge the piece hangs down from it: the other way half of it has no cloth."""
    start = bordered().print
    band = replace(start.borders[0], side="upper", down="either", repeat=50.0)
    own = book(replace(start, borders=(band,), repeat_across=None, axes_across=()))
    known = wishes(own)
    mine = (known["border round the hem"], known["border motifs round the hem"])
    first = made(own, *mine)[0]
    assert first.given_up == ()
    laid = lay_plan(replace(own, plans=(first.plan,)), seconds=LONG_S, rounds=0)
    assert not laid.lay.unplaced
    assert {p.turn_deg for p in laid.lay.placements} == {270.0}


# --- what comes along -----------------------------------------------------------------------------


def test_only_what_the_plan_she_starts_from_says_of_grain_comes_along():
    """The grain another plan gives a piece is no rule of hers here, but may be wished for."""
    bias = OnGrain(piece="back", grain="bias")
    own = book(CHECK, Plan(name="as it falls"), Plan(name="other", rules=(bias,)))
    assert carried(own.plan().rules) == ()
    assert all(bias not in one.plan.rules for one in made(own, *usual(own)))
    assert [w.grants[0].rules for w in wishes(own).values() if bias in w.grants[0].rules] == [
        (bias,)
    ]
    own = replace(own, chosen_plan="other")
    assert all(bias in one.plan.rules for one in made(own, *usual(own)))


# --- a print whose top points to a selvedge -------------------------------------------------------


@pytest.mark.parametrize(("up", "turn"), [("end", 0.0), ("upper", 90.0), ("lower", 270.0)])
def test_level_and_middle_follow_the_top_of_the_print(up, turn):
    """The same wishes whichever way the top points, all had, and the lay has them whole."""
    own = book(replace(CHECK, up=up))
    mine = usual(own)
    assert [w.name for w in mine] == [
        "middle of the front",
        "middle of the back",
        "level round the body",
    ]
    first = made(own, *mine)[0]
    assert first.given_up == ()
    middle = next(r for r in first.plan.rules if isinstance(r, AtPhase))
    assert (middle.across, middle.along) == ((0.0, None) if up == "end" else (None, 0.0))
    laid = lay_plan(replace(own, plans=(first.plan,)), seconds=LONG_S, rounds=0)
    assert {p.turn_deg for p in laid.lay.placements} == {turn}
    sides = [m for m in laid.meetings if m.seam == "side"]
    assert sides
    assert all(m.share == pytest.approx(1.0) for m in sides)


# --- large motifs and small ones ------------------------------------------------------------------


def test_of_two_motifs_the_large_one_is_placed():
    """The small one between is ground: nobody puts it in the middle or keeps it whole."""
    design = Print(
        repeat_along=260.0,
        repeat_across=240.0,
        figures=(
            Figure(name="bud", x=40.0, y=40.0, radius=14.0),
            Figure(name="rose", x=150.0, y=120.0, radius=60.0),
        ),
        look="figures",
    )
    names = [n for n in wishes(book(design)) if "bud" in n or "rose" in n]
    assert names
    assert all("rose" in n for n in names)


def test_scattered_small_motifs_are_not_placed():
    """Of sprigs alone none is offered; what may lie either way may be wished one way up."""
    design = Print(
        repeat_along=90.0,
        repeat_across=80.0,
        figures=(Figure(name="sprig", x=40.0, y=28.0, radius=14.0),),
        look="figures",
    )
    found = wishes(book(design))
    assert not [n for n in found if "sprig" in n]
    assert "one way up" in found


@pytest.mark.parametrize("drop", ["straight", "half-drop", "brick"])
def test_how_far_a_place_can_lie_from_every_copy_of_a_motif(drop):
    """Against the largest empty circle among its copies, written out and tried at random places."""
    along, across = 132.0, 88.0
    design = Print(repeat_along=along, repeat_across=across, drop=drop)
    rng = np.random.default_rng(5)
    places = rng.uniform(0.0, 2 * along, size=(20000, 2))
    columns = [
        (
            k * along + (along / 2 if drop == "half-drop" and n % 2 else 0.0),
            n * across + (across / 2 if drop == "brick" and k % 2 else 0.0),
        )
        for k in range(-2, 6)
        for n in range(-3, 8)
    ]
    away = np.min([np.hypot(*(places - c).T) for c in columns], axis=0)
    assert ground(design).farthest((0.0, 0.0)) == pytest.approx(away.max(), abs=2.5)
    assert math.isinf(ground(replace(design, repeat_across=None)).farthest((0.0, 0.0)))


# --- bars -----------------------------------------------------------------------------------------


def test_a_wish_is_had_where_the_motifs_of_the_border_grant_it():
    """The front lies across on its border, a motif on its middle: its middle is not given up."""
    stripes = Print(
        borders=(Border(name="b", side="lower", base=40.0, height=100.0, repeat=60.0),),
        repeat_across=40.0,
        axes_along=(0.0,),
        axes_across=(0.0, 20.0),
        look="stripes along",
    )
    own = book(stripes)
    known = wishes(own)
    hem, motifs = known["border round the hem"], known["border motifs round the hem"]
    middle = known["middle of the front"]
    for one in made(own, hem, motifs, middle):
        if one.had_of(hem) and one.had_of(motifs):
            assert one.had_of(middle), one.plan.why
            assert AtPhase(piece="front", point="lower left", along=0.0) in one.plan.rules
    assert made(own, middle)[0].had_of(middle).grant.lies == "along"


def test_uneven_bars_have_a_bar_or_the_middle_between_on_the_centre_front():
    """No mirror up the body: the start of the repeat lies on the middle, or its middle."""
    own = book(UNEVEN)
    middle = wishes(own)["middle of the front"]
    assert middle.usual
    assert [g.rules[0].across for g in middle.grants] == [0.0, 20.0]
    assert [say(g.how, Unit.cm) for g in middle.grants] == [
        "with the start of the repeat",
        "with the middle of the repeat",
    ]


@pytest.mark.parametrize(
    ("design", "is_usual"),
    [
        (UNEVEN, True),
        (replace(UNEVEN, axes_along=(), half_turn=(0.0, 0.0)), False),
        (replace(CHECK, axes_along=()), True),
        (CHECK, False),
        (Print(repeat_across=40.0, look="stripes along"), True),
        (Print(repeat_across=40.0, axes_across=(0.0,), look="stripes along"), False),
        (Print(repeat_along=50.0, repeat_across=40.0, look="figures"), False),
    ],
)
def test_bars_that_a_half_turn_changes_lie_one_way_up(design, is_usual):
    """Uneven plaids and stripes take a layout with nap (docs/sources.md, checks and stripes)."""
    own = book(design)
    one = wishes(own)["one way up"]
    assert one.usual is is_usual
    assert ("other order" in one.without) is is_usual
    if is_usual:
        first = made(own, *usual(own))[0]
        assert first.had[0].wish == one
        asked = stated(own.bought, own.cloths, first.plan).asked
        (alike,) = [r for r in asked if isinstance(r, SameTurn) and "one-way" in r.id]
        assert len(alike.shapes) == 3
        assert first.cautions == ()
    (said,) = [say(c, Unit.cm) for c in made(own)[0].cautions] or [""]
    assert ("the back may lie end for end, and their bars" in said) is is_usual


def test_uneven_bars_run_on_where_the_front_is_buttoned():
    """Left and right front show the same bar at the centre, level: closed, the plaid is one."""
    start = OUTFITS["brick blouse"]()
    own = replace(start, cloths=(replace(start.cloths[0], print=UNEVEN),), plans=(), chosen_plan="")
    middle = wishes(own)["middle of the front"]
    assert middle.seams == ("centre front",)
    laid = lay_plan(replace(own, plans=(made(own, middle)[0].plan,)), seconds=LONG_S, rounds=0)
    (closed,) = [m for m in laid.meetings if m.seam == "centre front"]
    assert closed.shares[MeetingKind.RUNS_ON] == pytest.approx(1.0)


def test_a_collar_runs_on_from_the_centre_back():
    """Held by one edge, cut on the fold: its middle lies in line with that of the back."""
    back = panel("back", 220.0, 500.0, "fold", fold="left")
    collar = panel("collar", 220.0, 60.0, "fold", fold="left")
    foot = replace(collar.edges[0], role=Role.SEAM)
    collar = replace(collar, edges=(foot, *collar.edges[1:]))
    neck = Seam(name="neck", a=(parse_edge("back.top"),), b=(parse_edge("collar.hem reversed"),))
    own = book(CHECK, pattern=Pattern(pieces=(back, collar), seams=(neck,)))
    mine = usual(own)
    assert [w.name for w in mine] == ["middle of the back", "collar in line with the back"]
    laid = lay_plan(replace(own, plans=(made(own, *mine)[0].plan,)), seconds=LONG_S, rounds=0)
    necks = [m for m in laid.meetings if m.seam == "neck"]
    assert [m.upright for m in necks] == [pytest.approx(0.0, abs=0.05)] * 2


@pytest.mark.parametrize(("along", "is_usual"), [(None, True), (50.0, False)])
def test_upright_stripes_meet_at_the_shoulder(along, is_usual):
    """For stripes it is the one place asked for; on a check the seams round the body come first."""
    start = OUTFITS["checked shirt"]()
    design = replace(CHECK, repeat_along=along, axes_along=())
    own = replace(start, cloths=(replace(start.cloths[0], print=design),), plans=())
    found = wishes(replace(own, chosen_plan=""))["in line at the shoulder seam"]
    assert found.usual is is_usual
    (meets,) = found.grants[0].rules
    assert meets.match == "upright"
    assert {meets.point_a, meets.point_b} == {"neck point"}


# --- how high on a border -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("leaves", "comes", "rise"), [(0.0, 0.0, 0.0), (-10.0, 10.0, 0.0), (0.0, 12.0, 30.0)]
)
def test_a_curved_hem_lies_as_high_on_a_border_as_its_lowest_place_needs(leaves, comes, rise):
    """What hangs lower than where the hem is laid has its turn-up on the cloth, by at most 1 mm."""
    start = panel("front", 300.0, 500.0, "once")
    curve = bend(Vec(0.0, 0.0), leaves, Vec(300.0, rise), comes)
    hem = replace(start.edges[0], path=curve, allowance=30.0)
    side = replace(start.edges[1], path=polyline([(300.0, rise), (300.0, 500.0)]))
    front = replace(start, edges=(hem, side, *start.edges[2:]))
    design = Print(borders=(Border(name="b", side="lower", base=10.0, height=200.0),))
    own = book(design, pattern=Pattern(pieces=(front,)))
    plan = made(own, wishes(own)["border round the front hem"])[0].plan
    laid = lay_plan(replace(own, plans=(plan,)), seconds=LONG_S, rounds=0)
    assert laid.lay.fits
    low = min(y for p in laid.lay.placements for _, y in p.outline)
    assert 0.0 <= low - own.cloths[0].margin_lower <= 1.05


# --- what is seen though nobody wished it ---------------------------------------------------------


def sleeved() -> Workbook:
    """The shirt of the outfits on stripes along the cloth with a border at one selvedge."""
    design = Print(
        borders=(Border(name="b", side="lower", base=40.0, height=100.0),),
        repeat_across=40.0,
        axes_along=(0.0,),
        axes_across=(0.0, 20.0),
        look="stripes along",
    )
    start = OUTFITS["checked shirt"]()
    cloth = replace(start.cloths[0], print=design)
    return replace(start, cloths=(cloth,), plans=(), chosen_plan="")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({}, "The bars run up the sleeve, but round the front and the back."),
        ({"repeat_along": 40.4}, ""),
        (
            {"repeat_along": 60.0},
            "Against the sleeve the check is turned on the front and the back: "
            "its bars run the other way.",
        ),
    ],
)
def test_stripes_that_run_two_ways_on_one_garment_are_told(change, words):
    """The border turns the body and not the sleeves: round the one the bars run, up the other."""
    own = sleeved()
    own = replace(
        own, cloths=(replace(own.cloths[0], print=replace(own.cloths[0].print, **change)),)
    )
    round_ = next(w for w in wishes(own).values() if w.name.startswith("border round the hem"))
    first, *_ = made(own, round_)
    assert first.had_of(round_)
    assert [say(c, Unit.cm) for c in first.cautions] == [words] * bool(words)
    assert made(own)[0].cautions == ()


@pytest.mark.parametrize(
    ("change", "offered"),
    [({}, True), ({"repeat_along": 40.4}, False), ({"repeat_along": 60.0}, True)],
)
def test_what_is_sewn_to_the_body_turns_with_it_where_the_print_would_run_two_ways(change, offered):
    """A border turns front and back; the sleeve goes with them as usual, and nothing runs askew."""
    start = sleeved()
    design = replace(start.cloths[0].print, **change)
    own = replace(start, cloths=(replace(start.cloths[0], print=design),))
    mine = [w for w in usual(own) if w.name.startswith("border round") or "turned as" in w.name]
    assert ("sleeve turned as the front and back" in [w.name for w in mine]) is offered
    plans = made(own, *mine)
    assert plans[0].cautions == ()
    if offered:
        border, turned = mine
        lying = stated(own.bought, own.cloths, plans[0].plan).table.lying
        assert {e.crosswise for e in lying.values()} == {True}
        for one in plans:
            assert one.had_of(border) or not one.had_of(turned)
            assert bool(one.cautions) is (bool(one.had_of(border)) and not one.had_of(turned))


def test_a_yoke_in_line_with_the_back_is_one_wish_in_few_words():
    """What a plan asks at the middle of a seam that goes round the body is a wish with a name."""
    yoke = panel("yoke", 200.0, 80.0, "fold", fold="left")
    front, back = skirt().pieces
    foot = replace(yoke.edges[0], role=Role.SEAM)
    yoke = replace(yoke, edges=(foot, *yoke.edges[1:]))
    seam = Seam(
        name="yoke seam", a=(parse_edge("front.top"),), b=(parse_edge("yoke.hem reversed"),)
    )
    over = Seam(name="over", a=(parse_edge("yoke.top"),), b=(parse_edge("back.top reversed"),))
    pattern = Pattern(pieces=(front, back, yoke), seams=(*skirt().seams, seam, over))
    middle = Meets(
        piece_a="front", point_a="upper left", piece_b="yoke", point_b="lower left", match="upright"
    )
    aside = replace(middle, point_a="upper right", point_b="lower right", match="level")
    known = wishes(book(CHECK, Plan(name="p", rules=(middle, aside)), pattern=pattern))
    assert known["yoke in line with the front"].usual
    assert known["yoke level with the front at upper right"].grants[0].rules == (aside,)
    bare = wishes(book(CHECK, pattern=pattern))
    assert not bare["yoke in line with the front"].usual
    assert not any("print meets" in name for name in known)


def test_a_piece_that_a_plan_lays_across_can_be_even_there_too():
    """A check mirrors both ways: across, the middle of the sleeve lies on its other mirror line."""
    start = OUTFITS["checked shirt"]()
    across = OnGrain(piece="sleeve", grain="across")
    own = replace(start, plans=(*start.plans, Plan(name="across", rules=(across,))))
    known = wishes(own)
    middle = known["middle of the sleeve"]
    turned = next(w for w in known.values() if across in w.grants[0].rules)
    first = made(own, turned, middle)[0]
    assert first.had_of(middle).grant.lies == "across"
    assert first.given_up == ()


# --- what a plan is called ------------------------------------------------------------------------


def test_a_name_says_what_sets_a_plan_apart_in_a_few_words():
    """From the first: a wish in another way, let go, or the few that are left."""
    own = OUTFITS["two borders"]()
    mine = [w for w in wishes(own).values() if w.usual]
    names = [one.plan.name for one in made(own, *mine)]
    assert names[0] in ("everything wished", "as much as goes together")
    assert "border round the overskirt hem on the vine" in names
    over = next(w for w in mine if w.name == "border round the overskirt hem")
    long = replace(over, name="the overskirt lies along the vine or along the braid all round")
    names = [one.plan.name for one in made(own, *(long if w is over else w for w in mine))]
    assert "the wish for the overskirt on the vine" in names
