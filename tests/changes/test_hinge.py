"""Parts of a piece swung about hinges: lengths, distances, and which way a piece is drawn.

The rules are plane geometry: a seam met only at the hinge keeps its length, one cut through changes
by just the opening measured on it, a part keeps its own measures (docs/sources.md, alterations).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes.hinge import (
    Swung,
    apart,
    first_met,
    hinge_deg,
    refuse_blocked,
    swing,
    swung_apart,
    turned_to_gain,
)
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, cut_in_two
from clothwright.errors import CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import IDENTITY, reflection, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Edge, Grain, Level, Mark, Notch, Piece
from clothwright.pattern.whole import moved

NUMBER = st.floats(-50, 50)
SPREAD = st.floats(1, 40)


def sheet() -> Piece:
    """A square of 200, notched half-way up its right edge, with a level line and a marked line."""
    ring = (Vec(0, 0), Vec(200, 0), Vec(200, 200), Vec(0, 200), Vec(0, 0))
    names = ("low", "right", "top", "left")
    edges = [
        Edge(name=n, path=polyline(ring[k : k + 2]), corner=f"{n} corner")
        for k, n in enumerate(names)
    ]
    edges[1] = Edge(
        name="right", path=edges[1].path, corner="right corner", notches=(Notch(at=150.0),)
    )
    return Piece(
        name="sheet",
        edges=tuple(edges),
        grain=Grain(start=Vec(20, 20), end=Vec(20, 180)),
        levels=(Level(name="half", at=Vec(0, 60)),),
        marks=(Mark(name="fold", path=polyline(((60, 40), (140, 40)))),),
    )


@given(opening=st.floats(0.1, 80), radius=st.floats(60, 400))
def test_an_opening_is_a_turn(opening: float, radius: float) -> None:
    """Turned by 2 asin(x / 2r), a point at the distance r from the hinge goes so far."""
    turn = hinge_deg(opening, radius)
    assert turn is not None
    at = Vec(radius, 0.0)
    assert rotation_deg(turn).apply(at).distance(at) == pytest.approx(opening, abs=1e-9)
    assert hinge_deg(2 * radius, radius) is None


@given(x=st.floats(-90, 90), y=st.floats(20, 90), by=st.floats(-30, 30))
def test_an_arm_turned_to_gain(x: float, y: float, by: float) -> None:
    """It keeps its length and reaches so much more; None where it is too short for that."""
    arm = Vec(x, -y)
    now = turned_to_gain(arm, by, Vec(1.0, 0.0))
    if now is None:
        assert abs(x + by) > arm.norm - 1e-9
    else:
        assert now.norm == pytest.approx(arm.norm, abs=1e-9)
        assert now.x - arm.x == pytest.approx(by, abs=1e-9)
        assert now.y <= 0.0
        assert swing(Vec(5, 5), arm, now).apply(Vec(5, 5) + arm).is_near(Vec(5, 5) + now, 1e-9)


@given(px=NUMBER, py=NUMBER, qx=st.floats(60, 150), qy=NUMBER, sx=NUMBER, sy=st.floats(60, 150))
def test_a_point_so_far_from_two(
    px: float, py: float, qx: float, qy: float, sx: float, sy: float
) -> None:
    """From its own distances a point is found again, on its own side."""
    ends, point = (Vec(px, py), Vec(qx, qy)), Vec(sx, sy)
    found = apart(ends, (point.distance(ends[0]), point.distance(ends[1])), point)
    assert found is not None
    assert found.is_near(point, 1e-3)
    assert apart(ends, (1.0, 1.0), point) is None


def spread(piece: Piece, by: float, mirrored: bool = False) -> Piece:
    """Cut up the middle and across the right half; spread below and to the right."""
    way = -1.0 if mirrored else 1.0
    middle = Vec(way * 100.0, 100.0)
    openings = [Opening(n, 100.0, 100.0) for n in ("low", "right", "top")]
    parts = (
        Swung(inner=(middle,), move=translation((way * by, -by))),
        Swung(inner=(middle,), move=translation((way * by, 0.0))),
        Swung(inner=(middle,), move=IDENTITY),
    )
    return swung_apart(piece, openings, parts).piece


@settings(max_examples=25)
@given(by=SPREAD)
def test_what_is_cut_through_grows_by_the_opening(by: float) -> None:
    """Low and top edge are let out by the spread, the right one by the drop; the left stays."""
    before, after = sheet(), spread(sheet(), by)
    grown = {e.name: after.edge(e.name).length - e.length for e in before.edges}
    step = math.hypot(by, by)
    assert grown["top"] == pytest.approx(by, abs=1e-9)
    assert grown["right"] == pytest.approx(by, abs=1e-9)
    assert grown["left"] == 0.0
    assert grown["low"] == pytest.approx(step, abs=1e-9)
    assert after.edge("right").notches[0].at == pytest.approx(150.0 + by, abs=1e-9)
    assert after.grain == before.grain
    mark = after.marks[0]
    assert mark.path is not None
    assert len(after.marks) == 1  # let-in cloth: the line runs on over it
    assert mark.path.length == pytest.approx(80.0 + step, abs=1e-6)


@settings(max_examples=25)
@given(by=SPREAD)
def test_a_mirrored_piece_is_cut_alike(by: float) -> None:
    """Listed the same way on a mirrored piece, whose outline runs the other way, it is mirrored."""
    flip = reflection((0.0, 0.0), (0.0, 1.0))
    one = moved(spread(sheet(), by), flip)
    other = spread(moved(sheet(), flip), by, mirrored=True)
    for edge in one.edges:
        twin = other.edge(edge.name).path
        assert edge.path.start.is_near(twin.start, 1e-9)
        assert edge.path.end.is_near(twin.end, 1e-9)


@given(turn=st.floats(0.5, 20))
def test_a_seam_met_at_the_hinge_keeps_its_length(turn: float) -> None:
    """Cut from the middle of the low edge to a hinge on the top: the top is as long as before."""
    piece = sheet()
    hinge = Opening("top", 100.0, 100.0)
    slash = cut_in_two(piece, Opening("low", 100.0, 100.0), hinge)
    after = rejoined(slash, (rotation_deg(turn, Vec(100, 200)), IDENTITY)).piece
    assert after.edge("top").length == pytest.approx(200.0, abs=1e-9)
    opened = after.edge("low").length - 200.0
    assert opened == pytest.approx(400 * math.sin(math.radians(turn / 2)), abs=1e-6)


def test_cuts_that_reach_over_each_other_are_refused() -> None:
    """Two openings of one edge that overlap leave nothing between them."""
    piece = sheet()
    openings = (Opening("low", 50.0, 120.0), Opening("low", 110.0, 130.0), Opening("top", 9.0, 9.0))
    parts = [Swung(inner=(Vec(100, 100),), move=IDENTITY)] * 3
    with pytest.raises(CannotDo, match="at the same place"):
        swung_apart(piece, openings, parts)


def test_a_cut_has_to_stay_on_the_piece() -> None:
    """A line out of the piece is refused, and so is a start outside it."""
    piece = sheet()
    refuse_blocked(piece, polyline(((100, 100), (200, 100))), "no")
    with pytest.raises(CannotDo, match="leave the piece"):
        refuse_blocked(piece, polyline(((100, 100), (260, 100), (260, 50), (200, 50))), "no")
    with pytest.raises(CannotDo, match="outside"):
        first_met(piece, Vec(300, 300), Vec(-1, 0))
