"""Corners as sewn: which edges run on into each other, and the angle they make."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks import CheckSettings
from clothwright.checks.corners_as_sewn import CHECK
from clothwright.geometry.path import polyline
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from tests.checks.specimens import curve, outfit, seam
from tests.faults import planting as plant


def found(pattern: Pattern, **settings: float) -> list[Finding]:
    return list(CHECK.run(pattern, CheckSettings(**settings)))  # type: ignore[arg-type]


def panel(name: str, inside_deg: float, role: Role = Role.HEM) -> Piece:
    """A panel whose right edge "seam" rises from a lower edge at an inside angle."""
    foot = Vec(0, 0)
    far = unit_at(90.0 + inside_deg) * 200.0
    return Piece(
        name=name,
        edges=(
            Edge(name="seam", path=polyline((foot, (0, 300)))),
            Edge(name="rest", path=polyline(((0, 300), (-250, 300), far)), role=Role.SEAM),
            Edge(name="low", path=polyline((far, foot)), role=role, corner="foot"),
        ),
    )


def two(a: Piece, b: Piece, **more: object) -> Pattern:
    return Pattern(pieces=(a, b), seams=(seam("s", "a.seam", "b.seam", **more),))


@pytest.mark.parametrize(
    ("a", "b", "weight"),
    [
        (90, 90, None),
        (80, 100, None),
        (88, 88, None),
        (87.5, 87.5, None),
        (87, 87, Severity.NOTICE),
        (85, 85, Severity.NOTICE),
        (84, 84, Severity.FAULT),
        (92, 92, None),
        (96, 96, Severity.FAULT),
        (60, 60, Severity.NOTE),
    ],
)
def test_both_inside_angles_together_make_a_fair_line(
    a: float, b: float, weight: Severity | None
) -> None:
    """180 ± 5 degrees as sewn is fair (common practice), whatever each piece has alone; twice
    that is a notice, more a fault; beyond 45 a hem has a shape."""
    hits = found(two(panel("a", a), panel("b", b)))
    assert [f.severity for f in hits] == ([weight] if weight else [])
    if hits:
        assert hits[0].measured == pytest.approx(a + b)


def test_a_hem_and_a_seam_edge_do_not_run_on() -> None:
    """Where a hem meets an edge that is sewn to something else there is no line to be fair."""
    assert found(two(panel("a", 80), panel("b", 80, Role.SEAM))) == []


def test_edges_of_one_name_that_nothing_is_sewn_to_run_on() -> None:
    """Two necks without a facing in the pattern are still one neckline."""
    assert found(two(panel("a", 80, Role.SEAM), panel("b", 80, Role.SEAM)))


def test_facing_seams_are_turned_back_and_have_no_fair_end() -> None:
    """A facing lies behind its edge; the ends of that seam make no line."""
    assert found(two(panel("a", 80), panel("b", 80), kind="facing")) == []


def test_edges_that_follow_each_other_in_another_seam_run_on() -> None:
    """Both armholes lead into one cap: they must be fair at the shoulder and under the arm."""
    pattern = outfit()
    front = pattern.piece("front")
    under, tip = front.edge("armhole").path.start, front.edge("armhole").path.end
    way = (tip - front.edge("shoulder").path.end).angle_deg + 90
    bent = curve(under, 165, tip, way)
    spoilt = pattern.with_piece(plant.redrawn(front, "armhole", bent))
    hits = found(spoilt)
    assert [(f.where.seam, f.where.point) for f in hits] == [("side", "underarm")]
    assert hits[0].measured == pytest.approx(195)


@pytest.mark.parametrize("role", [Role.SEAM, Role.BOUND])
@pytest.mark.parametrize("off", [50.0, 60.0, -55.0])
def test_an_armhole_far_out_of_square_under_the_arm_is_a_fault(off: float, role: Role) -> None:
    """No armhole, neck or waist comes to a point at a seam on purpose: as sewn it is fair (180 ± 5
    across a seam, common practice); only a hem is shaped like that."""
    angle = 90 + off / 2
    hits = found(two(panel("a", angle, role), panel("b", angle, role)))
    assert [(f.severity, f.mend) for f in hits] == [(Severity.FAULT, None)]


def test_a_seam_that_ends_part_way_along_a_line_makes_no_corner() -> None:
    """Above a slit, below a fly or a zip: the line goes straight on, and lies open."""
    assert found(two(panel("a", 180), panel("b", 180))) == []


def test_a_centre_seam_meets_its_own_mirror_image() -> None:
    """A centre back seam joins the piece to its second copy: twice its angle counts."""
    own = replace(panel("a", 86))
    pattern = Pattern(pieces=(own,), seams=(seam("centre", "a.seam", "a.seam"),))
    hits = found(pattern)
    assert [f.measured for f in hits] == pytest.approx([172])


@pytest.mark.parametrize(
    ("angle", "role", "weight"),
    [
        (90, Role.HEM, None),
        (84, Role.HEM, Severity.NOTICE),
        (78, Role.HEM, Severity.FAULT),
        (84, Role.BOUND, Severity.NOTICE),
        (78, Role.BOUND, Severity.NOTICE),
        (50, Role.BOUND, Severity.NOTE),
    ],
)
def test_lines_meet_the_fold_squarely(angle: float, role: Role, weight: Severity | None) -> None:
    """Square within 5 degrees; a hem weighs more, a neck far off square is taken for a V."""
    piece = panel("a", angle, role)
    fold = replace(piece.edge("seam"), role=Role.FOLD)
    hits = [f for f in found(Pattern(pieces=(piece.with_edge(fold),))) if f.where.edge == "low"]
    assert [f.severity for f in hits] == ([weight] if weight else [])


def test_the_allowed_bend_can_be_set() -> None:
    """corner_deg is the maker's to choose."""
    assert found(two(panel("a", 80), panel("b", 92)), corner_deg=10.0) == []
