"""Cropping from the high point of the shoulder."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes.crop import Crop, apply
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.measure import dart_angle_deg, dart_legs, side
from clothwright.pattern.outline import cutting_line
from clothwright.units import Unit, parse_length
from clothwright.words import say, show_length
from tests.changes.figures import told_anew
from tests.checks.specimens import outfit
from tests.contract.changes_table import low_dart
from tests.garments.wardrobe import GARMENTS
from tests.specimens import INCH, bodice

HEMS = ("front.hem", "back.hem")


@pytest.mark.parametrize("name", ["front", "back"])
def test_bodice_from_18_to_17_inches(name: str) -> None:
    """18 in from the high point of the shoulder, cropped to 17 in: common practice.

    The new stitching line lies 17 in straight below the point, the new cutting line 5/8 in below
    it, front and back alike.
    """
    before = bodice().piece(name)
    top = before.point("neck point")
    assert top.y - before.point("hem middle").y == pytest.approx(18 * INCH)
    how = Crop(edges=HEMS, length=17 * INCH, allowance=5 / 8 * INCH)
    piece = apply(bodice(), how).pattern.piece(name)
    stitching = piece.edge("hem").path
    assert top.y - stitching.start.y == pytest.approx(17 * INCH, abs=1e-6)
    assert top.y - stitching.end.y == pytest.approx(17 * INCH, abs=1e-6)
    for p in cutting_line(piece).edge("hem").flatten():
        assert stitching.start.y - p.y == pytest.approx(5 / 8 * INCH, abs=1e-6)


def test_front_and_back_still_agree_at_the_side() -> None:
    """Cropped alike, both side seams lose as much, with the bust dart folded out."""
    pattern = apply(bodice(), Crop(edges=HEMS, length=17 * INCH)).pattern
    seam = pattern.seam("side seam")
    assert side(pattern, seam.a).length == pytest.approx(side(pattern, seam.b).length, abs=1e-3)


def test_the_new_edge_is_square_to_the_centre_and_keeps_its_names() -> None:
    """Straight, square to centre front, under the old names, with the old role."""
    piece = apply(bodice(), Crop(edges=HEMS, length=400.0)).pattern.piece("front")
    hem, fold = piece.edge("hem"), piece.edge("fold")
    assert hem.path.is_straight
    turn = turn_between_deg(fold.path.end_tangent, hem.path.start_tangent)
    assert abs(turn) == pytest.approx(90.0, abs=1e-9)
    assert (hem.corner, hem.role) == ("hem centre", bodice().piece("front").edge("hem").role)


def test_what_lies_below_is_left_out_and_told() -> None:
    """Notches, levels and marks wholly below the new hem go, and the sentence names them."""
    outcome = apply(bodice(), Crop(edges=HEMS, length=15 * INCH))
    front = outcome.pattern.piece("front")
    assert front.edge("side").notches == ()
    assert [lv.name for lv in front.levels] == ["rib", "chest"]
    assert [m.name for m in front.marks] == ["bust point"]
    words = say(outcome.said, Unit.inch)
    for gone in ('notch "waist" of front, side', "the waist line of back", 'the mark "pocket"'):
        assert gone in words
    assert "front is 3 in shorter" in words


def test_a_dart_at_the_hem_is_closed_cut_and_opened() -> None:
    """Fold and cut: legs stay equal, the angle stays, and the cap reaches L sin f / sin(f + h)."""
    old = low_dart().piece("front")
    pattern = apply(low_dart(), Crop(edges=("front.hem",), length=16.5 * INCH)).pattern
    piece = pattern.piece("front")
    dart = piece.dart("waist")
    legs = dart_legs(piece, dart)
    assert legs[0] == pytest.approx(legs[1], abs=1e-9)
    assert dart_angle_deg(piece, dart) == pytest.approx(
        dart_angle_deg(old, old.dart("waist")), abs=1e-9
    )
    path = piece.edge("hem").path
    tip = dart.point - path.point_at(dart.a)
    run = path.point_at(0.0) - path.point_at(dart.a)
    f = math.radians(abs(turn_between_deg(tip, run)))
    half = math.radians(dart_angle_deg(piece, dart)) / 2
    peak = path.point_at((dart.a + dart.b) / 2)
    assert peak.distance(dart.point) == pytest.approx(
        legs[0] * math.sin(f) / math.sin(f + half), abs=1e-6
    )


def test_the_hem_runs_straight_on_over_a_closed_dart() -> None:
    """With the dart closed the hem is one straight line: both angles at its legs add up to 180."""
    pattern = apply(low_dart(), Crop(edges=("front.hem",), length=16.5 * INCH)).pattern
    piece = pattern.piece("front")
    dart, path = piece.dart("waist"), piece.edge("hem").path
    a, b = path.point_at(dart.a), path.point_at(dart.b)
    first = abs(turn_between_deg(dart.point - a, path.start - a))
    second = abs(turn_between_deg(dart.point - b, path.end - b))
    assert first + second == pytest.approx(180.0, abs=1e-9)
    assert path.start.y == pytest.approx(a.y, abs=1e-9)  # the part beside the fold is level


def test_a_dart_that_ends_below_the_line_is_left_out() -> None:
    """A low dart whose point lies below the new hem goes with the rest; the hem is level."""
    outcome = apply(low_dart(), Crop(edges=("front.hem",), length=12.5 * INCH))
    piece = outcome.pattern.piece("front")
    assert [d.name for d in piece.darts] == ["bust"]
    assert piece.edge("hem").path.is_straight
    assert 'the dart "waist" of front' in say(outcome.said, Unit.inch)


def test_a_longer_length_runs_the_sides_on() -> None:
    """A length beyond the old hem runs the side edges on straight; nothing is lost."""
    outcome = apply(bodice(), Crop(edges=HEMS, length=20 * INCH))
    piece = outcome.pattern.piece("back")
    assert piece.edge("side").path.is_straight
    assert piece.edge("hem").path.start.y == pytest.approx(-2 * INCH)
    assert len(piece.edge("side").notches) == 1
    assert "back is 2 in longer" in say(outcome.said, Unit.inch)


def test_a_bust_dart_is_not_cut_through() -> None:
    """A line through the dart of another edge is refused; the way out is named and works."""
    with pytest.raises(CannotDo) as caught:
        apply(bodice(), Crop(edges=HEMS, length=11 * INCH))
    assert 'the dart "bust" of edge "side"' in str(caught.value)
    (lower,) = (x for x in caught.value.nearest if isinstance(x, float))
    apply(bodice(), Crop(edges=HEMS, length=11 * INCH + lower + 0.1))
    read = parse_length(show_length(lower, Unit.inch), unit=Unit.inch)
    apply(bodice(), Crop(edges=HEMS, length=11 * INCH + read))


def test_the_grain_line_stays_inside() -> None:
    """What is left of the grain line lies above the new hem and keeps its direction."""
    grain = apply(bodice(), Crop(edges=HEMS, length=15 * INCH)).pattern.piece("front").grain
    assert grain is not None
    assert grain.start.y >= 3 * INCH
    assert grain.direction == pytest.approx(Vec(0.0, 1.0))


def test_two_sides_that_begin_at_the_point_end_together() -> None:
    """Sides drawn at two slants, sewn from the waist down: 45 cm down the one, as long the other.

    The back's side leans by 95 in 600: straight down it reaches 1 / cos(a) times as far.
    """
    p = outfit()
    back = p.piece("skirt back")
    low, drawn = Vec(-300.0, 0.0), dict[str, Path]()
    drawn["side"] = polyline((back.point("side waist"), low))
    drawn["hem"] = polyline((low, (0.0, 0.0)))
    edges = (replace(e, path=drawn.get(e.name, e.path), notches=()) for e in back.edges)
    p = p.with_piece(replace(back, edges=tuple(edges)))
    hems = ("skirt front.hem", "skirt back.hem")
    outcome = apply(p, Crop(edges=hems, length=450.0, point="side waist"))
    front, now = (outcome.pattern.piece(r.split(".")[0]).edge("side") for r in hems)
    more = math.hypot(95.0, 600.0) - p.piece("skirt front").edge("side").length
    assert now.length == pytest.approx(front.length + more, abs=1e-3)
    assert "Both sides of skirt side seam are cut alike; " in say(outcome.said, Unit.cm)
    alone = apply(p, Crop(edges=hems[1:], length=450.0, point="side waist")).pattern
    by_itself = 450.0 / math.cos(math.atan2(95.0, 600.0))
    assert alone.piece("skirt back").edge("side").length == pytest.approx(by_itself, abs=1e-6)
    assert abs(by_itself - now.length) > 1.0


@pytest.mark.parametrize(
    ("garment", "edges", "point", "length"),
    [
        ("knit top", HEMS, "neck point", 550.0),
        ("trousers", HEMS, "side waist", 600.0),
        ("wrap dress", ("skirt front.hem", "skirt back.hem"), "side waist", 500.0),
    ],
)
def test_a_garment_cropped_is_sewn_together_as_before(
    garment: str, edges: tuple[str, ...], point: str, length: float
) -> None:
    """Nothing is left for the walk to find, although the front's point is higher than the back's.

    A shoulder lies 25 mm higher in front than at the back where a bust is under it: straight down
    from each piece's own neck point the sides would part by that.
    """
    before = GARMENTS[garment]()
    made = apply(before, Crop(edges=edges, length=length, point=point))
    assert told_anew(before, made.pattern, garment) == []
    first = made.pattern.piece(edges[0].split(".")[0])
    down = first.up.dot(first.point(point) - first.point("hem middle"))
    assert down == pytest.approx(length, abs=0.5)
    if garment == "knit top":
        assert "from its own neck point back is 52.5 cm long" in say(made.said, Unit.cm)
