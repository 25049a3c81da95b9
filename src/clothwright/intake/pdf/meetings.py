"""How well pages meet when one lies beside another: lines cut at its edge that run on in the other.

A page shows a window. Neighbours overlap by nothing or some mm, the same for all pages that lie
side by side, and for all that lie above each other. A line that is cut at the edge of one window
must run on inside the other page, in the same direction and drawn with the same pen.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pen import DrawnPen, alike

NEAR_MM = 0.6
"""mm: ends nearer than this at a joint are one line's."""
TURN_DEG = 8.0
ON_MM = 0.05
"""mm: a line that ends this near to a window's edge is cut there."""
WIDEST_OVERLAP_MM = 60.0
STEP_MM, FINE_MM = 0.25, 0.025
"""mm: overlaps are tried in steps of the first, then near the best in steps of the second."""
FLAT_MM = 0.005
MOST_NEAR = 200
"""Places at which one end is looked for at most."""
MISS_COSTS = 0.001
"""Of an end that runs on: what a mm of miss costs, so that of equal overlaps the best is taken."""
LOST_COSTS = 0.5

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Scores = NDArray[np.floating]
"""Of pages a and b, in row a and column b."""


class Strokes(NamedTuple):
    """Places on lines: the page, the place along the edge, the direction (0 to 180), the pen."""

    page: Ints
    at: Floats
    way: Floats
    pen: Ints


class Meetings:
    """Pages that show one window, and how well each meets each other. Axis 0: across, 1: up."""

    def __init__(self, pages: Sequence[DrawnPage], size: Vec) -> None:
        """pages: measured from the lower left corner of the window, and cut there."""
        self.count, self.size = len(pages), size
        pens = _Pens()
        self._steps = _steps(pages, pens)
        self._ends = [[_ends(pages, axis, at, pens) for at in (0.0, size[axis])] for axis in (0, 1)]
        self.cut = [
            [np.bincount(e.page, minlength=self.count) for e in ends] for ends in self._ends
        ]
        """Of each axis, at its low and its high edge: how many lines of each page are cut there."""
        self._tried: dict[tuple[int, int], Scores] = {}
        self._rough: dict[int, Scores] = {}

    @property
    def ends(self) -> int:
        """How many lines are cut at an edge, of all pages."""
        return int(sum(int(c.sum()) for cuts in self.cut for c in cuts))

    def scores(self, axis: int, overlap: float) -> Scores:
        """Return what speaks for b right of a (axis 0) or above it (1), overlapping by some mm."""
        key = axis, round(overlap / FINE_MM)
        if key not in self._tried:
            self._tried[key] = self._scores(axis, overlap)
        return self._tried[key]

    def rough(self, axis: int) -> Scores:
        """Return what speaks for each two pages at every overlap that is tried, in steps."""
        if axis not in self._rough:
            steps = range(int(WIDEST_OVERLAP_MM / STEP_MM) + 1)
            self._rough[axis] = np.stack(
                [self._scores(axis, k * STEP_MM).astype(np.float32) for k in steps]
            )
        return self._rough[axis]

    def _scores(self, axis: int, overlap: float) -> Scores:
        low, high = self._ends[axis]
        inside = self._crossed(axis, overlap), self._crossed(axis, self.size[axis] - overlap)
        of_a, of_b = self._met(high, inside[0]), self._met(low, inside[1])
        cut = self.cut[axis][1][:, None] + self.cut[axis][0][None, :]
        met, off = of_a[0] + of_b[0].T, of_a[1] + of_b[1].T
        scores: Scores = met - LOST_COSTS * (cut - met) - MISS_COSTS * off
        np.fill_diagonal(scores, -np.inf)
        return scores

    def _met(self, ends: Strokes, inside: Strokes) -> tuple[Scores, Scores]:
        """Return how many ends of a page (row) run on in another (column), and their misses."""
        order = np.argsort(inside.at)
        at = inside.at[order]
        low = np.searchsorted(at, ends.at - NEAR_MM)
        some = np.minimum(np.searchsorted(at, ends.at + NEAR_MM, side="right") - low, MOST_NEAR)
        end = np.repeat(np.arange(len(some)), some)
        place = order[np.arange(len(end)) + np.repeat(low - (np.cumsum(some) - some), some)]
        turn = np.abs((ends.way[end] - inside.way[place] + 90.0) % 180.0 - 90.0)
        on = (turn <= TURN_DEG) & (ends.pen[end] == inside.pen[place])
        end, place = end[on], place[on]
        away = np.abs(ends.at[end] - inside.at[place])
        pairs = end * self.count + inside.page[place]
        nearest = np.lexsort((away, pairs))
        _, first = np.unique(pairs[nearest], return_index=True)
        one = nearest[first]
        cells = ends.page[end[one]] * self.count + inside.page[place[one]]
        most = self.count**2
        found = np.bincount(cells, minlength=most), np.bincount(cells, away[one], most)
        met, off = (f.astype(np.float64).reshape(self.count, self.count) for f in found)
        return met, off

    def _crossed(self, axis: int, at: float) -> Strokes:
        """Return where lines cross an upright line at x (axis 0), or a level one at y (1)."""
        steps = self._steps
        a, b = steps.ends[:, axis], steps.ends[:, axis + 2]
        some = (np.minimum(a, b) - 0.01 <= at) & (at <= np.maximum(a, b) + 0.01)
        some &= np.abs(b - a) > 1e-9
        a, b = a[some], b[some]
        t = np.clip((at - a) / (b - a), 0.0, 1.0)
        one, other = steps.ends[some, 1 - axis], steps.ends[some, 3 - axis]
        return Strokes(steps.page[some], one + t * (other - one), steps.way[some], steps.pen[some])


class _Steps(NamedTuple):
    """The lines of all pages as short straight steps. ends: x, y of their starts, then ends."""

    ends: Floats
    page: Ints
    way: Floats
    pen: Ints


class _Pens:
    """Numbers of pens that draw alike."""

    def __init__(self) -> None:
        self._known: list[DrawnPen] = []

    def of(self, pen: DrawnPen) -> int:
        for k, known in enumerate(self._known):
            if alike(known, pen):
                return k
        self._known.append(pen)
        return len(self._known) - 1


def _steps(pages: Sequence[DrawnPage], pens: _Pens) -> _Steps:
    rows, page, pen = [], [], []
    for k, one in enumerate(pages):
        for line in one.lines:
            steps = [(*a, *b) for a, b in pairwise(line.path.flatten(FLAT_MM))]
            rows += steps
            page += [k] * len(steps)
            pen += [pens.of(line.pen)] * len(steps)
    ends = np.array(rows, dtype=np.float64).reshape(-1, 4)
    way = np.degrees(np.arctan2(ends[:, 3] - ends[:, 1], ends[:, 2] - ends[:, 0])) % 180.0
    return _Steps(ends, np.array(page, dtype=np.int64), way, np.array(pen, dtype=np.int64))


def _ends(pages: Sequence[DrawnPage], axis: int, at: float, pens: _Pens) -> Strokes:
    """Return the open lines that end on one edge of the window."""
    found = [
        (k, p[1 - axis], way.angle_deg % 180.0, pens.of(line.pen))
        for k, page in enumerate(pages)
        for line in page.lines
        if not line.closed
        for p, way in (
            (line.path.start, line.path.start_tangent),
            (line.path.end, line.path.end_tangent),
        )
        if abs(p[axis] - at) < ON_MM
    ]
    page, place, way, pen = zip(*found, strict=True) if found else ((), (), (), ())
    return Strokes(
        np.array(page, dtype=np.int64),
        np.array(place, dtype=np.float64),
        np.array(way, dtype=np.float64),
        np.array(pen, dtype=np.int64),
    )
