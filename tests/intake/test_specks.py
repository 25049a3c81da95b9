"""A speck in a line, shorter than any pen is wide, decides nothing: not a corner, not an edge."""

from __future__ import annotations

import pytest

from clothwright.geometry.path import polyline, ring_path
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.drawing import Drawing, DrawnLine
from clothwright.intake.specks import SPECK_MM, without_specks
from clothwright.pattern.outline import cutting_line
from clothwright.units import Unit
from tests.intake.proposing import propose

CAP = [(0.0, 0.0), (200.0, 0.0), (200.0, 150.0), (120.0, 190.0), (0.0, 150.0)]
"""A panel whose top bends little: by 45 degrees at (120, 190) (demo data)."""


def drawn(points) -> Drawing:
    return Drawing(
        name="x.svg", lines=(DrawnLine(path=ring_path(points), closed=True),), scale_known=True
    )


def with_speck(k: int, long: float, points=CAP) -> list[tuple[float, float]]:
    """Return the points with corner k cut off by a line as long as this, symmetrically."""

    before, at, after = (Vec(*points[(k + d) % len(points)]) for d in (-1, 0, 1))
    u, v = (before - at).unit, (after - at).unit
    reach = long / (u - v).norm
    a, b = at + u * reach, at + v * reach
    return [*points[:k], (a.x, a.y), (b.x, b.y), *points[k + 1 :]]


@pytest.mark.parametrize("k", range(len(CAP)))
@pytest.mark.parametrize("long", [0.0007, 0.02, 0.049])
def test_a_speck_at_a_corner_leaves_the_corner(k: int, long: float) -> None:
    """The same edges and, but for the speck, the same cutting line as without it; it is told."""
    said = Answers(allowance="5/8 in", name="panel")
    (want,) = propose(drawn(CAP), said, unit=Unit.inch).pieces
    made = propose(drawn(with_speck(k, long)), said, unit=Unit.inch)
    (got,) = made.pieces
    assert [e.name for e in got.edges] == [e.name for e in want.edges]
    for a, b in zip(cutting_line(got).edges, cutting_line(want).edges, strict=True):
        assert a.path.start.distance(b.path.start) < 2 * SPECK_MM
    assert any("too short to mean anything: 1" in n for n in made.notes)


def test_a_line_in_many_short_parts_stays_where_it_is() -> None:
    """A line drawn in thousandths keeps its ends and its place; one that is a speck is left out."""
    fine = polyline([(k * 0.001, 0.0) for k in range(1001)])
    dot = polyline([(5.0, 5.0), (5.01, 5.0)])
    lines = [DrawnLine(path=p, closed=False) for p in (fine, dot)]
    (kept,), notes = without_specks(lines)
    assert (kept.path.start, kept.path.end) == (fine.start, fine.end)
    assert all(s.length >= SPECK_MM for s in kept.path.segments)
    assert len(notes) == 1


def test_what_has_no_speck_is_the_same_object() -> None:
    """Nothing is rebuilt, and nothing said, where nothing is too short."""
    line = DrawnLine(path=ring_path(CAP), closed=True)
    (kept,), notes = without_specks([line])
    assert kept is line
    assert notes == ()
