"""What is left when everything is laid: the largest useful rectangle, and the bias it yields."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import Polygon

from clothwright.lay.problem import LayProblem, Region
from clothwright.lay.result import Lay

CELL_MM = 5.0
"""mm: the grid on which empty rectangles are looked for; one found is truly empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """An empty rectangle on a cloth, mm: lower left corner, length along, width across."""

    region: str
    x: float
    y: float
    along: float
    across: float

    @property
    def area(self) -> float:
        """Area in mm²."""
        return self.along * self.across


def largest_rest(problem: LayProblem, lay: Lay, region_name: str) -> Rest | None:
    """Return the largest empty rectangle of a cloth of fixed length, sides along the selvedge.

    For a cloth to be bought only the length in use counts. Conservative to `CELL_MM`. None when
    nothing as large as a cell is empty.
    """
    region = next(r for r in problem.regions if r.name == region_name)
    far = region.length if region.length is not None else lay.used.get(region_name, 0.0)
    far -= region.margin_end if region.length is not None else 0.0
    low, high = region.margin_lower, region.width - region.margin_upper
    columns = int((far - region.margin_start) // CELL_MM)
    rows = int((high - low) // CELL_MM)
    if columns < 1 or rows < 1:
        return None
    taken = [Polygon(p.outline) for p in lay.placements if p.region == region_name]
    free = _free(region, taken, columns, rows)
    found = _largest(free)
    if found is None:
        return None
    i, j, n, m = found
    return Rest(
        region=region_name,
        x=region.margin_start + i * CELL_MM,
        y=low + j * CELL_MM,
        along=n * CELL_MM,
        across=m * CELL_MM,
    )


def _free(region: Region, taken: list[Polygon], columns: int, rows: int) -> npt.NDArray[np.bool_]:
    """Return which cells (column along, row across) are wholly empty cloth."""
    free = np.ones((columns, rows), dtype=bool)
    keep: list[Polygon] = taken + [Polygon(k) for k in region.keep_out]
    for polygon in keep:
        _blot(free, region, polygon, outside=False)
    if region.outline is not None:
        _blot(free, region, Polygon(region.outline), outside=True)
    return free


def _blot(free: npt.NDArray[np.bool_], region: Region, polygon: Polygon, *, outside: bool) -> None:
    """Take out the cells that touch a polygon, or that are not wholly inside it."""
    columns, rows = free.shape
    x0, y0, x1, y1 = polygon.bounds
    if outside:
        i0, i1, j0, j1 = 0, columns, 0, rows
    else:
        i0 = max(0, int((x0 - region.margin_start) // CELL_MM))
        i1 = min(columns, int((x1 - region.margin_start) // CELL_MM) + 1)
        j0 = max(0, int((y0 - region.margin_lower) // CELL_MM))
        j1 = min(rows, int((y1 - region.margin_lower) // CELL_MM) + 1)
    if i1 <= i0 or j1 <= j0:
        return
    i, j = np.meshgrid(np.arange(i0, i1), np.arange(j0, j1), indexing="ij")
    xs, ys = region.margin_start + i * CELL_MM, region.margin_lower + j * CELL_MM
    cells = shapely.box(xs, ys, xs + CELL_MM, ys + CELL_MM)
    shapely.prepare(polygon)
    if outside:
        free[i0:i1, j0:j1] &= shapely.covers(polygon, cells)
    else:
        free[i0:i1, j0:j1] &= ~shapely.intersects(polygon, cells)


def _largest(free: npt.NDArray[np.bool_]) -> tuple[int, int, int, int] | None:
    """Return (column, row, columns, rows) of the largest all-free block (histogram method)."""
    best, where = 0, None
    heights = np.zeros(free.shape[1], dtype=int)
    for i in range(free.shape[0]):
        heights = np.where(free[i], heights + 1, 0)
        stack: list[tuple[int, int]] = []
        for j, h in enumerate([*heights.tolist(), 0]):
            start = j
            while stack and stack[-1][1] >= h:
                start, tall = stack.pop()
                if tall * (j - start) > best:
                    best = tall * (j - start)
                    where = (i - tall + 1, start, tall, j - start)
            stack.append((start, h))
    return where


@dataclass(frozen=True, slots=True, kw_only=True)
class BiasYield:
    """Bias strip from a rectangle, mm of length.

    continuous: from one tube, cut round and round, whole rows only. pieced: single strips joined
    by diagonal seams, each join taken off.
    """

    continuous: float
    pieced: float


def bias_yield(along: float, across: float, strip: float, seam: float = 6.0) -> BiasYield:
    """Return how much true-bias strip of width `strip` a rectangle gives (all mm).

    Continuous: cut on one diagonal, joined with `seam` twice: rows = floor((b - 2 a) / (w sqrt 2)),
    each sqrt 2 (h - 2 a) long, b the longer side, h the shorter (plane geometry; for squares
    the table in docs/sources.md). Pieced: strips side by side at 45 degrees, each as long as its
    shorter edge, less 2 a sqrt 2 for each join.

    >>> round(bias_yield(12 * 25.4, 12 * 25.4, 2 * 25.4, 12.7).continuous / 25.4, 1)
    46.7
    """
    if strip <= 0 or along <= 0 or across <= 0:
        return BiasYield(continuous=0.0, pieced=0.0)
    long, short = max(along, across), min(along, across)
    rows = math.floor((long - 2 * seam) / (math.sqrt(2) * strip) + 1e-9)
    row = math.sqrt(2) * (short - 2 * seam)
    continuous = rows * row if rows > 0 and row > 0 else 0.0
    lengths = _strips(along, across, strip, at_least=4 * strip)
    joins = max(0, len(lengths) - 1)
    pieced = max(0.0, sum(lengths) - joins * 2 * seam * math.sqrt(2))
    return BiasYield(continuous=continuous, pieced=pieced)


def _strips(along: float, across: float, strip: float, *, at_least: float) -> list[float]:
    """Return the lengths of 45 degree strips that tile a rectangle, too short ones left out."""
    step = strip * math.sqrt(2)

    def chord(c: float) -> float:
        return math.sqrt(2) * max(0.0, min(c, along, across, along + across - c))

    found = []
    k = 0
    while (k + 1) * step <= along + across:
        length = min(chord(k * step), chord((k + 1) * step))
        if length >= at_least:
            found.append(length)
        k += 1
    return found
