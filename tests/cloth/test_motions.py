"""A print as a group of motions, held against worked figures of plane geometry."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.cloth.motions import SAME_MM, band, ground, of_figure, steps
from clothwright.cloth.prints import Border, Figure, Print

HALF_DROP = Print(repeat_along=64.0, repeat_across=32.0, drop="half-drop")
BRICK = Print(repeat_along=32.0, repeat_across=64.0, drop="brick")


def nearest(design: Print, point: tuple[float, float]) -> float:
    """The distance to the nearest other place where the print comes again."""
    around = ground(design).copies(point, (point[0] - 200, point[1] - 200), (point[0] + 200,) * 2)
    return min(d for p in around if (d := math.dist(p, point)) > 0.01)


def test_a_half_drop_brings_the_nearest_motif_diagonally():
    """Half-drop 32 wide, 64 high: the nearest like motif is 45.25 away, not 64 (plane geometry)."""
    assert nearest(HALF_DROP, (5.0, 7.0)) == pytest.approx(math.hypot(32, 32))


def test_a_half_drop_and_a_brick_of_other_sizes_are_one_lattice():
    """Half-drop 32 x 64 is brick 64 x 32 (plane geometry)."""
    places = [
        {tuple(np.round(p, 6)) for p in ground(d).copies((3.0, 4.0), (-200, -200), (200, 200))}
        for d in (HALF_DROP, BRICK)
    ]
    assert places[0] == places[1]
    assert len(places[0]) > 50


def test_panels_side_by_side_in_a_half_drop():
    """Straight at 64 and 128 across; at 32 they need half a repeat, 32, along (plane geometry)."""
    apart = ground(HALF_DROP).apart(
        np.array([[0.0, 64.0], [0.0, 128.0], [32.0, 32.0], [0.0, 32.0]])
    )
    assert np.linalg.norm(apart, axis=1) == pytest.approx([0.0, 0.0, 0.0, 32.0])


def test_mirror_lines_both_ways_give_a_half_turn():
    """Two mirrors at right angles are a half turn about where they cross (plane geometry)."""
    design = Print(repeat_along=60.0, repeat_across=48.0, axes_along=(7.0,), axes_across=(5.0,))
    turns = [op for op in ground(design).operations if op.signs == (-1, -1)]
    assert [op.shift for op in turns] == [(14.0, 10.0)]
    assert {op.signs for op in ground(design).operations} == {(1, 1), (-1, 1), (1, -1), (-1, -1)}


def test_a_stripe_mirrors_along_itself_and_says_nothing_there():
    """A stripe along the cloth is the same wherever it is looked at along it."""
    found = ground(Print(repeat_across=40.0))
    assert found.says == (False, True)
    assert {op.signs for op in found.operations} == {(1, 1), (-1, 1)}
    assert np.isnan(found.apart(np.array([[3.0, 41.0]]))).tolist() == [[True, False]]


def test_a_motif_that_comes_once_is_no_stripe():
    """One large motif on a cloth has no mirror of its own where none is said."""
    one = Print(figures=(Figure(name="f", x=1.0, y=1.0, radius=9.0),))
    assert [op.signs for op in ground(one).operations] == [(1, 1)]


def test_a_border_comes_again_along_it_only():
    """Across, a border is where it is."""
    found = band(Border(name="b", side="lower", base=5.0, height=90.0, repeat=56.0), Print())
    assert found.apart(np.array([[58.0, 3.0]])) == pytest.approx(np.array([[2.0, 3.0]]))


lengths = st.floats(20.0, 200.0)
places = st.floats(0.0, 1.0)


@settings(max_examples=60)
@given(
    along=lengths,
    across=lengths,
    drop=st.sampled_from(["straight", "half-drop", "brick"]),
    a=st.none() | places,
    b=st.none() | places,
    turn=st.none() | st.tuples(places, places),
    x=places,
    y=places,
)
def test_every_motion_brings_every_place_to_one_of_its_copies(
    along, across, drop, a, b, turn, x, y
):
    """All images of an image are images of the first: what makes motions a group."""
    design = Print(
        repeat_along=along,
        repeat_across=across,
        drop=drop,
        axes_along=() if a is None else (a * along,),
        axes_across=() if b is None else (b * across,),
        half_turn=None if turn is None or a is not None or b is not None else (3.0, 5.0),
    )
    found, point = ground(design), (x * along, y * across)
    ways = [op for op in found.operations if design.drop == "straight" or not op.mirrors]
    for op in ways:
        image = op.of(np.array([point]))
        near = [np.linalg.norm(found.apart(image - np.array([p]))) for p in found.images(point)]
        assert min(near) < SAME_MM


def test_a_line_comes_again_after_each_repeat():
    """One place + k repeats, from one end of the cloth to the other."""
    assert steps(20.0, 56.0, 0.0, 140.0) == [20.0, 76.0, 132.0]
    assert steps(70.0, 56.0, 0.0, 140.0) == [14.0, 70.0, 126.0]
    assert steps(25.0, None, 0.0, 140.0) == [25.0]
    assert steps(200.0, None, 0.0, 140.0) == []


def test_a_figure_comes_again_with_what_it_lies_in():
    """In a border with the border's repeat alone; on the ground with the ground's, also across."""
    rose, bud = (Figure(name=n, x=10.0, y=y, radius=5.0) for n, y in (("rose", 60.0), ("bud", 300)))
    vine = Border(name="vine", side="lower", base=20.0, height=80.0, repeat=50.0)
    design = Print(repeat_along=70.0, repeat_across=90.0, borders=(vine,), figures=(rose, bud))
    in_band = of_figure(rose, design, 900.0).copies((10.0, 60.0), (0.0, 0.0), (200.0, 900.0))
    assert sorted(in_band) == [(x, 60.0) for x in (10.0, 60.0, 110.0, 160.0)]
    on_ground = of_figure(bud, design, 900.0).copies((10.0, 300.0), (0.0, 290.0), (100.0, 400.0))
    assert sorted(on_ground) == [(10.0, 300.0), (10.0, 390.0), (80.0, 300.0), (80.0, 390.0)]
    once = replace(design, borders=(replace(vine, repeat=None),), repeat_along=None)
    assert list(
        of_figure(rose, once, 900.0).copies((10.0, 60.0), (-200.0, 0.0), (200.0, 900.0))
    ) == [(10.0, 60.0)]


@given(st.tuples(*[st.floats(0.0, 60.0)] * 2), st.sampled_from(["straight", "half-drop", "brick"]))
@settings(max_examples=40, deadline=None)
def test_every_motion_leads_to_its_place(point, drop):
    """Each motion carries the point to a place of its own, and to as many as there are copies."""
    design = Print(repeat_along=60.0, repeat_across=48.0, axes_along=(7.0,), drop=drop)
    low, high = (-150.0, -150.0), (150.0, 150.0)
    led = [tuple(m.of(np.asarray(point))) for m in ground(design).moves(point, low, high)]
    again = list(ground(design).copies(point, low, high))
    assert np.array(led) == pytest.approx(np.array(again))
    assert all(math.dist(a, b) > 0.04 for i, a in enumerate(led) for b in led[:i])
