"""What is measured on the printed page: squares, and lines that go on from page to page.

Pages are drawn by two unrelated programs at 300 dots per inch and measured by the middles of
their lines, to a fraction of a dot.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from clothwright.drawing.style import PRINT
from clothwright.geometry.vec import Vec
from clothwright.outputs.marks import SQUARE_MM, measuring_square, page_square
from clothwright.outputs.paper import parse_paper
from clothwright.outputs.pdf_canvas import PagePart, PdfPage, pdf_of_pages
from clothwright.outputs.sheet_pdf import MARGIN_MM, sheet_pdf
from clothwright.outputs.tiled_pdf import PagePlan, PrintSetting, plan_pages, tiled_pdf
from clothwright.outputs.trace import Trace
from clothwright.picture import DrawnRole, Picture, Stroke
from tests.outputs.raster import PAPER, RENDERERS, Raster, middle_of_line, side_lengths
from tests.outputs.specimens import cut, panel, panel_path

PAPERS = ("A4", "Letter")
OFF_MM = 0.1
REJOINED_MM = 0.2
INK_ONLY = 0.75
"""Darker than this is a cutting line; joining lines and test squares are paler."""


@cache
def printed(paper: str, renderer: str) -> tuple[PagePlan, tuple[Raster, ...]]:
    setting = PrintSetting(paper=parse_paper(paper))
    picture = panel()
    return plan_pages(picture, setting), tuple(RENDERERS[renderer](tiled_pdf(picture, setting)))


@cache
def outline_only(paper: str, renderer: str) -> tuple[PagePlan, tuple[Raster, ...]]:
    setting = PrintSetting(paper=parse_paper(paper))
    picture = Picture(items=(cut(panel_path()),), title="Outline")
    return plan_pages(picture, setting), tuple(RENDERERS[renderer](tiled_pdf(picture, setting)))


def square_corner(plan: PagePlan, number: int, picture: Picture) -> Vec:
    """Where the test square of a page should be, mm from the page's lower left corner."""
    tile, margin = plan.tiles[number], plan.grid.margin
    square = page_square(tile, plan.grid.overlap, Trace(picture), title="", page_of="")
    line = square.items[0]
    assert isinstance(line, Stroke)
    return line.path.start - tile.low + Vec(margin, margin)


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_the_square_on_every_page_is_100_mm(paper: str, renderer: str) -> None:
    """100 mm is 100.0 ± 0.1 mm across and up on each page, the first one too."""
    plan, rasters = printed(paper, renderer)
    assert len(plan.tiles) >= 4
    assert len(rasters) == len(plan.tiles) + 1
    corners = [Vec(plan.grid.margin, plan.grid.margin)]
    corners += [square_corner(plan, i, panel()) for i in range(len(plan.tiles))]
    for raster, corner in zip(rasters, corners, strict=True):
        assert side_lengths(raster, corner, SQUARE_MM) == pytest.approx((100.0, 100.0), abs=OFF_MM)


@pytest.mark.parametrize("renderer", RENDERERS)
def test_the_outer_square_is_4_inches(renderer: str) -> None:
    """The second square of the first page is 4 in, 101.6 mm, both ways."""
    plan, rasters = printed("Letter", renderer)
    corner = (plan.grid.margin, plan.grid.margin)
    # Its lower left is the other square's; its right and upper sides stand 1.6 mm further out.
    x, y = corner
    raster = rasters[0]
    right = [
        middle_of_line(raster, (x + 101.6, y + 101.6 * s), (1.0, 0.0), reach=0.7)
        for s in np.linspace(0.1, 0.9, 9)
    ]
    top = [
        middle_of_line(raster, (x + 101.6 * s, y + 101.6), (0.0, 1.0), reach=0.7)
        for s in np.linspace(0.1, 0.9, 9)
    ]
    assert all(each is not None and abs(each) < OFF_MM for each in (*right, *top))


@pytest.mark.parametrize("renderer", RENDERERS)
def test_a_wrong_square_is_seen(renderer: str) -> None:
    """The measuring can fail: a square of 100.3 mm, or one that is not square, is measured so."""
    wrong = measuring_square(Vec(40, 60), 100.3)
    page = PdfPage(210, 297, "1", (PagePart(wrong, PRINT),))
    narrow = PdfPage(210, 297, "2", (PagePart(wrong, PRINT, scale=0.99, origin=Vec(0.4, 0.6)),))
    rasters = RENDERERS[renderer](pdf_of_pages((page, narrow), "Wrong"))
    assert side_lengths(rasters[0], (40, 60), 100.0) == pytest.approx((100.3, 100.3), abs=0.05)
    assert side_lengths(rasters[1], (40, 60), 100.0) == pytest.approx((99.3, 99.3), abs=0.05)


@pytest.mark.parametrize("renderer", RENDERERS)
def test_the_square_on_the_large_sheet(renderer: str) -> None:
    """The one large sheet carries the same square, true both ways."""
    picture = Picture(items=(cut(panel_path()),), title="Outline")
    (raster,) = RENDERERS[renderer](sheet_pdf(picture))
    corner = (MARGIN_MM, MARGIN_MM)
    assert side_lengths(raster, corner, SQUARE_MM) == pytest.approx((100.0, 100.0), abs=OFF_MM)


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_rejoined_pages_show_the_outline_where_it_is(paper: str, renderer: str) -> None:
    """Every 4 mm of the outline lies within 0.2 mm on each page that shows that place."""
    plan, rasters = outline_only(paper, renderer)
    worst, seen = 0.0, 0
    path = panel_path()
    for at in np.arange(5.0, path.length - 5.0, 4.0):
        point, tangent = path.point_at(at), path.tangent_at(at)
        if near_a_corner(point):
            continue
        for tile, raster in zip(plan.tiles, rasters[1:], strict=True):
            if not inside(point, tile.low, tile.high, 2.0) or near_a_joint(point, plan):
                continue
            place = point - tile.low + Vec(plan.grid.margin, plan.grid.margin)
            off = middle_of_line(raster, place, tangent.perp, least=INK_ONLY)
            assert off is not None, f"nothing drawn at {point} on {tile.name}"
            worst, seen = max(worst, abs(off)), seen + 1
    assert seen > 250
    assert worst <= REJOINED_MM


@pytest.mark.parametrize("renderer", RENDERERS)
def test_neighbours_agree_where_both_show_the_line(renderer: str) -> None:
    """In the strip that two pages share the line lies in the same place within 0.1 mm."""
    plan, rasters = outline_only("A4", renderer)
    shown = dict(zip((tile.name for tile in plan.tiles), rasters[1:], strict=True))
    path, margin = panel_path(), Vec(plan.grid.margin, plan.grid.margin)
    pairs = 0
    for at in np.arange(1.0, path.length - 1.0, 0.5):
        point, normal = path.point_at(at), path.tangent_at(at).perp
        for joint in plan.joints:
            both = (joint.under, joint.over)
            if near_a_joint(point, plan) or near_a_corner(point):
                continue
            if not all(inside(point, tile.low, tile.high, 1.6) for tile in both):
                continue
            a, b = (
                middle_of_line(shown[t.name], point - t.low + margin, normal, least=INK_ONLY)
                for t in both
            )
            assert a is not None
            assert b is not None
            assert a == pytest.approx(b, abs=0.1)
            pairs += 1
    assert pairs >= 4


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_is_drawn_near_the_papers_edge(paper: str, renderer: str) -> None:
    """Lines and marks keep 10 mm from the edge, where many printers lose them."""
    _, rasters = printed(paper, renderer)
    edge = int(10.0 * 300 / 25.4)
    for raster in rasters:
        frame = raster.grey.copy()
        frame[edge:-edge, edge:-edge] = PAPER
        assert frame.min() == PAPER
        assert raster.grey.min() < PAPER / 2


def inside(p: Vec, low: Vec, high: Vec, by: float) -> bool:
    return low.x + by <= p.x <= high.x - by and low.y + by <= p.y <= high.y - by


def near_a_corner(p: Vec) -> bool:
    """Where two edges meet a profile across one of them sees the other too."""
    ends = [segment.start for segment in panel_path().segments]
    return any(p.distance(end) < 6.0 for end in ends)


def near_a_joint(p: Vec, plan: PagePlan) -> bool:
    """Joining lines cross the outline there."""
    for joint in plan.joints:
        first, last = joint.ends
        across = (last - first).unit.perp
        if abs(across.dot(p - first)) < 1.2:
            return True
    return False


def test_pages_carry_test_squares_under_the_pattern() -> None:
    """The square is drawn first, so that no pattern line is hidden by it."""
    plan = plan_pages(panel(), PrintSetting())
    square = page_square(plan.tiles[0], plan.grid.overlap, Trace(panel()), title="", page_of="")
    assert {item.role for item in square.items} == {DrawnRole.TEST}
