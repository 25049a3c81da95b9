"""A print as a group of motions, held against worked figures of plane geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.cloth.motions import band, ground
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
        assert min(near) < 1e-6
