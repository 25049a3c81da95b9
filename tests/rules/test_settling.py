"""Rules of a plan that do not go together: the later one gives way, and is told before any lay.

By hand: the front's hem corner lies on the repeat, the back's 12 mm into it, so that where the two
are sewn together they are 12 mm apart, if both have their place.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.drawing.laying_chapter import laying_section
from clothwright.lay.by_hand import LaidOut
from clothwright.lay.fold_search import DOUBLED
from clothwright.lay.judge import judge
from clothwright.lay.problem import Pinned
from clothwright.lay.solve import solve
from clothwright.picture.document import Caution
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import Plan
from clothwright.rules.stating import stated
from clothwright.rules.weighing.facts import facts
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workroom.cutting import board
from clothwright.workroom.cutting.table import OnTable
from clothwright.workroom.searching.lays import LayState
from tests.lay.panels import bordered, skirt

HEM = Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left")
FRONT = AtPhase(piece="front", point="lower right", along=0.0)
BACK = AtPhase(piece="back", point="lower left", along=12.0)


def _plan(*rules):
    return Plan(name="p", rules=rules)


@pytest.mark.parametrize(
    ("order", "late"), [((FRONT, BACK, HEM), 3), ((FRONT, HEM, BACK), 3), ((BACK, HEM, FRONT), 3)]
)
def test_the_rule_that_comes_last_gives_way_and_the_lay_is_made(order, late):
    """Three rules of which any two hold: the third is missed by the 12 mm, whichever it is."""
    cloths = (bordered(),)
    found = stated(skirt(), cloths, _plan(*order))
    assert found.mistaken == ()
    assert list(found.gave_way) == [late]
    words = say(found.gave_way[late].words, Unit.mm)
    assert "misses by 12 mm" in words
    assert all(say((w,), Unit.mm) in words for w in ("front, lower right", "back, lower left"))
    assert words.count("“") == words.count("”") > 0
    compiled = compile_lay(skirt(), cloths, _plan(*order))
    lay = solve(compiled.problem, seconds=0.0, rounds=0)
    assert lay.fits
    laid = Laid(plan=_plan(*order), pattern=skirt(), cloths=cloths, compiled=compiled, lay=lay)
    assert judge(compiled.problem, lay) == ()
    told = next(f.words for f in facts(laid, Unit.mm, "EUR") if f.label == "your rules")
    assert told.startswith("Kept as far as they go together.")
    assert laid.fit_words(Unit.mm) == "fits, but 1 rule of yours is not kept"
    gave_way = [r for r in laid.report["rules"] if r["gave_way"]]
    assert gave_way
    assert [r["residual"] for r in gave_way] == [pytest.approx(12.0, abs=0.1)] * len(gave_way)
    cautions = [b.words for b in laying_section(laid, Unit.mm).blocks if isinstance(b, Caution)]
    assert words in cautions
    on = OnTable(laid=laid, fresh=True, mark="", table=LaidOut(problem=compiled.problem, places={}))
    kind, cut = board._verdict(LayState(plan="p", stage="done", laid=laid), on, Unit.mm)
    assert kind == "notice"
    assert cut == ("It fits; nothing overlaps, but not every rule is kept.", words)
    assert "12 mm" in told


def test_rules_that_go_together_tell_nothing():
    """Two of the three, and the skirt without any: nothing gives way, nothing is said of it."""
    for rules in ((FRONT, HEM), (HEM, BACK), (FRONT, BACK), ()):
        found = stated(skirt(), (bordered(),), _plan(*rules))
        assert found.gave_way == {}
        assert found.foreseen == dict.fromkeys(range(1, len(rules) + 1), ())


@pytest.mark.parametrize(("side", "up"), [("lower", 1.0), ("upper", -1.0)])
def test_higher_is_higher_on_the_body_whichever_selvedge_has_the_border(side, up):
    """A hem with 10 mm below it, 5 mm from what may be used, has no place."""
    plain = replace(bordered(), margin_lower=0.0, margin_upper=0.0)
    border = replace(plain.print.borders[0], side=side, base=5.0)
    cloth = replace(plain, print=replace(plain.print, borders=(border,)))
    rule = OnBorder(piece="front", edge="hem", border="b")
    exact = compile_lay(skirt(), (cloth,), _plan(rule))
    assert solve(exact.problem, seconds=0.0, rounds=0).unplaced
    loose = compile_lay(skirt(), (cloth,), _plan(replace(rule, higher=8.0)))
    lay = solve(loose.problem, seconds=0.0, rounds=0)
    assert lay.fits
    assert judge(loose.problem, lay) == ()
    (front,) = (p for p in lay.placements if p.shape.startswith("front"))
    edge = 5.0 if side == "lower" else cloth.width - 5.0
    ys = [y for _, y in front.outline]
    hem = (min(ys) if up > 0 else max(ys)) + up * 10.0
    assert 5.0 <= up * (hem - edge) <= 8.0 + 0.1


@pytest.mark.parametrize(("side", "tall"), [("lower", 60.0), ("upper", 60.0), ("lower", 90.0)])
def test_what_would_hang_off_the_cloth_is_told_with_its_rule_and_what_would_do(side, tall):
    """A hem so deep on a border 20 mm from the edge: told by how much, and so much higher fits."""
    border = replace(bordered().print.borders[0], side=side, base=20.0)
    cloth = replace(bordered(), margin_lower=0.0, margin_upper=0.0)
    cloth = replace(cloth, print=replace(cloth.print, borders=(border,)))
    front, back = skirt().pieces
    hem = tuple(replace(e, allowance=tall) if e.name == "hem" else e for e in front.edges)
    deep = replace(skirt(), pieces=(replace(front, edges=hem), back))
    rule = OnBorder(piece="front", edge="hem", border="b")

    def why(asked):
        problem = compile_lay(deep, (cloth,), _plan(asked)).problem
        return solve(problem, seconds=0.0, rounds=0).unplaced

    said = say(why(rule)["front"], Unit.mm)
    over = tall - 20.0
    assert f"{over:g} mm of it would lie beyond what may be used of the cloth" in said
    assert f"it would fit {over:g} mm higher" in said
    assert "“front, hem, lies" in said
    assert why(replace(rule, higher=over + 0.5)) == {}


def test_a_pin_that_moves_a_hem_off_its_border_is_told_and_where_it_leaves_the_cloth_too():
    """By hand: pinned upright, the hem lies at y = 300 and not at 40; at 70 it hangs off."""
    hem = OnBorder(piece="front", edge="hem", border="b")
    pin = Pin(piece="front", copy=1, cloth="c", x=500.0, y=550.0, turn_deg=90.0)
    found = stated(skirt(), (bordered(),), _plan(hem, pin))
    words = say(found.gave_way[1].words, Unit.mm)
    assert "misses by 260 mm" in words
    assert "“front 1 is pinned on c”" in words
    off = compile_lay(skirt(), (bordered(),), _plan(hem, replace(pin, y=70.0))).problem
    told = say(solve(off, seconds=0.0, rounds=0).unplaced["front"], Unit.mm)
    assert told.startswith("where “front 1 is pinned on c” leaves it, it would lie off the cloth")


def test_a_fold_speaks_of_no_pin():
    """What is cut double and lies over another piece when opened out is not called pinned."""
    hem = OnBorder(piece="front", edge="hem", border="b")
    problem = compile_lay(skirt(), (bordered(),), _plan(hem)).problem
    fixed = [
        Pinned(id=f"doubled {n}", shape=n, region="c", x=400.0, y=600.0, turn_deg=0.0, flipped=over)
        for n, over in (("back 1", False), ("back 2", True))
    ]
    said = {**problem.said, "doubled": DOUBLED}
    lay = solve(replace(problem, rules=(*problem.rules, *fixed), said=said), seconds=0.0, rounds=0)
    (why,) = lay.unplaced.values()
    assert "“what is cut double lies on both layers” leaves it" in say(why, Unit.mm)
    assert "pinned" not in say(why, Unit.mm)
