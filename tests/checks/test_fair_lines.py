"""Lines run fair over closed darts, inside edges and along hems; shapes that are meant stay."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwright.changes import shorten_dart
from clothwright.checks import DEFAULTS
from clothwright.checks.fair_lines import fair_lines
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.vec import Vec, unit_at
from clothwright.pattern.bends import bend_at_dart, bends_in, waves_in
from clothwright.pattern.finding import Finding
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from tests.checks.specimens import curve, outfit, seam


def found(p: Pattern) -> list[Finding]:
    return list(fair_lines(p, DEFAULTS))


def piece(line: Path, role: Role = Role.SEAM, name: str = "a") -> Piece:
    """A piece whose lower edge is the line, from left to right."""
    right, left = line.end + Vec(0, 300), line.start + Vec(0, 300)
    rest = polyline((line.end, right, left, line.start))
    return Piece(
        name=name, edges=(Edge(name="line", path=line, role=role), Edge(name="rest", path=rest))
    )


def bend(deg: float, size: float = 100.0) -> Path:
    """Two straight lines that meet at an angle; positive: the piece sticks out."""
    return polyline(
        (unit_at(180 - 0.5 * deg) * size + Vec(0, 0), (0, 0), unit_at(0.5 * deg) * size)
    )


@pytest.mark.parametrize("deg", [18.0, -18.0, 5.0])
def test_a_corner_in_an_edge_is_measured(deg: float) -> None:
    """Two straight lines at a known angle: plane geometry."""
    (b,) = bends_in(p := piece(bend(deg)), p.edge("line"))
    assert b.deg == pytest.approx(deg)
    assert b.at == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("deg", "codes"), [(9.0, []), (12.0, ["line-bent"]), (18.0, ["line-bent"]), (60.0, [])]
)
def test_a_free_line_with_a_shape_is_left_alone(deg: float, codes: list[str]) -> None:
    """A V neck that nothing is sewn to is a shape; a slight corner is a slip."""
    assert [f.code for f in found(Pattern(pieces=(piece(bend(deg), Role.BOUND),)))] == codes


def test_a_point_that_goes_into_a_notch_is_meant() -> None:
    """A pointed yoke: one side sticks out by what the other is cut in; else it is a fault."""
    yoke, body = piece(bend(20)), piece(bend(-20), name="b")
    runs = seam("yoke", "a.line", "b.line reversed")
    assert found(Pattern(pieces=(yoke, body), seams=(runs,))) == []
    straight = piece(polyline(((-98, 0), (98, 0))), name="b")
    hits = found(Pattern(pieces=(yoke, straight), seams=(runs,)))
    assert [(f.code, f.severity.value) for f in hits] == [("line-bent", "fault")]


def test_a_curve_drawn_point_by_point_has_no_corners() -> None:
    """A quarter round of 60 mm in six straight parts bends by 15 degrees at each: a curve."""
    points = [unit_at(225 + 15 * k) * 60 for k in range(7)]
    p = piece(polyline(points))
    assert found(Pattern(pieces=(p,))) == []


def test_a_step_finer_than_a_pencil_line_is_no_corner() -> None:
    """0.3 mm out at 45 degrees and on again: over 3 mm it is one of 6."""
    p = piece(polyline(((-100, 0), (0, 0), (0.3, 0.3), (100, 0.3))))
    assert found(Pattern(pieces=(p,))) == []


def test_a_straight_line_over_a_dart_bends_by_the_darts_angle() -> None:
    """Folded, the two parts of a straight edge meet at twice the half angle (plane geometry)."""
    front = outfit().piece("front")
    b = bend_at_dart(front, front.darts[0])
    assert b is not None
    assert b.deg == pytest.approx(-2 * math.degrees(math.atan2(10, 125)))


@pytest.mark.parametrize(("depth", "angle"), [(100.0, 11.42), (60.0, 18.92), (40.0, 28.07)])
def test_a_dart_set_back_bends_the_line_more(depth: float, angle: float) -> None:
    """Its width stays, so its angle is 2 atan(10 / depth): 18 to 30 degrees are faults."""
    p = outfit()
    by = 125.0 - depth
    p = shorten_dart.apply(p, shorten_dart.ShortenDart(dart="front.bust", by=by)).pattern
    hits = [f for f in found(p) if f.where.piece == "front"]
    assert [f.code for f in hits] == ["line-bent-at-dart"]
    assert hits[0].measured == pytest.approx(angle, abs=0.01)
    assert hits[0].severity.value == ("fault" if angle > 15 else "notice")


def test_an_even_curve_does_not_wave() -> None:
    """A hem that is one curve turns one way only, however far."""
    hem = piece(curve(Vec(-150, 20), -15, Vec(150, 20), 15), Role.HEM)
    assert waves_in(hem, hem.edge("line")) == ()


def test_an_s_of_a_sleeves_hem_is_long_and_meant() -> None:
    """A wrist hollowed in front and dropped behind turns both ways, each over 13 cm."""
    line = Path((*curve(Vec(-135, 0), -12, Vec(0, 0), 12).segments,
                 *curve(Vec(0, 0), 12, Vec(135, 0), -12).segments))  # fmt: skip
    assert found(Pattern(pieces=(piece(line, Role.HEM),))) == []
    hem = piece(line, Role.HEM)
    (wave,) = waves_in(hem, hem.edge("line"))
    assert wave.deg == pytest.approx(24.0, abs=0.5)


def test_a_whole_pattern_that_is_fair_has_nothing() -> None:
    """Not even after a dart was drawn a little deeper."""
    p = outfit()
    deeper = replace(p.piece("front").darts[0], point=Vec(112, 140))
    assert found(p.with_piece(replace(p.piece("front"), darts=(deeper,)))) == []
