"""Wishes become plans; the beaten ones are named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.prints import Border
from clothwright.errors import BadInput
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.wishes import WishedPlan, plans_from, weighed
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.planning.choosing import choose, parse_wish, wishes_of
from tests.few_rounds import LONG_S, ROUNDS
from tests.lay.panels import bordered, skirt

FRONT, BACK = (OnBorder(piece=p, edge="hem", border="b") for p in ("front", "back"))
MEETS = Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left")


def book(*plans):
    return Workbook(title="t", unit=Unit.cm, bought=skirt(), cloths=(bordered(),), plans=plans)


def test_wishes_are_what_each_plan_adds():
    """Two plans, the second with one more edge on the border: two wishes."""
    found = wishes_of(book(Plan(name="1", rules=(FRONT,)), Plan(name="2", rules=(FRONT, BACK))))
    assert [w.rules for w in found] == [(FRONT,), (BACK,)]
    assert [w.name for w in found] == ["front hem", "back hem"]


def test_every_set_of_wishes_is_a_plan_and_rules_come_along_where_they_can():
    """Meeting needs both pieces on the border; a grain rule only holds off it."""
    grain = OnGrain(piece="back", grain="along")
    own = book(Plan(name="1", rules=(FRONT, MEETS, grain)), Plan(name="2", rules=(FRONT, BACK)))
    plans = dict(plans_from(own.plans, wishes_of(own)))
    assert set(plans) == {(), ("front hem",), ("back hem",), ("front hem", "back hem")}
    assert plans[()].rules == (grain,)
    assert plans[("front hem",)].rules == (FRONT, grain)
    assert plans[("front hem", "back hem")].rules == (FRONT, BACK, MEETS)


def test_a_wish_as_typed():
    """Name, edges, border and height are read; one border needs no name."""
    wish = parse_wish("skirt hem = front.hem, back.hem above 1,5 cm", book())
    assert wish.name == "skirt hem"
    assert wish.rules == (replace(FRONT, above=15.0), replace(BACK, above=15.0))
    assert parse_wish("x = front.hem on b", book()).rules == (FRONT,)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("front.hem", "no wish"),
        ("x = frnt.hem", 'Did you mean "front"'),
        ("x = front.hem on vine", 'has a border "vine"'),
        ("x = front", "does not name an edge"),
    ],
)
def test_a_wish_that_cannot_be_read(text, words):
    """Each fault has its sentence."""
    with pytest.raises(BadInput) as caught:
        parse_wish(text, book())
    assert words in str(caught.value)


def test_two_borders_must_be_told_apart():
    """With two borders a wish says which."""
    cloth = bordered()
    two = replace(
        cloth.print,
        borders=(*cloth.print.borders, Border(name="c", side="upper", base=0.0, height=50.0)),
    )
    own = replace(book(), cloths=(replace(cloth, print=two),))
    with pytest.raises(BadInput, match="which border"):
        parse_wish("x = front.hem", own)


def test_seven_wishes_are_too_many():
    """128 plans are refused with the number."""
    wish = parse_wish("x = front.hem", book())
    with pytest.raises(BadInput, match="128 plans"):
        plans_from(book().plans, [replace(wish, name=str(k)) for k in range(7)])


def test_all_plans_are_laid_and_sound():
    """Every set of wishes is laid, judged without fault, and told as it comes."""
    own = book(Plan(name="1", rules=(FRONT,)), Plan(name="2", rules=(FRONT, BACK)))
    told: list[WishedPlan] = []
    found = choose(own, wishes_of(own), seconds=LONG_S, rounds=ROUNDS, told=told.append)
    assert {c.wishes for c in found} == {
        (),
        ("front hem",),
        ("back hem",),
        ("front hem", "back hem"),
    }
    assert len(told) == 4
    assert all(c.laid.faults == () for c in found)


def test_a_plan_beaten_in_every_respect_is_named():
    """The same lay with fewer wishes granted is beaten; a shorter one, or a truer one, is not.

    The front's hem on the border turns it against the backs: their seams do not meet at all, and
    that is no match of 0 mm.
    """
    own = book(Plan(name="1", rules=(FRONT,)))
    more, less = choose(own, wishes_of(own), seconds=LONG_S, rounds=ROUNDS)[:2]
    more, less = (more, less) if more.wishes else (less, more)
    same = replace(less, laid=replace(more.laid, plan=less.laid.plan))
    beaten = {c.wishes: c.beaten_by for c in weighed([more, same])}
    assert beaten == {("front hem",): "", (): more.laid.plan.name}
    lay = more.laid.lay
    shorter = replace(lay, used={"c": lay.used["c"] - 100.0})
    short = replace(same, laid=replace(same.laid, lay=shorter))
    assert {c.beaten_by for c in weighed([more, short])} == {""}
    level = tuple(replace(p, x=260.0) for p in less.laid.lay.placements)  # every seam runs on
    as_long = replace(less.laid.lay, placements=level, used=lay.used, short_by=lay.short_by)
    truer = replace(less, laid=replace(less.laid, lay=as_long))
    vars(truer.laid)["meetings"] = ()  # as if every seam met
    assert {c.beaten_by for c in weighed([more, truer])} == {""}


def test_phase_rules_follow_their_piece():
    """A phase or a mirrored pair on the border comes along with its piece only."""
    rules = (
        FRONT,
        AtPhase(piece="front", point="hem start", along=0.0),
        Mirrored(piece="back", point="lower right"),
    )
    own = book(Plan(name="1", rules=rules), Plan(name="2", rules=(BACK,)))
    plans = dict(plans_from(own.plans, wishes_of(own)))
    assert plans[("front hem",)].rules == rules[:2]
    assert plans[("back hem",)].rules == (BACK, rules[2])
