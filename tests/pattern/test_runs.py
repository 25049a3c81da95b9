"""Places along the run of edges that is one side of a seam."""

from __future__ import annotations

import pytest
from shapely import LineString
from tests.garments.wardrobe import GARMENTS

from clothwright.pattern.measure import place_on


@pytest.mark.parametrize("at", [0.0, 0.3, 0.5, 0.97, 1.0])
def test_a_place_lies_as_far_along_as_was_asked(at: float) -> None:
    """Edges without darts, end to end, back to front where reversed: shapely measures them."""
    pattern = GARMENTS["shirt"]()
    for seam in pattern.seams:
        lines = []
        for r in seam.a:
            line = LineString(pattern.edge(r).path.flatten(0.001))
            lines.append(line.reverse() if r.reversed else line)
        run = at * sum(line.length for line in lines)
        ref, drawn = place_on(pattern, seam.a, run)
        n = seam.a.index(ref)
        edge = pattern.edge(ref).path
        point = edge.point_at(min(drawn, edge.length))
        there = lines[n].interpolate(run - sum(line.length for line in lines[:n]))
        assert (point.x, point.y) == pytest.approx((there.x, there.y), abs=0.05)


def test_what_lies_beyond_a_run_lies_at_its_end() -> None:
    """Before its start or past its end: the nearest place that it has."""
    pattern = GARMENTS["shirt"]()
    side = pattern.seam("side").a
    length = pattern.edge(side[0]).length
    assert place_on(pattern, side, -5.0) == (side[0], 0.0)
    assert place_on(pattern, side, length + 5.0) == (side[0], pytest.approx(length))
