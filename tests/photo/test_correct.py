"""An outline follows what a hand does to it, and stays as found elsewhere."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.geometry.fit import smooth_through
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.vec import Vec
from clothwright.photo.correct import Correction, corners_along, mended

SIDE = 300.0
BOX = polyline([(0, 0), (SIDE, 0), (SIDE, SIDE), (0, SIDE), (0, 0)])
ROUND = join_all(
    [
        smooth_through([(200, 0), (0, 200), (-200, 0)], (0, 1), (0, -1)),
        smooth_through([(-200, 0), (0, -200), (200, 0)], (0, -1), (0, 1)),
    ]
)


def whole(path: Path) -> None:
    """Closed, without a gap anywhere."""
    assert path.start.distance(path.end) < 1e-9
    for a, b in pairwise(path.segments):
        assert a.end.distance(b.start) < 1e-6


def move(at: tuple[float, float], to: tuple[float, float]) -> Correction:
    return Correction(Vec(*at), Vec(*to))


def test_without_corrections_nothing_changes():
    """The very same path; nothing was moved."""
    after = mended(BOX, [])
    assert after.path is BOX
    assert after.farthest_mm == 0.0


def test_every_point_is_passed_through_in_any_order():
    """Five moves, some nearer than the reach to each other: exact; order makes no difference."""
    moves = [
        move((100, 0), (100, 2)),
        move((110, 0), (110, -1.5)),
        move((140, 0), (141, 1)),
        move((SIDE, SIDE), (SIDE + 4, SIDE + 1)),
        move((0, 20), (-2, 20)),
    ]
    one, other = mended(BOX, moves).path, mended(BOX, moves[::-1]).path
    whole(one)
    for m in moves:
        assert one.nearest(m.to)[1] < 1e-9
    assert [s.controls() for s in one.segments] == [s.controls() for s in other.segments]


def test_two_neighbours_moved_alike_move_what_is_between_them():
    """The line between two points that went 3 mm up has gone 3 mm up too: no dip."""
    after = mended(BOX, [move((100, 0), (100, 3)), move((140, 0), (140, 3))]).path
    for x in range(100, 141, 4):
        assert after.nearest((x, 3))[1] < 0.02


def test_away_from_a_move_the_outline_stays():
    """Farther than 25 mm (or twice the move) nothing moves, not by a thousandth."""
    for far in (2.0, 20.0):
        after = mended(BOX, [move((150, 0), (150, far))]).path
        reach = max(25.0, 2 * far)
        for s in range(0, 1200, 5):
            p = BOX.point_at(s)
            if p.distance(Vec(150, 0)) > reach + 0.01:
                assert after.nearest(p)[1] < 1e-6
        assert after.nearest((150 + reach / 2, 0))[1] > 0.3 * far


def test_a_corner_stays_a_corner_and_bounds_what_is_beside_it():
    """A move 10 mm from a corner does not move the corner; a moved corner turns as before."""
    after = mended(BOX, [move((290, 0), (290, -2))]).path
    assert after.nearest((SIDE, 0))[1] < 1e-9
    after = mended(BOX, [move((SIDE, 0), (SIDE + 3, -2))]).path
    assert len(corners_along(after)) == 4
    assert after.nearest((SIDE + 3, -2))[1] < 1e-9


def test_a_point_that_is_held_keeps_the_bend_on_its_side():
    """Added without moving it, it changes nothing; then a move beside it stops there."""
    pin = move((160, 0), (160, 0))
    assert mended(BOX, [pin]).path.nearest((150, 0))[1] < 1e-9
    after = mended(BOX, [pin, move((150, 0), (150, 3))]).path
    assert after.nearest((160, 0))[1] < 1e-9
    assert after.nearest((165, 0))[1] < 1e-9
    assert after.nearest((150, 3))[1] < 1e-9


def test_a_bump_taken_out_leaves_a_fair_line():
    """A bump of 3 mm on a straight edge, as lettering makes it: taken out, the edge is straight."""
    bump = smooth_through([(140, 0), (150, -3), (160, 0)], (1, 0), (1, 0))
    path = join_all(
        [polyline([(0, 0), (140, 0)]), bump, polyline([(160, 0), (SIDE, 0), (150, SIDE), (0, 0)])]
    )
    after = mended(path, [Correction(Vec(150, -3), None)])
    whole(after.path)
    for x in range(120, 181, 3):
        assert after.path.nearest((x, 0))[1] < 1e-6
    assert after.farthest_mm == pytest.approx(3.0, abs=0.05)
    assert after.taken[0].distance(Vec(150, -3)) < 1e-6


def test_a_corner_taken_out_is_rounded():
    """Three corners are left; the other three stay where they are."""
    after = mended(BOX, [Correction(Vec(SIDE, SIDE), None)]).path
    whole(after)
    assert after.nearest((SIDE, SIDE))[1] > 3.0
    assert len(corners_along(after)) == 3
    assert after.nearest((SIDE, 200))[1] < 1e-6


def test_a_round_outline_without_corners():
    """Moves, points taken out and both at once work without any corner."""
    for made in (
        [move((200, 0), (203, 0))],
        [Correction(Vec(0, 200), None)],
        [Correction(Vec(0, 200), None), move((200, 0), (205, 1))],
    ):
        after = mended(ROUND, made)
        whole(after.path)
        assert all(c.to is None or after.path.nearest(c.to)[1] < 1e-9 for c in made)
        assert len(after.holds) > 8


def test_the_later_of_two_for_one_place_counts():
    """The same place moved again goes to the new place."""
    after = mended(BOX, [move((150, 0), (150, 5)), move((150.2, 0), (150, -4))]).path
    assert after.nearest((150, -4))[1] < 1e-9
    assert after.nearest((150, 5))[1] > 4


def test_points_to_take_hold_of():
    """Every corner, every point put by hand where it was put, doubts, none farther than 90 mm."""
    after = mended(BOX, [move((100, 0), (101, 4))], [Vec(200, -6)])
    by_hand = [h for h in after.holds if h.by_hand]
    assert [h.now for h in by_hand] == [Vec(101, 4)]
    assert sum(h.corner for h in after.holds) == 4
    assert any(h.at.distance(Vec(200, 0)) < 1e-6 for h in after.holds)
    for h in after.holds:
        assert after.path.nearest(h.now)[1] < 1e-6
    ring = [h.at for h in after.holds]
    assert max(a.distance(b) for a, b in pairwise([*ring, ring[0]])) < 91


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.floats(0, 1199), st.floats(-9, 9), st.floats(-9, 9), st.sampled_from([0, 0, 0, 1])
        ),
        min_size=1,
        max_size=6,
    )
)
def test_whatever_is_corrected_the_outline_is_closed_and_true(rows):
    """Closed, finite, and through every point that is not given twice."""
    made, places = [], []
    for s, dx, dy, out in rows:
        at = BOX.point_at(s)
        corner = min(abs(s - c) for c in (0, 300, 600, 900, 1200))
        if corner < 8 or any(abs(s - p) < 8 for p in places):
            continue
        places.append(s)
        made.append(Correction(at, None if out else at + Vec(dx, dy)))
    after = mended(BOX, made)
    whole(after.path)
    assert math.isfinite(after.path.length)
    for c in made:
        if c.to is not None:
            assert after.path.nearest(c.to)[1] < 1e-6
