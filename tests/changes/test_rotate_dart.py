"""Rotating a dart: angles stay and add up, widths follow the legs, seams keep their length."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.dart_to_seam import CHANGE as DART_TO_SEAM
from clothwright.changes.dart_to_seam import DartToSeam
from clothwright.changes.darts import pressed_by_custom
from clothwright.changes.rotate_dart import CHANGE, RotateDart
from clothwright.changes.slash import is_inside
from clothwright.checks.levels_across import meetings
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import polyline
from clothwright.geometry.transform import rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at
from clothwright.pattern.measure import dart_angle_deg, dart_intake, dart_legs
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Grain, Piece, Role, signed_area
from clothwright.pattern.whole import moved
from clothwright.units import Unit
from clothwright.words import say
from tests.changes.dart_specimens import (
    APEX,
    MOVES,
    assert_same_shape,
    assert_sound,
    bodice,
    moved_pattern,
    net_lengths,
)
from tests.garments.wardrobe import GARMENTS
from tests.specimens import edge, line, sleeve

TARGETS = [
    ("front.shoulder", 60.0),
    ("front.armhole", 90.0),
    ("front.neck", 40.0),
    ("front.hem", 100.0),
    ("front.side", 30.0),
    ("front.side", 225.0),
    ("front.neck point", None),
    ("front.underarm", None),
]


def run(pattern: Pattern, **params: object) -> Pattern:
    return CHANGE.apply(pattern, RotateDart(**params)).pattern  # type: ignore[arg-type]


def textbook_piece() -> Pattern:
    """A dart of 13 cm legs, 2 cm wide, and an edge just 17 cm (another 20 cm) from its point."""
    half = math.degrees(math.asin(1 / 13))
    a, b = unit_at(-half) * 130.0, unit_at(half) * 130.0
    right = Edge(name="right", path=polyline(((128, -200), a, b, (128, 170))))
    lower = Vec(128, -200).distance(a)
    piece = Piece(
        name="front",
        edges=(
            right,
            Edge(name="top", path=polyline(((128, 170), (-60, 170)))),
            Edge(name="left", path=polyline(((-60, 170), (-60, -200)))),
            Edge(name="bottom", path=polyline(((-60, -200), (128, -200)))),
        ),
        darts=(Dart(name="bust", edge="right", a=lower, b=lower + 20.0, point=Vec(0.0, 0.0)),),
        grain=Grain(start=Vec(-40, -100), end=Vec(-40, 100)),
    )
    return Pattern(pieces=(piece,))


def wedge_area(piece: Piece) -> float:
    """Area between each dart's legs and its cap, mm2."""
    total = 0.0
    for dart in piece.darts:
        cap = piece.edge(dart.edge).path.between(dart.a, dart.b).flatten(0.01)
        ring = (dart.point, *cap)
        total += sum(p.cross(q) for p, q in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2
    return total


def fine_area(piece: Piece) -> float:
    ring = piece.outline.flatten(0.002)
    return sum(p.cross(q) for p, q in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2


@pytest.mark.parametrize(
    ("edge", "at", "leg", "wide"),
    [
        ("top", 128.0, 170.0, 26.15),
        ("bottom", 60.0, 200.0, 30.77),
    ],
)
def test_textbook_dart_moved(edge: str, at: float, leg: float, wide: float) -> None:
    """13 cm legs and 2 cm make 8.82 degrees; 17 cm away 2.615 cm, 20 cm away 3.077 cm.

    Source: published trigonometry example of dart angles, and 2 L sin(angle / 2).
    """
    before = textbook_piece().piece("front")
    assert dart_angle_deg(before, before.dart("bust")) == pytest.approx(8.82, abs=0.005)
    after = run(textbook_piece(), dart="front.bust", to=f"front.{edge}", at=at).piece("front")
    dart = after.dart("bust")
    assert dart.edge == edge
    assert dart_angle_deg(after, dart) == pytest.approx(8.82, abs=0.005)
    assert dart_legs(after, dart) == pytest.approx((leg, leg), abs=1e-6)
    assert dart_intake(after, dart) == pytest.approx(wide, abs=0.005)


def test_textbook_dart_shared() -> None:
    """Shared 60 to 40 at 13 cm: 1.201 and 0.801 cm. Chords do not add up; angles do.

    Source: derived from the same example by 2 L sin(angle / 2).
    """
    pattern = textbook_piece()
    whole = dart_angle_deg(pattern.piece("front"), pattern.piece("front").dart("bust"))
    # A place of the same edge as far from the point as the old leg: mirrored in the first leg.
    right = pattern.piece("front").edge("right").path
    at = right.nearest(unit_at(-30.0) * 130.0)[0]
    after = run(pattern, dart="front.bust", to="front.right", at=at, share=0.6, name="low").piece(
        "front"
    )
    low, rest = after.dart("low"), after.dart("bust")
    angles = dart_angle_deg(after, low), dart_angle_deg(after, rest)
    assert sum(angles) == pytest.approx(whole, abs=1e-6)
    assert angles[0] / whole == pytest.approx(0.6, abs=1e-6)
    assert dart_intake(after, rest) == pytest.approx(8.01, abs=0.005)
    legs = dart_legs(after, low)
    assert dart_intake(after, low) * 130.0 / legs[0] == pytest.approx(12.01, abs=0.005)


@pytest.mark.parametrize(("to", "at"), TARGETS)
@pytest.mark.parametrize("share", [1.0, 0.35])
def test_what_stays(to: str, at: float | None, share: float) -> None:
    """Net lengths, total angle, area less the wedges, the point, grain and fold all stay."""
    pattern = bodice()
    before = pattern.piece("front")
    out = run(pattern, dart="front.bust", to=to, at=at, share=share)
    after = out.piece("front")
    assert net_lengths(after) == pytest.approx(net_lengths(before), abs=1e-3)
    total = sum(dart_angle_deg(after, d) for d in after.darts)
    assert total == pytest.approx(dart_angle_deg(before, before.dart("bust")), abs=1e-6)
    kept = fine_area(after) - wedge_area(after)
    assert kept == pytest.approx(fine_area(before) - wedge_area(before), abs=2.0)
    assert all(d.point == APEX for d in after.darts)
    assert after.grain == before.grain
    assert after.edge("centre") == before.edge("centre")
    assert [e.name for e in after.edges] == [e.name for e in before.edges]
    assert after.levels == before.levels
    assert out.piece("back") is pattern.piece("back")
    assert out.seams == pattern.seams
    assert_sound(out)


@pytest.mark.parametrize(("to", "at"), TARGETS)
def test_there_and_back(to: str, at: float | None) -> None:
    """Moved away and back to where its first leg was, the outline is what it was, cap apart."""
    pattern = bodice()
    first = pattern.piece("front").dart("bust")
    away = run(pattern, dart="front.bust", to=to, at=at)
    back_at = first.a
    moved = away.piece("front").dart("bust")
    if moved.edge == "side" and moved.a < first.a:
        back_at += moved.b - moved.a
    home = run(away, dart="front.bust", to="front.side", at=back_at).piece("front")
    again = home.dart("bust")
    assert (again.edge, again.point) == ("side", first.point)
    assert again.a == pytest.approx(first.a, abs=1e-3)
    for name in ("hem", "armhole", "shoulder", "neck", "centre"):
        for k in range(9):
            path = pattern.piece("front").edge(name).path
            p = path.point_at(path.length * k / 8)
            assert home.edge(name).path.nearest(p)[1] < 0.5, name


def test_nothing_moved_is_nothing_changed() -> None:
    """A share of 0 gives the very same pattern."""
    pattern = bodice()
    assert run(pattern, dart="front.bust", to="front.hem", share=0.0) is pattern


@pytest.mark.parametrize("move", MOVES.values(), ids=MOVES.keys())
@pytest.mark.parametrize("share", [1.0, 0.4])
@pytest.mark.parametrize(("to", "at"), TARGETS[:6])
def test_turned_moved_mirrored(to: str, at: float, share: float, move: object) -> None:
    """A piece drawn elsewhere, turned or mirrored gives the same piece there."""
    pattern = bodice()
    edge = pattern.piece("front").edge(to.partition(".")[2])
    flipped = move.mirrors  # type: ignore[attr-defined]
    there = moved_pattern(pattern, move)  # type: ignore[arg-type]
    one = run(there, dart="front.bust", to=to, at=edge.length - at if flipped else at, share=share)
    other = moved_pattern(
        run(pattern, dart="front.bust", to=to, at=at, share=share),
        move,  # type: ignore[arg-type]
    )
    assert_same_shape(one.piece("front"), other.piece("front"))
    pressed = [d.pressed for d in one.piece("front").darts]
    assert pressed == [d.pressed for d in other.piece("front").darts]


def test_details_go_with_their_part() -> None:
    """The side part turns: its notches and the pocket keep their place beside the side seam."""
    before = bodice().piece("front")
    after = run(bodice(), dart="front.bust", to="front.hem", at=100.0).piece("front")
    old, new = before.points(), after.points()
    pairs = [("side notch low", "waist side"), ("side notch high", "underarm")]
    for one, other in pairs:
        assert new[one].distance(new[other]) == pytest.approx(old[one].distance(old[other]))
    assert new["side notch low"].distance(old["side notch low"]) > 5.0
    assert new["side notch high"].is_near(old["side notch high"], 1e-6)
    pocket = after.marks[1].path
    assert pocket is not None
    assert pocket.length == pytest.approx(before.marks[1].path.length)  # type: ignore[union-attr]
    turn = turn_between_deg(Vec(70, -10), pocket.end - pocket.start)
    assert abs(turn) == pytest.approx(8.8236, abs=1e-3)


def test_a_line_that_the_cut_crosses_becomes_two() -> None:
    """A drawn line across the cut is cut like the paper, and neither part is lost."""
    p = bodice()
    marks = tuple(replace(m, name="seam") if m.path else m for m in p.piece("front").marks)
    before = replace(p.piece("front"), marks=marks)
    after = run(p.with_piece(before), dart="front.bust", to="front.side", at=30.0).piece("front")
    lines = [m for m in after.marks if m.path is not None]
    assert [m.name for m in lines] == ["seam", "seam 2"]
    total = sum(m.path.length for m in lines if m.path)
    assert total == pytest.approx(before.marks[1].path.length, abs=1e-3)  # type: ignore[union-attr]


def test_pressed_by_custom() -> None:
    """Level darts are pressed down, upright ones towards the centre (common practice)."""
    for to, at in (("front.hem", 100.0), ("front.shoulder", 60.0), ("front.side", 225.0)):
        after = run(bodice(), dart="front.bust", to=to, at=at).piece("front")
        dart = after.dart("bust")
        path = after.edge(dart.edge).path
        beside = path.start if dart.pressed == "start" else path.end
        mouth = path.point_at((dart.a + dart.b) / 2)
        if to == "front.side":
            assert beside.y < mouth.y
        else:
            assert beside.x < mouth.x


def test_a_dart_that_points_at_the_fold_is_pressed_alike_however_its_piece_lies() -> None:
    """Neither leg is nearer to the fold then: which way it is pressed must not hang on rounding."""
    band = Piece(name="band", edges=(
        edge("lower", line((0, 0), (400, 0)), corner="low end"),
        edge("centre", line((400, 0), (400, 50)), corner="centre low", role=Role.FOLD),
        edge("upper", line((400, 50), (0, 50)), corner="centre high"),
        edge("end", line((0, 50), (0, 0)), corner="high end"),
    ), grain=Grain(start=Vec(300, 25), end=Vec(10, 25)))  # fmt: skip
    pressed = set()
    for angle in range(0, 360, 7):
        turn = rotation_deg(angle)
        edges = tuple(replace(e, path=e.path.transformed(turn)) for e in band.edges)
        grain = Grain(start=turn.apply(Vec(300, 25)), end=turn.apply(Vec(10, 25)))
        piece = replace(band, edges=edges, grain=grain)
        path = piece.edge("end").path
        pressed.add(pressed_by_custom(piece, path, 23.5, 26.5, turn.apply(Vec(30, 25))))
    assert len(pressed) == 1


def test_the_new_cap_is_cut_as_folded() -> None:
    """Folded and pressed, the new cap lies on the seam line of the side it is pressed to."""
    after = run(bodice(), dart="front.bust", to="front.hem", at=100.0).piece("front")
    dart = after.dart("bust")
    path = after.edge("hem").path
    cap = path.between(dart.a, dart.b)
    # A straight hem meets the leg at f: the cap's middle lies L sin f / sin(f + h) from the point.
    leg = path.point_at(dart.a) - dart.point
    f = abs(turn_between_deg(-leg, -path.tangent_at(dart.a - 1.0)))
    h = dart_angle_deg(after, dart) / 2
    expected = leg.norm * math.sin(math.radians(f)) / math.sin(math.radians(f + h))
    middle = cap.point_at(cap.length / 2)
    assert middle.distance(dart.point) == pytest.approx(expected, abs=1e-3)


def test_what_is_said() -> None:
    """The record tells what went where, the angle, and both widths, in the maker's unit."""
    out = CHANGE.apply(bodice(), RotateDart(dart="front.bust", to="front.shoulder", at=60.0))
    assert say(out.said, Unit.cm) == (
        'Moved dart "bust" of front from side to shoulder, 6 cm from the corner "tip". Its angle '
        "stays 8.8°; its width was 2 cm and is now 3.4 cm."
    )


def refusal(pattern: Pattern, **params: object) -> str:
    with pytest.raises((CannotDo, BadInput)) as caught:
        run(pattern, **params)
    return str(caught.value)


def test_refusals() -> None:
    """What cannot be done is refused with a reason and the nearest that can."""
    pattern = bodice()
    bust = {"dart": "front.bust"}
    assert "on the fold" in refusal(pattern, **bust, to="front.centre")
    assert "is 126.5 mm long" in refusal(pattern, **bust, to="front.shoulder", at=300.0)
    assert 'has no dart "bist". Did you mean "bust"?' in refusal(
        pattern, dart="front.bist", to="front.hem"
    )
    assert 'no piece "frunt"' in refusal(pattern, dart="frunt.bust", to="front.hem")
    assert 'not on piece "front"' in refusal(pattern, **bust, to="back.hem")
    assert "PIECE.DART" in refusal(pattern, dart="bust", to="front.hem")
    assert "lies" in refusal(pattern, **bust, to="front.bust point")
    mouth = pattern.piece("front").dart("bust").a + 8.0
    assert "mouth of dart" in refusal(pattern, **bust, to="front.side", at=mouth)
    assert "0 to 100 %" in refusal(pattern, **bust, to="front.hem", share=1.5)


def test_a_dart_with_unequal_legs_is_refused() -> None:
    """Legs that differ cannot be sewn together; the sentence gives both and the way out."""
    piece = bodice().piece("front")
    dart = piece.dart("bust")
    moved = Dart(name="bust", edge="side", a=dart.a - 6.0, b=dart.b, point=Vec(100.0, 60.0))
    crooked = Pattern(
        pieces=(Piece(name="front", edges=piece.edges, darts=(moved,), grain=piece.grain),)
    )
    words = refusal(crooked, dart="front.bust", to="front.hem")
    assert "its legs are" in words
    assert "true the dart first" in words


def test_another_dart_in_the_way_is_refused_and_one_beside_goes_along() -> None:
    """A cut never runs through another dart; a dart on the turned part turns with it."""
    shared = run(bodice(), dart="front.bust", to="front.hem", at=100.0, share=0.5, name="waist")
    again = run(shared, dart="front.bust", to="front.side", at=60.0)
    after = again.piece("front")
    assert {d.edge for d in after.darts} == {"hem", "side"}
    assert sum(dart_angle_deg(after, d) for d in after.darts) == pytest.approx(8.8236, abs=1e-3)
    assert signed_area(after) > 0
    piece = bodice().piece("front")
    hem = piece.edge("hem")
    at = hem.path.nearest(Vec(150, -178))[0]
    waist = Dart(name="waist", edge="hem", a=at - 8, b=at + 8, point=Vec(150, 60))
    blocked = Pattern(
        pieces=(
            Piece(name="front", edges=piece.edges, darts=(*piece.darts, waist), grain=piece.grain),
        )
    )
    words = refusal(blocked, dart="front.bust", to="front.side", at=20.0)
    assert 'through dart "waist"' in words


def test_a_place_behind_a_corner_is_refused() -> None:
    """The cut must stay inside the piece."""
    bent = (
        Edge(name="side", path=polyline(((100, 0), (100, 40), (100, 50), (100, 100)))),
        Edge(name="top", path=polyline(((100, 100), (0, 100)))),
        Edge(name="in", path=polyline(((0, 100), (0, 60), (40, 60), (40, 45), (0, 45)))),
        Edge(name="low", path=polyline(((0, 45), (0, 0), (100, 0)))),
    )
    dart = Dart(name="d", edge="side", a=40.0, b=50.0, point=Vec(60.0, 45.0))
    pattern = Pattern(pieces=(Piece(name="p", edges=bent, darts=(dart,)),))
    words = refusal(pattern, dart="p.d", to="p.in", at=20.0)
    assert "leaves the piece" in words
    assert is_inside(tuple(pattern.piece("p").outline.flatten()), Vec(60.0, 45.0))


@pytest.mark.parametrize("to", ["front.armhole", "front.shoulder", "front.side"])
def test_no_dart_opens_in_the_allowance_beside_it_nor_sticks_out(to: str) -> None:
    """Within 5/8 in of a seam's end a dart would lie in that seam's allowance: refused.

    Near the underarm an armhole runs so slantingly that the folded cap stood out beyond it: a cap
    that stands out mirrors as much edge as it is long, on the side it is pressed to. (Geometry.)
    """
    pattern = bodice()
    name = to.partition(".")[2]
    length = pattern.piece("front").edge(name).length
    allowed = []
    for at in (2.0, 5.0, 9.0, 15.0, 25.0, 35.0, length - 5.0, length - 12.0):
        try:
            front = run(pattern, dart="front.bust", to=to, at=at).piece("front")
        except CannotDo as refused:
            assert refused.nearest  # noqa: PT017
            continue
        allowed.append(at)
        dart, edge = front.dart("bust"), front.edge(name)
        leg = dart.point.distance(edge.path.point_at(dart.a))
        tip = max(p.distance(dart.point) for p in edge.path.between(dart.a, dart.b).flatten(0.1))
        free = dart.a if dart.pressed == "start" else edge.length - dart.b
        assert tip - leg < dart_intake(front, dart) / 2 or free > (dart.b - dart.a) / 2
        i = front.index(name)
        beside = front.edges[i - 1].allowance, front.edges[(i + 1) % len(front.edges)].allowance
        assert dart.a > beside[0] - 0.1
        assert edge.length - dart.b > beside[1] - 0.1
    assert not {2.0, 5.0, 9.0} & set(allowed)


def test_the_place_that_is_offered_beside_a_corner_can_be_had() -> None:
    """Moved on by what the refusal names, the dart opens."""
    with pytest.raises(CannotDo, match='only 5 mm from the corner "underarm"') as caught:
        run(bodice(), dart="front.bust", to="front.armhole", at=5.0)
    (need,) = (x for x in caught.value.nearest if isinstance(x, float))
    run(bodice(), dart="front.bust", to="front.armhole", at=need)


def test_a_dart_in_the_very_middle_is_pressed_alike_however_the_piece_lies() -> None:
    """Both parts of the edge are equally long: no rounding decides which is the longer."""
    for by in range(16):
        piece = moved(sleeve().piece("sleeve"), rotation_deg(23.0 * by, (3.0 * by, 70.0)))
        after = run(Pattern(pieces=(piece,)), dart="sleeve.elbow", to="sleeve.hem")
        assert after.piece("sleeve").dart("elbow").pressed == "start"


def test_a_dart_turns_about_the_bust_point_that_is_marked() -> None:
    """A bust dart stops short of the bust point and turns about it (trade facts: pivot point).

    Its angle there, by the cosine rule from mouth and mark, is what is opened: legs as long as from
    the mark to the shoulder make 2 L sin(angle / 2).
    """
    p = GARMENTS["wrap dress"]()
    before = p.piece("bodice front")
    dart, mark = before.dart("bust dart"), before.point("bust point")
    mouth = [before.edge(dart.edge).path.point_at(at) for at in (dart.a, dart.b)]
    legs = [m.distance(mark) for m in mouth]
    cosine = (legs[0] ** 2 + legs[1] ** 2 - mouth[0].distance(mouth[1]) ** 2) / 2
    angle = math.acos(cosine / legs[0] / legs[1])
    after = run(p, dart="bodice front.bust dart", to="bodice front.shoulder", at=50.0)
    piece = after.piece("bodice front")
    opened = piece.dart("bust dart")
    ends = [piece.edge("shoulder").path.point_at(at) for at in (opened.a, opened.b)]
    assert math.radians(abs(turn_between_deg(*(e - mark for e in ends)))) == pytest.approx(
        angle, abs=1e-3
    )
    wide = 2 * ends[0].distance(mark) * math.sin(angle / 2)
    assert dart_intake(piece, opened) == pytest.approx(wide, abs=0.2)
    assert opened.point.distance(mark) == pytest.approx(dart.point.distance(mark), abs=0.01)


def test_a_dart_that_is_turned_leaves_the_levels_where_they_are_sewn() -> None:
    """Turning a dart changes nothing of the sewn garment, so its lines meet across the seams.

    A line that is marked in a wrong place on the other piece is found as before: within what the
    dart takes it may lie on either side of its fold.
    """
    p = GARMENTS["wrap dress"]()
    turned = run(p, dart="bodice front.bust dart", to="bodice front.shoulder", at=50.0)
    seam = turned.seam("bodice side")
    met = {m.level: m.off for m in meetings(turned, seam)}
    assert met == pytest.approx({m.level: 0.0 for m in meetings(p, seam)}, abs=0.5)
    piece = DART_TO_SEAM.apply(
        turned, DartToSeam(dart="bodice front.bust dart", to="bodice front.waist")
    ).pattern
    assert all(abs(m.off) < 0.5 for m in meetings(piece, piece.seam("bodice side")))
    back = turned.piece("bodice back")
    front = p.piece("bodice front")
    takes = dart_intake(front, front.dart("bust dart"))
    moved_up = tuple(replace(lv, at=lv.at + back.up * (20.0 + takes)) for lv in back.levels)
    for one in (p, turned):
        wrong = one.with_piece(replace(back, levels=moved_up))
        off = {m.level: abs(m.off) for m in meetings(wrong, seam)}
        assert off["bust"] == pytest.approx(20.0, abs=2.0)


def test_a_dart_turned_there_and_back_leaves_no_mark_of_a_level() -> None:
    p = GARMENTS["wrap dress"]()
    there = run(p, dart="bodice front.bust dart", to="bodice front.shoulder", at=50.0)
    dart = p.piece("bodice front").dart("bust dart")
    assert len(there.piece("bodice front").marks) > len(p.piece("bodice front").marks)
    again = run(there, dart="bodice front.bust dart", to="bodice front.side", at=dart.a)
    assert [m.name for m in again.piece("bodice front").marks] == [
        m.name for m in p.piece("bodice front").marks
    ]
