"""Folded cloth: reckoned by hand on rectangles; mirror images by shapely; refusals by the trade.

That a crosswise fold must not be used for nap and one-way designs, and the names of the folds:
home-economics leaflets (docs/sources.md, "folds, grain, nap"). That the print of the lower layer
cannot be seen: common practice.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.prints import Print
from clothwright.errors import BadInput, CannotDo
from clothwright.lay.fold_search import solve_folded, with_folds
from clothwright.lay.folded import depths, why_single
from clothwright.lay.judge import judge, residuals
from clothwright.lay.problem import CutTogether
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.kinds.one_way import OneWay
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import Plan
from tests.lay.panels import bordered, skirt

PLAIN = Cloth(name="plain", width=1000.0)


def compiled(cloth=PLAIN, *rules, pattern=None, gap=2.0):
    plan = Plan(name="p", rules=rules)
    return compile_lay(pattern or skirt(), (cloth,), plan, gap=gap)


def folded(
    way, cloth=PLAIN, *rules, pattern=None, gap=2.0, seconds=0.0, depth=None, rounds=0, **more
):
    done = compiled(cloth, *rules, pattern=pattern, gap=gap)
    asked = Folded(cloth=cloth.name, way=way, depth=depth)
    found = solve_folded(done, (asked,), seconds=seconds, rounds=rounds, **more)
    return with_folds(done, found.folds), found


def fold_of(found):
    assert len(found.folds) == 1
    return found.folds[0]


@pytest.mark.parametrize("way", ["lengthwise", "partial", "crosswise"])
@pytest.mark.parametrize("gap", [0.0, 2.0, 7.5])
def test_every_way_of_folding_is_sound(way, gap):
    """By the judge, which knows nothing of the search: no overlap, gaps kept, mirror images."""
    done, found = folded(way, gap=gap)
    assert judge(done.problem, found.lay) == ()
    assert found.lay.fits
    assert len(found.lay.placements) == 3
    left = residuals(done.problem, found.lay)
    assert any(isinstance(r, CutTogether) for r in done.problem.rules)
    assert max(left.values(), default=0.0) <= 1e-6


def test_lengthwise_the_fold_is_the_middle_and_the_front_lies_on_it():
    """Selvedges together: fold at half the width; the front's own middle is the fold."""
    _, found = folded("lengthwise")
    fold = fold_of(found)
    assert (fold.axis, fold.at, fold.depth) == ("across", 500.0, 490.0)
    assert fold.on_fold == ("front",)
    assert fold.pairs == (("back 1", "back 2"),)
    front = next(p for p in found.lay.placements if p.shape == "front")
    ys = [y for _, y in front.outline]
    assert (min(ys) + max(ys)) / 2 == pytest.approx(500.0)


def test_a_pair_is_one_outline_and_its_mirror_image_by_shapely():
    """The second back is the first one seen in a mirror that stands on the fold."""
    _, found = folded("lengthwise")
    a, b = (
        shapely.Polygon(next(p.outline for p in found.lay.placements if p.shape == name))
        for name in ("back 1", "back 2")
    )
    mirrored = shapely.transform(a, lambda xy: xy * (1.0, -1.0) + (0.0, 1000.0))
    assert mirrored.symmetric_difference(b).area == pytest.approx(0.0, abs=1e-3)


def test_a_partial_fold_is_as_deep_as_the_pieces_need():
    """The back is 240 mm wide with its allowances, and keeps half the gap of 2 from the fold."""
    done = compiled()
    found = depths(done, PLAIN, "partial")
    assert found[0] == pytest.approx(241.0, abs=0.2)
    assert all(d < 490.0 for d in found)


def test_a_depth_asked_for_is_kept():
    """The maker says how deep."""
    done, found = folded("partial", depth=300.0)
    fold = fold_of(found)
    assert (fold.depth, fold.at) == (300.0, 690.0)
    assert judge(done.problem, found.lay) == ()


def test_crosswise_the_lower_layer_begins_at_the_cut_end():
    """Cut ends together: as far from the fold to the cut end as the doubled pieces need."""
    cloth = replace(PLAIN, margin_start=30.0)
    done, found = folded("crosswise", cloth)
    fold = fold_of(found)
    assert fold.axis == "along"
    assert min(x for p in found.lay.placements for x, _ in p.outline) == pytest.approx(30.0)
    assert fold.at == pytest.approx(30.0 + fold.depth)
    assert judge(done.problem, found.lay) == ()


def test_crosswise_a_half_has_no_fold_along_its_grain_and_is_cut_singly():
    """A half on a crosswise fold would lie across its grain: it is unfolded instead."""
    _, found = folded("crosswise")
    assert fold_of(found).on_fold == ()
    assert {p.shape for p in found.lay.placements} == {"front", "back 1", "back 2"}


def test_flaws_of_both_layers_are_kept_clear():
    """A flaw of the upper layer bars the lower one at its mirror image too."""
    ring = ((0.0, 800.0), (300.0, 800.0), (300.0, 950.0), (0.0, 950.0))
    cloth = replace(PLAIN, flaws=(Flaw(name="stain", ring=ring, margin=0.0),))
    done, found = folded("lengthwise", cloth)
    assert judge(done.problem, found.lay) == ()
    assert found.lay.fits


def test_nap_forbids_a_crosswise_fold_but_no_lengthwise_one():
    """A crosswise fold turns the lower layer round."""
    cloth = replace(PLAIN, nap=True)
    with pytest.raises(CannotDo, match="nap of the lower layer"):
        folded("crosswise", cloth)
    done, found = folded("lengthwise", cloth)
    assert judge(done.problem, found.lay) == ()
    assert len({p.turn_deg % 360 for p in found.lay.placements}) == 1


def test_a_one_way_design_forbids_a_crosswise_fold():
    """It would stand on its head on the lower layer."""
    cloth = replace(PLAIN, print=Print(repeat_along=100.0, up="end"))
    with pytest.raises(CannotDo, match="upside down"):
        folded("crosswise", cloth)
    done, found = folded("lengthwise", cloth)
    assert judge(done.problem, found.lay) == ()


@pytest.mark.parametrize("way", ["lengthwise", "partial", "crosswise"])
def test_a_border_forbids_every_fold(way):
    """It would lie out of sight on the lower layer."""
    with pytest.raises(CannotDo, match="border"):
        folded(way, bordered())


def test_a_rule_on_the_repeat_forbids_every_fold():
    """The lower layer's print cannot be seen; the rule is named."""
    cloth = replace(PLAIN, print=Print(repeat_along=100.0))
    rule = AtPhase(piece="front", point="hem middle", along=0.0)
    with pytest.raises(CannotDo, match=r"out of sight.*front.*rule 1"):
        folded("lengthwise", cloth, rule)


def test_other_reasons_for_a_single_layer():
    """A pin, a remnant, nothing to cut double, flaws at unknown places: each its sentence."""
    pin = Pin(piece="front", copy=1, cloth="plain", x=300.0, y=500.0, turn_deg=0.0)
    done = compiled(PLAIN, pin)
    assert "pinned" in why_single(done, PLAIN, "lengthwise")
    ring = ((0.0, 0.0), (2000.0, 0.0), (1900.0, 1000.0), (0.0, 1000.0))
    odd = replace(PLAIN, outline=ring)
    done = compiled(odd)
    assert "odd shape" in why_single(done, odd, "lengthwise")
    stained = replace(PLAIN, flaws=(Flaw(name="s", ring=ring[:3]),))
    done = compiled(stained)
    assert "unknown places" in why_single(done, stained, "crosswise")
    lone = Pattern(
        pieces=tuple(
            replace(p, cuts=(Cut(material="shell", how="once"),))
            for p in skirt().pieces
            if p.fold is None
        )
    )
    done = compiled(pattern=lone)
    assert "no piece" in why_single(done, PLAIN, "lengthwise")


def test_a_way_that_is_none():
    """A sentence with what was meant."""
    with pytest.raises(BadInput, match='Did you mean "lengthwise"'):
        folded("lengthways")


def test_the_judge_finds_a_pair_that_is_no_mirror_image():
    """Planted: one copy moved by half a millimetre is told, by so much."""
    done, found = folded("lengthwise")
    places = list(found.lay.placements)
    k = next(i for i, p in enumerate(places) if p.shape == "back 2")
    p = places[k]
    places[k] = replace(p, x=p.x + 0.5, outline=tuple((x + 0.5, y) for x, y in p.outline))
    faults = judge(done.problem, replace(found.lay, placements=tuple(places)))
    told = [f for f in faults if f.code == "lay-rule"]
    assert [f.measured for f in told] == [pytest.approx(0.5, abs=1e-6)]


def test_on_the_bias_a_pair_is_mirrored_and_no_half_lies_on_the_fold():
    """45 degrees one way on one layer is 45 the other way on the other."""
    rules = tuple(OnGrain(piece=p.name, grain="bias") for p in skirt().pieces)
    wide = replace(PLAIN, width=1500.0)
    done, found = folded("lengthwise", wide, *rules)
    assert fold_of(found).on_fold == ()
    assert judge(done.problem, found.lay) == ()
    turns = {p.shape: p.turn_deg % 360 for p in found.lay.placements}
    assert turns["back 1"] == pytest.approx(-turns["back 2"] % 360)


def test_it_gets_better_and_says_so():
    """The first whole lay is told before any better one; the same rounds give the same lay."""
    lengths = []
    _, found = folded(
        "lengthwise", rounds=20, on_better=lambda lay: lengths.append(lay.used["plain"])
    )
    assert lengths == sorted(lengths, reverse=True)
    assert found.lay.used["plain"] == lengths[-1]
    _, again = folded("lengthwise", rounds=20)
    assert again.lay.placements == found.lay.placements


def test_too_short_a_cloth_says_by_how_much():
    """A fixed length is overrun by what is missing, folded as well as single."""
    done, found = folded("lengthwise", replace(PLAIN, length=300.0))
    assert not found.lay.fits
    assert found.lay.short_by == pytest.approx(found.lay.used["plain"] - 300.0, abs=1e-3)
    assert judge(done.problem, found.lay) == ()


@given(
    width=st.floats(700.0, 1600.0),
    way=st.sampled_from(["lengthwise", "partial", "crosswise"]),
    gap=st.sampled_from([0.0, 1.0, 5.0]),
    lower=st.floats(0.0, 40.0),
    upper=st.floats(0.0, 40.0),
    nap=st.booleans(),
    tops=st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_any_cloth_folded_is_sound_or_refused_with_a_reason(
    width, way, gap, lower, upper, nap, tops
):
    """Every folded lay that is delivered passes the judge."""
    cloth = replace(PLAIN, width=width, margin_lower=lower, margin_upper=upper, nap=nap)
    done = compiled(cloth, *((OneWay(),) if tops else ()), gap=gap)
    if why_single(done, cloth, way):
        with pytest.raises(CannotDo):
            folded(way, cloth, *((OneWay(),) if tops else ()), gap=gap)
        return
    done, found = folded(way, cloth, *((OneWay(),) if tops else ()), gap=gap)
    hard = [f for f in judge(done.problem, found.lay) if f.severity.name == "FAULT"]
    assert hard == []
