"""Figures whole and centred: held against plane geometry, with numpy alone on what was laid.

A motif of diameter m is whole when its centre lies m/2 or more from every line that would cut it.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Figure, Print
from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.lay import problem as put
from clothwright.lay.by_hand import LaidOut, Wanted, try_place
from clothwright.lay.judge import judge, residuals
from clothwright.lay.lying import lie
from clothwright.lay.problem import LayProblem, Region, Shape
from clothwright.lay.result import Lay
from clothwright.lay.room import room_left
from clothwright.lay.solve import solve
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Cut, Dart, Mark
from clothwright.rules.compile import compile_lay
from clothwright.rules.first_look import first_look, slid
from clothwright.rules.kinds.clear import Clear
from clothwright.rules.kinds.figure_centred import FigureCentred
from clothwright.rules.kinds.figure_whole import FigureWhole
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import Plan
from clothwright.rules.stating import stated
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import say
from tests.lay.panels import panel

RADIUS = 50.0
ALONG, ACROSS = 420.0, 360.0


def flowered(**more):
    """A flower of 100 mm every 420 mm along and 360 mm across, from (130, 90)."""
    design = Print(
        repeat_along=ALONG,
        repeat_across=ACROSS,
        figures=(Figure(name="flower", x=130.0, y=90.0, radius=RADIUS),),
        **more,
    )
    return Cloth(name="c", width=1400.0, length=4000.0, print=design)


def flowers(drop="straight", mirror=None):
    """Every flower near the cloth, by the definition of the repeat; a mirror line across at x."""
    out = []
    for i, j in itertools.product(range(-3, 14), range(-3, 9)):
        x, y = 130.0 + i * ALONG, 90.0 + j * ACROSS
        if drop == "half-drop":
            x += ALONG / 2 * (j % 2)
        if drop == "brick":
            y += ACROSS / 2 * (i % 2)
        out.append((x, y))
        if mirror is not None:
            out.append((2 * mirror - x, y))
    return np.asarray(out)


def darted():
    """A front on the fold 150 mm wide with a waist dart and a pocket line, and a pair of backs."""
    front = panel("front", 150.0, 400.0, "fold", fold="left")
    front = replace(
        front,
        darts=(Dart(name="dart", edge="top", a=60.0, b=90.0, point=Vec(75.0, 280.0)),),
        marks=(Mark(name="pocket", path=panel("p", 40.0, 30.0, "once").edges[0].path),),
    )
    return Pattern(pieces=(front, panel("back", 160.0, 400.0, "pair")))


def cuts_of(piece, *, inside):
    """Points a millimetre apart on what may cut a figure, in the piece's own frame."""
    lines = [e.path for e in piece.edges if e.role.value != "fold"]
    found = [line.point_at(at) for line in lines for at in np.arange(0.0, line.length, 1.0)]
    if inside:
        for d in piece.darts:
            path = piece.edge(d.edge).path
            for end in np.linspace(0.0, 1.0, 31):
                mouth = path.point_at(d.a + (d.b - d.a) * end)
                found += [mouth.lerp(d.point, t) for t in np.linspace(0.0, 1.0, 121)]
        for m in piece.marks:
            found += [m.path.point_at(at) for at in np.arange(0.0, m.path.length, 1.0)]
    return np.asarray([(p.x, p.y) for p in found])


def on_cloth(compiled, place, points):
    """Points of a piece's own frame, both halves of an opened one, where they lie on the cloth."""
    copy = compiled.copy(place.shape)
    rows = [copy.frame_point(tuple(p)) for p in points]
    if copy.fold is not None:
        rows += [copy.frame_point(tuple(p), twin=True) for p in points]
    q = np.asarray([(r.x, r.y) for r in rows])
    if place.flipped:
        q = q * (1.0, -1.0)
    a = math.radians(place.turn_deg)
    turn = np.array([[math.cos(a), -math.sin(a)], [math.sin(a), math.cos(a)]])
    return q @ turn.T + (place.x, place.y)


def nearest(points, centres):
    return np.hypot(*(points[:, None, :] - centres[None]).transpose(2, 0, 1)).min()


def laid(pattern, cloth, *rules):
    compiled = compile_lay(pattern, (cloth,), Plan(name="p", rules=rules))
    lay = solve(compiled.problem, seconds=2.0, rounds=1)
    assert (judge(compiled.problem, lay), dict(lay.unplaced)) == ((), {})
    return compiled, lay


@pytest.mark.parametrize(
    ("design", "centres"),
    [
        ({}, flowers()),
        ({"drop": "half-drop"}, flowers("half-drop")),
        ({"drop": "brick"}, flowers("brick")),
        ({"axes_along": (250.0,)}, flowers(mirror=250.0)),
    ],
)
def test_no_flower_is_cut(design, centres):
    """Not by a stitching line, a dart or the pocket; every line sampled each millimetre."""
    rules = [FigureWhole(piece=p, figure="flower") for p in ("front", "back")]
    compiled, lay = laid(darted(), flowered(**design), *rules)
    for place in lay.placements:
        piece = compiled.copy(place.shape).piece
        lines = on_cloth(compiled, place, cuts_of(piece, inside=True))
        assert nearest(lines, centres) >= RADIUS


def test_without_the_rule_one_is_cut():
    """So the test above can fail."""
    compiled, lay = laid(darted(), flowered())
    lines = [
        on_cloth(compiled, place, cuts_of(compiled.copy(place.shape).piece, inside=True))
        for place in lay.placements
    ]
    assert nearest(np.concatenate(lines), flowers()) < RADIUS


@pytest.mark.parametrize(
    ("centre", "residual"), [(100.0, 0.0), (185.0, 15.0), (170.0, 0.0), (171.0, 1.0)]
)
def test_a_motif_of_14_on_a_half_of_24(centre, residual):
    """In cm: 14 wide, the half 24: whole with its centre at 10 from the middle, cut at 18.5."""
    ring = ((0.0, 0.0), (600.0, 0.0), (600.0, 240.0), (0.0, 240.0))
    side = ((0.0, 240.0), (600.0, 240.0))
    rule = put.KeepWhole(
        id="r",
        shape="s",
        parts=(side,),
        radius=70.0,
        centre=(300.0, centre),
        repeat_along=None,
        repeat_across=None,
    )
    shape = Shape(id="s", piece="s", copy=1, outline=ring, turns_deg=(0.0,))
    region = Region(name="c", width=500.0, length=900.0)
    problem = LayProblem(regions=(region,), shapes=(shape,), rules=(rule,))
    lay = Lay(placements=(lie(shape, region="c", x=0.0, y=0.0, turn_deg=0.0, flipped=False),))
    assert residuals(problem, lay)["r"] == pytest.approx(residual)


def test_where_there_is_no_room_it_is_told_before_a_search():
    """A flower every 120 mm of 100 mm: some line of a panel of 160 mm always cuts one."""
    cloth = flowered()
    dense = replace(cloth.print, repeat_along=120.0, repeat_across=120.0)
    with pytest.raises(BadInput, match="wherever"):
        compile_lay(
            darted(),
            (replace(cloth, print=dense),),
            Plan(name="p", rules=(FigureWhole(piece="back", figure="flower"),)),
        )


def test_the_room_in_the_repeat_is_measured():
    """One upright stretch L in a repeat of R by R: the stadium of its forbidden places is known."""
    rule = put.KeepWhole(
        id="r",
        shape="s",
        parts=(((0.0, 0.0), (100.0, 0.0)),),
        radius=30.0,
        centre=(0.0, 0.0),
        repeat_along=300.0,
        repeat_across=200.0,
    )
    shut = 100.0 * 60.0 + math.pi * 30.0**2
    for turn in (0.0, 90.0):
        room = room_left((rule,), turn, flipped=False)
        assert room == pytest.approx(1.0 - shut / 60000.0, abs=5e-4)


def test_a_piece_without_darts_has_nothing_inside_that_cuts():
    """The back has no dart and no marked line: the rule asks nothing, and is no mistake."""
    rule = FigureWhole(piece="back", figure="flower", lines="inside")
    compiled, _ = laid(darted(), flowered(), rule)
    assert not [r for r in compiled.problem.rules if isinstance(r, put.KeepWhole)]


def test_little_room_is_said_before():
    """Beside a back of 160 in a repeat of 360 a disc of 181 leaves 19 across: 5 in 100 places."""
    cloth = flowered()
    plan = Plan(name="p", rules=(FigureWhole(piece="back", figure="flower", by=40.0),))
    ((foreseen,),) = stated(darted(), (cloth,), plan).foreseen.values()
    assert say(foreseen.words, Unit.cm).startswith("Only about 5 of 100 places")


@pytest.mark.parametrize("design", [{}, {"drop": "half-drop"}, {"drop": "brick"}])
@pytest.mark.parametrize("match", ["both", "upright", "level"])
def test_a_flower_is_centred_on_the_back(design, match):
    """On a flower's centre; seen sideways or in height alone, in line with one."""
    rule = FigureCentred(piece="back", point="upper left", figure="flower", match=match)
    compiled, lay = laid(darted(), flowered(**design), rule)
    axes = {"both": [0, 1], "upright": [1], "level": [0]}[match]
    centres = flowers(design.get("drop", "straight"))[:, axes]
    for place in lay.placements:
        if place.shape.startswith("back"):
            point = compiled.copy(place.shape).piece.point("upper left")
            at = on_cloth(compiled, place, [point])[:1, axes]
            assert np.abs(at[:, None, :] - centres[None]).max(axis=2).min() <= 0.1


def test_on_the_bias_height_alone_is_refused_and_both_ways_hold():
    """At 45 degrees a piece has no height of its own on the print; the centre it can have."""
    pattern = Pattern(pieces=(replace(panel("back", 160.0, 400.0, "once"), cuts=(Cut(),)),))
    bias = OnGrain(piece="back", grain="bias")
    level = FigureCentred(piece="back", point="lower left", figure="flower", match="level")
    with pytest.raises(BadInput, match="on the bias"):
        compile_lay(pattern, (flowered(),), Plan(name="p", rules=(bias, level)))
    compiled, lay = laid(pattern, flowered(), bias, replace(level, match="both"))
    (place,) = lay.placements
    at = on_cloth(compiled, place, [pattern.piece("back").point("lower left")])
    assert nearest(at, flowers()) <= 0.1


def test_by_hand_a_piece_goes_to_the_nearest_flower():
    """Put 15 mm beside each of the two flowers of a half-drop it goes to that one, 15 mm away."""
    pattern = Pattern(pieces=(replace(panel("back", 160.0, 400.0, "once"), cuts=(Cut(),)),))
    rule = FigureCentred(piece="back", point="lower left", figure="flower")
    compiled, lay = laid(pattern, flowered(drop="half-drop"), rule)
    (was,) = lay.placements
    table = LaidOut(problem=compiled.problem, places={was.shape: was})
    at = on_cloth(compiled, was, [pattern.piece("back").point("lower left")])[0]
    for x, y in ((1390.0 + ALONG / 2, 450.0), (1390.0, 810.0)):
        wanted = Wanted(
            shape=was.shape,
            x=was.x + x - at[0] + 9.0,
            y=was.y + y - at[1] + 12.0,
            turn_deg=was.turn_deg,
            flipped=was.flipped,
        )
        assert (x, y) in {tuple(f) for f in flowers("half-drop")}
        tried = try_place(table, wanted, Unit.mm)
        assert (tried.place.x, tried.place.y) == pytest.approx((wanted.x - 9, wanted.y - 12))
        assert tried.faults == ()


def test_a_flower_may_lie_a_little_higher():
    """Centred, 0 to 20 mm higher on the body, never lower and never aside."""
    rule = FigureCentred(piece="back", point="upper left", figure="flower", higher=20.0)
    compiled, lay = laid(darted(), flowered(), rule)
    for place in lay.placements:
        if place.shape.startswith("back"):
            at = on_cloth(compiled, place, [compiled.copy(place.shape).piece.point("upper left")])
            up = math.cos(math.radians(place.turn_deg))
            x, y = at[0]
            beyond = up * ((x - 130.0 + ALONG / 2) % ALONG - ALONG / 2)
            assert -0.1 <= beyond <= 20.1
            assert abs((y - 90.0 + ACROSS / 2) % ACROSS - ACROSS / 2) <= 0.1


def test_two_flowers_of_a_half_drop_serve_as_well_as_one():
    """Each of the two in the repeat may lie under the point: the first place is the nearer one."""
    pattern = Pattern(pieces=(replace(panel("back", 160.0, 400.0, "once"), cuts=(Cut(),)),))
    rule = FigureCentred(piece="back", point="lower left", figure="flower")
    ends = {}
    for drop in ("straight", "half-drop"):
        compiled, lay = laid(pattern, flowered(drop=drop), rule)
        ends[drop] = lay.used["c"]
    assert ends["half-drop"] <= ends["straight"]
    shape = compiled.problem.shapes[0]
    here = shape.points["lower left"][0]
    least = [x - here for x, y in flowers("half-drop") if 0 <= y <= 1400 and x - here >= 210.0]
    assert lay.placements[0].x <= min(least) + 0.1 + 420.0 / 2


def test_a_point_is_clear_of_every_image():
    """The flower of a half-drop between the columns counts too; 9 cm away is not 7 + 3."""
    rule = Clear(piece="back", point="upper left", figure="flower", by=30.0)
    compiled, lay = laid(darted(), flowered(drop="half-drop"), rule)
    for place in lay.placements:
        if place.shape.startswith("back"):
            point = compiled.copy(place.shape).piece.point("upper left")
            at = on_cloth(compiled, place, [point])[:1]
            assert nearest(at, flowers("half-drop")) >= RADIUS + 30.0 - 0.1
    shut = [r for r in compiled.problem.rules if isinstance(r, put.KeepClear)]
    assert len({r.centre for r in shut}) == 2


@pytest.mark.parametrize("by", [150.0, 350.0])
def test_a_first_look_keeps_clear_as_far_as_can_be_and_the_bound_stays_as_it_is_slid(by):
    """Of a grid of 420 by 360 mm the farthest place is half its diagonal off, 276.6 mm: by hand."""
    rule = Clear(piece="back", point="upper left", figure="flower", by=by)
    on, plan = (flowered(),), Plan(name="p", rules=(rule,))
    least = max(0.0, RADIUS + by - math.hypot(ALONG, ACROSS) / 2.0)
    look = first_look(darted(), on, plan)
    missed = max(mm for mm in residuals(look.compiled.as_asked, look.seen.lay).values())
    assert missed == pytest.approx(least, abs=0.05)
    assert look.slides
    moved = slid(darted(), look, {look.slides[0].key: 30.0})
    for asked in (plan, moved):
        told = stated(darted(), on, asked).gave_way
        assert [n for n in told if n == 1] == ([1] if least else [])
        words = [w for n in told if n == 1 for w in told[n].words if isinstance(w, float)]
        assert not words or words[-1] == pytest.approx(least, abs=0.05)


def test_what_is_not_known_is_told_once_in_the_words_of_the_plan():
    """A flower twice in the repeat is two circles on each back: one sentence for each back."""
    rule = Clear(piece="back", point="upper left", figure="flower", by=30.0)
    on, plan = (flowered(drop="half-drop"),), Plan(name="p", rules=(rule,))
    compiled = compile_lay(darted(), on, plan)
    gone = {s.id: "it found no place" for s in compiled.problem.shapes}
    lay = Lay(placements=(), unplaced=gone, fits=False)
    laid = Laid(plan=plan, pattern=darted(), cloths=on, compiled=compiled, lay=lay)
    told = [words for words in laid.fault_words(Unit.cm) if "is not known" in words]
    first = "“back, upper left, keeps clear of every motif “flower” by 3 cm” is not known: "
    assert told == [f"{first}back {k} found no place." for k in (1, 2)]
