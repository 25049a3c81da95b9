"""Every demo piece is a piece that could be cut and sewn."""

from __future__ import annotations

from itertools import pairwise

import pytest
from shapely.geometry import Point, Polygon

from clothwright.checks import run_checks
from clothwright.demo import DEMOS
from clothwright.demo.body import SEAM
from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.measure import (
    corner_angle_deg,
    dart_angle_deg,
    dart_legs,
    net_length,
    side,
)
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Piece, Role
from clothwright.pattern.whole import unfolded
from tests.curvature import curvature

PATTERNS: dict[str, Pattern] = {d.name: d.make().bought for d in DEMOS}
PIECES = [
    pytest.param(piece, id=f"{name}: {piece.name}")
    for name, pattern in PATTERNS.items()
    for piece in pattern.pieces
]
SEAMS = [
    pytest.param(pattern, seam, id=f"{name}: {seam.name}")
    for name, pattern in PATTERNS.items()
    for seam in pattern.seams
]


def polygon(piece: Piece, *, cut: bool) -> Polygon:
    """The piece as shapely sees it, from its flattened outline."""
    outline = cutting_line(piece).outline if cut else piece.outline
    return Polygon([tuple(p) for p in outline.flatten(0.05)])


@pytest.mark.parametrize("piece", PIECES)
def test_outlines_do_not_cross_themselves(piece: Piece) -> None:
    """Stitching line and cutting line are simple rings, half pieces opened too (by shapely)."""
    for p in (piece, unfolded(piece)):
        assert polygon(p, cut=False).is_valid
        assert polygon(p, cut=True).is_valid


@pytest.mark.parametrize("piece", PIECES)
def test_the_cutting_line_lies_outside_the_stitching_line(piece: Piece) -> None:
    """No stitch falls outside the cloth that is cut."""
    assert polygon(piece, cut=True).buffer(0.05).contains(polygon(piece, cut=False))


@pytest.mark.parametrize("piece", PIECES)
def test_joined_seams_have_the_usual_allowance(piece: Piece) -> None:
    """5/8 in on every joined seam (common practice); none at a fold; hems have their depth."""
    for edge in piece.edges:
        if edge.role is Role.SEAM:
            assert edge.allowance == pytest.approx(5 / 8 * 25.4)
        elif edge.role is Role.FOLD:
            assert edge.allowance == 0.0
        else:
            assert SEAM <= edge.allowance <= 3 * 25.4


@pytest.mark.parametrize("piece", PIECES)
def test_every_piece_says_how_it_lies_and_how_often_it_is_cut(piece: Piece) -> None:
    """Grain line inside the piece, at least one cut, every corner with a name of its own."""
    assert piece.grain is not None
    inside = polygon(piece, cut=False)
    assert inside.covers(Point(*piece.grain.start))
    assert inside.covers(Point(*piece.grain.end))
    assert piece.cuts
    names = [name for name, _ in piece.corners]
    assert all(names)
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("piece", PIECES)
def test_marks_and_dart_points_lie_on_the_piece(piece: Piece) -> None:
    """Nothing is marked beside the cloth."""
    inside = polygon(piece, cut=False).buffer(0.1)
    for mark in piece.marks:
        points = [mark.at] if mark.at else []
        points += list(mark.path.flatten(1.0)) if mark.path else []
        assert points
        assert all(inside.covers(Point(*p)) for p in points)
    assert all(inside.contains(Point(*d.point)) for d in piece.darts)


@pytest.mark.parametrize("piece", PIECES)
def test_dart_legs_are_equal_and_the_seam_runs_straight_on(piece: Piece) -> None:
    """Legs within 0.01 mm; sewn, the edge turns by less than 5 degrees at the dart."""
    for dart in piece.darts:
        first, second = dart_legs(piece, dart)
        assert first == pytest.approx(second, abs=0.01)
        path = piece.edge(dart.edge).path
        turn = turn_between_deg(
            path.between(0.0, dart.a).end_tangent,
            path.between(dart.b, path.length).start_tangent,
        )
        angle = dart_angle_deg(piece, dart)
        assert min(abs(turn + angle), abs(turn - angle)) < 5.0, (dart.name, turn, angle)


@pytest.mark.parametrize("piece", PIECES)
def test_curves_run_without_kinks(piece: Piece) -> None:
    """Inside an edge the direction never jumps, except at a dart's mouth and a square corner."""
    for edge in piece.edges:
        run = 0.0
        darts = piece.darts_on(edge.name)
        for before, after in pairwise(edge.path.segments):
            run += before.length
            if any(d.a - 0.01 <= run <= d.b + 0.01 for d in darts):
                continue
            jump = abs(turn_between_deg(before.tangent(1.0), after.tangent(0.0)))
            assert jump < 0.01, (edge.name, run)


@pytest.mark.parametrize("piece", PIECES)
def test_curves_are_not_tighter_than_a_hand_can_sew(piece: Piece) -> None:
    """No stitching curve bends more tightly than 15 mm of radius (our own bound)."""
    for edge in piece.edges:
        for s in edge.path.segments:
            if isinstance(s, Cubic):
                assert max(abs(curvature(s, i / 40)) for i in range(41)) <= 1 / 15, edge.name


@pytest.mark.parametrize(("pattern", "seam"), SEAMS)
def test_both_sides_of_every_seam_agree(pattern: Pattern, seam: Seam) -> None:
    """Stitching lengths with darts folded out differ by the ease that is meant, to 0.01 mm."""
    a, b = side(pattern, seam.a), side(pattern, seam.b)
    assert b.length - a.length == pytest.approx(seam.ease, abs=0.01)


@pytest.mark.parametrize(("pattern", "seam"), SEAMS)
def test_notches_have_partners_at_the_same_place(pattern: Pattern, seam: Seam) -> None:
    """Every named notch has its partner; without ease both lie equally far along the seam."""
    a, b = side(pattern, seam.a), side(pattern, seam.b)
    at_a = {s.name: s.at for s in a.stations if s.name}
    at_b = {s.name: s.at for s in b.stations if s.name}
    assert set(at_a) == set(at_b)
    if not seam.ease:
        for name, at in at_a.items():
            assert at == pytest.approx(at_b[name], abs=0.01)


@pytest.mark.parametrize("name", ["checked-waistcoat", "remnant"])
def test_patterns_without_a_story_walk_clean(name: str) -> None:
    """Every check passes on the waistcoat and the skirt: not one finding."""
    assert run_checks(PATTERNS[name]) == ()


def angle(piece: Piece, corner: str) -> float:
    """The inside angle in degrees at a named corner."""
    names = [e.corner for e in piece.edges]
    return corner_angle_deg(piece, names.index(corner))


@pytest.mark.parametrize("name", ["coat-and-skirt", "checked-waistcoat"])
def test_lines_run_square_to_centre_and_fair_over_seams(name: str) -> None:
    """Neck square to centre, neck and armhole fair over the shoulder, armhole and hem at the side.

    Common practice: 90 degrees at a fold, 180 degrees within 5 where two pieces are sewn.
    """
    pattern = PATTERNS[name]
    prefix = "coat " if name == "coat-and-skirt" else ""
    front, back = pattern.piece(f"{prefix}front"), pattern.piece(f"{prefix}back")
    for corner in ("neck point", "shoulder tip", "underarm", "side hem"):
        assert angle(front, corner) + angle(back, corner) == pytest.approx(180.0, abs=0.5), corner
    for corner in ("centre neck", "centre hem"):
        assert angle(back, corner) == pytest.approx(90.0, abs=0.1)


@pytest.mark.parametrize("piece", PIECES)
def test_net_lengths_are_positive(piece: Piece) -> None:
    """Folding the darts out leaves something of every edge."""
    assert all(net_length(piece, e.name) > 5.0 for e in piece.edges)
