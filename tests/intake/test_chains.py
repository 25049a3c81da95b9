"""Open lines that meet are joined round the outside, whatever else ends at their corners."""

from __future__ import annotations

import itertools

import pytest

from clothwright.geometry.area import polygon_area
from clothwright.geometry.path import polyline, ring
from clothwright.intake.chains import chains
from clothwright.intake.drawing import DrawnLine


def line(*points, label=""):
    return DrawnLine(path=polyline(points), closed=False, label=label)


SIDES = [
    line((0, 0), (100, 0)),
    line((100, 0), (120, 80)),
    line((120, 80), (-20, 80), label="cap"),
    line((0, 0), (-20, 80)),
]


@pytest.mark.parametrize("order", list(itertools.permutations(range(4))))
def test_sides_in_any_order(order):
    """Four sides make one outline in whatever order and direction they are drawn."""
    closed, loose = chains([SIDES[k] for k in order])
    assert loose == []
    (one,) = closed
    assert abs(polygon_area(ring(one.path))) == pytest.approx(9600)
    assert one.label == "cap"


@pytest.mark.parametrize("place", range(6))
def test_a_level_line_from_corner_to_corner_stays_inside(place):
    """A line across that ends at two corners is no part of the outline (a biceps line does so)."""
    top = [line((120, 80), (50, 140)), line((50, 140), (-20, 80))]
    level = line((-20, 80), (120, 80), label="biceps")
    lines = [SIDES[0], SIDES[1], SIDES[3], *top]
    lines.insert(place, level)
    closed, loose = chains(lines)
    assert [x.label for x in loose] == ["biceps"]
    assert abs(polygon_area(ring(closed[0].path))) == pytest.approx(9600 + 140 * 60 / 2)


def test_what_does_not_close_stays_loose():
    """Three sides, and a line that meets a corner, stay as they are."""
    stray = line((100, 0), (300, -40))
    closed, loose = chains([*SIDES[:3], stray])
    assert closed == []
    assert len(loose) == 4


def test_two_pieces_side_by_side():
    """Every outline closes by itself, also when two touch at a corner."""
    other = [
        line((100, 0), (200, 0)),
        line((200, 0), (200, -90)),
        line((200, -90), (100, -90)),
        line((100, -90), (100, 0)),
    ]
    closed, loose = chains([*SIDES, *other])
    assert loose == []
    assert sorted(round(abs(polygon_area(ring(c.path)))) for c in closed) == [9000, 9600]


def test_a_grid_comes_to_an_end(monkeypatch):
    """A grid of many small lines is not taken apart for ever: what is left of it stays loose."""
    monkeypatch.setattr("clothwright.intake.chains.MOST_WORK", 500)
    cells = range(12)
    grid = [line((i, j), (i + 1, j)) for i in cells for j in cells]
    grid += [line((i, j), (i, j + 1)) for i in cells for j in cells]
    closed, loose = chains(grid)
    assert closed
    assert loose
