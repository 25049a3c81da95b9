"""Shoulders made squarer or more sloping, wider or narrower, or moved forward.

Figures of the tables: plane geometry, worked independently of this code (pages in docs/changes).
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from clothwright.changes import (
    broad_back,
    forward_shoulder,
    move_edge,
    shoulder_slope,
    shoulder_width,
    unfold,
)
from clothwright.changes.alike import asked_alike
from clothwright.changes.broad_back import BroadBack
from clothwright.changes.change import Outcome
from clothwright.changes.forward_shoulder import ForwardShoulder
from clothwright.changes.hinge import hinge_deg
from clothwright.changes.move_edge import MoveEdge
from clothwright.changes.shoulder_slope import ShoulderSlope
from clothwright.changes.shoulder_width import ShoulderWidth
from clothwright.changes.upper import Upper
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Severity
from clothwright.pattern.measure import dart_intake, dart_legs, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Notch, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.dart_specimens import assert_same_shape
from tests.changes.figures import CM, alone, at
from tests.garments.princess import princess
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice, seam


def half(long: float = 12.5, drop: float = 4.5, hollow: float = 3.0, under: float = 20.0) -> Piece:
    """Half a front: shoulder so long that drops so much, a hollow armhole; cm."""
    neck = at(7, 41)
    tip = neck + at(math.sqrt(long**2 - drop**2), -drop)
    arm = at(24, under)
    hole = Path((Cubic(arm, arm + at(-hollow - 2, 0), tip + at(-hollow, -8), tip),))
    return Piece(
        name="front",
        edges=(
            Edge(name="waist", path=polyline((at(0, 0), at(23, 0))), corner="waist centre"),
            Edge(name="side", path=polyline((at(23, 0), arm)), corner="waist side"),
            Edge(name="armhole", path=hole, corner="underarm", notches=(Notch(at=80.0),)),
            Edge(name="shoulder", path=polyline((tip, neck)), corner="tip"),
            Edge(name="neck", path=polyline((neck, at(0, 33))), corner="neck point"),
            Edge(name="centre", path=polyline((at(0, 33), at(0, 0))), role=Role.CENTRE),
        ),
    )


def slope(piece: Piece, by: float, **more: str) -> Piece:
    params = ShoulderSlope(pieces=("front",), by=by, **more)
    return shoulder_slope.CHANGE.apply(alone(piece), params).pattern.piece("front")


def slope_deg(piece: Piece) -> float:
    way = piece.point("tip") - piece.point("neck point")
    return math.degrees(math.atan2(-way.y, way.x))


@pytest.mark.parametrize(
    ("by", "angle", "out"),
    [
        (0.6, 18.18, 0.21),
        (1.0, 16.26, 0.34),
        (1.3, 14.83, 0.42),
        (2.0, 11.54, 0.59),
        (-0.6, 24.08, -0.25),
        (-1.0, 26.10, -0.44),
    ],
)
def test_square_and_sloping(by: float, angle: float, out: float) -> None:
    """A shoulder of 12.5 that drops 4.5 (21.10 degrees): the new slope, and how far the tip goes.

    Moving the tip straight up by 1.0 would shorten it by 0.32: the length is kept instead.
    """
    before = half()
    after = slope(before, by * CM)
    assert slope_deg(before) == pytest.approx(21.10, abs=0.005)
    assert slope_deg(after) == pytest.approx(angle, abs=0.006)
    moved = after.point("tip") - before.point("tip")
    assert moved / CM == pytest.approx((out, by), abs=0.006)
    assert net_length(after, "shoulder") == pytest.approx(125.0, abs=1e-6)
    straight = (before.point("tip") + Vec(0, 10) - before.point("neck point")).norm
    assert 125.0 - straight == pytest.approx(3.2, abs=0.05)


LONG, DROP, HOLLOW, UNDER = (
    st.floats(9, 15),
    st.floats(2, 6),
    st.floats(1, 5),
    st.floats(17, 23),
)


@settings(max_examples=25)
@given(long=LONG, drop=DROP, hollow=HOLLOW, under=UNDER, by=st.floats(-20, 20))
def test_square_and_back(long: float, drop: float, hollow: float, under: float, by: float) -> None:
    """Shoulder, armhole and neck keep their lengths on any; up and down again comes back."""
    before = half(long, drop, hollow, under)
    after = slope(before, by)
    assert not self_crossings(after.outline)
    for name in ("shoulder", "armhole", "neck", "centre", "waist"):
        assert net_length(after, name) == pytest.approx(net_length(before, name), abs=1e-6)
    assert_same_shape(before, slope(after, -by), 1e-6)


def test_both_pieces_keep_their_seams() -> None:
    """Front and back raised alike: shoulder and armhole fit as they did, the dart goes along."""
    pattern = bodice()
    done = shoulder_slope.CHANGE.apply(pattern, ShoulderSlope(pieces=("front", "back"), by=10.0))
    for name in ("front", "back"):
        for edge in ("shoulder", "armhole"):
            old, new = pattern.piece(name), done.pattern.piece(name)
            assert net_length(new, edge) == pytest.approx(net_length(old, edge), abs=1e-6)
    words = say(done.said, Unit.cm)
    assert "Made the shoulder of front and back squarer: its tip is 1 cm higher" in words
    assert "sleeve and collar stay" in words


def test_the_tip_alone() -> None:
    """Asked so, the underarm stays and the armhole grows by about as much."""
    before = half()
    after = slope(before, 10.0, armhole="tip")
    assert after.point("underarm") == before.point("underarm")
    assert 5.0 < net_length(after, "armhole") - net_length(before, "armhole") < 12.0


def test_more_than_the_shoulder_is_refused() -> None:
    """A shoulder of 12.5 that drops 4.5 can rise by 17 at the most."""
    with pytest.raises(CannotDo, match="less than 170 mm"):
        slope(half(), 180.0)


# --- wide and narrow -----------------------------------------------------------------------------


def wide(piece: Piece, by: float) -> Piece:
    params = ShoulderWidth(pieces=("front",), by=by)
    return shoulder_width.CHANGE.apply(alone(piece), params).pattern.piece("front")


def upright(tip: Vec) -> Piece:
    """A level shoulder, its tip 12 above the armhole's notch: the table's case; cm."""
    base = half()
    hole = polyline((at(24, 20), tip - Vec(0, 120.0), tip))
    notch = Notch(at=at(24, 20).distance(tip - Vec(0, 120.0)))
    edges = {
        "armhole": Edge(name="armhole", path=hole, corner="underarm", notches=(notch,)),
        "shoulder": Edge(name="shoulder", path=polyline((tip, at(7, 41))), corner="tip"),
        "side": Edge(name="side", path=polyline((at(23, 0), at(24, 20))), corner="waist side"),
    }
    return Piece(name="front", edges=tuple(edges.get(e.name, e) for e in base.edges))


@pytest.mark.parametrize(
    ("opening", "turn", "moved"),
    [(0.6, 3.13, 0.65), (1.0, 5.21, 1.09), (1.3, 6.78, 1.42)],
)
def test_the_table_of_wide_shoulders(opening: float, turn: float, moved: float) -> None:
    """Opened so much 11 above the hinge, the armhole turns so far and the tip, 12 off, goes so far.

    The shoulder is made longer by what its tip goes: the same turn is found from there.
    """
    assert hinge_deg(opening, 11.0) == pytest.approx(turn, abs=0.005)
    assert 24 * math.sin(math.radians(turn / 2)) == pytest.approx(moved, abs=0.006)
    before = upright(at(19, 41))
    after = wide(before, 120.0 * math.sin(math.radians(turn)))
    way = after.point("tip") - after.point("armhole notch 1")
    assert math.degrees(math.atan2(way.x, way.y)) == pytest.approx(turn, abs=0.15)
    assert after.point("tip").distance(before.point("tip")) / CM == pytest.approx(moved, abs=0.03)


@settings(max_examples=25)
@given(long=LONG, drop=DROP, hollow=HOLLOW, under=UNDER, by=st.floats(-18, 20))
def test_wide_and_back(long: float, drop: float, hollow: float, under: float, by: float) -> None:
    """Only the shoulder changes its length, by just so much; out and in again comes back.

    One that falls by more than half its length cannot swing so far.
    """
    assume(long >= 2 * drop)
    before = half(long, drop, hollow, under)
    after = wide(before, by)
    assert not self_crossings(after.outline)
    for name in ("armhole", "neck", "centre", "waist", "side"):
        assert net_length(after, name) == pytest.approx(net_length(before, name), abs=1e-6)
    grown = net_length(after, "shoulder") - net_length(before, "shoulder")
    assert grown == pytest.approx(by, abs=1e-6)
    assert_same_shape(before, wide(after, -by), 1e-6)


def test_front_and_back_grow_alike() -> None:
    """Both made 1 cm longer, the shoulder seam fits as before: nothing more has to follow."""
    both = ShoulderWidth(pieces=("front", "back"), by=10.0)
    words = say(shoulder_width.CHANGE.apply(bodice(), both).said, Unit.cm)
    assert "Now make" not in words
    one = shoulder_width.CHANGE.apply(bodice(), ShoulderWidth(pieces=("front",), by=10.0))
    assert "Now make back, shoulder 1 cm longer" in say(one.said, Unit.cm)


# --- broad and narrow back -----------------------------------------------------------------------


def broad(pattern: Pattern, by: float, into: str = "") -> Outcome:
    return broad_back.CHANGE.apply(pattern, BroadBack(piece="back", by=by, into=into))


def test_a_broad_back_eased() -> None:
    """Without a dart the shoulder is longer and its seam means so much more ease."""
    pattern = bodice()
    out = broad(pattern, 8.0)
    old, new = pattern.piece("back"), out.pattern.piece("back")
    assert net_length(new, "shoulder") - net_length(old, "shoulder") == pytest.approx(8.0)
    assert net_length(new, "armhole") == pytest.approx(net_length(old, "armhole"), abs=1e-6)
    seams = [p.seam("shoulder seam").ease for p in (pattern, out.pattern)]
    assert seams[1] - seams[0] == pytest.approx(8.0)
    words = say(out.said, Unit.cm)
    assert "0.8 cm wider" in words
    assert "Now make" not in words
    narrow = broad(pattern, -20.0)
    assert narrow.pattern.seams == pattern.seams
    assert "Now make front, shoulder 2 cm shorter" in say(narrow.said, Unit.cm)


@settings(max_examples=15)
@given(first=st.floats(4, 15), more=st.floats(1, 20))
def test_a_broad_back_darted(first: float, more: float) -> None:
    """The shoulder dart is as much wider; shoulder and armhole net stay; narrower comes back."""
    pattern = bodice()
    old = pattern.piece("back")
    one = broad(pattern, first, "dart").pattern
    two = broad(one, more).pattern
    for pattern_now, width in ((one, first), (two, first + more)):
        back = pattern_now.piece("back")
        assert dart_intake(back, back.dart("shoulder")) == pytest.approx(width, abs=1e-6)
        legs = dart_legs(back, back.dart("shoulder"))
        assert legs[0] == pytest.approx(legs[1], abs=1e-6)
        for edge in ("shoulder", "armhole", "neck", "side"):
            assert net_length(back, edge) == pytest.approx(net_length(old, edge), abs=1e-6)
    home = broad(broad(two, -more).pattern, -first, "dart").pattern.piece("back")
    assert_same_shape(old, home, 1e-6)


# --- forward -------------------------------------------------------------------------------------


def sleeved() -> Pattern:
    """The bodice with a sleeve sewn in, its notch "shoulder" where the shoulder seam is."""
    pattern = bodice()
    hole = [net_length(pattern.piece(n), "armhole") for n in ("back", "front")]
    whole = sum(hole) + 20.0
    cap = polyline(((0, 0), (whole / 2, 60), (whole, 0)))
    share = hole[0] / sum(hole) * cap.length
    sleeve = Piece(
        name="sleeve",
        edges=(
            Edge(
                name="cap",
                path=cap.reversed(),
                notches=(Notch(at=cap.length - share, name="shoulder"),),
            ),
            Edge(name="hem", path=polyline(((0, 0), (whole, 0)))),
        ),
    )
    runs = "back.armhole reversed,front.armhole reversed"
    caps = seam("armhole", runs, "sleeve.cap reversed", kind="cap", ease=cap.length - sum(hole))
    return replace(pattern, pieces=(*pattern.pieces, sleeve), seams=(*pattern.seams, caps))


@pytest.mark.parametrize("by", [4.0, 10.0, 16.0, -10.0])
def test_forward(by: float) -> None:
    """What the front armhole loses the back's gains; shoulders stay; the sleeve's mark goes by x.

    The sum of both armholes changes by 0, and the mark moves by x.
    """
    pattern = sleeved()
    out = forward_shoulder.CHANGE.apply(pattern, ForwardShoulder(seam="shoulder seam", by=by))
    change = {
        (name, edge): net_length(out.pattern.piece(name), edge)
        - net_length(pattern.piece(name), edge)
        for name in ("front", "back")
        for edge in ("armhole", "shoulder", "neck", "side")
    }
    assert change.pop(("front", "armhole")) == pytest.approx(-by, abs=1e-6)
    assert change.pop(("back", "armhole")) == pytest.approx(by, abs=1e-6)
    assert list(change.values()) == pytest.approx([0.0] * 6, abs=1e-6)
    marks = [p.piece("sleeve").edge("cap").notches[0].at for p in (pattern, out.pattern)]
    assert marks[1] - marks[0] == pytest.approx(-by, abs=1e-6)
    words = say(out.said, Unit.cm)
    assert "forward" in words or by < 0
    assert "Now make" not in words
    assert "The notch at the top of sleeve goes along" in words


@pytest.mark.parametrize("at", [60.0, 330.0])
def test_the_mark_goes_along_on_a_cap_in_two_parts(at: float) -> None:
    """The cap is cut in two, as an upper and an under sleeve have it: the mark lies on one part."""
    pattern = sleeved()
    sleeve, seam_ = pattern.piece("sleeve"), pattern.seam("armhole")
    cap = sleeve.edge("cap")
    shoulder = cap.notches[0].at
    assert abs(shoulder - at) > 30.0
    parts = zip(("cap", "cap under"), cap.path.split_at(at), strict=True)
    first, second = (replace(cap, name=n, path=path, notches=()) for n, path in parts)
    on_first = shoulder < at
    notch = replace(cap.notches[0], at=shoulder if on_first else shoulder - at)
    first, second = (
        (replace(first, notches=(notch,)), second)
        if on_first
        else (first, replace(second, notches=(notch,), corner="joint"))
    )
    i = sleeve.index("cap")
    cut = replace(sleeve, edges=(*sleeve.edges[:i], first, second, *sleeve.edges[i + 1 :]))
    runs = tuple(EdgeRef("sleeve", n, reversed=True) for n in ("cap under", "cap"))
    others = tuple(s for s in pattern.seams if s is not seam_)
    pattern = replace(pattern.with_piece(cut), seams=(*others, replace(seam_, b=runs)))
    out = forward_shoulder.CHANGE.apply(pattern, ForwardShoulder(seam="shoulder seam", by=8.0))
    (now,) = (n for e in out.pattern.piece("sleeve").edges for n in e.notches)
    assert now.at - notch.at == pytest.approx(-8.0, abs=1e-6)
    assert "The notch at the top of sleeve goes along" in say(out.said, Unit.cm)


# --- whole pieces, and panels --------------------------------------------------------------------


def test_a_whole_back_is_changed_on_both_sides() -> None:
    """Unfolded, both shoulders become longer, or squarer, alike; the middle stays."""
    pattern = unfold.CHANGE.apply(bodice(), unfold.Unfold(pieces=("back",))).pattern
    whole = pattern.piece("back")
    holes = [e.name for e in whole.edges if "armhole" in e.name]
    assert len(holes) == 2
    for changed in (
        shoulder_width.CHANGE.apply(pattern, ShoulderWidth(pieces=("back",), by=8.0)),
        shoulder_slope.CHANGE.apply(pattern, ShoulderSlope(pieces=("back",), by=8.0)),
    ):
        after = changed.pattern.piece("back")
        (low, high), (_, tall) = after.outline.bounds(), whole.outline.bounds()
        assert low.x + high.x == pytest.approx(sum(p.x for p in whole.outline.bounds()), abs=1e-6)
        assert tall.y == pytest.approx(high.y, abs=1e-6)
        for name in holes:
            assert net_length(after, name) == pytest.approx(net_length(whole, name), abs=1e-6)


def test_a_panel_without_a_shoulder_is_refused() -> None:
    """Above the armhole of a side panel there is a seam that runs up: that is no shoulder."""
    panel = princess().piece("side front")
    with pytest.raises(CannotDo, match="no shoulder"):
        shoulder_slope.CHANGE.apply(princess(), ShoulderSlope(pieces=(panel.name,), by=8.0))


@pytest.mark.parametrize("by", [10.0, -10.0])
def test_a_back_under_a_yoke_has_no_shoulder(by: float) -> None:
    """A shirt's shoulder is its yoke's: the back's own seam to the yoke keeps its length.

    Named with the yoke the back is left out, by itself it is refused, and the yoke is named.
    """
    change, shirt = shoulder_width.CHANGE, GARMENTS["shirt"]()
    after = change.apply(shirt, ShoulderWidth(pieces=("front", "yoke", "back"), by=by))
    assert after.pattern.piece("back") == shirt.piece("back")
    assert (
        after.pattern == change.apply(shirt, ShoulderWidth(pieces=("front", "yoke"), by=by)).pattern
    )
    with pytest.raises(CannotDo, match=r"no shoulder.*yoke; its armhole takes this one along"):
        change.apply(shirt, ShoulderWidth(pieces=("back",), by=by))


def test_the_lining_s_shoulder_seam_goes_along() -> None:
    """Where coat front and back have a lining, the same is asked for the seam of its shoulders."""
    coat = GARMENTS["lined coat"]()
    asked = ForwardShoulder(seam="coat shoulder", by=8.0)
    (other,) = (p for p in asked_alike(forward_shoulder.CHANGE, coat, asked) if "lining" in p.seam)
    assert other == ForwardShoulder(seam="lining shoulder", by=8.0)


def test_a_yoke_swings_about_its_seam_where_the_back_goes_on_below() -> None:
    """The armhole swings about its pitch notch (trade facts 3, 1.2), never about the shoulder's.

    A shirt's yoke has only the upper part of the armhole, without that notch: its lower corner is
    the seam to the back, which stays. Where what lies below is not known it is refused.
    """
    p = GARMENTS["shirt"]()
    wide = ShoulderWidth(pieces=("front", "yoke"), by=10.0)
    yoke = shoulder_width.CHANGE.apply(p, wide).pattern.piece("yoke")
    assert yoke.edge("back seam") == p.piece("yoke").edge("back seam")
    with pytest.raises(CannotDo, match="has no notch in its middle part"):
        shoulder_width.CHANGE.apply(replace(p, seams=(), companions=()), wide)
    named = replace(upright(at(19, 41)).edge("armhole"), notches=(Notch(at=90.0, name="shoulder"),))
    upper = Upper(piece=upright(at(19, 41)).with_edge(named), armhole=named, rising=True)
    assert upper.pitches == ()
    assert upper.pitch == pytest.approx(named.length / 2)


def test_a_shoulder_within_a_yoke_is_moved_by_its_edges() -> None:
    """The seam of a yoke is refused; what is said to be tried brings no fault."""
    pattern = GARMENTS["shirt"]()
    with pytest.raises(CannotDo, match="edge of the yoke out and that of the front in"):
        forward_shoulder.CHANGE.apply(pattern, ForwardShoulder(seam="front yoke", by=10.0))
    for edge, by in (("yoke.front seam", 10.0), ("front.yoke seam", -10.0)):
        pattern = move_edge.CHANGE.apply(pattern, MoveEdge(edge=edge, by=by)).pattern
    assert [f.code for f in run_checks(pattern) if f.severity is Severity.FAULT] == []
