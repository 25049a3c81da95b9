"""The first look holds every rule, slides as it says, and the lay made of it shows the same.

Independent of the code: where a point of a piece lies on the cloth is reckoned here from its
placement alone; the judge, which shares nothing with the search, measures the rules.
"""

from __future__ import annotations

import functools
import math
from dataclasses import replace

import pytest

from clothwright.cloth.motions import ground
from clothwright.demo import DEMOS
from clothwright.lay.judge import judge, residuals
from clothwright.lay.problem import AtFigure, Tolerant
from clothwright.lay.solve import solve
from clothwright.rules.first_look import first_look, looked_at, slid
from clothwright.workbook import replay
from tests.outfits import OUTFITS

PLANS = [("coat-and-skirt", 2), ("checked-waistcoat", 0), ("checked-waistcoat", 1)]


@functools.cache
def _demo(name):
    book = next(d for d in DEMOS if d.name == name).make()
    return book, replay(book).pattern


@functools.cache
def _look(name, number):
    book, pattern = _demo(name)
    return first_look(pattern, book.cloths, book.plans[number])


def _under(look, shape, point=None):
    """Return where the first point of a shape lies on the cloth, mm, and its turn in radians."""
    place = next(p for p in look.seen.lay.placements if p.shape == shape)
    points = next(s for s in look.compiled.problem.shapes if s.id == shape).points
    x, y = points[point or next(iter(points))]
    y, t = (-y if place.flipped else y), math.radians(place.turn_deg)
    at = (x * math.cos(t) - y * math.sin(t), x * math.sin(t) + y * math.cos(t))
    return at[0] + place.x, at[1] + place.y, t


def _wrapped(mm, repeat):
    return mm if not repeat else (mm + repeat / 2.0) % repeat - repeat / 2.0


@pytest.mark.parametrize(("name", "number"), PLANS)
def test_every_rule_holds_before_anything_is_laid(name, number):
    """Pieces may overlap, and every rule of the plan is met to the judge's own measure."""
    look = _look(name, number)
    found = residuals(look.compiled.problem, look.seen.lay)
    assert max(found.values(), default=0.0) < 1e-6
    assert {p.shape for p in look.seen.lay.placements} == {
        s.id for s in look.compiled.problem.shapes
    }


@pytest.mark.parametrize("name", OUTFITS)
def test_rules_of_every_outfit_hold_before_anything_is_laid(name):
    """Check, bias, two borders, figure, brick and one way: whatever places the print is met."""
    book = OUTFITS[name]()
    look = looked_at(replay(book).pattern, book.cloths, book.plans[0])
    problem = look.compiled.problem
    placing = tuple(r for r in problem.rules if isinstance(r, Tolerant | AtFigure))
    assert placing
    found = residuals(replace(problem, rules=placing), look.seen.lay)
    assert max(found.values()) < 1e-6
    for place in look.seen.lay.placements:
        wide = look.compiled.cloth(place.region).width
        assert all(-1e-6 <= y <= wide + 1e-6 for _, y in place.outline), "beside the cloth"


@pytest.mark.parametrize("name", ["large figure", "brick blouse"])
def test_a_half_drop_or_brick_slides_on_without_a_jump(name):
    """A step moves the cloth by just that: no other column or row comes under a piece."""
    book = OUTFITS[name]()
    look = first_look(replay(book).pattern, book.cloths, book.plans[-1])
    assert len(look.slides) >= 4
    for slide in look.slides:
        for along, across in slide.moves.values():
            assert math.hypot(along, across) == pytest.approx(1.0)


@pytest.mark.parametrize(("name", "number"), PLANS)
def test_a_print_slid_up_is_higher_on_every_piece_it_names(name, number):
    """7 mm up or to the right: what lay under a point of the piece lies 7 mm further that way."""
    look = _look(name, number)
    book, pattern = _demo(name)
    assert look.slides
    for slide in look.slides:
        plan = slid(pattern, look, {slide.key: 7.0})
        then = looked_at(pattern, book.cloths, plan)
        lead = next(iter(slide.moves))
        design = look.compiled.cloth(look.seen.lay.placements[0].region).print
        for shape, (dx, dy) in slide.moves.items():
            x, y, turn = _under(look, shape)
            u, v, _ = _under(then, shape)
            along = _wrapped(u - x, design.repeat("along"))
            across = _wrapped(v - y, design.repeat("across"))
            assert (along, across) == pytest.approx((7.0 * dx, 7.0 * dy), abs=1e-6)
            up = -(along * math.cos(turn) + across * math.sin(turn))
            right = -(along * math.sin(turn) - across * math.cos(turn))
            if shape == lead:
                assert (up if slide.upright else right) == pytest.approx(7.0, abs=1e-6)
        still = {s.id for s in look.compiled.problem.shapes} - set(slide.moves)
        for shape in still:
            x, y, _ = _under(look, shape)
            u, v, _ = _under(then, shape)
            assert _wrapped(u - x, design.repeat("along")) == pytest.approx(0.0, abs=1e-6)
            assert _wrapped(v - y, design.repeat("across")) == pytest.approx(0.0, abs=1e-6)


def test_the_lay_made_of_a_look_shows_what_was_seen():
    """The check slid up on the whole waistcoat: the front has its place of the repeat."""
    book, pattern = _demo("checked-waistcoat")
    look = _look("checked-waistcoat", 0)
    whole = max(look.slides, key=lambda s: len(s.moves))
    plan = slid(pattern, look, {whole.key: 11.0})
    seen = looked_at(pattern, book.cloths, plan)
    lay = solve(seen.compiled.problem, seconds=0.0, rounds=0)
    assert judge(seen.compiled.problem, lay) == ()
    laid = replace(seen, seen=replace(seen.seen, lay=lay))
    rule = plan.rules[-1]
    for copy in (s for s in whole.moves if seen.compiled.copy(s).piece.name == rule.piece):
        was, now = _under(seen, copy, rule.point)[0], _under(laid, copy, rule.point)[0]
        assert _wrapped(now - was, 60.0) == pytest.approx(0.0, abs=0.1)


def test_what_carries_no_print_is_not_slid():
    """On a cloth whose only print is a border, a piece that is not on it has none to slide."""
    slides = _look("coat-and-skirt", 2).slides
    assert {p for s in slides for p in s.pieces} == {
        "skirt front",
        "skirt back",
        "coat front",
        "coat back",
        "coat sleeve",
    }


def test_on_the_bias_a_slide_goes_slantwise_as_it_says():
    """What the print does on each piece, from the shape's own move and turn."""
    book = OUTFITS["bias skirt"]()
    look = first_look(replay(book).pattern, book.cloths, book.plans[0])
    slanting = [s for s in look.slides if s.slant]
    assert slanting
    for slide in slanting:
        to_the_right = set()
        for shape, (dx, dy) in slide.moves.items():
            _, _, t = _under(look, shape)
            up = -(dx * math.cos(t) + dy * math.sin(t))
            assert up > 0.0
            to_the_right.add(-(dx * math.sin(t) - dy * math.cos(t)) > 0.0)
        assert to_the_right == {1: {True}, -1: {False}, 2: {True, False}}[slide.slant]


@pytest.mark.parametrize("name", [*OUTFITS, "coat-and-skirt", "checked-waistcoat"])
def test_what_a_slide_moves_is_what_the_plan_slid_so_shows(name):
    """Every slide of the first plan by 2 mm: each shape lies where the look says, by its repeat.

    The plan with the new place is stated from nothing; a shape may lie a repeat further, of the
    ground or of the border that it lies on.
    """
    book = OUTFITS[name]() if name in OUTFITS else _demo(name)[0]
    pattern = replay(book).pattern
    look = first_look(pattern, book.cloths, book.plans[0])
    for slide in look.slides:
        then = looked_at(pattern, book.cloths, slid(pattern, look, {slide.key: 2.0}))
        for before, after in zip(look.seen.lay.placements, then.seen.lay.placements, strict=True):
            dx, dy = slide.moves.get(before.shape, (0.0, 0.0))
            design = look.compiled.cloth(before.region).print
            found = [
                (after.x - before.x - 2 * dx - sx, after.y - before.y - 2 * dy - sy)
                for sx, sy in ground(design).shifts
            ]
            misses = [
                math.hypot(*(_wrapped(mm, p) for mm, p in zip(xy, periods, strict=True)))
                for xy in found
                for periods in _periods(design)
            ]
            assert min(misses) < 1e-3, (slide.key, before.shape, misses)


def _periods(design):
    along, across = ground(design).period
    of_borders = [(b.repeat, across) for b in design.borders if b.repeat]
    return [(along, across), *of_borders] if along else of_borders or [(None, across)]
