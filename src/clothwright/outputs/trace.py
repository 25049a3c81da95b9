"""Which pages of a grid carry something, and where the grid lies so that they are fewest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from clothwright.geometry.vec import Vec
from clothwright.outputs.pages import Grid, Tile, spare, tiles
from clothwright.outputs.paper import Paper
from clothwright.picture.picture import DrawnPhoto, DrawnRole, Fill, Item, Picture, Stroke, Text

EDGE_MM = 1.0
"""Clear space kept round the picture so that no line lies on the very edge of the outer tiles."""

CLOSE_MM = 0.05
"""How finely curves are followed when we ask which pages they cross."""

NO_AREA = -1

Numbers = npt.NDArray[np.float64]
Counts = npt.NDArray[np.intp]


def thrifty_tiles(picture: Picture, paper: Paper, margin: float, overlap: float) -> Grid:
    """Return the grid over a picture, slid to where the fewest pages carry something.

    Of places with equally few pages the one where the fewest lines are cut by joints is taken.
    The picture keeps a clear edge of 1 mm. Raises BadInput, CannotDo; ValueError when the picture
    is empty.
    """
    box = picture.bounds().grown(EDGE_MM)
    middle = tiles(box, paper, margin, overlap)
    over = spare(middle, *box.size)
    trace = Trace(picture)
    shifts = (0.0, -0.5, -0.25, 0.25, 0.5)
    choices = [middle.moved(x * over.x, y * over.y) for y in shifts for x in shifts]
    return min(choices, key=trace.cost)


def carrying(picture: Picture, grid: Grid) -> tuple[Tile, ...]:
    """Return the tiles that carry something, in reading order.

    A line counts where it runs, not where its box lies. A tile inside a piece counts though no
    line crosses it: without its paper the joined pattern would have a hole.
    """
    return Trace(picture).carried(grid)


def pieces_on_pages(picture: Picture, grid: Grid) -> dict[str, tuple[Tile, ...]]:
    """Return, for every group that has a cutting line, the pages it takes; in drawing order."""
    lines: dict[str, list[Item]] = {}
    for item in picture.items:
        if item.role is DrawnRole.CUT and item.group:
            lines.setdefault(item.group, []).append(item)
    return {name: carrying(Picture(items=tuple(items)), grid) for name, items in lines.items()}


class Trace:
    """A picture's lines and areas as straight chords, ready to be asked about many grids."""

    def __init__(self, picture: Picture) -> None:
        """Follow every line once."""
        chords = _Chords()
        for item in picture.items:
            chords.add(item)
        self._start, self._end, self._line, self._area = chords.arrays()

    def near(self, low: Vec, high: Vec) -> Trace:
        """Return the trace of the chords that may meet a box: quicker to ask often."""
        kept = self._touching(low, high)
        part = Trace(Picture())
        part._start, part._end = self._start[kept], self._end[kept]
        part._line, part._area = self._line[kept], self._area[kept]
        return part

    def _touching(self, low: Vec, high: Vec) -> npt.NDArray[np.bool_]:
        """Which chords have a box that meets the box."""
        (x0, y0), (x1, y1) = self._start.T, self._end.T
        meets: npt.NDArray[np.bool_] = (
            (np.minimum(x0, x1) <= high.x)
            & (np.maximum(x0, x1) >= low.x)
            & (np.minimum(y0, y1) <= high.y)
            & (np.maximum(y0, y1) >= low.y)
        )
        return meets

    def carried(self, grid: Grid) -> tuple[Tile, ...]:
        """Return the tiles of a grid that carry something, in reading order."""
        numbers = self._carried(grid, self._crossings(grid))
        return tuple(grid.tile(*divmod(int(number), grid.columns)) for number in numbers)

    def cost(self, grid: Grid) -> tuple[int, int]:
        """Pages printed, and how many pages all lines together run over: less is less to join."""
        crossings = self._crossings(grid)
        return len(self._carried(grid, crossings)), len(crossings)

    def _carried(self, grid: Grid, crossings: Counts) -> Counts:
        """The numbers of the tiles that carry something, rising."""
        crossed = crossings % (grid.rows * grid.columns)
        return np.union1d(crossed, self._inside(grid))

    def length_in(self, low: Vec, high: Vec) -> float:
        """Return how many mm of line lie in a box."""
        touching = self._touching(low, high)
        start, end = self._start[touching], self._end[touching]
        if not len(start):
            return 0.0
        enter, leave = _clipped(start, end, np.array(low), np.array(high))
        return float(np.sum(np.maximum(leave - enter, 0.0) * np.hypot(*(end - start).T)))

    def _crossings(self, grid: Grid) -> Counts:
        """Every (line, tile) that meet, once, as line * number of tiles + tile."""
        low, high = np.minimum(self._start, self._end), np.maximum(self._start, self._end)
        lefts, rights = _spans([grid.own(grid.tile(0, c)) for c in range(grid.columns)], 0)
        bottoms, tops = _spans([grid.own(grid.tile(r, 0)) for r in range(grid.rows)], 1)
        column0 = np.searchsorted(rights, low[:, 0])
        column1 = np.searchsorted(lefts, high[:, 0], side="right") - 1
        # Rows count downward, so their edges fall; -edge rises.
        row0 = np.searchsorted(-bottoms, -high[:, 1])
        row1 = np.searchsorted(-tops, -low[:, 1], side="right") - 1
        wide, tall = np.maximum(column1 - column0 + 1, 0), np.maximum(row1 - row0 + 1, 0)
        chord = np.repeat(np.arange(len(low)), wide * tall)
        step = np.arange(len(chord)) - np.repeat(np.cumsum(wide * tall) - wide * tall, wide * tall)
        row = row0[chord] + step // wide[chord]
        column = column0[chord] + step % wide[chord]
        enter, leave = _clipped(
            self._start[chord],
            self._end[chord],
            np.stack((lefts[column], bottoms[row]), axis=1),
            np.stack((rights[column], tops[row]), axis=1),
        )
        meet = enter <= leave
        tile = row[meet] * grid.columns + column[meet]
        return np.unique(self._line[chord[meet]] * (grid.rows * grid.columns) + tile)

    def _inside(self, grid: Grid) -> Counts:
        """The tiles whose middles lie inside one of the areas (even-odd over each area's rings).

        Along the row of middles that a chord crosses, it turns inside out all that lie left of it.
        """
        lefts, rights = _spans([grid.own(grid.tile(0, c)) for c in range(grid.columns)], 0)
        bottoms, tops = _spans([grid.own(grid.tile(r, 0)) for r in range(grid.rows)], 1)
        across, up = _halfway(lefts, rights), _halfway(bottoms, tops)
        rings = self._area != NO_AREA
        (x0, y0), (x1, y1) = self._start[rings].T, self._end[rings].T
        # Rows count downward, so their middles fall; -middle rises.
        first = np.searchsorted(-up, -np.maximum(y0, y1), side="right")
        count = np.searchsorted(-up, -np.minimum(y0, y1), side="right") - first
        chord = np.repeat(np.arange(len(first)), count)
        row = first[chord] + np.arange(len(chord)) - np.repeat(np.cumsum(count) - count, count)
        rise = (y1 - y0)[chord]
        x = x0[chord] + (up[row] - y0[chord]) * (x1 - x0)[chord] / rise
        left_of = np.searchsorted(across, x)
        places, at = np.unique(self._area[rings][chord] * grid.rows + row, return_inverse=True)
        turned = np.zeros((len(places), grid.columns + 1), dtype=np.intp)
        np.add.at(turned, (at, left_of), 1)
        crossed = np.cumsum(turned[:, :0:-1], axis=1)[:, ::-1]
        place, column = np.nonzero(crossed % 2)
        return places[place] % grid.rows * grid.columns + column


@dataclass(slots=True)
class _Chords:
    """Chords being gathered: their ends, which line and which area each belongs to."""

    rings: list[Numbers] = field(default_factory=list)
    areas: list[int] = field(default_factory=list)
    count: int = 0

    def add(self, item: Item) -> None:
        """Follow one item."""
        if isinstance(item, Text):
            self._put((_points(_text_box(item)),), encloses=True)
            return
        path = item.clip if isinstance(item, DrawnPhoto) else item.path
        outline = _points(path.flatten(CLOSE_MM))
        if isinstance(item, Fill):
            holes = tuple(_ring(_points(hole.flatten(CLOSE_MM))) for hole in item.holes)
            self._put((_ring(outline), *holes), encloses=True)
        elif isinstance(item, DrawnPhoto):
            self._put((_ring(outline),), encloses=True)
        else:
            encloses = _encloses(item)
            self._put((_ring(outline) if item.closed or encloses else outline,), encloses=encloses)

    def _put(self, rings: tuple[Numbers, ...], *, encloses: bool) -> None:
        self.rings += rings
        self.areas += [self.count if encloses else NO_AREA] * len(rings)
        self.count += encloses

    def arrays(self) -> tuple[Numbers, Numbers, Counts, Counts]:
        """Starts and ends of all chords, their lines' numbers, their areas' numbers."""
        none = np.zeros((0, 2))
        sizes = [len(ring) - 1 for ring in self.rings]
        return (
            np.vstack([none, *(ring[:-1] for ring in self.rings)]),
            np.vstack([none, *(ring[1:] for ring in self.rings)]),
            np.repeat(np.arange(len(sizes)), sizes),
            np.repeat(np.array(self.areas, dtype=np.intp), sizes),
        )


def _encloses(item: Stroke) -> bool:
    """A closed cutting line, or one whose ends meet, is the edge of a piece of paper."""
    ends_meet = item.path.start.is_near(item.path.end, 0.01) and len(item.path.segments) > 1
    return item.role in (DrawnRole.CUT, DrawnRole.PIECE) and (item.closed or ends_meet)


def _points(points: Iterable[Vec]) -> Numbers:
    return np.array([(p.x, p.y) for p in points], dtype=np.float64)


def _ring(points: Numbers) -> Numbers:
    return np.vstack([points, points[:1]])


def _text_box(text: Text) -> tuple[Vec, ...]:
    corners = Picture(items=(text,)).bounds().corners
    return *corners, corners[0]


def _halfway(low: Numbers, high: Numbers) -> Numbers:
    return low + (high - low) * 0.5


def _spans(boxes: list[tuple[Vec, Vec]], axis: int) -> tuple[Numbers, Numbers]:
    """Low and high edges of boxes along one axis."""
    return np.array([low[axis] for low, _ in boxes]), np.array([high[axis] for _, high in boxes])


def _clipped(start: Numbers, end: Numbers, low: Numbers, high: Numbers) -> tuple[Numbers, Numbers]:
    """Where each chord enters and leaves a box, as parts of the chord; outside: enter > leave.

    Liang and Barsky's clip, all chords at once. low and high: one corner, or one for each chord.
    """
    along = end - start
    still = np.abs(along) < 1e-12
    safe = np.where(still, 1.0, along)
    a, b = (low - start) / safe, (high - start) / safe
    outside = still & ((start < low) | (start > high))
    enter = np.where(still, np.where(outside, 2.0, 0.0), np.minimum(a, b))
    leave = np.where(still, 1.0, np.maximum(a, b))
    return np.maximum(enter.max(axis=1), 0.0), np.minimum(leave.min(axis=1), 1.0)
