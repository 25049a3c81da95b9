"""Gaping necklines and armholes: what is pinched out goes to the dart; angles add up.

Figures: plane geometry, worked independently of this code (docs/changes/gaping.md).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwright.changes.change import Outcome
from clothwright.changes.gaping import CHANGE, Gaping
from clothwright.errors import CannotDo, Mistakes
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.measure import dart_angle_deg, dart_intake, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Notch, Piece
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import say
from tests.changes.figures import BUST, CM, alone, at, table_front
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice, seam


def square_on(piece: Piece, edge: str, way_deg: float, far: float) -> tuple[Piece, Vec]:
    """Redraw an edge so that it lies square to a direction from the bust point, so far off (cm)."""
    middle = BUST + unit_at(way_deg) * far * CM
    half = unit_at(way_deg + 90) * 30
    old = piece.edge(edge)
    path = polyline((old.path.start, middle - half, middle + half, old.path.end))
    return piece.with_edge(replace(old, path=path, notches=())), middle


def pinched(piece: Piece, **more: object) -> Outcome:
    return CHANGE.apply(alone(piece), Gaping(**more))  # type: ignore[arg-type]


def place(piece: Piece, edge: str, where: Vec) -> Piece:
    """The piece with a notch "gap" at a place."""
    old = piece.edge(edge)
    return piece.with_edge(
        replace(old, notches=(Notch(at=old.path.nearest(where)[0], name="gap"),))
    )


@pytest.mark.parametrize(
    ("by", "turn", "wide"), [(0.6, 1.91, 3.46), (1.0, 3.18, 3.77), (1.5, 4.78, 4.16)]
)
def test_the_table_of_necks(by: float, turn: float, wide: float) -> None:
    """18 from the bust point, a side dart of 3.0 at 14: the turn, and how wide the dart is then."""
    front, middle = square_on(table_front(dart_deg=12.301), "neck", 110.0, 18.0)
    front = place(front, "neck", middle)
    out = pinched(front, at="front.neck notch gap", by=by * CM, into="front.side")
    after = out.pattern.piece("front")
    assert dart_angle_deg(after, after.dart("bust")) == pytest.approx(12.301 + turn, abs=0.02)
    assert dart_intake(after, after.dart("bust")) / CM == pytest.approx(wide, abs=0.012)
    shorter = net_length(front, "neck") - net_length(after, "neck")
    assert shorter / CM == pytest.approx(by, abs=1e-6)
    for name in ("armhole", "shoulder", "side", "waist", "centre"):
        assert net_length(after, name) == pytest.approx(net_length(front, name), abs=1e-3)


def test_the_armhole_of_the_table() -> None:
    """1 cm out of an armhole 14 off is 4.09 degrees, and opens 1.21 at a waist 17 off."""
    front, middle = square_on(table_front(), "armhole", 50.0, 14.0)
    front = place(front, "armhole", middle)
    front = front.with_edge(
        Edge(name="waist", path=polyline((at(0, 0), BUST - Vec(0, 170), at(23.5, 0))))
    )
    out = pinched(front, at="front.armhole notch gap", by=CM, into="front.waist", point="")
    after = out.pattern.piece("front")
    dart = after.darts[0]
    assert dart.edge == "waist"
    low, high = (after.edge("waist").path.point_at(x) for x in (dart.a, dart.b))
    reach = max(low.distance(BUST), high.distance(BUST))
    assert low.distance(high) * 170 / reach / CM == pytest.approx(1.21, abs=0.012)


def test_the_sleeve_is_told() -> None:
    """An armhole pinched by 1 cm: the cap has 1 cm more ease, or has to be made 1 cm shorter."""
    front = table_front(dart_deg=12.3)
    sleeve = Piece(
        name="sleeve",
        edges=(
            Edge(name="cap", path=polyline((at(30, 0), at(15, 13), at(0, 0)))),
            Edge(name="hem", path=polyline((at(0, 0), at(30, 0)))),
        ),
    )
    pattern = Pattern(
        pieces=(front, sleeve),
        seams=(seam("armhole", "front.armhole", "sleeve.cap", kind="cap"),),
    )
    params = Gaping(at="front.armhole", by=10.0, into="front.side")
    words = say(CHANGE.apply(pattern, params).said, Unit.cm)
    assert "Pinched 1 cm out of armhole of front" in words
    assert "Now make sleeve, cap 1 cm shorter" in words
    assert "sleeve, cap is eased by 1 cm more" in words
    lot = CHANGE.apply(pattern, replace(params, by=16.0)).said
    assert "matter of size" in say(lot, Unit.cm)


def test_nothing_is_let_in() -> None:
    """A minus is no pinch."""
    with pytest.raises(Mistakes):
        read_params(
            Gaping,
            {"at": "front.neck", "by": "-1 cm", "into": "front.side"},
            unit=Unit.cm,
            where="change",
        )


@settings(max_examples=20)
@given(
    by=st.floats(2, 15),
    at=st.floats(0.25, 0.75),
    edge=st.sampled_from(("neck", "armhole", "shoulder")),
    into=st.sampled_from(("side", "waist")),
    dart=st.sampled_from((0.0, 8.0, 15.0)),
)
def test_only_what_gapes_is_shorter(
    by: float, at: float, edge: str, into: str, dart: float
) -> None:
    """Wherever it gapes: that edge is just so much shorter, the others as long."""
    front = table_front(dart_deg=dart)
    old = front.edge(edge)
    front = front.with_edge(replace(old, notches=(Notch(at=old.length * at, name="gap"),)))
    place_of = {"side": "front.side", "waist": "front.waist middle"}
    try:
        out = pinched(front, at=f"front.{edge} notch gap", by=by, into=place_of[into])
    except CannotDo:
        return  # a corner of the armhole, or too slanting
    after = out.pattern.piece("front")
    for name in ("waist", "side", "armhole", "shoulder", "neck", "centre"):
        shorter = net_length(front, name) - net_length(after, name)
        assert shorter == pytest.approx(by if name == edge else 0.0, abs=1e-3)
    assert not self_crossings(after.outline)


def test_an_edge_gapes_where_it_faces_the_bust() -> None:
    """An armhole that is named whole is pinched where it runs squarely to the bust point."""
    front = GARMENTS["lined coat"]().piece("coat front")
    out = pinched(front, at="coat front.armhole", by=6.0, into="coat front.side")
    after = out.pattern.piece("coat front")
    assert net_length(front, "armhole") - net_length(after, "armhole") == pytest.approx(6.0)
    with pytest.raises(CannotDo, match='"front" cannot lose 6 mm of its neck into its fold'):
        CHANGE.apply(bodice(), Gaping(at="front.neck", by=6.0, into="front.fold"))
