"""Lines that run on from page to page: which pages are neighbours, and how far they overlap."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from clothwright.geometry.box import Box
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.chaining import EMPTY_COSTS, SAME, SIDES, ChainedPages, chained
from clothwright.intake.pdf.clip import shown_in
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.labels import Labels
from clothwright.intake.pdf.meetings import FINE_MM, STEP_MM, Ints, Meetings
from clothwright.intake.pdf.ways_to_lie import Cell, Cells, enclosed, named, ways_to_lie

SURE, LEAST = 0.9, 0.5
"""Share of all cut ends that run on: above the first no other way to lie is tried; below the second
pages are not taken to lie together."""
MOST_ENDS = 20_000
"""More lines cut at the edges of pages are no pattern."""
MORE = 1.0
"""Ends by which pages in an order of their own must meet better than in that of the file."""


TELLS = 0.01
"""What overlaps must differ by in what speaks for them, to tell which is the right one."""


class TileGrid(NamedTuple):
    """How tiles lie. on: which of the list; cells, by: their places and moves, one for each.

    columns: how many across. seams: x of upright joints, y of level ones. apart: those of the
    list to which no line runs on from the most. doubts: those that might as well lie in each
    other's place.
    """

    on: tuple[int, ...]
    cells: Cells
    columns: int
    by: tuple[Vec, ...]
    seams: tuple[tuple[float, ...], tuple[float, ...]]
    apart: frozenset[int] = frozenset()
    doubts: tuple[int, ...] = ()


class _Way(NamedTuple):
    """A way for pages to lie, what speaks for it, and how far neighbours overlap, mm."""

    cells: Cells
    score: float
    overlaps: tuple[float, float]


def running_on(
    pages: Sequence[DrawnPage], labels: Labels, window: Box, said: Cells | None = None
) -> tuple[TileGrid, Box] | None:
    """Return how pages lie that show a window each, and what of it to keep; None when none do.

    Tried: as the maker says, or the ways that names, numbers and the order of the file tell; where
    too few lines run on so, pages are chained to each other in any order.
    """
    if said is not None:
        return exactly(pages, window, grid_at(said, window.size))
    meetings = _met(pages, window)
    if meetings.ends > MOST_ENDS:
        return None
    best = _in_order(meetings, pages, labels)
    if best is None or best.score < SURE * meetings.ends:
        chain = chained(meetings)
        if chain is not None and (best is None or chain.score > best.score + MORE):
            return _chained_grid(meetings, pages, window, chain)
    known = named(labels.names)
    full = meetings.ends
    if best is None or not (full or known) or (best.score < LEAST * full and not known):
        return None
    step = window.size - Vec(*best.overlaps)
    return grid_at(best.cells, step), window.of_size(step)


def grid_at(cells: Cells, step: Vec) -> TileGrid:
    """Return pages lying in these cells, a step apart."""
    wide, tall = max(c for c, _ in cells) + 1, max(r for _, r in cells) + 1
    by = tuple(Vec(c * step.x, (tall - 1 - r) * step.y) for c, r in cells)
    seams = (
        tuple(k * step.x for k in range(1, wide)),
        tuple(k * step.y for k in range(1, tall)),
    )
    return TileGrid(tuple(range(len(cells))), cells, wide, by, seams)


def exactly(pages: Sequence[DrawnPage], window: Box, grid: TileGrid) -> tuple[TileGrid, Box]:
    """Return pages in the cells of a grid with the overlap that their lines tell."""
    way = _with_overlaps(_met(pages, window), grid.cells)
    step = window.size - Vec(*way.overlaps)
    found = grid_at(grid.cells, step)
    return grid._replace(by=found.by, seams=found.seams), window.of_size(step)


def _met(pages: Sequence[DrawnPage], window: Box) -> Meetings:
    return Meetings([shown_in(p, window) for p in pages], window.size)


def _chained_grid(
    meetings: Meetings,
    pages: Sequence[DrawnPage],
    window: Box,
    chain: ChainedPages,
) -> tuple[TileGrid, Box] | None:
    """Return a chain as a grid; None where too few of its lines run on.

    Pages that no line leaves lie in the holes of the others, if there are as many.
    """
    cells, equal = chain.cells, [*chain.equal]
    alone = [k for k, p in enumerate(pages) if k not in cells and (p.lines or p.texts)]
    holes = enclosed(cells)
    if len(alone) == len(holes) and not any(_cut(meetings, [k]) for k in alone):
        cells = {**cells, **dict(zip(alone, holes, strict=True))}
        equal.append({**cells, **dict(zip(alone, holes[1:] + holes[:1], strict=True))})
    on = sorted(cells)
    way = _with_overlaps(meetings, [cells[k] for k in on], on)
    if way.score < LEAST * _cut(meetings, on):
        return None
    step = window.size - Vec(*way.overlaps)
    doubts = frozenset(k for other in equal for k in _differ(pages, cells, other))
    grid = grid_at(way.cells, step)._replace(
        on=tuple(on), apart=chain.apart, doubts=tuple(sorted(doubts))
    )
    return grid, window.of_size(step)


def _differ(
    pages: Sequence[DrawnPage], cells: dict[int, Cell], other: dict[int, Cell]
) -> Iterator[int]:
    """Yield the pages that lie elsewhere in other cells, beside others; those alike are one."""
    kind = [next(n for n in range(k + 1) if _alike(pages[n], pages[k])) for k in range(len(pages))]
    mine, theirs = ({cell: kind[k] for k, cell in each.items()} for each in (cells, other))
    both = [k for k in cells if k in other]
    by = {k: (other[k][0] - cells[k][0], other[k][1] - cells[k][1]) for k in both}
    most = Counter(by.values()).most_common(1)[0][0]
    for k in both:
        same = theirs.get((cells[k][0] + most[0], cells[k][1] + most[1])) == kind[k]
        if by[k] != most and not same and _around(mine, cells[k]) != _around(theirs, other[k]):
            yield k


def _around(at: dict[Cell, int], cell: Cell) -> list[int | None]:
    return [at.get((cell[0] + x, cell[1] + y)) for _, _, (x, y) in SIDES]


def _cut(meetings: Meetings, pages: Sequence[int]) -> int:
    """Return how many lines are cut at the edges of some pages."""
    return sum(int(meetings.cut[axis][high][k]) for k in pages for axis, high, _ in SIDES)


def _alike(a: DrawnPage, b: DrawnPage) -> bool:
    """Tell whether the lines of two pages are the same, so that they may change places."""
    mine, theirs = (sorted((*x.path.bounds().low, x.path.length) for x in p.lines) for p in (a, b))
    return len(mine) == len(theirs) and np.allclose(mine, theirs, atol=0.3)


def _in_order(meetings: Meetings, pages: Sequence[DrawnPage], labels: Labels) -> _Way | None:
    """Return the way in which most lines run on of those that names, numbers or the order tell."""
    best: _Way | None = None
    for some in ways_to_lie(pages, labels.names, labels.numbers):
        for cells in some:
            way = _scored(meetings, cells)
            if best is None or way.score > best.score:
                best = way
            if best.score >= SURE * meetings.ends:
                return _with_overlaps(meetings, best.cells)
    return best and _with_overlaps(meetings, best.cells)


def _with_overlaps(meetings: Meetings, cells: Cells, on: Sequence[int] | None = None) -> _Way:
    """Return a way with its overlaps as exact as lines tell. on: which pages, all without."""
    rough = _scored(meetings, cells, on)
    pairs = _pairs(cells, on)
    out, score = [], rough.score
    for axis in (0, 1):
        a, b = pairs[axis]
        if not len(a):
            out.append(0.0)
            continue
        tried = [
            rough.overlaps[axis] + k * FINE_MM
            for k in range(-round(STEP_MM / FINE_MM), round(STEP_MM / FINE_MM) + 1)
        ]
        found = [float(meetings.scores(axis, max(0.0, o))[a, b].sum()) for o in tried]
        k = int(np.argmax(found))
        score += found[k] - found[len(found) // 2]
        out.append(max(0.0, tried[k]))
    return _Way(cells, score, (out[0], out[1]))


def _scored(meetings: Meetings, cells: Cells, on: Sequence[int] | None = None) -> _Way:
    """Return a way with what speaks for it at the best overlaps."""
    at = {cell: k if on is None else on[k] for k, cell in enumerate(cells)}
    empty = sum(
        EMPTY_COSTS * float(meetings.cut[axis][high][k])
        for (c, r), k in at.items()
        for axis, high, (x, y) in SIDES
        if (c + x, r + y) not in at
    )
    pairs = _pairs(cells, on)
    each = [meetings.rough(axis)[:, a, b].sum(axis=1) for axis, (a, b) in enumerate(pairs)]
    told = [float(e.max()) - float(e.min()) > TELLS for e in each]
    best = [int(e.argmax()) for e in each]
    for axis in (0, 1):  # where only lines square to the joint cross it, any overlap will do
        other = best[1 - axis]
        if told[1 - axis] and each[axis][other] > each[axis].max() - SAME:
            best[axis] = other
    score = sum(float(e[k]) for e, k in zip(each, best, strict=True)) - empty
    return _Way(cells, score, (best[0] * STEP_MM, best[1] * STEP_MM))


def _pairs(cells: Cells, on: Sequence[int] | None = None) -> list[tuple[Ints, Ints]]:
    """Return the pages that lie to the left of others or below them, and these others, each way."""
    at = {cell: k if on is None else on[k] for k, cell in enumerate(cells)}
    out = []
    for x, y in ((1, 0), (0, -1)):
        found = [(k, at[c + x, r + y]) for (c, r), k in at.items() if (c + x, r + y) in at]
        a, b = zip(*found, strict=True) if found else ((), ())
        out.append((np.array(a, dtype=np.int64), np.array(b, dtype=np.int64)))
    return out
