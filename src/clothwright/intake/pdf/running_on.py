"""Lines that run on from page to page: which pages are neighbours, and how far lines miss."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.clip import Window, clipped
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.labels import Labels
from clothwright.intake.pdf.ways_to_lie import Cells, named, ways_to_lie

NEAR_MM = 0.6
"""mm: ends nearer than this at a joint are one line's."""
TURN_DEG = 6.0
WIDEST_OVERLAP_MM = 60.0
STEP_MM, FINE_MM = 0.25, 0.025
"""mm: overlaps are tried in steps of the first, then near the best in steps of the second."""

FLAT_MM = 0.005
Steps = NDArray[np.float64]
Places = NDArray[np.float64]


class TileGrid(NamedTuple):
    """How tiles lie: columns; each page's move; seams: x of upright joints, y of level ones."""

    columns: int
    by: tuple[Vec, ...]
    seams: tuple[tuple[float, ...], tuple[float, ...]]


class End(NamedTuple):
    """Where a line is cut at a page's edge: place along that edge, and direction outward."""

    at: float
    angle: float


SURE, LEAST = 0.9, 0.5
"""Share of all cut ends that run on: above the first no other way to lie is tried; below the second
pages are not taken to lie together."""


def best_grid(
    pages: Sequence[DrawnPage],
    labels: Labels,
    step: Vec,
    said: Cells | None = None,
) -> TileGrid | None:
    """Return how pages of one window lie together: where most lines run on. None when none do.

    said: how they lie, when the maker says it.
    """
    if said is not None:
        return grid_at(said, step)
    ends = [{side: _ends(p, side, step) for side in SIDES} for p in pages]
    full = sum(len(each) for page in ends for each in page.values()) / 2
    best: tuple[float, Cells] | None = None
    for some in ways_to_lie(pages, labels.names, labels.numbers):
        for cells in some:
            score = _score(ends, cells)
            if best is None or score > best[0]:
                best = (score, cells)
            if best[0] >= SURE * full:
                break
        if best is not None and best[0] >= SURE * full:
            break
    known = named(labels.names)
    if best is None or (best[0] < LEAST * full and not known):
        return None
    return grid_at(best[1], step) if full or known else None


def grid_at(cells: Cells, step: Vec) -> TileGrid:
    """Return pages lying in these cells, a step apart."""
    wide, tall = max(c for c, _ in cells) + 1, max(r for _, r in cells) + 1
    by = tuple(Vec(c * step.x, (tall - 1 - r) * step.y) for c, r in cells)
    seams = (
        tuple(k * step.x for k in range(1, wide)),
        tuple(k * step.y for k in range(1, tall)),
    )
    return TileGrid(wide, by, seams)


SIDES = ("left", "right", "low", "high")


def _ends(page: DrawnPage, side: str, size: Vec) -> list[End]:
    """Return where open lines end on one side of a window (0, 0)-(size)."""
    out = []
    for line in page.lines:
        if line.closed:
            continue
        path = line.path
        for p, way in ((path.start, path.start_tangent * -1.0), (path.end, path.end_tangent)):
            on = {
                "left": abs(p.x) < 0.05,
                "right": abs(p.x - size.x) < 0.05,
                "low": abs(p.y) < 0.05,
                "high": abs(p.y - size.y) < 0.05,
            }[side]
            if on:
                out.append(End(p.y if side in ("left", "right") else p.x, way.angle_deg))
    return out


def _score(ends: Sequence[dict[str, list[End]]], cells: Cells) -> float:
    """Return how many cut ends find their partner, less those that do not."""
    at = {cell: k for k, cell in enumerate(cells)}
    score = 0.0
    for (c, r), k in at.items():
        for side, other, cell in (("right", "left", (c + 1, r)), ("low", "high", (c, r + 1))):
            mine = ends[k][side]
            if cell not in at:
                score -= 0.25 * len(mine)
                continue
            theirs = ends[at[cell]][other]
            met = _met(mine, theirs, NEAR_MM)
            score += met - 0.5 * (len(mine) + len(theirs) - 2 * met)
        for side, cell in (("left", (c - 1, r)), ("high", (c, r - 1))):
            if cell not in at:
                score -= 0.25 * len(ends[k][side])
    return score


def _met(mine: Sequence[End], theirs: Sequence[End], tol: float) -> int:
    left = list(theirs)
    met = 0
    for end in mine:
        for k, other in enumerate(left):
            turn = abs((end.angle - other.angle + 180.0 + 180.0) % 360.0 - 180.0)
            if abs(end.at - other.at) <= tol and turn <= TURN_DEG:
                met += 1
                del left[k]
                break
    return met


def overlap_of(
    pages: Sequence[DrawnPage], labels: Labels, said: Cells | None = None
) -> tuple[TileGrid, Window] | None:
    """Return how overlapping pages lie, and the window of each that is kept; None when none do.

    The overlap is the same between all pages of a row, and between all of a column. It is found by
    trying: a line cut at one page's edge must run on inside its neighbour. said: how the pages lie,
    when the maker says it.
    """
    reach = reach_of(pages)
    overlaps = _Overlaps([_shown(p, reach) for p in pages], reach.size)
    full = sum(len(each) for page in overlaps.ends for each in page.values())
    best: tuple[float, Cells, Vec] | None = None
    ways = ways_to_lie(pages, labels.names, labels.numbers)
    if said is not None:
        ways = iter([iter([said])])
    for some in ways:
        for cells in some:
            found = overlaps.of(cells)
            if found is not None and (best is None or found[0] > best[0]):
                best = (found[0], cells, found[1])
            if best is not None and best[0] >= SURE * full:
                break
        if best is not None and best[0] >= SURE * full:
            break
    if best is None or best[0] < LEAST * full or best[0] <= 0:
        return None
    _, cells, step = best
    return grid_at(cells, step), reach.middle(step)


def reach_of(pages: Sequence[DrawnPage]) -> Window:
    """Return the box that holds what any page draws and shows: beyond it all are cut."""
    boxes = [line.path.bounds() for p in pages for line in p.lines]
    wide, tall = max(p.width for p in pages), max(p.height for p in pages)
    return Window(
        Vec(max(0.0, min(a.x for a, _ in boxes)), max(0.0, min(a.y for a, _ in boxes))),
        Vec(min(wide, max(b.x for _, b in boxes)), min(tall, max(b.y for _, b in boxes))),
    )


def _shown(page: DrawnPage, window: Window) -> DrawnPage:
    """Return what a page shows in a window: some programs draw on for a bit beyond the paper."""
    move = translation(window.low * -1.0)
    lines = [part for x in page.lines for part in clipped(x, window)]
    return replace(page, lines=tuple(replace(x, path=x.path.transformed(move)) for x in lines))


class _Overlaps:
    """Tries overlaps; remembers where each page's lines cross each place that was asked for."""

    def __init__(self, pages: Sequence[DrawnPage], size: Vec) -> None:
        self.pages, self.size = pages, size
        self.ends = [{side: _ends(p, side, size) for side in SIDES} for p in pages]
        self._steps = [_steps(p) for p in pages]
        self._known: dict[tuple[int, int, bool], Places] = {}
        self._pairs: dict[tuple[tuple[tuple[int, int], ...], bool], tuple[float, float] | None] = {}

    def of(self, cells: Cells) -> tuple[float, Vec] | None:
        """Return how well pages in these cells agree, and the best step from page to page."""
        at = {cell: k for k, cell in enumerate(cells)}
        rows = tuple((k, at[c + 1, r]) for (c, r), k in at.items() if (c + 1, r) in at)
        files = tuple((at[c, r + 1], k) for (c, r), k in at.items() if (c, r + 1) in at)
        across, down = self._agree(rows, upright=True), self._agree(files, upright=False)
        if across is None or down is None:
            return None
        return across[0] + down[0], Vec(self.size.x - across[1], self.size.y - down[1])

    def _agree(
        self, pairs: tuple[tuple[int, int], ...], *, upright: bool
    ) -> tuple[float, float] | None:
        """Return (score, overlap) for pairs, the first to the left or below: lines that run on."""
        if not pairs:
            return (0.0, 0.0)
        if (pairs, upright) not in self._pairs:
            self._pairs[pairs, upright] = self._best(pairs, upright=upright)
        return self._pairs[pairs, upright]

    def _best(
        self, pairs: tuple[tuple[int, int], ...], *, upright: bool
    ) -> tuple[float, float] | None:
        mine, theirs = ("right", "left") if upright else ("high", "low")
        wanted = sum(len(self.ends[a][mine]) + len(self.ends[b][theirs]) for a, b in pairs)
        if not wanted:
            return None
        coarse = round(STEP_MM / FINE_MM)
        rough = [
            (*self._run_on(pairs, k * coarse, upright=upright), k * coarse)
            for k in range(int(WIDEST_OVERLAP_MM / STEP_MM) + 1)
        ]
        met, _, k = max(rough, key=lambda x: (x[0], -x[1]))
        near = range(max(0, k - coarse), k + coarse + 1)
        fine = [(*self._run_on(pairs, n, upright=upright), n) for n in near]
        met, off, k = max(fine, key=lambda x: (x[0], -x[1]))
        return met - 0.5 * (wanted - met) - 0.001 * off, k * FINE_MM

    def _run_on(
        self, pairs: Sequence[tuple[int, int]], k: int, *, upright: bool
    ) -> tuple[int, float]:
        """Return how many cut ends lie on a line of the neighbour, and the sum of their misses."""
        mine, theirs = ("right", "left") if upright else ("high", "low")
        length = round((self.size.x if upright else self.size.y) / FINE_MM)
        met, off = 0, 0.0
        for a, b in pairs:
            for ends, there in (
                (self.ends[a][mine], self._crossed(b, k, upright=upright)),
                (self.ends[b][theirs], self._crossed(a, length - k, upright=upright)),
            ):
                if ends and len(there):
                    at = np.array([end.at for end in ends])
                    near = np.abs(at[:, None] - there[None, :]).min(axis=1)
                    met += int((near <= NEAR_MM).sum())
                    off += float(near[near <= NEAR_MM].sum())
        return met, off

    def _crossed(self, page: int, k: int, *, upright: bool) -> Places:
        """Return where lines cross an upright line at x, or a level one at y (steps of FINE_MM)."""
        if (page, k, upright) not in self._known:
            at = k * FINE_MM
            self._known[page, k, upright] = _crossings(self._steps[page], at, upright=upright)
        return self._known[page, k, upright]


def _steps(page: DrawnPage) -> Steps:
    """Return the lines of a page as short straight steps: x, y of their starts, then ends."""
    rows = [
        (a.x, a.y, b.x, b.y) for line in page.lines for a, b in pairwise(line.path.flatten(FLAT_MM))
    ]
    return np.array(rows, dtype=np.float64).reshape(-1, 4)


def _crossings(steps: Steps, at: float, *, upright: bool) -> Places:
    near, far = (0, 2) if upright else (1, 3)
    a, b = steps[:, near], steps[:, far]
    some = steps[(np.minimum(a, b) - 0.01 <= at) & (at <= np.maximum(a, b) + 0.01)]
    along = some[:, far] - some[:, near]
    flat = np.abs(along) < 1e-9
    t = np.clip((at - some[:, near]) / np.where(flat, 1.0, along), 0.0, 1.0)
    one, other = (1, 3) if upright else (0, 2)
    places: Places = some[:, one] + t * (some[:, other] - some[:, one])
    return places[~flat]
