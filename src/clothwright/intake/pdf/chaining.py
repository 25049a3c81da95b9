"""Pages in no order, chained to each other by the lines that run on from one to the next.

The joint that the most lines cross is laid first; then page after page where most lines meet, as a
puzzle is put together. Pages that no line runs on to begin a group of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, product
from random import Random
from typing import NamedTuple

import numpy as np

from clothwright.intake.pdf.meetings import STEP_MM, Ints, Meetings
from clothwright.intake.pdf.ways_to_lie import Cell, in_holes

MOST_PAGES = 60
"""More pages are not chained: they lie in the order of the file, or as is said."""
OVERLAPS, STARTS = 4, 3
"""How many overlaps each way are tried, and how many first joints."""
LOTS = 600
"""Pages that are laid in all, in chain after chain, while lines are left that do not run on."""
AGAIN = 8
"""How often pages are chained anew where every line runs on, to see other ways to lie."""
LOT = 0.5
"""By how much what speaks for a page may be less, and it is laid all the same."""
EMPTY_COSTS = 0.25
"""Of a line that is cut where no page lies."""
SAME = 1e-4
"""Two ways to lie that differ by less in what speaks for them are equal."""
SIDES = ((0, 1, (1, 0)), (0, 0, (-1, 0)), (1, 1, (0, -1)), (1, 0, (0, 1)))
"""Axis, low or high edge of it, and the column and row (from the top) from there to the next."""


class ChainedPages(NamedTuple):
    """Cells of pages, by their place in the list, with what speaks for them; mm of overlap.

    apart: pages that are chained to each other, but not to the most. equal: other cells for which
    as much speaks.
    """

    cells: dict[int, Cell]
    score: float
    overlaps: tuple[float, float]
    apart: frozenset[int]
    equal: tuple[dict[int, Cell], ...] = ()


def chained(meetings: Meetings) -> ChainedPages | None:
    """Return the pages chained as most lines meet; None where no page meets another."""
    best: ChainedPages | None = None
    if meetings.count > MOST_PAGES:
        return None
    ways = [Joints(meetings, o) for o in product(_likely(meetings, 0), _likely(meetings, 1))]
    lots = Random(meetings.count)
    turns = max(STARTS, LOTS // meetings.count)
    while turns > 0:
        turns -= 1
        for joints in ways:
            starts = joints.surest(range(meetings.count))[:STARTS]
            if not starts:
                continue
            cells, apart = joints.grown(starts[turns % len(starts)], lots)
            score = joints.score(cells)
            if best is None or score > best.score + SAME:
                best = ChainedPages(
                    cells, score, joints.overlaps, apart, tuple(joints.swaps(cells))
                )
            elif score > best.score - SAME and cells != best.cells:
                best = best._replace(equal=(*best.equal, cells))
        if best is not None:  # another overlap is not tried again
            ways = [w for w in ways if w.overlaps == best.overlaps]
            if best.score > meetings.ends - 0.5:
                turns = min(turns, AGAIN)
    return best


def _likely(meetings: Meetings, axis: int) -> list[float]:
    """Return the overlaps at which most pages have a neighbour that has none better than them."""
    found = []
    for k, scores in enumerate(meetings.rough(axis)):
        best = scores.argmax(axis=1)
        both = scores.argmax(axis=0)[best] == np.arange(meetings.count)
        most = scores.max(axis=1)
        found.append((-float(most[both & (most > 0)].sum()), k * STEP_MM))
    out: list[float] = []
    for _, overlap in sorted(found):
        if all(abs(overlap - o) > 4 * STEP_MM for o in out):
            out.append(overlap)
        if len(out) == OVERLAPS:
            break
    return out


class Joints:
    """What speaks for pages side by side, at one overlap each way."""

    def __init__(self, meetings: Meetings, overlaps: tuple[float, float]) -> None:
        """overlaps: mm, across and up."""
        self.count, self.cut, self.overlaps = meetings.count, meetings.cut, overlaps
        self.scores = [meetings.scores(axis, overlaps[axis]) for axis in (0, 1)]

    def surest(self, pages: Sequence[int] | range) -> list[tuple[int, int, int]]:
        """Return joints of some pages for which something speaks, the most first: axis, a, b."""
        some = np.array(pages)
        found = [
            (float(self.scores[axis][a, b]), axis, int(a), int(b))
            for axis in (0, 1)
            for a, b in product(some, some)
            if self.scores[axis][a, b] > 0
        ]
        return [f[1:] for f in sorted(found, key=lambda f: (-f[0], f[1:]))]

    def grown(
        self, start: tuple[int, int, int], lots: Random
    ) -> tuple[dict[int, Cell], frozenset[int]]:
        """Return cells of all pages that have a neighbour, begun at a joint, and which lie apart.

        lots: decide between what is about equally good. A group that no line joins to the others
        lies in their hole, where there is one of its shape; else beyond them.
        """
        cells: dict[int, Cell] = {}
        apart: set[int] = set()
        joint: tuple[int, int, int] | None = start
        while joint is not None:
            group = self._group(joint, set(cells), lots)
            holes = in_holes(cells, group) if cells else []
            apart |= set(group) if cells else set()
            at = holes[0] if len(holes) == 1 else _beyond(cells, group)
            cells |= {k: (c + at[0], r + at[1]) for k, (c, r) in group.items()}
            rest = self.surest([k for k in range(self.count) if k not in cells])
            joint = rest[0] if rest else None
        self._swapped(cells)
        return cells, frozenset(apart)

    def _group(self, joint: tuple[int, int, int], gone: set[int], lots: Random) -> dict[int, Cell]:
        axis, a, b = joint
        cells = {a: (0, 0), b: ((1, 0), (0, -1))[axis]}
        while True:
            rest = np.array(
                [k for k in range(self.count) if k not in cells and k not in gone], dtype=np.int64
            )
            if not len(rest):
                return cells
            at = {cell: k for k, cell in cells.items()}
            best = max((*self._best(at, cell, rest, lots), cell) for cell in _free(at))
            if best[0] <= 0:
                return cells
            cells[best[1]] = best[2]

    def _best(self, at: dict[Cell, int], cell: Cell, rest: Ints, lots: Random) -> tuple[float, int]:
        """Return the page that is the best in a cell, and how much better than any other."""
        gains = np.zeros(len(rest))
        for axis, high, (x, y) in SIDES:
            other = at.get((cell[0] + x, cell[1] + y))
            if other is not None:
                scores = self.scores[axis]
                gains += scores[rest, other] if high else scores[other, rest]
        gains += [lots.random() * LOT for _ in rest] * (gains > 0)
        k = int(gains.argmax())
        second = max((float(g) for n, g in enumerate(gains) if n != k), default=0.0)
        return float(gains[k]) - max(0.0, second) / 2, int(rest[k])

    def _around(self, at: dict[Cell, int], pages: Sequence[int], cells: dict[int, Cell]) -> float:
        """Return what speaks for some pages in their cells; joints between them count once."""
        seen: set[tuple[int, int, int]] = set()
        out = 0.0
        for k in pages:
            c, r = cells[k]
            for axis, high, (x, y) in SIDES:
                other = at.get((c + x, r + y))
                if other is None:
                    out -= EMPTY_COSTS * float(self.cut[axis][high][k])
                    continue
                a, b = (k, other) if high else (other, k)
                if (axis, a, b) not in seen:
                    seen.add((axis, a, b))
                    out += float(self.scores[axis][a, b])
        return out

    def score(self, cells: dict[int, Cell]) -> float:
        """Return what speaks for pages in their cells."""
        return self._around({cell: k for k, cell in cells.items()}, list(cells), cells)

    def _gain(self, cells: dict[int, Cell], p: int, q: int) -> float:
        """Return what more speaks for two pages in each other's place."""
        at = {cell: k for k, cell in cells.items()}
        now = self._around(at, (p, q), cells)
        other = {**cells, p: cells[q], q: cells[p]}
        at[cells[p]], at[cells[q]] = q, p
        return self._around(at, (p, q), other) - now

    def _swapped(self, cells: dict[int, Cell]) -> None:
        """Lay pages in each other's place while more speaks for it."""
        for _ in range(3):
            better = [(p, q) for p, q in combinations(cells, 2) if self._gain(cells, p, q) > SAME]
            if not better:
                return
            for p, q in better:
                if self._gain(cells, p, q) > SAME:
                    cells[p], cells[q] = cells[q], cells[p]

    def swaps(self, cells: dict[int, Cell]) -> Iterator[dict[int, Cell]]:
        """Yield cells of two pages in each other's place, where as much speaks for them so."""
        for p, q in combinations(sorted(cells), 2):
            if self._gain(cells, p, q) > -SAME:
                yield {**cells, p: cells[q], q: cells[p]}


def _beyond(cells: dict[int, Cell], group: dict[int, Cell]) -> Cell:
    """Return the move of a group that lays it to the right of all others, with a gap."""
    left, top = min(c for c, _ in group.values()), min(r for _, r in group.values())
    if not cells:
        return -left, -top
    return max(c for c, _ in cells.values()) + 2 - left, min(r for _, r in cells.values()) - top


def _free(at: dict[Cell, int]) -> list[Cell]:
    """Return the empty cells beside full ones."""
    return sorted(
        {(c + x, r + y) for c, r in at for _, _, (x, y) in SIDES if (c + x, r + y) not in at}
    )
