"""Full and small bust: the worked example point by point, the tables, and what has to stay.

The figures are those of a worked example in plane geometry, computed independently of this code
(docs/changes/full-bust.md).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes import unfold
from clothwright.changes.darts import with_true_cap
from clothwright.changes.full_bust import CHANGE, FullBust
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.area import polygon_area
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.pattern.measure import dart_angle_deg, dart_intake, dart_legs, net_length
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Dart, Edge, Mark, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.dart_specimens import assert_same_shape
from tests.changes.figures import BUST, CM, PITCH, alone, at, example_front, front_of, table_front
from tests.garments.princess import princess
from tests.specimens import bodice

KEPT = ("armhole", "shoulder", "neck", "side")


def altered(piece: Piece, by: float, **more: str) -> Piece:
    done = CHANGE.apply(alone(piece), FullBust(piece="front", by=by, **more))
    return done.pattern.piece("front")


def mouth(piece: Piece) -> tuple[Vec, Vec]:
    dart = piece.darts[0]
    path = piece.edge(dart.edge).path
    return path.point_at(dart.a), path.point_at(dart.b)


@pytest.fixture(scope="module")
def example() -> Piece:
    """The worked example: 2 cm more on the half, no dart before."""
    return altered(example_front(), 2 * CM, side="front.side notch bust")


@pytest.mark.parametrize(
    ("name", "x", "y"),
    [
        ("bust point", 11.5, 15.962),
        ("underarm", 25.181, 22.213),
        ("armhole notch pitch", 17.0, 29.0),
        ("waist centre", 0.0, -1.038),
        ("waist side", 25.0, -1.038),
        ("neck centre", 0.0, 33.0),
        ("neck point", 7.0, 41.0),
        ("tip", 19.0, 37.0),
    ],
)
def test_the_worked_example(example: Piece, name: str, x: float, y: float) -> None:
    """Each corner of the altered front lies where the worked example has it, to 0.001 cm."""
    assert example.point(name) / CM == pytest.approx((x, y), abs=0.001)


def test_the_dart_of_the_worked_example(example: Piece) -> None:
    """Its mouth is 2.337 cm between (25.619, 11.962) and (26.075, 14.254); 9.134 degrees at BP.

    Both leg ends are 14.675 from the bust point.
    """
    low, high = mouth(example)
    bust = example.point("bust point")
    assert low / CM == pytest.approx((25.619, 11.962), abs=0.001)
    assert high / CM == pytest.approx((26.075, 14.254), abs=0.001)
    assert dart_intake(example, example.darts[0]) / CM == pytest.approx(2.337, abs=0.001)
    assert [p.distance(bust) / CM for p in (low, high)] == pytest.approx([14.675] * 2, abs=0.001)
    assert turn_between_deg(low - bust, high - bust) == pytest.approx(9.134, abs=0.001)
    legs = dart_legs(example, example.darts[0])
    assert legs[0] == pytest.approx(legs[1], abs=1e-6)


def test_the_lengths_of_the_worked_example(example: Piece) -> None:
    """Armhole 18.876, side 21.024 as before; waist 23 to 25; centre 33 to 34.038.

    Its area, the dart sewn, is 886.3 cm2."""
    lengths = {e.name: net_length(example, e.name) / CM for e in example.edges}
    assert lengths["armhole"] == pytest.approx(18.876, abs=0.001)
    assert lengths["side"] == pytest.approx(21.024, abs=0.001)
    assert lengths["waist"] == pytest.approx(25.0, abs=0.001)
    assert lengths["centre"] == pytest.approx(34.038, abs=0.001)
    names = ("waist centre", "waist side", "underarm", "armhole notch pitch", "tip", "neck point")
    p = {n: example.point(n) for n in (*names, "neck centre")}
    low, high = mouth(example)
    ring = [p["waist centre"], p["waist side"], low, example.point("bust point"), high]
    ring += [p[n] for n in (*names[2:], "neck centre")]
    assert polygon_area(ring) / CM**2 == pytest.approx(886.30, abs=0.05)


@pytest.mark.parametrize(
    ("x", "turn", "drop", "wide", "gap"),
    [
        (0.5, 2.57, 0.26, 0.63, 0.56),
        (1.0, 5.09, 0.49, 1.24, 1.11),
        (1.5, 7.56, 0.69, 1.85, 1.65),
        (2.0, 9.99, 0.87, 2.44, 2.18),
        (2.5, 12.39, 1.03, 3.02, 2.70),
    ],
)
def test_the_table(x: float, turn: float, drop: float, wide: float, gap: float) -> None:
    """Turn, drop, dart and opening at the bust point, row by row of the table."""
    after = altered(table_front(), x * CM)
    bust = after.point("bust point")
    low, high = mouth(after)
    assert (BUST - bust).y / CM == pytest.approx(drop, abs=0.006)
    assert BUST.distance(bust) / CM == pytest.approx(gap, abs=0.006)
    assert turn_between_deg(low - bust, high - bust) == pytest.approx(turn, abs=0.006)
    reach = low.distance(bust)
    assert low.distance(high) * 140 / reach / CM == pytest.approx(wide, abs=0.006)


def test_an_old_dart_grows() -> None:
    """A dart of 12.30 degrees, 3.0 at 14, and 1.5 more: 19.86 degrees, 4.83 at the edge."""
    after = altered(table_front(dart_deg=12.30), 1.5 * CM)
    dart = after.dart("bust")
    assert dart_angle_deg(after, dart) == pytest.approx(19.86, abs=0.01)
    assert dart_intake(after, dart) / CM == pytest.approx(4.83, abs=0.005)


@pytest.mark.parametrize(
    ("x", "turn", "drop", "wide"),
    [(-0.5, -2.64, 0.29, 2.36), (-1.0, -5.35, 0.61, 1.70), (-1.5, -8.16, 0.96, 1.01)],
)
def test_a_small_bust(x: float, turn: float, drop: float, wide: float) -> None:
    """The dart of 3.0 is left so wide, and the centre is so much shorter."""
    before = table_front(dart_deg=12.301)
    after = altered(before, x * CM)
    dart = after.dart("bust")
    assert dart_intake(after, dart) / CM == pytest.approx(wide, abs=0.006)
    assert dart_angle_deg(after, dart) == pytest.approx(12.301 + turn, abs=0.01)
    shorter = net_length(before, "centre") - net_length(after, "centre")
    assert shorter / CM == pytest.approx(drop, abs=0.006)


def test_a_small_bust_without_a_dart_is_refused() -> None:
    """There is nothing to close: an error, not a silent lap; what is possible is said."""
    with pytest.raises(CannotDo, match="no dart in side"):
        altered(table_front(), -1 * CM)
    with pytest.raises(CannotDo, match=r"is only 30 mm wide.* 22 mm narrower"):
        altered(table_front(dart_deg=12.3), -4 * CM)


def test_the_bust_point_has_to_be_known() -> None:
    """Without a mark, a bust dart or a point that is named it is asked for."""
    bare = replace(front_of(), marks=())
    with pytest.raises(BadInput, match="bust point"):
        altered(bare, 10.0)
    darted = replace(table_front(dart_deg=12.3), marks=())
    darted = replace(darted, darts=(replace(darted.darts[0], name="side dart"),))
    with pytest.raises(BadInput, match='such as "side dart point", where its darts run out'):
        altered(darted, 10.0)
    assert altered(darted, 10.0, point="front.side dart point").darts
    apex = replace(bare, marks=(Mark(name="apex", at=BUST),))
    assert altered(apex, 10.0, point="front.apex").point("apex").x == pytest.approx(105.0)


def waist_dart_front() -> Piece:
    """The front of the tables with a waist dart below the bust point, 2 cm wide."""
    piece = table_front(dart_deg=12.3)
    dart = Dart(name="waist", edge="waist", a=85.0, b=105.0, point=BUST - Vec(0, 25.0))
    return replace(piece, darts=(*piece.darts, dart))


def test_a_waist_dart_takes_it_up() -> None:
    """With a waist dart the waist is sewn as long as before: the dart is 1.5 wider."""
    before = waist_dart_front()
    after = altered(before, 1.5 * CM)
    assert dart_intake(after, after.dart("waist")) == pytest.approx(35.0, abs=1e-6)
    assert net_length(after, "waist") == pytest.approx(net_length(before, "waist"), abs=0.3)
    with pytest.raises(CannotDo, match='"waist" is only'):
        altered(before, -2.1 * CM)
    pattern = alone(before)
    words = say(CHANGE.apply(pattern, FullBust(piece="front", by=15.0)).said, Unit.cm)
    assert 'Dart "waist" is 3.5 cm wide now.' in words
    added = altered(table_front(dart_deg=12.3), 1.5 * CM, waist="dart")
    assert dart_intake(added, added.dart("waist")) == pytest.approx(15.0, abs=1e-6)


AMOUNT = st.floats(3.0, 30.0)


@st.composite
def fronts(draw: st.DrawFn) -> Piece:
    """Plausible fronts: pitch, underarm and side where they may be, with a dart of 6 to 20."""
    pitch = BUST + at(draw(st.floats(4, 9)), draw(st.floats(8, 14)))
    angle, turn = draw(st.floats(6, 20)), draw(st.floats(-20, 4))
    leg = draw(st.floats(10, 15)) * CM
    ends = [BUST + unit_at(turn + s * angle / 2) * leg for s in (-1, 1)]
    under = ends[1] + at(draw(st.floats(-0.5, 1.0)), draw(st.floats(3.5, 7)))
    side = (ends[0] + at(draw(st.floats(-2, 1)), draw(st.floats(-16, -9))), *ends, under)
    return with_true_cap(front_of(pitch, side, dart=1), "bust")


@settings(max_examples=25)
@given(piece=fronts(), by=AMOUNT)
def test_what_stays(piece: Piece, by: float) -> None:
    """Armhole, shoulder, neck and side keep their lengths to 1e-6; more and less comes back.

    On random plausible fronts: a seam that a cut meets at its hinge alone keeps its length.
    """
    after = altered(piece, by)
    assert not self_crossings(after.outline)
    for name in KEPT:
        assert net_length(after, name) == pytest.approx(net_length(piece, name), abs=1e-6)
    bust = after.point("bust point")
    assert net_length(after, "centre") - net_length(piece, "centre") == pytest.approx(
        BUST.y - bust.y, abs=1e-6
    )
    assert bust.x - BUST.x == pytest.approx(by, abs=1e-9)
    home = altered(after, -by)
    assert_same_shape(piece, home, 1e-6)


def test_what_goes_with_it_is_told() -> None:
    """A skirt sewn to the waist and a facing along the centre follow by so much, in her unit."""
    front = table_front(dart_deg=12.3)
    band = replace(front_of(), name="skirt")
    facing = replace(front_of(), name="facing")
    pattern = Pattern(
        pieces=(front, band, facing),
        seams=(Seam(name="waist", a=(EdgeRef("front", "waist"),), b=(EdgeRef("skirt", "waist"),)),),
        companions=(
            Companion(
                piece="facing",
                kind="facing",
                of=(Along(edge="centre", piece="front", edge_of="centre"),),
            ),
        ),
    )
    said = CHANGE.apply(pattern, FullBust(piece="front", by=20.0)).said
    words = say(said, Unit.cm)
    assert "Made front 2 cm wider over the bust, 4 cm on the body." in words
    assert "Its centre is 0.9 cm longer, cut 4 cm below the bust point. Its waist is 2 cm" in words
    assert "Now make skirt, waist 2 cm longer, and facing, centre 0.9 cm longer" in words
    lot = CHANGE.apply(pattern, FullBust(piece="front", by=30.0)).said
    assert "another size" in say(lot, Unit.inch)
    assert "another size" not in words


def test_the_hinge_is_the_notch() -> None:
    """Left out, the armhole hinges at its notch; a place that is named is taken instead."""
    piece = table_front()
    low = altered(piece, 10.0, armhole="front.armhole middle")
    assert altered(piece, 10.0).point("underarm") != low.point("underarm")
    assert isinstance(piece.edge("armhole"), Edge)
    assert at(17, 29) == PITCH


def test_a_whole_front_and_a_princess_front_are_refused() -> None:
    """A whole front would drop on one side only; a bust point in a seam is shaped by that seam."""
    whole = unfold.CHANGE.apply(bodice(), unfold.Unfold(pieces=("front",))).pattern
    for armhole in ("", "front.armhole"):
        with pytest.raises(CannotDo, match="more than one armhole"):
            CHANGE.apply(whole, FullBust(piece="front", by=10.0, armhole=armhole))
    with pytest.raises(CannotDo, match="princess"):
        CHANGE.apply(princess(), FullBust(piece="centre front", by=10.0))


def test_no_waist_dart_from_a_long_hem() -> None:
    """A lower edge 45 cm below the bust is a coat's hem: a dart from there is refused."""
    piece = front_of()
    low = polyline((at(0, -30), at(23, -30)))
    centre = polyline((at(0, 33), at(0, -30)))
    edges = {"waist": low, "side": polyline((at(23, -30), at(24, 21))), "centre": centre}
    long = replace(
        piece,
        edges=tuple(replace(e, path=edges.get(e.name, e.path)) for e in piece.edges),
    )
    with pytest.raises(CannotDo, match="no waist dart begins there"):
        altered(long, 10.0, waist="dart")
    assert net_length(altered(long, 10.0), "waist") == pytest.approx(240.0)
