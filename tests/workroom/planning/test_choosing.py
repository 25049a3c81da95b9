"""Wishes are read, kept in her order, made into plans, laid and told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.errors import BadInput
from clothwright.lay.result import Lay
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.ranked import weighed
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.planning.choosing import choose, made_of, new_plans
from clothwright.workroom.planning.facts import choice_table, choice_words, ranked_plans
from clothwright.workroom.planning.wishing import (
    MOST_WISHES,
    mine_of,
    moved,
    parse_wish,
    wished,
    wishes_of,
    wishing_of,
)
from tests.few_rounds import LONG_S, ROUNDS
from tests.lay.panels import bordered, skirt

FRONT = OnBorder(piece="front", edge="hem", border="b")


def book(*plans: Plan, **more: object) -> Workbook:
    return replace(
        Workbook(title="t", unit=Unit.cm, bought=skirt(), cloths=(bordered(),), plans=plans), **more
    )


def names(own: Workbook) -> list[str]:
    return [w.name for w in mine_of(own)]


# --- what is wished -------------------------------------------------------------------------------


def test_the_usual_wishes_until_she_has_her_own():
    """Nothing noted: what is usual. Moved: the order is hers, and what is left out stays out."""
    own = book()
    usual = [w.name for w in wishes_of(own) if w.usual]
    assert names(own) == usual
    assert len(usual) > 2
    last = usual[-1]
    own = replace(own, wishes=moved(own, last, "up"))
    assert names(own) == [*usual[:-2], last, usual[-2]]
    own = replace(own, wishes=moved(own, last, "down"))
    assert names(own) == usual
    own = replace(own, wishes=moved(own, last, "out"))
    assert names(own) == usual[:-1]
    own = replace(own, wishes=moved(own, last, "in"))
    assert names(own) == usual
    assert wishing_of(own).own


def test_the_first_cannot_come_sooner_nor_the_last_later():
    """Moved beyond the end it stays where it is."""
    own = book()
    assert list(moved(own, names(own)[0], "up")) == names(own)
    assert list(moved(own, names(own)[-1], "down")) == names(own)


@pytest.mark.parametrize(
    ("name", "to", "words"),
    [("middle of the moon", "up", "have no wish"), ("x", "sideways", "no way to move")],
)
def test_a_move_that_cannot_be(name, to, words):
    """Each has its sentence."""
    with pytest.raises(BadInput, match=words):
        moved(book(), name, to)


def test_a_wish_whose_piece_is_gone_is_told_and_not_lost():
    """It stays in the workbook, is left out of the plans, and is named on the page."""
    own = book(wishes=("middle of the moon", "level round the body"))
    assert names(own) == ["level round the body"]
    assert wishing_of(own).lost == ("middle of the moon",)


def test_wishes_as_typed_are_in_the_order_typed():
    """By name, whatever the case; a wish for other edges may stand among them."""
    found = wished(book(), ["Level round the body", "x = front.hem", "one way up"])
    assert [w.name for w in found] == ["level round the body", "x", "one way up"]


def test_a_wish_for_edges_as_typed():
    """Name, edges, border and height are read; one border needs no name."""
    (grant,) = parse_wish("skirt hem = front.hem, back.hem above 1,5 cm", book()).grants
    assert grant.rules == (
        replace(FRONT, above=15.0),
        replace(FRONT, piece="back", above=15.0),
    )
    assert parse_wish("x = front.hem on b", book()).grants[0].rules == (FRONT,)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("level round the bdy", 'Did you mean "level round the body"'),
        ("= front.hem", "no wish"),
        ("x = frnt.hem", 'Did you mean "front"'),
        ("x = front.hem on vine", 'has a border "vine"'),
        ("x = front", "does not name an edge"),
    ],
)
def test_a_wish_that_cannot_be_read(text, words):
    """Each fault has its sentence."""
    with pytest.raises(BadInput) as caught:
        wished(book(), [text])
    assert words in str(caught.value)


def test_two_borders_must_be_told_apart():
    """With two borders a wish for edges says which."""
    cloth = bordered()
    two = replace(
        cloth.print,
        borders=(*cloth.print.borders, Border(name="c", side="upper", base=0.0, height=50.0)),
    )
    with pytest.raises(BadInput, match="which border"):
        parse_wish("x = front.hem", book(cloths=(replace(cloth, print=two),)))


def test_more_wishes_than_anybody_puts_in_order():
    """Refused with the number."""
    with pytest.raises(BadInput, match=f"at most {MOST_WISHES}"):
        wished(book(), [f"{k} = front.hem" for k in range(MOST_WISHES + 1)])


# --- the plans ------------------------------------------------------------------------------------


def test_every_plan_says_for_which_wishes_it_is_made_and_which_it_gives_up():
    """In its reason, in whole sentences."""
    own = book()
    first, *others = made_of(own, mine_of(own))
    assert all(n in first.plan.why for n in names(own))
    for one in others:
        told = one.plan.why.partition("It lets go of ")[2] + one.plan.why.partition("gives up ")[2]
        assert all(g.wish.name in told for g in one.given_up)
        assert one.plan.why.endswith(".")


def test_plans_there_are_already_are_not_added_again():
    """The same rules are one plan; a name that is taken is not taken twice."""
    own = book()
    added = new_plans(own, mine_of(own), most=3)
    assert len(added) == 3
    own = replace(own, plans=(Plan(name=added[0].name), *added[1:]))
    again = new_plans(own, mine_of(own), most=3)
    assert [p.name for p in again] == [f"{added[0].name} 2"]
    with pytest.raises(BadInput, match="already"):
        new_plans(replace(own, plans=added), mine_of(own), most=3)


STRIPED = Cloth(
    name="c",
    width=1000.0,
    print=Print(repeat_along=50.0, repeat_across=40.0, axes_across=(0.0, 20.0), look="check"),
)


def test_all_plans_are_laid_sound_weighed_and_told():
    """The first has every wish; each of the others says by what it differs, or what beats it."""
    own = book(cloths=(STRIPED,))
    told: list[Laid] = []
    mine = mine_of(own)
    found = choose(own, mine, seconds=LONG_S, rounds=ROUNDS, told=told.append)
    assert sorted(x.plan.name for x in told) == sorted(w.name for w in found)
    assert all(w.laid.faults == () for w in found)
    assert found[0].lacks == ()
    assert all(choice_words(w, found[0], mine, own.unit) for w in found)
    assert all(w.name in choice_words(found[0], found[0], mine, own.unit) for w in mine)
    table = choice_table(own, found)
    assert [row[0] for row in table.rows] == [w.name for w in found]
    assert table.rows[0][-1] == "nothing"
    ranked = ranked_plans(own, [w.laid for w in reversed(found)])
    assert ranked[0].words == "It has all that you wish for."
    assert [r.left for r in ranked] == sorted(r.left for r in ranked)
    assert all(r.words[0].isupper() or r.words[0] == "“" for r in ranked)


def test_an_empty_lay_has_no_wish():
    """Nothing laid: every wish is lacking, and nothing breaks."""
    own = book(cloths=(STRIPED,))
    mine = mine_of(own)
    (one, *_) = choose(own, mine[:1], seconds=LONG_S, rounds=ROUNDS)
    bare = replace(one.laid, lay=Lay(placements=(), unplaced={"front": "no room"}))
    assert weighed([bare], mine)[0].lacks == tuple(w.name for w in mine)
