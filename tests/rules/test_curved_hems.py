"""A curved hem on a border: which part lies there, and how far the rest of it leaves the line.

Held against plane geometry: an arc of radius r over a half width w rises r − √(r² − w²).
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Edge, Grain, Piece, Role
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.plan import Plan
from clothwright.rules.stating import stated
from clothwright.rules.weighing.hems import hems_against_borders
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import say
from tests.lay.panels import bordered, panel
from tests.outfits import OUTFITS

RISES = ((2500.0, 300.0, 18.07), (4000.0, 280.0, 9.81), (1200.0, 400.0, 68.63))
"""Radius, half width and rise of an arc in mm: the sagitta by plane geometry."""


def curved(radius, half, *, whole=False):
    """A panel with its hem on an arc that rises to the side: half on the fold (left), or whole."""
    xs = np.linspace(-half if whole else 0.0, half, 401)
    hem = [(x, radius - math.sqrt(radius**2 - x**2)) for x in xs]
    (left, low), (right, rise) = hem[0], hem[-1]
    corners = [(right, rise), (right, 400.0), (left, 400.0), (left, low)]
    edges = [Edge(name="hem", path=polyline(hem), role=Role.HEM, allowance=20.0)]
    for name, ends in zip(("side", "top", "middle"), itertools.pairwise(corners), strict=True):
        role = Role.FOLD if name == "middle" and not whole else Role.SEAM
        edges.append(Edge(name=name, path=polyline(ends), role=role))
    piece = Piece(
        name="front",
        edges=tuple(edges),
        grain=Grain(start=Vec(half / 4, 150.0), end=Vec(half / 4, 300.0)),
        cuts=(Cut(how="once" if whole else "fold"),),
    )
    return Pattern(pieces=(piece,)), np.asarray(hem)


def cloth(side="lower"):
    design = bordered().print
    border = replace(design.borders[0], side=side)
    return replace(bordered(), width=1400.0, print=replace(design, borders=(border,)))


LINES = {"lower": 140.0, "upper": 1260.0}
"""Where the border's line lies across: 40 mm from the selvedge, and the rule asks 100 above it."""


def laid_with(pattern, follows, side="lower"):
    rule = OnBorder(piece="front", edge="hem", border="b", above=100.0, follows=follows)
    plan = Plan(name="p", rules=(rule,))
    compiled = compile_lay(pattern, (cloth(side),), plan)
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert judge(compiled.problem, lay) == ()
    return Laid(plan=plan, pattern=pattern, cloths=(cloth(side),), compiled=compiled, lay=lay)


def above_line(laid, hem, line):
    """Heights of the hem above the border's line where it lies, with numpy alone.

    The piece's own frame has its grain along +y; the lay's turn of 90 leaves that so.
    """
    (place,) = laid.lay.placements
    shape = laid.compiled.problem.shapes[0]
    drawn = {n: np.asarray(p) for n, p in shape.points.items()}
    # grain along +x in the shape's frame: up the piece is +x, so its height is x
    lift = drawn["hem start"][0] - hem[0, 1]
    heights = hem[:, 1] + lift
    sin = math.sin(math.radians(place.turn_deg))
    return np.sign(sin) * (sin * heights + place.y - line)


@pytest.mark.parametrize(("radius", "half", "rise"), RISES)
@pytest.mark.parametrize("follows", ["centre", "sides", "halfway", "best"])
@pytest.mark.parametrize("side", LINES)
def test_the_part_that_is_chosen_lies_on_the_line(radius, half, rise, follows, side):
    """The centre 0, the sides 0, half way 0, or as far below as above: measured on the cloth."""
    pattern, hem = curved(radius, half)
    laid = laid_with(pattern, follows, side)
    heights = above_line(laid, hem, LINES[side])
    assert heights.max() - heights.min() == pytest.approx(rise, abs=0.01)
    at = {
        "centre": heights[0],
        "sides": heights[-1],
        "halfway": heights[np.searchsorted(np.cumsum(np.hypot(*np.diff(hem.T))), hem_half(hem))],
        "best": heights.max() + heights.min(),
    }
    assert at[follows] == pytest.approx(0.0, abs=0.2 if follows == "halfway" else 0.02)


def hem_half(hem):
    return np.hypot(*np.diff(hem.T)).sum() / 2


@pytest.mark.parametrize(("radius", "half", "rise"), RISES)
def test_the_rise_is_said_before_anything_is_laid(radius, half, rise):
    """On the line at the fold and so much above it at the side; over 10 mm, a band is the way."""
    pattern, _ = curved(radius, half)
    plan = Plan(name="p", rules=(OnBorder(piece="front", edge="hem", border="b"),))
    ((foreseen, *others),) = stated(pattern, (cloth(),), plan).foreseen.values()
    assert say(foreseen.words, Unit.mm).startswith(
        f"The front, hem, lies on the line of the border at the fold and {rise:.1f} mm above the "
        "line at the side."
    )
    assert foreseen.mend.change == "square-hem"
    assert bool(others) == (rise > 10.0)
    for other in others:
        assert other.mend.change == "apply-band"
        assert other.mend.params["depth"] == 100.0


def test_a_straight_hem_has_nothing_to_foresee():
    pattern, _ = curved(1e7, 300.0)
    plan = Plan(name="p", rules=(OnBorder(piece="front", edge="hem", border="b"),))
    assert not any(stated(pattern, (cloth(),), plan).foreseen.values())


def test_a_laid_curve_is_not_told_as_lying_on_the_border():
    """What the rule binds is met to 0.1 mm; the facts tell the sides where they lie."""
    pattern, hem = curved(2500.0, 300.0)
    laid = laid_with(pattern, "best")
    heights = above_line(laid, hem, LINES["lower"])
    (words,) = hems_against_borders(laid)
    assert (heights.min(), heights.max()) == pytest.approx((-9.03, 9.03), abs=0.01)
    assert say(words, Unit.mm) == (
        "The front, hem, lies 9 mm below the line at the fold and 9 mm above the line at the side. "
        "Between its ends it falls 4.5 mm below the straight line from one to the other."
    )


def slanted(rise, sag=0.0):
    """A whole panel whose hem slants by `rise` mm from left to right, its middle `sag` mm lower."""
    hem = [(x, rise * (x + 300) / 600 - sag * (1 - (x / 300) ** 2)) for x in range(-300, 301, 10)]
    corners = [hem[-1], (300.0, 500.0), (-300.0, 500.0), hem[0]]
    edges = [Edge(name="hem", path=polyline(hem), role=Role.HEM, allowance=20.0)]
    for name, ends in zip(("right", "top", "left"), itertools.pairwise(corners), strict=True):
        edges.append(Edge(name=name, path=polyline(ends), role=Role.SEAM))
    grain = Grain(start=Vec(0.0, 100.0), end=Vec(0.0, 300.0))
    return Pattern(
        pieces=(Piece(name="front", edges=tuple(edges), grain=grain, cuts=(Cut(how="once"),)),)
    )


@pytest.mark.parametrize(
    ("rise", "sag", "told"),
    [
        (
            18.0,
            0.0,
            "9 mm below the line at its end by the left and 9 mm above the line at its end by the "
            "right. It is straight and slants by 18 mm.",
        ),
        (
            0.0,
            12.0,
            "on the line of the border at its middle and 12 mm above the line at both ends. "
            "Between its ends it falls 12 mm below the straight line from one to the other.",
        ),
        (
            0.0,
            -12.0,
            "on the line of the border at its middle and 12 mm below the line at both ends. "
            "Between its ends it rises 12 mm above the straight line from one to the other.",
        ),
    ],
)
def test_a_straight_hem_that_slants_is_not_told_as_curved(rise, sag, told):
    """The heights of both ends and of the middle are those the panel is drawn with."""
    plan = Plan(name="p", rules=(OnBorder(piece="front", edge="hem", border="b"),))
    (foreseen, *_) = stated(slanted(rise, sag), (cloth(),), plan).foreseen[1]
    assert say(foreseen.words, Unit.mm).startswith(f"The front, hem, lies {told}")


def test_a_whole_piece_lies_by_its_middle_or_its_ends():
    """A hem from side to side with level ends: its middle is the centre where the eye looks."""
    pattern, hem = curved(2500.0, 300.0, whole=True)
    middle, ends = len(hem) // 2, (0, -1)
    by_middle = above_line(laid_with(pattern, "centre"), hem, LINES["lower"])
    assert by_middle[middle] == pytest.approx(0.0, abs=0.02)
    by_ends = above_line(laid_with(pattern, "sides"), hem, LINES["lower"])
    assert by_ends[list(ends)] == pytest.approx([0.0, 0.0], abs=0.02)


# --- an edge that runs up the body, a facing ------------------------------------------------------


def fronts(edge):
    """A pair of panels 150 by 400, one edge on a border without a top, along the lower selvedge."""
    design = bordered().print
    border = replace(design.borders[0], down="either")
    plain = replace(bordered(), print=replace(design, borders=(border,)))
    pattern = Pattern(pieces=(panel("front", 150.0, 400.0, "pair"),))
    plan = Plan(name="p", rules=(OnBorder(piece="front", edge=edge, border="b", above=30.0),))
    compiled = compile_lay(pattern, (plain,), plan)
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert (judge(compiled.problem, lay), dict(lay.unplaced)) == ((), {})
    return Laid(plan=plan, pattern=pattern, cloths=(plain,), compiled=compiled, lay=lay)


@pytest.mark.parametrize(("edge", "x"), [("left", 0.0), ("right", 150.0)])
def test_a_front_edge_turns_the_border_up_the_body(edge, x):
    """Both of the pair lie along the selvedge, the edge from end to end at y = 40 + 30."""
    laid = fronts(edge)
    for place in laid.lay.placements:
        ends = [laid.compiled.copy(place.shape).frame_point((x, y)) for y in (0.0, 400.0)]
        ys = [
            math.sin(math.radians(place.turn_deg)) * q.x
            + math.cos(math.radians(place.turn_deg)) * (-q.y if place.flipped else q.y)
            + place.y
            for q in ends
        ]
        assert ys == pytest.approx([70.0, 70.0], abs=0.1)
        middle = sum(y for _, y in place.outline) / len(place.outline)
        assert middle > 70.0
    assert not list(hems_against_borders(laid))


def test_a_border_with_a_top_is_not_laid_on_its_side():
    """It is told before anything is laid: the figures of the vine would lie on their side."""
    pattern = Pattern(pieces=(panel("front", 150.0, 400.0, "pair"),))
    plan = Plan(name="p", rules=(OnBorder(piece="front", edge="left", border="b"),))
    (mistake, *_) = stated(pattern, (bordered(),), plan).mistaken
    assert "lie on its side" in str(mistake.wrong[0].error)


def test_a_facing_lies_on_a_border_like_any_piece():
    """Its lower edge on the line, both ends: the border shows where it is turned to the outside."""
    facing = panel("facing", 180.0, 70.0, "fold", fold="left")
    plan = Plan(name="p", rules=(OnBorder(piece="facing", edge="hem", border="b", above=5.0),))
    compiled = compile_lay(Pattern(pieces=(facing,)), (bordered(),), plan)
    lay = solve(compiled.problem, seconds=1.0, rounds=1)
    assert judge(compiled.problem, lay) == ()
    (place,) = lay.placements
    assert min(y for _, y in place.outline) == pytest.approx(45.0 - 10.0)


@pytest.mark.parametrize(
    ("name", "words"), [("front", "the side"), ("sleeve", "the seam of the sleeve")]
)
def test_what_would_be_longer_is_named(name, words):
    """A hem that slants by 30 mm is told beforehand; a sleeve has no side, but a seam."""
    start = OUTFITS["checked shirt"]()
    piece = start.bought.piece(name)
    hem = next(e for e in piece.edges if e.role is Role.HEM)
    start_, end = hem.path.start, hem.path.end
    slanting = polyline([start_ - piece.up * 30.0, end])
    at = piece.index(hem.name)
    before = piece.edges[at - 1]
    longer = replace(before, path=polyline([before.path.start, slanting.start]), notches=())
    edges = [hem if e is hem else e for e in piece.edges]
    edges[at - 1], edges[at] = longer, replace(hem, path=slanting)
    slant = replace(piece, edges=tuple(edges))
    pattern = replace(
        start.bought,
        pieces=tuple(slant if p is piece else p for p in start.bought.pieces),
    )
    design = bordered().print
    sheet = replace(start.cloths[0], print=design)
    rule = OnBorder(piece=name, edge=hem.name, border=design.borders[0].name)
    found = stated(pattern, (sheet,), Plan(name="p", rules=(rule,)))
    told = say(found.foreseen[1][0].words, Unit.cm)
    assert f": {words} would be longer by as much." in told
