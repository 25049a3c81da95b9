"""A pattern at full size on many small pages, with everything needed to join them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.drawing.style import PRINT, Look
from clothwright.errors import BadInput
from clothwright.geometry.box import Box
from clothwright.geometry.vec import Vec
from clothwright.outputs.cover import CoverFacts, cover, cover_paper
from clothwright.outputs.marks import Joint, joints_of, page_marks, page_square
from clothwright.outputs.pages import Grid, Tile
from clothwright.outputs.paper import Paper, parse_paper
from clothwright.outputs.pdf_canvas import PagePart, PdfPage, pdf_of_pages
from clothwright.outputs.trace import Trace, pieces_on_pages, thrifty_tiles
from clothwright.picture.picture import Item, Picture, Text
from clothwright.units import Unit

A4 = parse_paper("A4")
MARGIN_MM = 12.0
OVERLAP_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintSetting:
    """How a pattern goes on paper. margin: from the paper's edge to anything printed, mm.

    overlap: the strip that neighbouring pages both show, mm. With 0 they are butted and the
    margin alone takes the glue. unit: for the sizes named on the first page.
    """

    paper: Paper = A4
    margin: float = MARGIN_MM
    overlap: float = OVERLAP_MM
    unit: Unit = Unit.cm


class PagePlan(NamedTuple):
    """The pages a picture takes: the whole grid, the pages that carry something, their joints.

    pieces: of each piece by name, the pages it takes.
    """

    grid: Grid
    tiles: tuple[Tile, ...]
    joints: tuple[Joint, ...]
    pieces: Mapping[str, tuple[Tile, ...]]


def page_grid(picture: Picture, setting: PrintSetting) -> Grid:
    """Return the pages laid over a picture so that few are needed. Raises BadInput, CannotDo."""
    if not picture.items:
        raise BadInput(
            what="there is nothing to print", where=picture.title, expected="at least one piece"
        )
    return thrifty_tiles(picture, setting.paper, setting.margin, setting.overlap)


def plan_pages(picture: Picture, setting: PrintSetting, grid: Grid | None = None) -> PagePlan:
    """Return which pages a picture takes, empty ones left out. Raises BadInput, CannotDo.

    grid: its `page_grid`, where it is at hand.
    """
    grid = grid or page_grid(picture, setting)
    trace = Trace(picture)
    tiles = trace.carried(grid)
    return PagePlan(grid, tiles, joints_of(tiles, trace), pieces_on_pages(picture, grid))


def tiled_pdf(
    picture: Picture,
    setting: PrintSetting | None = None,
    look: Look = PRINT,
    plan: PagePlan | None = None,
) -> bytes:
    """Return a PDF of full-size pages: page map and advice first, then every page that carries.

    The picture is in mm at full size and is drawn as it is; each page shows its part, a 100 mm
    test square, its name, and lines and half-diamonds where it joins others. Roles are layers.
    The same picture and setting give the same bytes. plan: its pages, where they are planned
    already. Raises BadInput, CannotDo.
    """
    setting = setting or PrintSetting()
    plan = plan or plan_pages(picture, setting)
    return pdf_of_pages(
        (*cover_pages(picture, plan, setting), *pattern_pages(picture, plan, look)),
        picture.title or "Pattern",
    )


def cover_pages(picture: Picture, plan: PagePlan, setting: PrintSetting) -> tuple[PdfPage, ...]:
    """The first page, or two where the paper is small, with map, test squares and advice."""
    paper = cover_paper(plan.grid.paper)
    facts = CoverFacts(picture, *plan, setting.unit)
    return tuple(
        PdfPage(paper.width, paper.height, name, (PagePart(drawn, PRINT),))
        for name, drawn in zip(("Map", "Map 2"), cover(facts), strict=False)
    )


def pattern_pages(picture: Picture, plan: PagePlan, look: Look) -> tuple[PdfPage, ...]:
    """The pages that carry the pattern, in reading order."""
    trace = Trace(picture)
    boxed = tuple((item, _reach(item)) for item in picture.items)
    count = len(plan.tiles)
    named: dict[Tile, list[str]] = {}
    for name, on in plan.pieces.items():
        for tile in on:
            named.setdefault(tile, []).append(name)
    joined: dict[Tile, list[Joint]] = {}
    for joint in plan.joints:
        joined.setdefault(joint.under, []).append(joint)
        joined.setdefault(joint.over, []).append(joint)
    pages: list[PdfPage] = []
    row, near, boxed_near = -1, trace, boxed
    for i, tile in enumerate(plan.tiles, start=1):
        if tile.row != row:
            row = tile.row
            here = plan.grid.row_box(row)
            near = trace.near(*here)
            boxed_near = tuple((item, box) for item, box in boxed if box.meets(here))
        square = page_square(
            tile,
            plan.grid.overlap,
            near,
            title=picture.title,
            page_of=f"page {i} of {count}",
            pieces=", ".join(named.get(tile, ())),
        )
        under = square.plus(page_marks(tile, joined.get(tile, ())))
        origin = Vec(plan.grid.margin, plan.grid.margin) - tile.low
        # Items whose box misses the tile would only make the file larger.
        shown = Picture(items=tuple(item for item, box in boxed_near if box.meets(tile.box)))
        parts = (
            PagePart(under, PRINT, origin),
            PagePart(shown, look, origin, clip=(tile.low, tile.high)),
        )
        pages.append(PdfPage(plan.grid.paper.width, plan.grid.paper.height, tile.name, parts))
    return tuple(pages)


def _reach(item: Item) -> Box:
    """The box of an item with room for the width of its line or for wide letters."""
    return Picture(items=(item,)).bounds().grown(item.size if isinstance(item, Text) else 1.0)
