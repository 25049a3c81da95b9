"""Which pages of a grid carry something, and where the grid lies so that they are fewest."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from clothwright.geometry.vec import Vec
from clothwright.outputs.pages import Box, Grid, Tile, spare, tiles
from clothwright.outputs.paper import Paper
from clothwright.picture.picture import Fill, Item, Picture, Role, Stroke, Text

EDGE_MM = 1.0
"""Clear space kept round the picture so that no line lies on the very edge of the outer tiles."""

CLOSE_MM = 0.05
"""How finely curves are followed when we ask which pages they cross."""


def thrifty_tiles(picture: Picture, paper: Paper, margin: float, overlap: float) -> Grid:
    """Return the grid over a picture, slid to where the fewest pages carry something.

    The picture keeps a clear edge of 1 mm. Raises BadInput, CannotDo; ValueError when the picture
    is empty.
    """
    low, high = picture.bounds()
    edge = Vec(EDGE_MM, EDGE_MM)
    low, high = low - edge, high + edge
    middle = tiles((low, high), paper, margin, overlap)
    over = spare(middle, high.x - low.x, high.y - low.y)
    trace = Trace(picture)
    shifts = (0.0, -0.5, -0.25, 0.25, 0.5)
    choices = [middle.moved(x * over.x, y * over.y) for y in shifts for x in shifts]
    return min(choices, key=lambda grid: len(trace.carried(grid)))


def carrying(picture: Picture, grid: Grid) -> tuple[Tile, ...]:
    """Return the tiles that carry something, in reading order.

    A line counts where it runs, not where its box lies. A tile inside a piece counts though no
    line crosses it: without its paper the joined pattern would have a hole.
    """
    return Trace(picture).carried(grid)


class Trace:
    """A picture's lines and areas as points, ready to be asked about many grids."""

    def __init__(self, picture: Picture) -> None:
        """Follow every line once."""
        self._lines: list[npt.NDArray[np.float64]] = []
        self._areas: list[tuple[npt.NDArray[np.float64], ...]] = []
        for item in picture.items:
            self._add(item)

    def _add(self, item: Item) -> None:
        if isinstance(item, Text):
            self._areas.append((_points(_text_box(item)),))
            self._lines.append(_points(_text_box(item)))
            return
        outline = _points(item.path.flatten(CLOSE_MM))
        if isinstance(item, Fill):
            holes = tuple(_ring(_points(h.flatten(CLOSE_MM))) for h in item.holes)
            self._areas.append((_ring(outline), *holes))
            self._lines += [_ring(outline), *holes]
        elif _encloses(item):
            self._areas.append((_ring(outline),))
            self._lines.append(_ring(outline))
        else:
            self._lines.append(_ring(outline) if item.closed else outline)

    def carried(self, grid: Grid) -> tuple[Tile, ...]:
        """Return the tiles of a grid that carry something, in reading order."""
        found: set[tuple[int, int]] = set()
        for line in self._lines:
            found |= _crossed(line, grid)
        for area in self._areas:
            found |= _inside(area, grid)
        return tuple(grid.tile(*place) for place in sorted(found))

    def length_in(self, low: Vec, high: Vec) -> float:
        """Return how many mm of line lie in a box."""
        total = 0.0
        for line in self._lines:
            if np.any(line.max(axis=0) < low) or np.any(line.min(axis=0) > high):
                continue
            enter, leave = _clipped(line, low, high)
            chords = np.hypot(*np.diff(line, axis=0).T)
            total += float(np.sum(np.maximum(leave - enter, 0.0) * chords))
        return total


def _encloses(item: Stroke) -> bool:
    """A closed cutting line, or one whose ends meet, is the edge of a piece of paper."""
    ends_meet = item.path.start.is_near(item.path.end, 0.01) and len(item.path.segments) > 1
    return item.role in (Role.CUT, Role.PIECE) and (item.closed or ends_meet)


def _points(points: Iterable[Vec]) -> npt.NDArray[np.float64]:
    return np.array([(p.x, p.y) for p in points], dtype=np.float64)


def _ring(points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return np.vstack([points, points[:1]])


def _text_box(text: Text) -> tuple[Vec, ...]:
    low, high = Picture(items=(text,)).bounds()
    return low, Vec(high.x, low.y), high, Vec(low.x, high.y), low


def _places(span: tuple[float, float], step: float, size: float, most: int) -> range:
    """Which of `most` intervals [i step, i step + size] touch the span."""
    first = math.floor((span[0] - size) / step)
    last = math.floor(span[1] / step)
    return range(max(0, first), min(most - 1, last) + 1)


def _candidates(box: Box, grid: Grid) -> Iterable[tuple[int, int]]:
    step_x, step_y = grid.tile_width - grid.overlap, grid.tile_height - grid.overlap
    low, high = box
    left, top = grid.top_left
    across = (low.x - left, high.x - left)
    down = (top - high.y, top - low.y)
    columns = _places(across, step_x, grid.tile_width, grid.columns)
    rows = _places(down, step_y, grid.tile_height, grid.rows)
    return ((r, c) for r in rows for c in columns)


def _crossed(line: npt.NDArray[np.float64], grid: Grid) -> set[tuple[int, int]]:
    """Tiles that a chain of points runs through (Liang and Barsky's clip, all chords at once)."""
    low, high = line.min(axis=0), line.max(axis=0)
    found = set()
    for place in _candidates((Vec(*low), Vec(*high)), grid):
        if _touches(line, *grid.own(grid.tile(*place))):
            found.add(place)
    return found


def _touches(line: npt.NDArray[np.float64], low: Vec, high: Vec) -> bool:
    enter, leave = _clipped(line, low, high)
    return bool(np.any(enter <= leave))


def _clipped(
    line: npt.NDArray[np.float64], low: Vec, high: Vec
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Where each chord enters and leaves a box, as parts of the chord; outside: enter > leave."""
    start, along = line[:-1], np.diff(line, axis=0)
    enter, leave = np.zeros(len(along)), np.ones(len(along))
    for axis in (0, 1):
        p, d = start[:, axis], along[:, axis]
        still = np.abs(d) < 1e-12
        safe = np.where(still, 1.0, d)
        a, b = (low[axis] - p) / safe, (high[axis] - p) / safe
        outside = still & ((p < low[axis]) | (p > high[axis]))
        enter = np.maximum(enter, np.where(still, np.where(outside, 2.0, 0.0), np.minimum(a, b)))
        leave = np.minimum(leave, np.where(still, 1.0, np.maximum(a, b)))
    return enter, leave


def _inside(rings: tuple[npt.NDArray[np.float64], ...], grid: Grid) -> set[tuple[int, int]]:
    """Pages whose own part has its middle inside the area (even-odd over all its rings)."""
    low, high = rings[0].min(axis=0), rings[0].max(axis=0)
    found = set()
    for place in _candidates((Vec(*low), Vec(*high)), grid):
        low_own, high_own = grid.own(grid.tile(*place))
        middle = low_own.lerp(high_own, 0.5)
        if sum(_crossings(ring, middle) for ring in rings) % 2:
            found.add(place)
    return found


def _crossings(ring: npt.NDArray[np.float64], p: Vec) -> int:
    """How often a ray from p to the right crosses the ring."""
    x0, y0, x1, y1 = ring[:-1, 0], ring[:-1, 1], ring[1:, 0], ring[1:, 1]
    spans = (y0 > p.y) != (y1 > p.y)
    rise = np.where(spans, y1 - y0, 1.0)
    return int(np.sum(spans & (x0 + (p.y - y0) * (x1 - x0) / rise > p.x)))
