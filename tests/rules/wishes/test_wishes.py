"""Wishes are read off pieces and prints, and become plans that are whole and leave nothing out.

What is looked at first, and what is usual: the handbooks' order and the common practice written
down in docs/sources.md, which seams first, where the bars go, large figures, borders on hems.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from clothwright.demo import checked_waistcoat, coat_and_skirt
from clothwright.pattern.parts import front_or_back, sleeve_names
from clothwright.pattern.pattern import Pattern
from clothwright.rules.following import followed_plan
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.kinds.keep_off import KeepOff
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.known import contradict
from clothwright.rules.names import pieces_in
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.stating import mistakes_of, outfit_of
from clothwright.rules.wishes.asked import Demands
from clothwright.rules.wishes.naming import MOST_LETTERS
from clothwright.rules.wishes.proposing import carried, proposed
from clothwright.rules.wishes.wish import Grant, Wish, WishedPlan
from clothwright.rules.wishes.wished import MOST_PLANS, plans_from
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Workbook, replay
from tests.outfits import OUTFITS

DEMOS = {"coat and skirt": coat_and_skirt, "checked waistcoat": checked_waistcoat}
ALL = {**DEMOS, **OUTFITS}


def plans(book: Workbook) -> tuple[Plan, ...]:
    pattern = replay(book).pattern
    return tuple(followed_plan(p, pattern) for p in book.plans)


def chosen(book: Workbook) -> tuple[PlacingRule, ...]:
    """Return the rules of the plan she starts from."""
    return followed_plan(book.plan(), replay(book).pattern).rules


def wishes(book: Workbook) -> tuple[Wish, ...]:
    pattern = replay(book).pattern
    outfit = outfit_of(pattern, book.cloths, followed_plan(book.plan(), pattern))
    return proposed(outfit, plans(book), book.plan().name, Unit.cm)


def named(book: Workbook, *names: str) -> tuple[Wish, ...]:
    found = {w.name: w for w in wishes(book)}
    return tuple(found[n] for n in names)


def made(book: Workbook, mine: tuple[Wish, ...]) -> tuple[WishedPlan, ...]:
    return plans_from(replay(book).pattern, book.cloths, mine, carried(chosen(book)), book.unit)


# --- what is offered ------------------------------------------------------------------------------

USUAL = {
    "coat and skirt": [
        "border round the skirt hem",
        "border round the coat sleeve hem",
        "border motifs round the skirt hem",
        "border motifs round the coat sleeve hem",
        "plain coat front and coat back",
    ],
    "checked waistcoat": [
        "middle of the front",
        "middle of the back",
        "level round the body",
        "matched pocket",
    ],
    "checked shirt": [
        "middle of the front",
        "middle of the back",
        "level round the body",
        "level sleeve",
        "middle of the sleeve",
    ],
    "bias skirt": ["chevrons round the skirt"],
    "large figure": [
        "middle of the front",
        "bust of the front clear of the peony",
        "middle of the back",
        "level round the body",
    ],
    "brick blouse": ["level round the body"],
}
"""What a cutter would ask of these outfits, what is looked at first before the rest."""


@pytest.mark.parametrize("name", USUAL)
def test_what_is_usual_stands_in_the_handbooks_order(name):
    """Centre front, centre back, side, front of the armhole, pocket; a border before all."""
    assert [w.name for w in wishes(ALL[name]()) if w.usual] == USUAL[name]


def test_pieces_are_known_by_their_seams_and_marks_and_not_by_their_names():
    """Called by letters, front and back and sleeve are still what they are."""
    book = OUTFITS["checked shirt"]()
    letters = {"front": "A", "back": "B", "sleeve": "C"}
    pieces = tuple(replace(p, name=letters[p.name]) for p in book.bought.pieces)
    seams = tuple(
        replace(
            s,
            a=tuple(replace(r, piece=letters[r.piece]) for r in s.a),
            b=tuple(replace(r, piece=letters[r.piece]) for r in s.b),
        )
        for s in book.bought.seams
    )
    other = replace(book, bought=Pattern(pieces=pieces, seams=seams), plans=(), chosen_plan="")
    assert [front_or_back(p) for p in pieces[:2]] == ["front", "back"]
    assert sleeve_names(other.bought) == ("C",)
    mine = [w for w in wishes(other) if w.usual]
    assert [w.name for w in mine] == [
        "middle of the A",
        "middle of the B",
        "level round the body",
        "level C",
        "middle of the C",
    ]
    assert mine[3].grants[0].how == ("at the notch of the A",)


def test_a_plain_cloth_has_nothing_to_wish_for():
    """Without a print there is no wish."""
    book = checked_waistcoat()
    bare = tuple(replace(c, print=type(c.print)()) for c in book.cloths)
    assert wishes(replace(book, cloths=bare, plans=(), chosen_plan="")) == ()


def test_a_border_of_its_own_or_of_two_is_one_choice():
    """A hem that may lie on either of two borders has both as ways, the higher one first."""
    (wish,) = named(OUTFITS["two borders"](), "border round the skirt hem")
    assert [g.how for g in wish.grants] == [("on the vine",), ("on the braid",)]


# --- what becomes of them -------------------------------------------------------------------------


@pytest.mark.parametrize("name", ALL)
def test_every_plan_is_whole_and_tells_what_became_of_each_wish(name):
    """All wishes there are, contradicting ones too, in a chance order: none goes in silence."""
    book = ALL[name]()
    mine = list(wishes(book))
    random.Random(name).shuffle(mine)
    found = made(book, tuple(mine))
    assert 1 <= len(found) <= MOST_PLANS
    pattern = replay(book).pattern
    for one in found:
        assert mistakes_of(one.plan, pattern, book.cloths) == ()
        told = [h.wish.name for h in one.had] + [g.wish.name for g in one.given_up]
        assert sorted(told) == sorted(w.name for w in mine)
        assert all(say(g.why, Unit.inch) for g in one.given_up)
        assert all(r in one.plan.rules for h in one.had for r in h.grant.rules)
    assert len({frozenset(one.plan.rules) for one in found}) == len(found)
    assert len({one.plan.name for one in found}) == len(found)
    assert all(one.plan.name == one.plan.name.strip() for one in found)
    assert all(0 < len(one.plan.name) <= MOST_LETTERS + 5 for one in found)
    for wish in mine:
        ways = [(g.lies, say(g.how, Unit.inch)) for g in wish.grants]
        assert len(set(ways)) == len(ways), "two ways that lie alike are told apart"


@pytest.mark.parametrize("name", ALL)
def test_whatever_her_plans_ask_can_be_wished_for_or_comes_along(name):
    """No rule of any plan is lost: it is carried, or a wish grants it in these or other words."""
    book = ALL[name]()
    pattern = replay(book).pattern
    demands = Demands(pattern=pattern, cloths=book.cloths)
    grants = [g for w in wishes(book) for g in w.grants]
    for plan in plans(book):
        for rule in plan.rules:
            assert rule in carried(chosen(book)) or any(demands.is_in(rule, g) for g in grants)


def test_a_hem_lies_on_one_border():
    """Two borders for one edge contradict each other, and no plan has both."""
    one = OnBorder(piece="skirt front", edge="hem", border="vine")
    assert contradict(one, replace(one, border="braid"))
    assert not contradict(one, replace(one, edge="waist", border="braid"))
    book = OUTFITS["two borders"]()
    for each in made(
        book, named(book, "border round the skirt hem", "border round the overskirt hem")
    ):
        on = [(r.piece, r.edge) for r in each.plan.rules if isinstance(r, OnBorder)]
        assert len(on) == len(set(on))


def test_of_two_that_settle_one_thing_the_first_is_had():
    """A pocket cannot be matched and on the bias; which it is, is her order, and it is said."""
    book = checked_waistcoat()
    both = named(book, "matched pocket", "pocket on the bias")
    for mine in (both, both[::-1]):
        first = made(book, mine)[0]
        assert [h.wish for h in first.had] == [mine[0]]
        assert [g.wish for g in first.given_up] == [mine[1]]
        assert say(mine[0].words, Unit.cm) in say(first.given_up[0].why, Unit.cm)


@pytest.mark.parametrize("name", ["coat and skirt", "two borders"])
def test_the_figures_of_a_border_are_only_had_by_what_lies_on_it(name):
    """They bring the border along; where their pieces stay plain, or it is let go, they go too."""
    book = ALL[name]()
    motifs = next(w for w in wishes(book) if w.name.startswith("border motifs"))
    pieces = pieces_in(motifs.grants[0].rules)
    border = next(
        w
        for w in wishes(book)
        if w.name.startswith("border round") and pieces_in(w.grants[0].rules) == pieces
    )
    plain = next(
        w
        for w in wishes(book)
        if w.name.startswith("plain") and pieces_in(w.grants[0].rules) == pieces
    )
    on = set(border.grants[0].rules)
    assert on
    assert on <= set(made(book, (motifs,))[0].plan.rules)
    for mine in ((plain, motifs, border), (motifs, border, plain), (border, motifs)):
        for one in made(book, mine):
            rules = one.plan.rules
            lies = {r.piece for r in rules if isinstance(r, OnBorder)}
            off = {r.piece for r in rules if isinstance(r, KeepOff)}
            assert not lies & off
            assert not one.had_of(motifs) or one.had_of(border) or border not in mine
            assert not one.had_of(motifs) or lies == pieces


def test_a_hem_lies_on_a_border_as_her_own_plan_has_it():
    """Her height and what the hem follows are the wish; no copy of ours stands beside it."""
    book = OUTFITS["two borders"]()
    start = book.plan()
    first = next(r for r in start.rules if isinstance(r, OnBorder))
    higher = replace(first, above=first.above + 7.0, follows="best")
    rules = tuple(higher if r is first else r for r in start.rules)
    own = replace(book, plans=(replace(start, rules=rules),))
    holding = [w for w in wishes(own) if any(higher in g.rules for g in w.grants)]
    assert [w.name.split(" round ")[0] for w in holding] == ["border", "border motifs"]
    assert higher in holding[0].grants[0].rules
    assert holding[0].usual
    same = (w for w in wishes(own) if first.piece in pieces_in(w.grants[0].rules))
    heights = {
        r.above
        for w in same
        for g in w.grants
        for r in g.rules
        if isinstance(r, OnBorder) and (r.piece, r.border) == (first.piece, first.border)
    }
    assert heights == {higher.above}


def test_meets_clear_and_keep_off_are_carried_into_every_plan():
    """What is wished beside a border stays: in each plan it is had, or told as given up."""
    book = coat_and_skirt()
    mine = tuple(w for w in wishes(book) if w.usual)
    kinds = {type(r) for r in made(book, mine)[0].plan.rules}
    assert {OnBorder, KeepOff, Meets, AtPhase} <= kinds


def test_the_first_plan_has_everything_and_the_least_wish_goes_first():
    """In the order of promise her last wish is let go before her first."""
    book = OUTFITS["checked shirt"]()
    mine = tuple(w for w in wishes(book) if w.usual)
    found = made(book, mine)
    assert found[0].promise(mine) == (0,) * len(mine)
    assert [one.promise(mine) for one in found] == sorted(one.promise(mine) for one in found)
    lost = [one.plan.name for one in found]
    assert lost.index("all but middle of the sleeve") < lost.index("all but middle of the back")


def test_what_her_first_wish_costs_is_among_the_plans():
    """However many wishes: one plan does without the first, so that its price is seen."""
    book = ALL["coat and skirt"]()
    mine = wishes(book)
    found = made(book, mine)
    assert len(mine) > MOST_PLANS / 2
    assert len(found) == MOST_PLANS
    assert found[0].had_of(mine[0])
    assert any(not one.had_of(mine[0]) for one in found)


def test_a_wish_that_comes_only_near_says_so():
    """Front notch first, back notch after: the second cannot be had exactly, and it is told."""
    book = OUTFITS["checked shirt"]()
    (sleeve,) = named(book, "level sleeve")
    back = replace(sleeve, name="back too", grants=sleeve.grants[1:], settles=frozenset())
    side = named(book, "level round the body")
    first = made(book, (*side, sleeve, back))[0]
    (last,) = [h for h in first.had if h.wish.name == "back too"]
    assert last.gave_way
    assert first.promise((*side, sleeve, back)) == (0, 0, 2)


def test_one_place_in_two_words_is_one_wish():
    """Any point of the fold says what lies across it; for a height it matters which."""
    book = checked_waistcoat()
    demands = Demands(pattern=replay(book).pattern, cloths=book.cloths)
    grant = Grant(rules=(AtPhase(piece="back", point="centre back", across=0.0),))
    same = AtPhase(piece="back", point="centre hem", across=48.0)
    assert demands.is_in(same, grant)
    assert not demands.is_in(replace(same, across=24.0), grant)
    assert not demands.is_in(replace(same, point="side hem"), grant)
    tall = Grant(rules=(AtPhase(piece="back", point="centre back", along=0.0),))
    assert not demands.is_in(AtPhase(piece="back", point="centre hem", along=0.0), tall)


def test_what_goes_against_her_own_plan_is_not_usual():
    """Her plan keeps the skirt off the border: then that is ticked, and the border round it not."""
    book = coat_and_skirt()
    (border, motifs) = named(
        book, "border round the skirt hem", "border motifs round the skirt hem"
    )
    off = tuple(KeepOff(piece=r.piece, border=r.border, by=5.0) for r in border.grants[0].rules)
    own = replace(book, plans=(Plan(name="bare", rules=off),), chosen_plan="bare")
    usual = [w for w in wishes(own) if w.usual]
    assert {border.name, motifs.name}.isdisjoint(w.name for w in usual)
    assert set(off) <= {r for w in usual for g in w.grants for r in g.rules}
    for one in made(own, (*usual, border)):
        assert not (one.had_of(border) and any(r in one.plan.rules for r in off))


def test_a_back_on_the_bias_leaves_the_sleeve_level_with_the_front():
    """Of what is sewn to a cap only what lies on the bias has no height to meet."""
    start = OUTFITS["checked shirt"]()
    bias = Plan(name="b", rules=(OnGrain(piece="back", grain="bias"),))
    (sleeve,) = named(replace(start, plans=(bias,), chosen_plan="b"), "level sleeve")
    assert [g.how for g in sleeve.grants] == [("at the notch of the front",)]


def test_pieces_that_lie_on_the_bias_meet_as_chevrons():
    """A settled grain on the bias goes together with the chevron that needs it."""
    book = replace(OUTFITS["bias skirt"](), chosen_plan="on the bias")
    first = made(book, tuple(w for w in wishes(book) if w.usual))[0]
    kinds = [type(r) for r in first.plan.rules]
    assert kinds.count(Chevron) == 3
    assert kinds.count(OnGrain) == 2
    assert first.given_up == ()
