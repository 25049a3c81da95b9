"""A point at a place of the repeat: every place where the print is the same, as it drops."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Print
from clothwright.lay import problem as put
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.plan import Plan
from tests.few_rounds import LONG_S
from tests.lay.panels import asked, skirt

ALONG, ACROSS = 600.0, 500.0
SECOND = {"half-drop": (ALONG / 2, ACROSS), "brick": (ALONG, ACROSS / 2)}
"""Beside each place of a repeat, where it comes again (plane geometry)."""


def cloth(drop):
    design = Print(repeat_along=ALONG, repeat_across=ACROSS, drop=drop)
    return Cloth(name="c", width=1400.0, length=9000.0, print=design)


def compiled(drop, **more):
    rule = AtPhase(piece="back", point="lower right", along=40.0, across=30.0, **more)
    return compile_lay(skirt(), (cloth(drop),), Plan(name="p", rules=(rule,)))


@pytest.mark.parametrize("drop", SECOND)
def test_both_ways_the_places_between_count_too(drop):
    """Both backs lie at a place of the print; the second one within its period is one of them."""
    problem = compiled(drop).problem
    lay = solve(problem, seconds=LONG_S, rounds=1)
    assert lay.fits
    assert judge(problem, lay) == ()
    at = {c for r in asked(problem) for c in r.centres}
    assert at == {(40.0, 30.0), (40.0 + SECOND[drop][0], 30.0 + SECOND[drop][1])}


def test_a_piece_that_fits_between_the_rows_is_laid_there():
    """220 wide with its corner at 150 or 450 it hangs over 350 of cloth; at 300, a brick's, not."""
    pattern = replace(skirt(), pieces=skirt().pieces[1:], seams=())
    rule = AtPhase(piece="back", point="lower right", along=0.0, across=150.0)
    fits = {}
    for drop in ("straight", "brick"):
        design = Print(repeat_along=ALONG, repeat_across=300.0, drop=drop)
        narrow = replace(cloth(drop), width=350.0, print=design)
        found = compile_lay(pattern, (narrow,), Plan(name="p", rules=(rule,)))
        lay = solve(found.problem, seconds=LONG_S, rounds=1)
        fits[drop] = lay.fits and judge(found.problem, lay) == ()
    assert fits == {"straight": False, "brick": True}


def test_with_room_it_is_one_place_and_its_repeats():
    """A tolerance belongs to one axis: along and across each have a rule of their own."""
    rules = asked(compiled("brick", higher=10.0).problem)
    assert {type(r) for r in rules} == {put.AtPhase}
    assert {(r.axis, r.repeat) for r in rules} == {("along", 2 * ALONG), ("across", ACROSS)}
