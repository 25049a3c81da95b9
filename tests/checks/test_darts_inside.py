"""Darts keep clear of each other and stop short of the bust point."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.checks import DEFAULTS
from clothwright.checks.darts_inside import darts_inside
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Finding, Severity
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Mark
from tests.checks.specimens import outfit

INCH = 25.4


def found(p: Pattern) -> list[Finding]:
    return list(darts_inside(p, DEFAULTS))


def with_bust_point(x: float, y: float = 140.0) -> Pattern:
    """The bust dart's point lies at (115, 140) and points to the left."""
    p = outfit()
    mark = Mark(name="bust point", at=Vec(x, y))
    return p.with_piece(replace(p.piece("front"), marks=(mark,)))


@pytest.mark.parametrize(
    ("short", "weight"),
    [
        (0.5 * INCH, None),  # agricultural university's course: 1/2 in
        (1.5 * INCH, None),  # side dart of a pair, 1 to 1 1/2 in
        (0.25 * INCH, Severity.NOTICE),
        (0.0, Severity.NOTICE),
        (-0.5 * INCH, Severity.FAULT),
    ],
)
def test_a_dart_stops_half_an_inch_short(short: float, weight: Severity | None) -> None:
    """1/2 in is the least that is taught (trade facts, darts); beyond the bust point is wrong."""
    hits = found(with_bust_point(115.0 - short))
    assert [f.severity for f in hits] == ([weight] if weight else [])
    if hits:
        assert hits[0].mend is not None
        assert hits[0].mend.params["by"] == pytest.approx(12.7 - short, abs=0.01)


def test_a_dart_that_passes_the_bust_point_by_more_than_an_inch_is_not_its_dart() -> None:
    """1 in round the bust point is as far as a dart's line still serves it (trade facts)."""
    assert found(with_bust_point(112.0, 140.0 + 1.2 * INCH)) == []
    assert found(with_bust_point(112.0, 140.0 + 0.8 * INCH))


def two_darts(second: Dart) -> Pattern:
    p = outfit()
    piece = p.piece("skirt front")
    return p.with_piece(replace(piece, darts=(*piece.darts, second)))


@pytest.mark.parametrize(
    ("point", "crossing"),
    [
        (Vec(110, 520), True),  # its point lies in the waist dart
        (Vec(110, 480), False),  # both end at one place: they touch
        (Vec(110, 440), False),
        (Vec(140, 560), False),  # beside it
        (Vec(60, 560), False),
    ],
)
def test_darts_from_two_edges_may_touch_but_not_cross(point: Vec, crossing: bool) -> None:
    """The waist dart of the skirt runs from its edge at y 600 down to (110, 480)."""
    long = Dart(name="long", edge="hem", a=108.0, b=112.0, point=point)
    assert [f.code for f in found(two_darts(long))] == (["darts-cross"] if crossing else [])


def test_darts_whose_legs_cross_like_scissors_are_found() -> None:
    """From the side into the waist dart and out on its other side: legs cross, no point inside."""
    across = Dart(name="across", edge="side", a=505.0, b=515.0, point=Vec(80, 540))
    assert [f.code for f in found(two_darts(across))] == ["darts-cross"]
