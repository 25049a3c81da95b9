"""Lengthening and shortening: what lies below moves by exactly the amount along the grain."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.alike import asked_alike
from clothwright.changes.darts import has_true_cap
from clothwright.changes.lengthen import CHANGE, Lengthen, apply
from clothwright.demo import DEMOS
from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.girth import finished_girths
from clothwright.pattern.measure import dart_angle_deg, dart_intake, dart_legs, net_length, side
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Level, Piece, signed_area
from clothwright.units import Unit, parse_length
from clothwright.words import say, show_length
from clothwright.workbook import replay
from tests.contract.changes_table import low_dart
from tests.garments.trousers import trousers
from tests.garments.wrap_dress import wrap_dress
from tests.specimens import INCH, bodice, edge, line, skirt, skirt_front, sleeve


def trapezoid() -> Pattern:
    """A panel 200 wide at the top and 300 at the bottom, 400 tall, with a level halfway."""
    corners = [(0, 0), (300, 0), (200, 400), (0, 400)]
    names = ("hem", "side", "top", "centre")
    edges = tuple(
        edge(name, line(corners[i], corners[(i + 1) % 4])) for i, name in enumerate(names)
    )
    piece = Piece(name="panel", edges=edges, levels=(Level(name="middle", at=Vec(0, 200)),))
    return Pattern(pieces=(piece,))


def test_everything_below_moves_by_the_amount_along_the_grain() -> None:
    """Points below the line all move by exactly the amount; those above stay. (Plane geometry.)"""
    before = sleeve()
    after = apply(before, Lengthen(pieces=("sleeve",), level="wrist", by=30.0)).pattern
    old, new = before.piece("sleeve"), after.piece("sleeve")
    down = Vec(0.0, -30.0)
    for name in ("hem front", "hem back", "hem middle"):
        assert new.point(name).is_near(old.point(name) + down, 1e-9)
    for name in ("underarm front", "underarm back", "elbow point", "cap middle"):
        assert new.point(name) == old.point(name)
    assert new.level("elbow") == old.level("elbow")
    assert new.grain is not None
    assert new.grain.start.is_near((0.0, 10.0), 1e-9)
    assert new.grain.end == old.grain.end  # type: ignore[union-attr]


def test_the_area_grows_by_the_amount_times_the_width_at_the_line() -> None:
    """Area change = amount × width at the line; exact when straight sides are cut at mid-height."""
    pattern = trapezoid()
    for by in (-35.0, 12.5, 80.0):
        new = apply(pattern, Lengthen(pieces=("panel",), level="middle", by=by)).pattern
        grown = signed_area(new.piece("panel")) - signed_area(pattern.piece("panel"))
        assert grown == pytest.approx(by * 250.0, abs=1e-6)


def test_a_straight_seam_is_redrawn_straight_between_its_ends() -> None:
    """A tapered side seam keeps its ends (the lower one moved) and is one straight line."""
    new = apply(trapezoid(), Lengthen(pieces=("panel",), level="middle", by=INCH)).pattern
    path = new.piece("panel").edge("side").path
    assert path.is_straight
    assert len(path.segments) == 1
    assert path.start.is_near((300.0, -INCH), 1e-9)
    assert path.end == (200.0, 400.0)


def test_front_and_back_change_alike() -> None:
    """Cut at the same distance from the underarm, both side seams change by the same amount."""
    before = bodice()
    after = apply(before, Lengthen(pieces=("front", "back"), level="waist", by=19.0)).pattern
    a, b = (
        side(after, run).length for run in (after.seam("side seam").a, after.seam("side seam").b)
    )
    old = side(before, before.seam("side seam").a).length
    assert a == pytest.approx(b, abs=0.01)
    assert a - old == pytest.approx(19.0, abs=0.05)


def test_a_dart_keeps_its_shape_on_either_side_of_the_cut() -> None:
    """A bust dart above the cut stays, one below goes along; angle and legs do not change."""
    before = bodice()
    old = before.piece("front")
    for level, moves in (("waist", 0.0), ("chest", -15.0)):
        new = apply(before, Lengthen(pieces=("front",), level=level, by=15.0)).pattern
        piece = new.piece("front")
        dart = piece.dart("bust")
        assert dart.point.is_near(old.dart("bust").point + Vec(0.0, moves), 1e-9)
        assert dart_legs(piece, dart) == pytest.approx(dart_legs(old, old.dart("bust")), abs=1e-6)
        assert dart_angle_deg(piece, dart) == pytest.approx(9.0, abs=1e-6)


def test_notches_keep_their_distance_from_the_end_on_their_side() -> None:
    """A notch below the cut stays as far from the hem as it was, one above as far from the top."""
    new = apply(bodice(), Lengthen(pieces=("front", "back"), level="rib", by=20.0)).pattern
    front, back = new.piece("front").edge("side"), new.piece("back").edge("side")
    assert front.notches[0].at == pytest.approx(60.0, abs=1e-9)
    assert back.length - back.notches[0].at == pytest.approx(60.0, abs=1e-9)
    above = apply(bodice(), Lengthen(pieces=("back",), level="waist", by=20.0, above=-40.0)).pattern
    old = bodice().piece("back").edge("side").notches[0].at
    assert above.piece("back").edge("side").notches[0].at == pytest.approx(old, abs=1e-9)


@pytest.mark.parametrize("name", ["front", "back"])
def test_a_notch_on_the_cut_stays_with_the_level(name: str) -> None:
    """What lies on the cut counts as above it, as the level does, whichever way the edge runs."""
    pattern = bodice()
    piece = pattern.piece(name)
    notch = piece.point("side notch waist")
    at = piece.up.dot(notch - piece.level("waist").at)
    how = Lengthen(pieces=(name,), level="waist", by=20.0, above=at)
    new = apply(pattern, how).pattern.piece(name)

    def from_underarm(it: Piece) -> float:
        side = it.edge("side")
        return side.notches[0].at if name == "back" else side.length - side.notches[0].at

    assert from_underarm(new) == pytest.approx(from_underarm(piece))


@pytest.mark.parametrize("by", [25.0, -25.0])
def test_a_curve_is_blended_without_a_corner(by: float) -> None:
    """A curved hip seam is redrawn in one fair curve: no corner where old and new line meet."""
    how = Lengthen(pieces=("skirt front",), level="hip", by=by, above=60.0)
    path = apply(skirt(), how).pattern.piece("skirt front").edge("side").path
    for first, second in zip(path.segments, path.segments[1:], strict=False):
        turn = turn_between_deg(first.tangent(1.0), second.tangent(0.0))
        assert abs(turn) < 0.1


def test_spread_leaves_both_parts_of_a_curve_as_they_were() -> None:
    """With curves = spread both parts are untouched; a straight run along the grain joins them."""
    how = Lengthen(pieces=("skirt front",), level="hip", by=20.0, above=60.0, curves="spread")
    old = skirt_front().edge("side").path
    new = apply(skirt(), how).pattern.piece("skirt front").edge("side").path
    assert new.length == pytest.approx(old.length + 20.0, abs=1e-3)
    run = [s for s in new.segments if abs(s.end.x - s.start.x) < 1e-9]
    assert len(run) == 1
    assert run[0].length == pytest.approx(20.0)


def test_a_mark_across_the_cut_is_stretched_and_one_below_moves() -> None:
    """Inner lines below go along (a pocket), lines across the cut grow with the piece."""
    from clothwright.pattern.piece import Mark

    pattern = trapezoid()
    panel = replace(
        pattern.piece("panel"),
        marks=(
            Mark(name="pocket", path=line((50, 50), (120, 50))),
            Mark(name="pleat", path=line((30, 0), (30, 400))),
            Mark(name="button", at=Vec(20, 300)),
        ),
    )
    new = apply(pattern.with_piece(panel), Lengthen(pieces=("panel",), level="middle", by=10.0))
    pocket, pleat, button = new.pattern.piece("panel").marks
    assert pocket.path is not None
    assert pocket.path.start.is_near((50, 40), 1e-9)
    assert pleat.path is not None
    assert pleat.path.length == pytest.approx(410.0)
    assert pleat.path.end.is_near((30, 400), 1e-9)
    assert button.at == (20, 300)


@pytest.mark.parametrize("by", [25.0, -30.0])
def test_a_dart_that_runs_down_through_the_cut_is_as_much_longer(by: float) -> None:
    """A waist dart 12 cm long, cut through its middle: plane geometry, legs by Pythagoras."""
    old = low_dart().piece("front")
    dart = old.dart("waist")
    (a, b), wide = dart_legs(old, dart), dart_intake(old, dart)
    above = 60.0 - old.level("waist").at.y
    out = apply(low_dart(), Lengthen(pieces=("front",), level="waist", by=by, above=above))
    new = out.pattern.piece("front")
    now = new.dart("waist")
    assert now.point.is_near(dart.point, 1e-9)
    high = math.sqrt(((a + b) / 2) ** 2 - (wide / 2) ** 2) + by
    for leg in dart_legs(new, now):
        assert leg == pytest.approx(math.hypot(high, wide / 2), abs=0.05)
    assert net_length(new, "hem") == pytest.approx(net_length(old, "hem"), abs=0.1)
    assert has_true_cap(new, now)
    words = say(out.said, Unit.mm)
    assert 'Dart "waist" of front is' in words
    assert ("longer" if by > 0 else "shorter") in words


def test_the_nearest_that_is_offered_can_be_done() -> None:
    """A refusal through a dart names two distances; moving the cut by either works."""
    how = {"pieces": ("front",), "level": "rib", "by": 10.0}
    with pytest.raises(CannotDo) as caught:
        apply(bodice(), Lengthen(**how, above=70.0))  # type: ignore[arg-type]
    offered = [x for x in caught.value.nearest if isinstance(x, float)]
    for unit in (Unit.mm, Unit.cm, Unit.inch):
        higher, lower = (parse_length(show_length(x, unit), unit=unit) for x in offered)
        apply(bodice(), Lengthen(**how, above=70.0 + higher + 0.1))  # type: ignore[arg-type]
        apply(bodice(), Lengthen(**how, above=70.0 - lower - 0.1))  # type: ignore[arg-type]


def test_the_amount_that_is_offered_can_be_taken_out() -> None:
    """Shortening by more than there is names how much there is, and that much works."""
    how = {"pieces": ("panel",), "level": "middle"}
    with pytest.raises(CannotDo) as caught:
        apply(trapezoid(), Lengthen(**how, by=-420.0))  # type: ignore[arg-type]
    (offered,) = (x for x in caught.value.nearest if isinstance(x, float))
    for unit in (Unit.mm, Unit.cm, Unit.inch):
        most = parse_length(show_length(offered, unit), unit=unit)
        apply(trapezoid(), Lengthen(**how, by=-most))  # type: ignore[arg-type]


def test_the_sentence() -> None:
    """The record says what was done, where, by how much, in the maker's unit."""
    how = Lengthen(pieces=("front", "back"), level="waist", by=-INCH, above=2 * INCH)
    assert (
        say(apply(bodice(), how).said, Unit.inch)
        == "Shortened front and back by 1 in, cut 2 in above the waist line."
    )


def test_a_cut_through_a_corner() -> None:
    """A level that runs through the end of an edge cuts it there: longer by as much, no fall."""
    for demo in DEMOS[:1]:
        pattern = replay(demo.make()).pattern
        before = pattern.piece("coat sleeve")
        made = apply(pattern, Lengthen(pieces=("coat sleeve",), level="biceps", by=12.7)).pattern
        after = made.piece("coat sleeve")
        low = [min(p.y for p in q.outline.flatten(0.1)) for q in (before, after)]
        high = [max(p.y for p in q.outline.flatten(0.1)) for q in (before, after)]
        assert (high[1] - low[1]) - (high[0] - low[0]) == pytest.approx(12.7, abs=0.05)


def test_what_is_sewn_to_the_changed_pieces_is_asked_to_follow() -> None:
    """A bound neck that crosses the cut asks its binding for what both of its halves have gained.

    By the lengths of the edges themselves: the wearer's left and right, front and back.
    """
    before = wrap_dress()
    pieces = ("bodice front", "bodice back")
    done = apply(before, Lengthen(pieces=pieces, level="waist", above=60.0, by=20.0))
    grown = sum(
        net_length(done.pattern.piece(p), "neck") - net_length(before.piece(p), "neck")
        for p in pieces
    )
    longer = show_length(2 * grown, Unit.cm)
    assert f"Now make neck binding, lower {longer} longer, to go with it." in say(
        done.said, Unit.cm
    )


def test_a_lower_neck_takes_no_girth_from_the_bust() -> None:
    """Cut 6 cm above the waist, the neck's line moves 11 cm above it, too; the cloth is as wide."""
    before = wrap_dress()
    params = Lengthen(pieces=("bodice front", "bodice back"), level="waist", above=60.0, by=20.0)
    was, now = (
        next(g.mm for g in finished_girths(p, ("bust",)))
        for p in (before, apply(before, params).pattern)
    )
    assert now == pytest.approx(was, abs=0.5)


def test_a_facing_without_the_line_is_cut_where_the_piece_it_faces_is() -> None:
    """The facing of a fly has no hip line: it grows by as much, and lies along the fly as it did.

    `alike` asks the same for it; a strip on the bias is not cut across so.
    """
    before = trousers()
    asked = Lengthen(pieces=("front", "back"), level="hip", above=80.0, by=20.0)
    (alike,) = asked_alike(CHANGE, before, asked)
    assert alike.pieces == ("fly facing",)
    done = apply(before, replace(asked, pieces=(*asked.pieces, "fly facing"))).pattern
    fly, facing = (done.piece(p).edge("fly").path for p in ("front", "fly facing"))
    for k in range(9):
        along = (path.point_at(path.length * k / 8) - path.start for path in (fly, facing))
        assert next(along).is_near(next(along), 0.05)
    strip = Lengthen(pieces=("bodice front", "neck binding"), level="waist", above=60.0, by=20.0)
    with pytest.raises(BadInput, match="neck binding"):
        apply(wrap_dress(), strip)
