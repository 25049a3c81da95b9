"""Around what is cut: it never moves, nothing comes to lie on it, and rules count where it lies."""

from __future__ import annotations

import os
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from clothwright.lay.ground import around
from clothwright.lay.judge import judge, residuals
from clothwright.lay.lying import lie
from clothwright.lay.problem import (
    AtFigure,
    LayProblem,
    MirrorPhase,
    Pinned,
    Region,
    SamePhase,
    SamePlace,
    SameTurn,
    Shape,
    cut_of,
    names_of,
)
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve
from clothwright.pattern.finding import Severity
from tests.lay.test_random import RELAXED, problems

EXAMPLES = int(os.environ.get("LAY_EXAMPLES", "24"))
KEPT = 0.1
"""A rule missed by no more (mm) is kept, as the judge has it."""


def as_cut(problem: LayProblem, places) -> LayProblem:
    """The problem with shapes cut where they lie. What they themselves do not keep is left out."""
    at = {p.shape: p for p in places}
    shapes = tuple(
        replace(
            s,
            turns_deg=(at[s.id].turn_deg,),
            tilt_deg=0.0,
            flips=(at[s.id].flipped,),
            regions=(at[s.id].region,),
        )
        if s.id in at
        else s
        for s in problem.shapes
    )
    alone = [r for r in problem.rules if set(names_of(r)) <= set(at)]
    missed = residuals(replace(problem, rules=tuple(alone)), Lay(placements=tuple(at.values())))
    rules = [r for r in problem.rules if missed.get(r.id, 0.0) <= KEPT]
    rules = [r for r in rules if not (isinstance(r, Pinned) and r.shape in at)]
    pins = (
        Pinned(
            id=f"cut {n}",
            shape=n,
            region=p.region,
            x=p.x,
            y=p.y,
            turn_deg=p.turn_deg,
            flipped=p.flipped,
            cut=True,
        )
        for n, p in at.items()
    )
    return replace(problem, shapes=shapes, rules=(*rules, *pins))


@st.composite
def partly_cut(draw) -> LayProblem:
    """A random problem, some of it cut: where a lay had it, or anywhere at all."""
    asked = draw(problems())
    laid = solve(asked, seconds=30.0, rounds=0).placements
    cut = [p for p in laid if draw(st.booleans())]
    if cut and draw(st.integers(0, 2)) == 0:
        shape = next(s for s in asked.shapes if s.id == cut[0].shape)
        x, y, turn = draw(st.floats(-20, 500)), draw(st.floats(-20, 300)), draw(st.floats(0, 359))
        cut[0] = lie(shape, region=cut[0].region, x=x, y=y, turn_deg=turn, flipped=cut[0].flipped)
    return as_cut(asked, cut)


def kept(asked: LayProblem, lay: Lay) -> None:
    """No fault by the judge; what is cut lies to the bit where it was; shapely alone agrees."""
    assert [f for f in judge(asked, lay) if f.severity is Severity.FAULT] == []
    places, shapes = {p.shape: p for p in lay.placements}, {s.id: s for s in asked.shapes}
    assert not set(lay.unplaced) & set(cut_of(asked))
    for name, pin in cut_of(asked).items():
        assert places[name] == lie(
            shapes[name],
            region=pin.region,
            x=pin.x,
            y=pin.y,
            turn_deg=pin.turn_deg,
            flipped=pin.flipped,
        )
        mine = Polygon(places[name].outline).buffer(0)
        for other in lay.placements:
            if other.region == pin.region and other.shape not in cut_of(asked):
                theirs = Polygon(other.outline).buffer(0)
                assert mine.intersection(theirs).area < 0.05 * (mine.length + theirs.length) / 2
                assert mine.distance(theirs) >= asked.gap - 0.011 or not asked.gap


@settings(RELAXED, max_examples=EXAMPLES)
@given(partly_cut())
def test_what_is_cut_never_moves_in_any_lay_told(asked: LayProblem) -> None:
    """Counted rounds: in each better lay, and in the last."""
    lay = solve(asked, seconds=30.0, rounds=3, on_better=lambda each: kept(asked, each))
    kept(asked, lay)


@settings(RELAXED, max_examples=max(3, EXAMPLES // 12))
@given(partly_cut())
def test_nor_with_the_packer_at_work(asked: LayProblem) -> None:
    """By time, with the packer's child: the same."""
    kept(asked, solve(asked, seconds=0.4, on_better=lambda each: kept(asked, each)))


# --- rules that tie the rest to what is cut -------------------------------------------------------

SQUARE = ((-50.0, -40.0), (50.0, -40.0), (50.0, 40.0), (-50.0, 40.0))
POINTS = {"p": (-50.0, -40.0), "q": (30.0, 40.0)}
QUARTERS = (0.0, 90.0, 180.0, 270.0)


def square(name: str, **how) -> Shape:
    return Shape(
        id=name, piece=name, copy=1, outline=SQUARE, points=POINTS, **{"turns_deg": QUARTERS, **how}
    )


@st.composite
def ties(draw, a: str, b: str):
    """A rule of each kind that ties two shapes by points of theirs, with a tolerance or without."""
    least = draw(st.floats(-6, 3))
    both = {
        "id": "7 tie",
        "shape_a": a,
        "point_a": draw(st.sampled_from("pq")),
        "shape_b": b,
        "point_b": draw(st.sampled_from("pq")),
        "least": least,
        "most": least + draw(st.floats(0, 5)),
    }
    on_one = {"axis": draw(st.sampled_from(["along", "across"])), "repeat": draw(REPEATS)}
    kind = draw(st.sampled_from([SamePhase, MirrorPhase, SamePlace]))
    if kind is SamePhase:
        return SamePhase(**both, **on_one, shift=draw(st.floats(-80, 80)))
    if kind is MirrorPhase:
        return MirrorPhase(**both, **on_one, about=draw(st.floats(-80, 80)))
    return SamePlace(
        **both,
        signs=draw(st.sampled_from([(1, 1), (-1, 1), (1, -1), (-1, -1)])),
        shifts=((draw(st.floats(-30, 30)), draw(st.floats(-30, 30))),),
        repeat_along=draw(REPEATS),
        repeat_across=draw(REPEATS),
    )


REPEATS = st.sampled_from([0.0, 35.0, 64.0])


@settings(deadline=None, max_examples=100)
@given(st.data())
def test_a_tie_to_what_is_cut_asks_as_much_as_before(data):
    """By the judge: wherever the other lies, it misses what is left of the rule by as much.

    The judge measures the tie from both placements, and what is left of it from the one.
    """
    draw = data.draw
    spots = st.tuples(st.floats(-300, 300), st.floats(-300, 300), st.sampled_from(QUARTERS))
    (x, y, turn), (u, v, other) = draw(spots), draw(spots)
    over, under = draw(st.booleans()), draw(st.booleans())
    names = draw(st.permutations(["cut", "free"]))
    asked = LayProblem(
        regions=(Region(name="wool", width=2000.0, length=None),),
        shapes=(square("cut", flips=(over,)), square("free", flips=(False, True))),
        rules=(
            draw(ties(*names)),
            Pinned(
                id="cut",
                shape="cut",
                region="wool",
                x=x,
                y=y,
                turn_deg=turn,
                flipped=over,
                cut=True,
            ),
        ),
    )
    ground = around(asked)
    assert [s.id for s in ground.rest.shapes] == ["free"]
    there = lie(asked.shapes[1], region="wool", x=u, y=v, turn_deg=other, flipped=under)
    whole = ground.whole(Lay(placements=(there,)))
    before = residuals(asked, whole)["7 tie"]
    left = max(residuals(ground.rest, Lay(placements=(there,))).values())
    assert left == pytest.approx(before, abs=1e-6)


def test_of_two_places_of_a_half_drop_either_is_good_beside_what_is_cut():
    """A half-drop comes again half a repeat on and half a repeat up: both, and what is between not.

    Repeats of 60 by 40 mm, the cut one's point at (0, 0): free are (0, 0) and (30, 20) in each.
    """
    tie = SamePlace(
        id="1 tie", shape_a="cut", point_a="p", shape_b="free", point_b="p", signs=(1, 1),
        shifts=((0.0, 0.0), (30.0, 20.0)), repeat_along=60.0, repeat_across=40.0,
    )  # fmt: skip
    pin = Pinned(
        id="cut", shape="cut", region="wool", x=50, y=40, turn_deg=0, flipped=False, cut=True
    )
    asked = LayProblem(
        regions=(Region(name="wool", width=900.0, length=None),),
        shapes=(square("cut", turns_deg=(0.0,)), square("free", turns_deg=(0.0,))),
        rules=(tie, pin),
    )
    (left,) = around(asked).rest.rules
    assert isinstance(left, AtFigure)

    def missed(x, y):
        there = lie(asked.shapes[1], region="wool", x=50 + x, y=40 + y, turn_deg=0, flipped=False)
        return residuals(around(asked).rest, Lay(placements=(there,)))["1 tie"]

    assert [missed(*at) for at in ((60, 80), (-30, 20), (90, 60))] == pytest.approx([0, 0, 0])
    assert missed(30, 0) == pytest.approx(20.0)


def test_what_is_turned_with_a_cut_one_turns_as_that_lies():
    """One way: the rest lies as what is cut; what cannot is unplaced and told, nothing else is."""
    pin = Pinned(
        id="cut", shape="cut", region="wool", x=50, y=50, turn_deg=180, flipped=False, cut=True
    )
    shapes = (
        square("cut", turns_deg=(180.0,)),
        square("b", turns_deg=(0.0, 180.0)),
        square("c", turns_deg=(90.0,)),
    )
    asked = LayProblem(
        regions=(Region(name="wool", width=900.0, length=None),),
        shapes=shapes,
        rules=(SameTurn(id="1 nap", shapes=("b", "cut", "c")), pin),
    )
    lay = solve(asked, seconds=5.0, rounds=1)
    assert {p.shape: p.turn_deg for p in lay.placements} == {"cut": 180.0, "b": 180.0}
    assert list(lay.unplaced) == ["c"]
    assert "turned another way" in str(lay.unplaced["c"])
    assert not lay.fits
    assert lay.short_by is None


def test_the_rest_lies_in_a_hole_that_what_is_cut_leaves():
    """A frame cut from four strips leaves a hole of 120 by 100: a square of 100 by 80 lies in it.

    With a gap of 5 it has 10 to spare each way; of 25, it has not, and lies behind, 25 away.
    """

    def strip(name, x, y, long, wide):
        ring = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
        how = {"region": "wool", "x": x, "y": y, "turn_deg": 0, "flipped": False, "cut": True}
        shape = Shape(id=name, piece=name, copy=1, outline=ring, turns_deg=(0.0,))
        return shape, Pinned(id=f"cut {name}", shape=name, **how)

    made = [
        strip("low", 0, 0, 200, 20), strip("high", 0, 120, 200, 20), strip("left", 0, 20, 40, 100),
        strip("right", 160, 20, 40, 100),
    ]  # fmt: skip
    for gap, ends in ((5.0, 200.0), (25.0, 325.0)):
        asked = LayProblem(
            regions=(Region(name="wool", width=140.0, length=None),),
            shapes=(*(shape for shape, _ in made), square("free", turns_deg=(0.0,))),
            rules=tuple(pin for _, pin in made),
            gap=gap,
        )
        lay = solve(asked, seconds=5.0, rounds=2)
        assert lay.fits
        assert lay.used["wool"] == pytest.approx(ends, abs=0.01)


@pytest.mark.parametrize("gap", [0.0, 2.0, 2.5])
def test_what_lay_beside_a_cut_piece_finds_its_place_there_again(gap):
    """Three across fill a cloth to the last hair: whichever is cut, the others lie as they did.

    Places are kept in JSON to a thousandth of a millimetre, and so may be off by half of that.
    """
    names = ("a", "b", "c")
    asked = LayProblem(
        regions=(Region(name="wool", width=3 * 80.0 + 2 * gap, length=None),),
        shapes=tuple(square(n, turns_deg=(0.0,)) for n in names),
        gap=gap,
    )
    laid = solve(asked, seconds=5.0, rounds=1)
    assert laid.used["wool"] == pytest.approx(100.0, abs=0.01)
    for name in names:
        (one,) = (p for p in laid.placements if p.shape == name)
        for off in (0.0, 0.0005, -0.0005):
            kept = replace(one, x=round(one.x, 3), y=round(one.y, 3) + off)
            again = solve(as_cut(asked, [kept]), seconds=5.0, rounds=1)
            assert again.used["wool"] == pytest.approx(100.0, abs=0.01), (name, off)


def test_everything_cut_is_a_lay_that_uses_what_is_cut():
    """Nothing is left to lay: what is cut counts, past the end of a cloth made shorter too."""
    pin = Pinned(
        id="cut", shape="cut", region="wool", x=150, y=50, turn_deg=0, flipped=False, cut=True
    )
    asked = LayProblem(
        regions=(Region(name="wool", width=900.0, length=None),),
        shapes=(square("cut", turns_deg=(0.0,)),),
        rules=(pin,),
    )
    lay = solve(asked, seconds=5.0)
    assert (lay.used, lay.fits, lay.short_by) == ({"wool": 200.0}, True, 0.0)
    shorter = replace(asked, regions=(replace(asked.regions[0], length=180.0),))
    lay = solve(shorter, seconds=5.0)
    assert (lay.fits, lay.short_by) == (False, pytest.approx(20.0))
    assert judge(shorter, lay) == ()


def test_what_is_cut_off_the_cloth_uses_none_of_it():
    """A tick at a wrong place, before the cut end: no length is used, and the rest is laid."""
    pin = Pinned(
        id="cut", shape="cut", region="wool", x=-80, y=50, turn_deg=0, flipped=False, cut=True
    )
    asked = LayProblem(
        regions=(Region(name="wool", width=900.0, length=None),),
        shapes=(square("cut", turns_deg=(0.0,)),),
        rules=(pin,),
    )
    lay = solve(asked, seconds=5.0)
    assert lay.used == {"wool": 0.0}
    assert judge(asked, lay) == ()
    lay = solve(replace(asked, shapes=(*asked.shapes, square("free"))), seconds=5.0, rounds=1)
    assert lay.used["wool"] == pytest.approx(80.0, abs=0.01)


def test_without_anything_cut_the_problem_is_the_same_object():
    """Nothing is copied, and no lay changed, where nothing is cut."""
    asked = LayProblem(
        regions=(Region(name="wool", width=900.0, length=None),), shapes=(square("a"),)
    )
    ground, lay = around(asked), Lay(placements=())
    assert ground.rest is asked
    assert ground.whole(lay) is lay
