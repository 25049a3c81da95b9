"""A piece with the print on it: what lies inside the cutting line, and which way it is turned."""

from __future__ import annotations

import pytest
from shapely import Polygon, box

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.drawing.printed import chords, printed_piece, within
from clothwright.picture.picture import DrawnRole, Fill, Stroke
from clothwright.workroom.searching.laying import lay_plan

L_SHAPE = ((0.0, 0.0), (9.0, 0.0), (9.0, 3.0), (4.0, 3.0), (4.0, 8.0), (0.0, 8.0))


@pytest.mark.parametrize(("axis", "low", "high"), [(1, 1.0, 2.0), (1, 2.0, 5.0), (0, 3.0, 6.0)])
def test_a_band_has_the_area_shapely_finds(axis: int, low: float, high: float) -> None:
    """Cutting by two lines agrees with shapely's intersection (general-purpose reference)."""
    window = box(-99, low, 99, high) if axis else box(low, -99, high, 99)
    expected = Polygon(L_SHAPE).intersection(window).area
    assert Polygon(within(L_SHAPE, axis, low, high)).area == pytest.approx(expected)


def test_a_band_beside_the_ring_is_nothing() -> None:
    """What does not reach the piece is not drawn on it."""
    assert within(L_SHAPE, 1, 20.0, 30.0) == ()
    assert chords(L_SHAPE, 1, 20.0) == []


def test_a_line_through_a_hollow_has_two_stretches() -> None:
    """A line that leaves the piece and comes in again is drawn inside only."""
    u = ((0.0, 0.0), (9.0, 0.0), (9.0, 8.0), (6.0, 8.0), (6.0, 3.0), (3.0, 3.0), (3.0, 8.0), (0, 8))
    assert [(a.x, b.x) for a, b in chords(u, 1, 5.0)] == [(0.0, 3.0), (6.0, 9.0)]
    assert [(a.y, b.y) for a, b in chords(u, 0, 4.0)] == [(0.0, 3.0)]


def test_the_border_lies_at_the_hem_of_a_skirt_laid_on_it() -> None:
    """A plan that puts the skirt's hem on the border shows the band low on the piece as worn."""
    laid = lay_plan(coat_and_skirt(), "skirt only", seconds=60.0, rounds=1)
    skirts = [p for p in laid.lay.placements if p.shape.startswith("skirt front")]
    assert skirts
    for placement in skirts:
        picture = printed_piece(laid.compiled, placement)
        bands = [i for i in picture.items if isinstance(i, Fill) and i.role is DrawnRole.BORDER]
        low, high = picture.bounds()
        assert len(bands) == 1
        top = bands[0].path.bounds()[1].y
        assert low.y < top < low.y + 0.5 * (high.y - low.y)
        motif = [i for i in picture.items if isinstance(i, Stroke) and i.role is DrawnRole.MOTIF]
        assert len(motif) > 2
