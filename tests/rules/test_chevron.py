"""Chevrons: stripes that meet as in a mirror, seen on the cloth with numpy alone.

Held against plane geometry: stripes of repeat R cross a seam at θ every R / sin θ; both sides of a
true chevron show the same stripe all along the seam.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Print
from clothwright.geometry.path import polyline
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import parse_edge
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.chevron import Chevron
from clothwright.rules.plan import Plan
from clothwright.rules.stating import stated
from clothwright.units import Unit
from clothwright.words import say
from tests.lay.panels import panel, skirt

REPEAT = 30.0


def striped(**more):
    """Stripes along the selvedge every 30 mm, even about 4 mm from phase 0; 7 mm from the edge."""
    design = Print(
        repeat_across=REPEAT, origin_across=7.0, axes_across=(4.0,), look="stripes along", **more
    )
    return Cloth(name="c", width=1500.0, length=4000.0, print=design)


def leaning(name, lean):
    """A panel 200 by 400 mm; its left edge leans by so many degrees off the grain."""
    piece = panel(name, 200.0, 400.0, "pair")
    over = 400.0 * math.tan(math.radians(lean))
    corners = [(0, 0), (200, 0), (200, 400), (over, 400), (0, 0)]
    edges = tuple(
        replace(e, path=polyline(corners[k : k + 2]), notches=()) for k, e in enumerate(piece.edges)
    )
    return replace(piece, edges=edges)


def pair(lean=0.0):
    piece = leaning("front", lean)
    seam = Seam(name="centre", a=(parse_edge("front.left"),), b=(parse_edge("front.left"),))
    return Pattern(pieces=(piece,), seams=(seam,))


def bias_rule():
    return Chevron(
        piece_a="front", point_a="left end", piece_b="front", point_b="left end", bias=True
    )


def seen(compiled, lay, shape, points):
    """Where points of a piece's own frame lie on the cloth, by the placement alone."""
    place = next(p for p in lay.placements if p.shape == shape)
    q = [compiled.copy(shape).frame_point(p) for p in points]
    xy = np.asarray([(r.x, -r.y if place.flipped else r.y) for r in q])
    a = math.radians(place.turn_deg)
    turn = np.array([[math.cos(a), -math.sin(a)], [math.sin(a), math.cos(a)]])
    return xy @ turn.T + (place.x, place.y), place


def shade(y):
    """How far a place is from the middle of its stripe: the same on both sides of the middle."""
    return np.abs((y - 11.0 + REPEAT / 2) % REPEAT - REPEAT / 2)


@pytest.mark.parametrize("lean", [0.0, 12.0])
def test_the_two_of_a_pair_meet_in_a_chevron(lean):
    """The same stripe on both sides all along the seam, and it leans the other way."""
    pattern = pair(lean)
    compiled = compile_lay(pattern, (striped(),), Plan(name="p", rules=(bias_rule(),)))
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert (judge(compiled.problem, lay), dict(lay.unplaced)) == ((), {})
    edge = pattern.piece("front").edge("left").path
    points = [tuple(edge.point_at(s)) for s in np.arange(0.0, edge.length, 0.5)]
    one, place_a = seen(compiled, lay, "front 1", points)
    two, place_b = seen(compiled, lay, "front 2", points)
    assert np.abs(shade(one[:, 1]) - shade(two[:, 1])).max() <= 0.1
    assert (place_a.turn_deg, place_b.turn_deg) == (45.0, 315.0)
    crossed = np.count_nonzero(np.diff(np.floor((one[:, 1] - 11.0) / REPEAT)))
    spacing = REPEAT / math.sin(math.radians(45.0 - lean))
    assert crossed == pytest.approx(edge.length / spacing, abs=1.0)


def test_front_and_back_mirror_each_other_at_the_side():
    """On the straight grain, at both sides of the body: the same stripe all along the seam."""
    rule = Chevron(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left")
    compiled = compile_lay(skirt(), (striped(),), Plan(name="p", rules=(rule,)))
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert judge(compiled.problem, lay) == ()
    for x, shape in ((200.0, "back 1"), (-200.0, "back 2")):
        front, _ = seen(compiled, lay, "front", [(x, 0.0)])
        back, _ = seen(compiled, lay, shape, [(0.0, 0.0)])
        assert shade(front[0, 1]) == pytest.approx(shade(back[0, 1]), abs=0.1)


def test_unequal_angles_are_no_chevron_and_it_is_said():
    """In cm: R 3, 45 and 40 degrees: the fifth stripe is out by 2.123."""
    side = Seam(name="side", a=(parse_edge("front.right"),), b=(parse_edge("back.left reversed"),))
    pattern = Pattern(pieces=(leaning("front", 0.0), leaning("back", -5.0)), seams=(side,))
    rule = Chevron(
        piece_a="front", point_a="right start", piece_b="back", point_b="left end", bias=True
    )
    plan = Plan(name="p", rules=(rule,))
    ((foreseen,),) = stated(pattern, (striped(),), plan).foreseen.values()
    words = say(foreseen.words, Unit.mm)
    assert words.startswith("The seam crosses the stripes at 45° on one side and at 40° on the oth")
    assert words.endswith("the fifth stripe from there is 21.2 mm out.")


def test_equal_angles_have_nothing_to_foresee():
    plan = Plan(name="p", rules=(bias_rule(),))
    assert not any(stated(pair(12.0), (striped(),), plan).foreseen.values())


def test_uneven_stripes_have_no_mirror_up_the_pieces():
    """There one half is turned end for end, on the straight grain as on the bias."""
    uneven = striped()
    uneven = replace(uneven, print=replace(uneven.print, axes_across=()))
    straight = replace(bias_rule(), bias=False)
    plan = Plan(name="p", rules=(straight,))
    compiled = compile_lay(pair(), (uneven,), plan)
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert judge(compiled.problem, lay) == ()
    assert sorted(p.turn_deg for p in lay.placements) == [0.0, 180.0]
    compiled = compile_lay(pair(), (uneven,), Plan(name="p", rules=(bias_rule(),)))
    assert [s.turns_deg for s in compiled.problem.shapes] == [(45.0,), (135.0,)]
