"""Facings: held against plane geometry on arcs drawn here, and against worked figures of the trade.

Same shape, same grain (NMSU C-233); the parallel of an arc of the radius r at w is an arc of r ± w;
the net line of a darted edge is what is left when the dart is folded out.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.draft_facing import CHANGE, DraftFacing
from clothwright.checks import run_checks
from clothwright.errors import CannotDo
from clothwright.geometry.arcs import ellipse_arc
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import companions_of
from clothwright.pattern.finding import Severity
from clothwright.pattern.measure import net_length
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Cut, Dart, Edge, Grain, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.words import say
from tests.faults.lying import four_sided
from tests.garments.wardrobe import GARMENTS
from tests.specimens import bodice, skirt


def done(pattern, *edges, **more):
    return CHANGE.apply(pattern, DraftFacing(edges=edges, **more)).pattern


def arc(radius, start_deg, sweep_deg):
    return Path(
        ellipse_arc(
            Vec(0.0, 0.0),
            (radius, radius),
            0.0,
            math.radians(start_deg),
            math.radians(sweep_deg),
        )
    )


def sector(name, start_deg, sweep_deg, *, fold=False):
    """A piece round a quarter of a neck: radius 80 inside, 300 outside, straight sides."""
    hem, neck = arc(300.0, start_deg, sweep_deg), arc(80.0, start_deg + sweep_deg, -sweep_deg)
    edges = (
        Edge(name="hem", path=hem, role=Role.HEM, allowance=20.0),
        Edge(name="shoulder", path=polyline((hem.end, neck.start)), allowance=15.0),
        Edge(name="neck", path=neck, allowance=10.0),
        Edge(
            name="middle",
            path=polyline((neck.end, hem.start)),
            role=Role.FOLD if fold else Role.SEAM,
            allowance=0.0 if fold else 15.0,
        ),
    )
    grain = Grain(start=Vec(200.0, 20.0), end=Vec(100.0, 20.0))
    return Piece(name=name, edges=edges, grain=grain, cuts=(Cut(how="fold" if fold else "pair"),))


def cape():
    """Front and back of a cape, a quarter of a ring each, sewn at the shoulder."""
    front, back = sector("front", 0.0, 90.0, fold=True), sector("back", 0.0, 90.0)
    shoulder = Seam(
        name="shoulder",
        a=(EdgeRef("front", "shoulder", reversed=True),),
        b=(EdgeRef("back", "shoulder", reversed=True),),
    )
    return Pattern(pieces=(front, back), seams=(shoulder,))


def test_the_faced_edge_is_the_garments_own_point_for_point():
    """Oracle (5) for facings: outer edge = garment edge; the same grain; notches stay."""
    pattern = bodice()
    new = done(pattern, "front.armhole", "back.armhole")
    for name in ("front", "back"):
        own, facing = pattern.piece(name), new.piece(f"{name} armhole facing")
        assert facing.edge("armhole").path == own.edge("armhole").path
        assert facing.edge("armhole").notches == own.edge("armhole").notches
        assert facing.up == own.up


def test_the_inner_line_of_a_quarter_of_a_ring():
    """Radius 80, width 50: the inner line is a quarter of 130, θ·w longer (trade figure 3.1)."""
    facing = done(cape(), "front.neck", width=50.0).piece("front neck facing")
    inner = facing.edge("inner")
    assert inner.length == pytest.approx(math.pi / 2 * 130.0, abs=0.05)
    assert inner.length - facing.edge("neck").length == pytest.approx(math.pi / 2 * 50, abs=0.05)
    away = [inner.path.point_at(k * 10.0).norm for k in range(20)]
    assert away == pytest.approx([130.0] * 20, abs=0.02)
    assert facing.edge("shoulder").length == pytest.approx(50.0, abs=0.02)
    assert facing.fold is not None
    assert [c.how for c in facing.cuts] == ["fold"]


def test_in_one_piece_over_the_shoulder_it_is_half_a_ring():
    """Both are drawn as the same quarter: the back is turned over, and the neck goes on."""
    pattern = done(cape(), "front.neck", "back.neck", width=50.0, whole=True)
    facing = pattern.piece("neck facing")
    inner = facing.edge("inner")
    assert inner.length == pytest.approx(math.pi * 130.0, abs=0.1)
    ends = inner.path.start.distance(inner.path.end)
    assert ends == pytest.approx(260.0, abs=0.1)
    assert {e.name for e in facing.edges} == {
        *("front neck", "back neck", "front middle", "back middle", "inner")
    }
    assert facing.fold is not None
    assert not [s.name for s in pattern.seams if s.name == "shoulder facing"]
    (seam,) = [s for s in pattern.seams if s.kind == "facing"]
    assert [pattern.edge(r).length for r in seam.a] == pytest.approx(
        [pattern.edge(r).length for r in seam.b]
    )


def test_facings_are_sewn_together_where_their_pieces_are():
    pattern = done(cape(), "front.neck", "back.neck", width=40.0)
    seam = pattern.seam("shoulder facing")
    assert [str(r) for r in (*seam.a, *seam.b)] == [
        "front neck facing.shoulder reversed",
        "back neck facing.shoulder reversed",
    ]


def test_a_dart_in_the_edge_is_closed():
    """The facing of a darted waist is as long as the waist is sewn, and has no dart."""
    pattern = skirt()
    new = done(pattern, "skirt front.waist", "skirt back.waist", width=50.0)
    for name in ("skirt front", "skirt back"):
        facing = new.piece(f"{name} waist facing")
        assert pattern.piece(name).darts
        assert facing.darts == ()
        net = net_length(pattern.piece(name), "waist")
        assert facing.edge("waist").length == pytest.approx(net, abs=0.01)


def test_a_dart_beside_the_edge_that_reaches_in_is_closed():
    """A dart on the shoulder, 20 to 32 from the neck, lies in a facing of 60.

    Beyond it the shoulder turns by the dart's angle: 20 and then 40 / cos of that angle.
    """
    front = sector("front", 0.0, 90.0, fold=True)
    shoulder = front.edge("shoulder")
    end = shoulder.length
    point = shoulder.path.point_at(end - 26.0) + Vec(70.0, 0.0)
    dart = Dart(name="neck", edge="shoulder", a=end - 32.0, b=end - 20.0, point=point)
    darted = Pattern(pieces=(replace(front, darts=(dart,)),))
    facing = done(darted, "front.neck", width=60.0).piece("front neck facing")
    assert facing.darts == ()
    angle = 2 * math.atan(6.0 / 70.0)
    assert facing.edge("shoulder").length == pytest.approx(20 + 40 / math.cos(angle), abs=0.02)
    assert facing.edge("neck").length == pytest.approx(front.edge("neck").length)


def test_the_worked_widths_of_the_trade():
    """Cut edge to cut edge 7.0 cm with 1.5 cm on both sides is 4.0 cm finished (D)."""
    straight = polyline(((0, 0), (300, 0), (300, 500), (0, 500), (0, 0)))
    edges = tuple(
        Edge(name=n, path=Path((s,)), allowance=15.0)
        for n, s in zip(("hem", "side", "top", "front"), straight.segments, strict=True)
    )
    plain = Pattern(pieces=(Piece(name="coat", edges=edges, cuts=(Cut(how="pair"),)),))
    facing = done(plain, "coat.front", width=40.0, allowance=15.0).piece("coat front facing")
    low, high = cutting_line(facing).outline.bounds()
    assert high.x - low.x == pytest.approx(70.0)
    assert facing.cuts == (Cut(how="pair"),)


def test_a_corner_between_two_faced_edges_is_rounded_outwards():
    """Front edge and neck in one: never narrower than its width, and fair on the inside."""
    plain = Pattern(pieces=(sector("front", 0.0, 90.0),))
    facing = done(plain, "front.neck", "front.middle", width=40.0).piece("front facing")
    inner = facing.edge("inner").path
    outer = Path((*facing.edge("neck").path.segments, *facing.edge("middle").path.segments))
    away = [outer.nearest(inner.point_at(inner.length * k / 50))[1] for k in range(51)]
    assert min(away) > 39.98
    turns = [
        abs(math.degrees(a.tangent(1.0).cross(b.tangent(0.0))))
        for a, b in zip(inner.segments, inner.segments[1:], strict=False)
    ]
    assert max(turns) < 3.0


def test_a_hem_that_is_faced_is_a_seam():
    pattern = done(skirt(), "skirt front.hem", width=50.0, allowance=12.0)
    hem = pattern.piece("skirt front").edge("hem")
    assert (hem.role, hem.allowance) == (Role.SEAM, 12.0)
    assert pattern.piece("skirt front hem facing").edge("hem").role is Role.SEAM


def test_the_widest_that_will_do_will_do():
    with pytest.raises(CannotDo) as caught:
        done(bodice(), "front.neck", width=300.0)
    widest = caught.value.nearest[1]
    assert done(bodice(), "front.neck", width=math.floor(widest * 10) / 10)
    with pytest.raises(CannotDo):
        done(bodice(), "front.neck", width=widest + 2.0)


def test_it_is_a_companion_from_birth_and_nothing_is_found():
    pattern = bodice()
    new = done(pattern, "front.neck", "back.neck")
    (neck,) = companions_of(new, "front")
    assert (neck.piece, neck.kind, neck.by) == ("front neck facing", "facing", "drafted")
    assert [(a.edge, a.edge_of) for a in neck.of] == [("neck", "neck")]
    known = {(f.code, f.where) for f in run_checks(pattern)}
    more = [f for f in run_checks(new) if (f.code, f.where) not in known]
    assert [f.code for f in more if f.severity is Severity.FAULT] == []
    seams = {s.name: s for s in new.seams}
    for name in ("front neck facing seam", "back neck facing seam", "shoulder seam facing"):
        one, two = (
            sum(net_length(new.piece(r.piece), r.edge) for r in side)
            for side in (seams[name].a, seams[name].b)
        )
        assert one == pytest.approx(two, abs=0.2)


def test_an_edge_is_faced_once():
    pattern = done(bodice(), "front.neck")
    with pytest.raises(CannotDo, match="cannot be faced again"):
        done(pattern, "front.neck")


def test_a_turned_over_back_gives_the_same_facing():
    """However the back lies in its drawing, the facing over the shoulder is the same."""
    pattern = bodice()
    over = reflection((0.0, 0.0), (1.0, 3.0))
    flipped = pattern.with_piece(moved(pattern.piece("back"), over))
    seams = tuple(
        replace(
            s,
            **{
                side: tuple(
                    replace(r, reversed=not r.reversed) if r.piece == "back" else r
                    for r in getattr(s, side)
                )
                for side in ("a", "b")
            },
        )
        for s in flipped.seams
    )
    flipped = replace(flipped, seams=seams)
    options = {"width": 45.0, "whole": True}
    one = done(pattern, "front.armhole", "back.armhole", **options).piece("armhole facing")
    two = done(flipped, "front.armhole", "back.armhole", **options).piece("armhole facing")
    for a in one.edges:
        b = two.edge(a.name)
        assert a.path.middle.is_near(b.path.middle, 1e-6)
        assert a.length == pytest.approx(b.length, abs=1e-6)


def test_the_record_says_how_long_the_inner_edges_are():
    outcome = CHANGE.apply(cape(), DraftFacing(edges=("front.neck",), width=50.0))
    said = say(outcome.said, Unit.cm)
    assert said.startswith("Drafted front neck facing, 5 cm wide; the inner edge")
    assert said.endswith("of front neck facing is 20.4 cm long.")


@pytest.mark.parametrize("name", ["princess", "blouse", "shirt", "knit top", "wrap dress"])
def test_the_inner_line_goes_on_over_every_seam(name):
    """On garments drafted apart: no corner where facings meet, no seam longer on one side."""
    pattern = GARMENTS[name]()
    holes = [r for s in pattern.seams if s.kind == "cap" for r in s.a]
    known = {(f.code, f.where) for f in run_checks(pattern)}
    for whole in (False, True):
        new = done(pattern, *(f"{r.piece}.{r.edge}" for r in holes), width=50.0, whole=whole)
        more = [f for f in run_checks(new) if (f.code, f.where) not in known]
        assert {f.code for f in more} <= {"grain-off-facing"}


def test_where_no_facing_has_room_something_else_is_named():
    """A piece 4 mm high along the edge: no strip of 3 cm, nor one that could be sewn on at all."""
    sliver = four_sided("flap", Vec(0, 0), Vec(200, 4), cuts=())
    with pytest.raises(CannotDo, match=r"no room .*a binding, or edges beside which"):
        done(Pattern(pieces=(sliver,)), "flap.c", width=30.0)
