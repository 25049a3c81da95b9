"""A pocket that takes up the print of the piece it is sewn on, at the place marked for it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from clothwright.demo.workbooks import DEMOS
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.patches import patches
from clothwright.rules.plan import Plan
from clothwright.rules.stating import outfit_of
from clothwright.workbook import replay


@pytest.fixture(scope="module")
def waistcoat():
    book = next(d for d in DEMOS if d.name == "checked-waistcoat").make()
    return replay(book).pattern, book.cloths


def test_the_pocket_is_offered_where_its_outline_is_marked(waistcoat):
    pattern, cloths = waistcoat
    (choice,) = patches(outfit_of(pattern, cloths, Plan(name="p")))
    assert choice.words == ("pocket on front, pocket",)
    mark = next(m for m in pattern.piece("front").marks if m.name == "pocket")
    corner = pattern.piece("pocket").point(choice.values["point_a"])
    for c in pattern.piece("pocket").edges:
        moved = c.path.start - corner + mark.path.start
        assert min(moved.distance(p) for p in mark.path.flatten()) < 0.01


def test_every_place_of_the_pocket_shows_the_print_under_it(waistcoat):
    """Points all over it, and those of the front they are sewn on: whole repeats apart, both ways.

    Measured with numpy from the placements, on both halves of the body.
    """
    pattern, cloths = waistcoat
    (choice,) = patches(outfit_of(pattern, cloths, Plan(name="p")))
    compiled = compile_lay(pattern, cloths, Plan(name="p", rules=(Meets(**choice.values),)))
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert judge(compiled.problem, lay) == ()
    corner = pattern.piece("pocket").point(choice.values["point_a"])
    start = pattern.piece("front").point("pocket start")
    low, high = pattern.piece("pocket").outline.bounds()
    grid = [(x, y) for x in np.linspace(low.x, high.x, 5) for y in np.linspace(low.y, high.y, 5)]
    under = [(x + start.x - corner.x, y + start.y - corner.y) for x, y in grid]
    design = next(c for c in cloths if c.print.has_design).print
    repeat = np.array([design.repeat_along, design.repeat_across])
    for k in (1, 2):
        apart = on_cloth(compiled, lay, f"pocket {k}", grid) - on_cloth(
            compiled, lay, f"front {k}", under
        )
        assert np.abs((apart + repeat / 2) % repeat - repeat / 2).max() <= 0.1


def on_cloth(compiled, lay, wanted, points):
    shape = next(s.id for s in compiled.problem.shapes if s.id.replace(" shell", "") == wanted)
    place = next(p for p in lay.placements if p.shape == shape)
    q = [compiled.copy(shape).frame_point(p) for p in points]
    xy = np.asarray([(r.x, -r.y if place.flipped else r.y) for r in q])
    a = math.radians(place.turn_deg)
    turn = np.array([[math.cos(a), -math.sin(a)], [math.sin(a), math.cos(a)]])
    return xy @ turn.T + (place.x, place.y)
