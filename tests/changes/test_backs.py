"""Round and sway backs: what opens and laps from a hinge, by the tables.

Figures: plane geometry, worked independently of this code (pages in docs/changes).
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes import round_back, sway_back
from clothwright.changes.round_back import RoundBack
from clothwright.changes.sway_back import SwayBack
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.measure import dart_intake, net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Grain, Level, Notch, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.dart_specimens import assert_same_shape
from tests.changes.figures import CM, alone, at, told_anew
from tests.garments.wardrobe import GARMENTS


def half_back(wide: float = 18.0, neck: float = 12.0, hollow: float = 0.0) -> Piece:
    """Half a back, centre on the left: the armhole's notch so wide off, the neck so high above it.

    A seam in the centre; the armhole's notch lies 28 above the waist. cm.
    """
    pitch, under, tip = at(wide, 28), at(wide + 4, 20), at(wide + 1, 38)
    low = Path((Cubic(under, under.lerp(pitch, 0.3), pitch - at(hollow, 3), pitch),))
    hole = low.joined(polyline((pitch, tip)))
    top = at(0, 28 + neck)
    neck_point = at(7, 28 + neck + 2.5)
    return Piece(
        name="back",
        edges=(
            Edge(name="waist", path=polyline((at(0, 0), at(21, 0))), corner="waist centre"),
            Edge(name="side", path=polyline((at(21, 0), under)), corner="waist side"),
            Edge(name="armhole", path=hole, corner="underarm", notches=(Notch(at=low.length),)),
            Edge(name="shoulder", path=polyline((tip, neck_point)), corner="tip"),
            Edge(name="neck", path=polyline((neck_point, top)), corner="neck point"),
            Edge(
                name="centre",
                path=polyline((top, at(0, 0))),
                corner="neck centre",
                role=Role.CENTRE,
            ),
        ),
        grain=Grain(start=at(3, 2), end=at(3, 24)),
        levels=(Level(name="waist", at=at(0, 1)), Level(name="small", at=at(0, 8))),
    )


def rounded(piece: Piece, by: float, into: str = "") -> Piece:
    params = RoundBack(piece="back", by=by, into=into)
    return round_back.CHANGE.apply(alone(piece), params).pattern.piece("back")


@pytest.mark.parametrize(
    ("by", "turn", "swings"), [(1.0, 3.18, 0.67), (1.5, 4.78, 1.00), (2.0, 6.37, 1.33)]
)
def test_the_table_of_round_backs(by: float, turn: float, swings: float) -> None:
    """Centre to hinge 18: the turn, and how far a neck corner 12 above the cut swings.

    A dart of that turn, 9 long, is 0.50, 0.75 and 1.00 wide.
    """
    before = half_back()
    after = rounded(before, by * CM, "seam")
    ways = [p.point("tip") - p.point("armhole notch 1") for p in (before, after)]
    assert abs(turn_between_deg(*ways)) == pytest.approx(turn, abs=0.006)
    lip = at(18, 28) + (at(0, 28) - at(18, 28)).unit * 180
    moved = after.point("neck centre") - before.point("neck centre")
    lifted = rotation_deg(-turn, at(18, 28)).apply(lip)
    assert (moved - (lifted - lip)).norm / CM == pytest.approx(swings, abs=0.006)
    assert 18 * math.sin(math.radians(turn / 2)) == pytest.approx(by / 2, abs=0.006)


def test_on_the_fold_it_is_not_shaped() -> None:
    """A centre on the fold has to stay straight: a dart, or a seam first."""
    piece = half_back()
    folded = piece.with_edge(replace(piece.edge("centre"), role=Role.FOLD))
    with pytest.raises(CannotDo, match=r"on the fold.* dart"):
        rounded(folded, 10.0, "seam")
    after = rounded(folded, 10.0)
    assert after.edge("centre").path.is_straight


@settings(max_examples=20)
@given(
    wide=st.floats(15, 20),
    neck=st.floats(9, 15),
    hollow=st.floats(0, 1),
    by=st.floats(3, 25),
    into=st.sampled_from(("", "neck", "seam")),
)
def test_what_stays(wide: float, neck: float, hollow: float, by: float, into: str) -> None:
    """Armhole, neck, shoulder and side keep their net lengths; longer and shorter comes back.

    With a dart the centre is straight and longer by just so much.
    """
    before = half_back(wide, neck, hollow)
    after = rounded(before, by, into)
    assert not self_crossings(after.outline)
    for name in ("armhole", "neck", "shoulder", "side", "waist"):
        assert net_length(after, name) == pytest.approx(net_length(before, name), abs=1e-6)
    if into != "seam":
        assert after.edge("centre").path.is_straight
        assert [d.edge for d in after.darts] == [into or "shoulder"]
    grown = net_length(after, "centre") - net_length(before, "centre")
    assert grown == pytest.approx(by, abs=1e-6)
    assert_same_shape(before, rounded(after, -by, into), 1e-6)


def test_the_dart_grows() -> None:
    """Done twice, the one shoulder dart is wider, no second one is added; more is refused."""
    once = rounded(half_back(), 6.0)
    twice = rounded(once, 6.0)
    assert [d.name for d in twice.darts] == ["shoulder"]
    wide = [dart_intake(p, p.dart("shoulder")) for p in (once, twice)]
    assert wide[1] > 1.6 * wide[0]
    with pytest.raises(CannotDo, match=r"would be used up.*shorter"):
        rounded(once, -9.0)
    with pytest.raises(CannotDo, match="no dart in shoulder"):
        rounded(half_back(), -9.0)


def test_what_is_said() -> None:
    """How much, where, and the dart's width, in her unit."""
    out = round_back.CHANGE.apply(alone(half_back()), RoundBack(piece="back", by=12.0))
    words = say(out.said, Unit.cm)
    assert words.startswith("Made back 1.2 cm longer down its centre, over the blades;")
    assert 'There is a new dart "shoulder" in shoulder, ' in words
    again = round_back.CHANGE.apply(out.pattern, RoundBack(piece="back", by=6.0))
    assert 'Dart "shoulder" in shoulder is ' in say(again.said, Unit.cm)


@pytest.mark.parametrize(
    ("garment", "piece"), [("lined coat", "coat back"), ("princess", "centre back")]
)
def test_a_collar_is_told_of_where_there_is_one(garment: str, piece: str) -> None:
    """A coat has a collar at its neck, a princess dress a facing."""
    said = round_back.CHANGE.apply(GARMENTS[garment](), RoundBack(piece=piece, by=8.0)).said
    assert ("The collar fits as it did." in say(said, Unit.inch)) is (garment == "lined coat")


# --- sway back -----------------------------------------------------------------------------------


def swayed(piece: Piece, by: float) -> Piece:
    params = SwayBack(piece="back", by=by, level="small")
    return sway_back.CHANGE.apply(alone(piece), params).pattern.piece("back")


def box(wide: float) -> Piece:
    """A back with an upright side, so wide from centre to side; cm."""
    piece = half_back()
    under = at(wide, 20)
    edges = {
        "waist": polyline((at(0, 0), at(wide, 0))),
        "side": polyline((at(wide, 0), under)),
        "armhole": polyline((under, at(18, 28), at(19, 38))),
    }
    return replace(
        piece,
        edges=tuple(replace(e, path=edges[e.name]) if e.name in edges else e for e in piece.edges),
    )


@pytest.mark.parametrize(("by", "turn"), [(0.6, 1.49), (1.3, 3.24), (2.0, 4.98)])
def test_the_table_of_sway_backs(by: float, turn: float) -> None:
    """Centre to side 23: the turn; centre shorter by w, the side not at all, half-way w / 2."""
    before = box(23.0)
    after = swayed(before, by * CM)
    ways = [p.point("waist side") - p.point("waist centre") for p in (before, after)]
    assert after.point("tip") == before.point("tip")  # the part with the grain line rests
    assert abs(turn_between_deg(*ways)) == pytest.approx(turn, abs=0.012)
    assert net_length(after, "side") == pytest.approx(net_length(before, "side"), abs=1e-6)
    shorter = net_length(before, "centre") - net_length(after, "centre")
    assert shorter / CM == pytest.approx(by, abs=0.001)
    half_way = 2 * 11.5 * math.sin(math.radians(turn / 2))
    assert half_way == pytest.approx(by / 2, abs=0.006)


@settings(max_examples=20)
@given(wide=st.floats(15, 20), neck=st.floats(9, 15), by=st.floats(2, 25))
def test_sway_and_back(wide: float, neck: float, by: float) -> None:
    """Only the centre changes its length; folded out and let in again comes back."""
    before = half_back(wide, neck)
    after = swayed(before, by)
    assert not self_crossings(after.outline)
    for name in ("armhole", "neck", "shoulder", "side", "waist"):
        assert net_length(after, name) == pytest.approx(net_length(before, name), abs=1e-6)
    assert_same_shape(before, swayed(after, -by), 1e-6)


def test_a_fold_is_drawn_straight() -> None:
    """On the fold the centre stays straight, and what the half gains in width is told."""
    piece = half_back()
    folded = piece.with_edge(replace(piece.edge("centre"), role=Role.FOLD))
    params = SwayBack(piece="back", by=13.0, level="small")
    out = sway_back.CHANGE.apply(alone(folded), params)
    after = out.pattern.piece("back")
    fold = after.edge("centre").path
    assert fold.is_straight
    assert abs(after.up.cross((fold.end - fold.start).unit)) < 1e-9
    assert "drawn straight again, and the half gains" in say(out.said, Unit.cm)


@pytest.mark.parametrize("by", [6.0, 13.0, -13.0])
def test_a_wedge_goes_through_every_panel_of_the_back(by: float) -> None:
    """It runs out evenly from the centre to the side: each seam on its way is shorter by its share.

    The shares by similar triangles on the widths at the waist; the seam has no bend of its own
    there, so that it is as much shorter to half a millimetre. The side keeps its length, and what
    is worn above the wedge still lies along what it is sewn to (the walk finds nothing).
    """
    before = GARMENTS["princess"]()
    params = SwayBack(piece="centre back", by=by, level="waist")
    out = sway_back.CHANGE.apply(before, params)
    names = ("centre back", "side back")
    # widths at the waist as drafted: 0 + 10 in at the centre, 80; then 24 to 134 on the side panel
    share = by * 110.0 / (80.0 - 10.0 + 110.0)

    def lost(piece: str, edge: str) -> float:
        return net_length(before.piece(piece), edge) - net_length(out.pattern.piece(piece), edge)

    assert [lost(n, "panel seam") for n in names] == pytest.approx([share, share], abs=0.6)
    assert lost("side back", "side") == pytest.approx(0.0, abs=1e-6)
    assert lost("centre back", "centre") == pytest.approx(by, abs=0.02)
    assert told_anew(before, out.pattern, "princess") == []
    assert "through side back, to nothing at the side of side back" in say(out.said, Unit.inch)


def test_a_dart_deeper_than_a_back_has_is_warned_of() -> None:
    """A back shoulder dart is 1.3 cm wide at 8 cm, 9.3 degrees at its point (textbook)."""
    little, much = (
        say(
            round_back.CHANGE.apply(alone(half_back()), RoundBack(piece="back", by=by)).said,
            Unit.cm,
        )
        for by in (4.0, 15.0)
    )
    assert "more than a back's dart takes" not in little
    assert "more than a back's dart takes" in much


def test_a_lining_that_is_sewn_to_the_zip_alone_has_its_centre_there() -> None:
    """Its centre is in no seam, and it is no fold: of both ends of the line, the one left open."""
    back = half_back()
    free = back.with_edge(replace(back.edge("centre"), role=Role.SEAM))
    front = replace(back, name="front")
    side = (EdgeRef("back", "side"),), (EdgeRef("front", "side"),)
    pattern = Pattern(pieces=(free, front), seams=(Seam(name="side", a=side[0], b=side[1]),))
    params = SwayBack(piece="back", by=8.0, level="small")
    found = sway_back.CHANGE.apply(pattern, params).pattern.piece("back")
    known = swayed(back, 8.0)
    assert [e.path for e in found.edges] == [e.path for e in known.edges]
    with pytest.raises(CannotDo, match="from its centre to its side"):
        sway_back.CHANGE.apply(replace(pattern, seams=()), params)
