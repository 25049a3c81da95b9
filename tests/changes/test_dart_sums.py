"""Darts added up and shared out: angles add, widths follow the legs (trade facts, darts)."""

from __future__ import annotations

import itertools
import math

import pytest

from clothwright.changes import (
    add_dart,
    divide_dart,
    merge_darts,
    rotate_dart,
    shift_dart,
    shorten_dart,
)
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.measure import dart_angle_deg, dart_intake, dart_legs, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Grain, Mark, Piece, Role
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.figures import told_anew
from tests.garments.wardrobe import GARMENTS

LEGS = {"waist": (-90.0, 160.0), "side": (0.0, 140.0)}
"""Where each dart of 3 cm opens, seen from the bust point at the origin: degrees, mm of leg."""


def _ends(name: str) -> tuple[Vec, Vec]:
    at, leg = LEGS[name]
    half = math.degrees(math.asin(15.0 / leg))
    return unit_at(at - half) * leg, unit_at(at + half) * leg


def front(name: str = "front", short: float = 0.0) -> Pattern:
    """Half a front round a bust point at the origin, 3 cm out of the waist and of the side.

    The neck lies 19 cm from the bust point, the shoulder 24; the darts stop `short` of it (mm).
    """
    lines: dict[str, tuple[Vec, ...]] = {
        "waist": (Vec(-95, -160), *_ends("waist"), Vec(142, -160)),
        "side": (Vec(142, -160), *_ends("side"), Vec(145, 90)),
        "armhole": (Vec(145, 90), Vec(120, 240)),
        "shoulder": (Vec(120, 240), Vec(-20, 240)),
        "neck": (Vec(-20, 240), Vec(-95, 190)),
        "centre": (Vec(-95, 190), Vec(-95, -160)),
    }
    edges = tuple(
        Edge(name=n, path=polyline(ps), role=Role.FOLD if n == "centre" else Role.SEAM)
        for n, ps in lines.items()
    )
    darts = tuple(
        Dart(
            name=n,
            edge=n,
            a=lines[n][0].distance(lines[n][1]),
            b=lines[n][0].distance(lines[n][1]) + 30.0,
            point=unit_at(LEGS[n][0]) * short,
        )
        for n in LEGS
    )
    piece = Piece(
        name=name,
        edges=edges,
        darts=darts,
        grain=Grain(start=Vec(-50, -100), end=Vec(-50, 100)),
        marks=(Mark(name="bust point", at=Vec(0.0, 0.0)),),
    )
    return Pattern(pieces=(piece,))


def merge(pattern: Pattern) -> Piece:
    name = pattern.pieces[0].name
    params = merge_darts.MergeDarts(dart=f"{name}.side", into=f"{name}.waist")
    return merge_darts.apply(pattern, params).pattern.pieces[0]


@pytest.mark.parametrize("short", [0.0, 20.0])
def test_two_darts_become_one_of_both_angles(short: float) -> None:
    """Waist 3.0 at 16 and side 3.0 at 14: 23.06 degrees, 6.40 wide at 16 (O29), not 6.0.

    So too where both are sewn 2 cm short of the bust point. Source: plane geometry, 2 L sin(t/2).
    """
    before, after = front(short=short).piece("front"), merge(front(short=short))
    dart = after.dart("waist")
    assert [d.name for d in after.darts] == ["waist"]
    assert dart_intake(after, dart) == pytest.approx(64.0, abs=0.05)
    assert dart.point.distance((0.0, 0.0)) == pytest.approx(short, abs=1e-6)
    assert dart_legs(after, dart)[0] == pytest.approx(dart_legs(after, dart)[1], abs=1e-6)
    if not short:
        assert dart_angle_deg(after, dart) == pytest.approx(23.06, abs=0.005)
    for edge in before.edges:
        assert net_length(after, edge.name) == pytest.approx(
            net_length(before, edge.name), abs=0.01
        )
    assert after.edge("centre") == before.edge("centre")


def test_back_darts_are_not_merged() -> None:
    """Two darts of a back have points of their own (O37); the refusal says how far apart."""
    with pytest.raises(CannotDo, match="a place of its own") as caught:
        merge(front("back", short=20.0))
    assert "28.3 mm apart" in str(caught.value)


def test_a_dart_shared_between_neck_and_shoulder() -> None:
    """12.30 degrees: two thirds to the neck at 19 cm 2.72, the rest to the shoulder 1.72.

    O30. The shoulder is 24 cm above the bust point; the neck's place is found by its distance.
    """
    pattern = front()
    path: Path = pattern.piece("front").edge("neck").path
    at = min(range(int(path.length)), key=lambda s: abs(path.point_at(s).norm - 190.0))
    rotate = rotate_dart.RotateDart
    first = rotate(dart="front.side", to="front.neck", at=float(at), share=2 / 3, name="neck")
    one = rotate_dart.apply(pattern, first).pattern
    shoulder = one.piece("front").edge("shoulder").path
    up = shoulder.nearest(Vec(0.0, 0.0))[0]
    second = rotate(dart="front.side", to="front.shoulder", at=up)
    both = rotate_dart.apply(one, second).pattern.piece("front")
    scale = 190.0 / dart_legs(both, both.dart("neck"))[0]
    assert dart_intake(both, both.dart("neck")) * scale == pytest.approx(27.2, abs=0.05)
    leg = dart_legs(both, both.dart("side"))[0]
    assert dart_intake(both, both.dart("side")) * 240.0 / leg == pytest.approx(17.2, abs=0.05)


@pytest.mark.parametrize("into", [2, 3, 4])
def test_a_cluster(into: int) -> None:
    """Equal angles that add up; points 1 1/2 in before the bust point and 1 in apart (O35).

    Source: course of a government training institute; the edge is sewn as long as before.
    """
    before = front().piece("front")
    params = divide_dart.DivideDart(dart="front.waist", into=into)
    after = divide_dart.apply(front(), params).pattern.piece("front")
    darts = sorted(after.darts_on("waist"), key=lambda d: d.a)
    assert len(darts) == into
    assert [d.point.y for d in darts] == pytest.approx([-38.1] * into, abs=1e-6)
    apart = [b.point.x - a.point.x for a, b in itertools.pairwise(darts)]
    assert apart == pytest.approx([25.4] * (into - 1), abs=1e-6)
    assert net_length(after, "waist") == pytest.approx(net_length(before, "waist"), abs=0.5)
    path = after.edge("waist").path
    for d in darts:
        legs = dart_legs(after, d)
        assert legs[0] == pytest.approx(legs[1], abs=1e-6)
        ends = path.point_at(d.a), path.point_at(d.b)
        share = math.degrees(math.acos(ends[0].unit.dot(ends[1].unit)))
        assert share == pytest.approx(10.76 / into, rel=0.05)
    assert dart_angle_deg(after, after.dart("side")) == pytest.approx(12.30, abs=0.005)


def test_an_added_dart_takes_its_width_out_of_its_edge_alone() -> None:
    """The edge is sewn shorter by the width, no other edge; legs are equal though it leans."""
    before = front().piece("front")
    params = add_dart.AddDart(
        edge="front.shoulder", width=13.0, length=80.0, at=100.0, toward="front.bust point"
    )
    after = add_dart.apply(front(), params).pattern.piece("front")
    dart = after.dart("shoulder")
    legs = dart_legs(after, dart)
    assert legs[0] == pytest.approx(legs[1], abs=1e-6)
    assert dart_intake(after, dart) == pytest.approx(13.0, abs=0.15)
    for edge in before.edges:
        less = 13.0 if edge.name == "shoulder" else 0.0
        now = net_length(before, edge.name) - net_length(after, edge.name)
        assert now == pytest.approx(less, abs=0.3)


def test_a_dart_shifted_keeps_its_width_and_its_edge() -> None:
    """2 cm away from the centre: as wide, as long, the point moved alike; the waist as long."""
    before = front().piece("front")
    params = shift_dart.ShiftDart(dart="front.waist", by=20.0)
    after = shift_dart.apply(front(), params).pattern.piece("front")
    old, new = before.dart("waist"), after.dart("waist")
    assert new.point - old.point == pytest.approx((20.0, 0.0), abs=0.05)
    assert dart_intake(after, new) == pytest.approx(30.0, abs=0.01)
    assert dart_legs(after, new) == pytest.approx(dart_legs(before, old), abs=0.05)
    assert net_length(after, "waist") == pytest.approx(net_length(before, "waist"), abs=0.01)


@pytest.mark.parametrize(
    ("back", "leg", "angle"), [(13, 127.1, 13.56), (25, 115.2, 14.97), (38, 102.3, 16.86)]
)
def test_a_point_set_back_from_the_bust_point(back: float, leg: float, angle: float) -> None:
    """A dart 3.0 wide, 14 long: legs 12.71, 11.52, 10.23 and wider angles (O34)."""
    params = shorten_dart.ShortenDart(dart="front.side", by=float(back))
    after = shorten_dart.apply(front(), params).pattern.piece("front")
    dart = after.dart("side")
    assert dart_legs(after, dart) == pytest.approx((leg, leg), abs=0.05)
    assert dart_angle_deg(after, dart) == pytest.approx(angle, abs=0.01)
    assert dart_intake(after, dart) == pytest.approx(30.0, abs=1e-6)


def test_an_added_dart_says_how_the_edge_turns_when_it_is_sewn() -> None:
    """2 cm at 8 cm close 14.3 degrees (2 asin(1/8)); a straight side bends by about as much.

    A dart that runs out far away bends it by less, and nothing is said.
    """
    p = GARMENTS["wrap dress"]()
    short = add_dart.AddDart(edge="bodice back.side", width=20.0, length=80.0)
    said = say(add_dart.apply(p, short).said, Unit.cm)
    turn = float(said.partition("turns by ")[2].partition("°")[0])
    assert turn == pytest.approx(math.degrees(2 * math.asin(1 / 8)), abs=1.5)
    long = add_dart.AddDart(edge="bodice back.side", width=5.0, length=120.0)
    assert "turns by" not in say(add_dart.apply(p, long).said, Unit.cm)


@pytest.mark.parametrize("by", [15.0, -15.0])
@pytest.mark.parametrize(
    ("garment", "dart"),
    [
        ("trousers", "back.back dart"),
        ("wrap dress", "bodice back.back waist dart"),
    ],
)
def test_a_waist_runs_fair_still_where_its_dart_was_shifted(
    garment: str, dart: str, by: float
) -> None:
    """Drafted with the dart shut, a waist has a point there as drawn, which would stay behind.

    As sewn the waist is as long as it was, and bends nowhere: nothing is left for the walk.
    """
    before = GARMENTS[garment]()
    after = shift_dart.apply(before, shift_dart.ShiftDart(dart=dart, by=by)).pattern
    assert told_anew(before, after, garment) == []
    piece = dart.split(".", maxsplit=1)[0]
    was, now = (net_length(p.piece(piece), "waist") for p in (before, after))
    assert now == pytest.approx(was, abs=1.5)
    intakes = [
        dart_intake(p.piece(piece), p.piece(piece).dart(dart.split(".")[1]))
        for p in (before, after)
    ]
    assert intakes[1] == pytest.approx(intakes[0], abs=0.5)
