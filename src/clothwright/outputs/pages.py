"""Cutting a picture into pages: the grid of pages over a box, and how each page is called.

A page shows one tile of the picture, at full size, inside its margins. Neighbouring tiles share a
strip `overlap` wide. Rows are lettered from the top, columns numbered from the left, so that page
B3 is in the second row, third from the left, as on a town map.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.box import Box
from clothwright.geometry.vec import Vec
from clothwright.outputs.paper import Paper
from clothwright.words import AtLeast, AtMost

LEAST_MARGIN_MM = 9.5
"""Marks and lines stay this far from the paper's edge, 3/8 in: many printers cannot reach further
out (common practice: 10 mm or 3/8 to 1/2 in)."""

LEAST_TILE_MM = 112.0
"""A tile must have room for the 100 mm test square."""

LINE_MM = 0.5
"""Half of our broadest line, so that no page shows a line by half its width only."""

MOST_PAGES = 2000


class Tile(NamedTuple):
    """One page's part of the picture. row and column count from 0 at the top left."""

    row: int
    column: int
    low: Vec
    high: Vec

    @property
    def name(self) -> str:
        """Row letter and column number: "B3"."""
        return f"{_letters(self.row)}{self.column + 1}"

    @property
    def box(self) -> Box:
        """What it shows."""
        return Box(self.low, self.high)

    @property
    def place(self) -> tuple[int, int]:
        """Row and column, counted from 0."""
        return self.row, self.column


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Rows and columns of tiles that cover a box. `top_left`: of tile A1, in the picture's mm."""

    paper: Paper
    margin: float
    overlap: float
    rows: int
    columns: int
    top_left: Vec

    @property
    def tile_width(self) -> float:
        """Width of a page between its margins, mm."""
        return self.paper.width - 2 * self.margin

    @property
    def tile_height(self) -> float:
        """Height of a page between its margins, mm."""
        return self.paper.height - 2 * self.margin

    def tile(self, row: int, column: int) -> Tile:
        """The tile in a row and a column, counted from 0 at the top left."""
        left = self.top_left.x + column * (self.tile_width - self.overlap)
        top = self.top_left.y - row * (self.tile_height - self.overlap)
        low = Vec(left, top - self.tile_height)
        return Tile(row, column, low, Vec(left + self.tile_width, top))

    def row_box(self, row: int) -> Box:
        """What the pages of a row show."""
        return Box(self.tile(row, 0).low, self.tile(row, self.columns - 1).high)

    def own(self, tile: Tile) -> Box:
        """The part of a tile that no page to its left or above it shows already."""
        shared = max(0.0, self.overlap - LINE_MM)
        left = shared if tile.column else 0.0
        top = shared if tile.row else 0.0
        return Box(tile.low + Vec(left, 0.0), tile.high - Vec(0.0, top))

    def tiles(self) -> tuple[Tile, ...]:
        """Every tile in reading order."""
        return tuple(self.tile(r, c) for r in range(self.rows) for c in range(self.columns))

    def moved(self, right: float, up: float) -> Grid:
        """The same grid laid elsewhere (mm) over the picture."""
        return replace(self, top_left=self.top_left + Vec(right, up))


def tiles(bounds: Box, paper: Paper, margin: float, overlap: float) -> Grid:
    """Return the smallest grid of pages that covers a box, the box in its middle.

    All in mm. A side W needs ceil((W - overlap) / (w - overlap)) pages with w between the margins,
    which is the usual ceil(W / (w - overlap)) but for a last page that the overlap alone would
    fill. A0 on A4 with 10 mm margins, butted, is 5 × 5. Raises BadInput, CannotDo.
    """
    wide, tall = bounds.size
    paper = paper.cut_to(tall + 2 * margin)
    _check_paper(paper, margin, overlap)
    grid = Grid(
        paper=paper,
        margin=margin,
        overlap=overlap,
        rows=_count(tall, paper.height - 2 * margin, overlap),
        columns=_count(wide, paper.width - 2 * margin, overlap),
        top_left=Vec(bounds.low.x, bounds.high.y),
    )
    if grid.rows * grid.columns > MOST_PAGES:
        raise CannotDo(
            what=("a drawing of ", wide, " × ", tall, f" cannot be cut into {paper.name} pages"),
            why=f"it would take {grid.rows * grid.columns} of them",
            nearest="larger paper, or fewer pieces at a time",
        )
    over = spare(grid, wide, tall)
    return grid.moved(-over.x / 2, over.y / 2)


def spare(grid: Grid, wide: float, tall: float) -> Vec:
    """How much wider and taller the grid is than what it covers, mm."""
    step_x, step_y = grid.tile_width - grid.overlap, grid.tile_height - grid.overlap
    return Vec(
        step_x * (grid.columns - 1) + grid.tile_width - wide,
        step_y * (grid.rows - 1) + grid.tile_height - tall,
    )


def _count(side: float, tile: float, overlap: float) -> int:
    return max(1, math.ceil((side - overlap) / (tile - overlap) - 1e-9))


def _letters(row: int) -> str:
    """A to Z, then AA to ZZ."""
    return (_letters(row // 26 - 1) if row >= 26 else "") + chr(ord("A") + row % 26)


def _check_paper(paper: Paper, margin: float, overlap: float) -> None:
    if margin < LEAST_MARGIN_MM:
        raise BadInput(
            what=("a margin of ", margin, " is too small"),
            where="margin",
            expected=(
                "at least ",
                AtLeast(LEAST_MARGIN_MM),
                ", because many printers lose what lies further out",
            ),
        )
    inner = min(paper.width, paper.height) - 2 * margin
    if inner < LEAST_TILE_MM:
        raise BadInput(
            what=(f"{paper.name} with margins of ", margin, " leaves ", max(inner, 0.0)),
            where="paper",
            expected=(
                AtLeast(LEAST_TILE_MM),
                " or more both ways, so that the test square has room",
            ),
            try_="A4 or Letter",
        )
    if not 0 <= overlap <= inner / 3:
        raise BadInput(
            what=("pages of this size cannot share ", overlap),
            where="overlap",
            expected=("0 to ", AtMost(inner / 3)),
        )
