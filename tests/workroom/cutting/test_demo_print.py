"""The demo outfit on paper: every test square, and every cutting line put together again.

Drawn by two unrelated programs at 300 dots per inch, measured by the middles of lines.
"""

from __future__ import annotations

import itertools
from functools import cache

import numpy as np
import pytest

from clothwright.demo.coat_and_skirt import coat_and_skirt
from clothwright.drawing.arrange import side_by_side
from clothwright.drawing.piece import piece_picture
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.outputs.marks import SQUARE_MM, page_square
from clothwright.outputs.paper import parse_paper
from clothwright.outputs.tiled_pdf import PrintSetting, plan_pages, tiled_pdf
from clothwright.outputs.trace import Trace
from clothwright.picture.picture import DrawnRole, Stroke
from clothwright.workbook import replay
from tests.outputs.raster import RENDERERS, middle_of_line, side_lengths

OFF_MM = 0.1
REJOINED_MM = 0.2
PIECES = ("coat front", "coat sleeve", "skirt back", "back neck facing")


@cache
def arranged():
    pattern = replay(coat_and_skirt()).pattern
    book = coat_and_skirt()
    pictures = [piece_picture(pattern.piece(n), book.unit) for n in PIECES]
    return side_by_side(pictures, widest=900.0, title="Demo pieces")


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_square_on_the_demo_pages_is_true(paper, renderer):
    """100 mm is 100.0 ± 0.1 mm across and up on every page, among the lines of real pieces."""
    setting = PrintSetting(paper=parse_paper(paper))
    picture = arranged()
    plan = plan_pages(picture, setting)
    rasters = RENDERERS[renderer](tiled_pdf(picture, setting))
    assert len(rasters) == len(plan.tiles) + 1
    margin = Vec(plan.grid.margin, plan.grid.margin)
    trace = Trace(picture)
    for tile, raster in zip(plan.tiles, rasters[1:], strict=True):
        line = page_square(tile, plan.grid.overlap, trace, title="", page_of="").items[0]
        assert isinstance(line, Stroke)
        corner = line.path.start - tile.low + margin
        sides = side_lengths(raster, corner, SQUARE_MM)
        assert sides == pytest.approx((100.0, 100.0), abs=OFF_MM), tile.name


@pytest.mark.parametrize("renderer", RENDERERS)
def test_the_demo_pages_put_together_show_the_pieces(renderer):
    """Every 12 mm of every cutting line lies within 0.2 mm on each page that shows the place."""
    setting = PrintSetting(paper=parse_paper("A4"))
    cuts = arranged().only([DrawnRole.CUT])
    plan = plan_pages(cuts, setting)
    rasters = RENDERERS[renderer](tiled_pdf(cuts, setting))
    margin = Vec(plan.grid.margin, plan.grid.margin)
    worst, seen = 0.0, 0
    for stroke in cuts.items:
        for at in np.arange(6.0, stroke.path.length - 6.0, 12.0):
            point, tangent = stroke.path.point_at(at), stroke.path.tangent_at(at)
            if _bends(stroke.path, at):
                continue
            for tile, raster in zip(plan.tiles, rasters[1:], strict=True):
                inside = all(
                    lo + 3 < v < hi - 3
                    for v, lo, hi in zip(point, tile.low, tile.high, strict=True)
                )
                if not inside or _near_a_joint(point, plan, tile):
                    continue
                off = middle_of_line(raster, point - tile.low + margin, tangent.perp, least=0.75)
                assert off is not None, f"nothing drawn at {point} on {tile.name}"
                worst, seen = max(worst, abs(off)), seen + 1
    assert seen > 400
    assert worst <= REJOINED_MM


def _bends(path, at):
    """Whether the line turns a corner within 4 mm."""
    ways = [path.tangent_at(at + d) for d in (-4.0, -2.0, 0.0, 2.0, 4.0)]
    return any(abs(turn_between_deg(a, b)) > 6 for a, b in itertools.pairwise(ways))


def _near_a_joint(point, plan, tile):
    """Whether a joint's own line lies within 3 mm, which would be measured instead."""
    overlap = plan.grid.overlap
    edges_x = (tile.low.x + overlap, tile.high.x - overlap, tile.low.x, tile.high.x)
    edges_y = (tile.low.y + overlap, tile.high.y - overlap, tile.low.y, tile.high.y)
    return min(abs(point.x - x) for x in edges_x) < 3 or min(abs(point.y - y) for y in edges_y) < 3
