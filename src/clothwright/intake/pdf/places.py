"""Where each page belongs that shares shapes with others, and where those that share none.

Islands of pages that share shapes lie exactly; all islands lie on one grid. Which place of the
grid an island or a lone page has is told by names and the order of the pages; a way to lie counts
only when nothing is missing there that other pages would draw.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import islice, pairwise
from statistics import median
from typing import NamedTuple

from clothwright.geometry.area import polygon_area
from clothwright.geometry.box import Box
from clothwright.geometry.path import ring
from clothwright.geometry.vec import Vec
from clothwright.intake.outlines import SMALL_MM2
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.labels import Labels
from clothwright.intake.pdf.shared_shapes import Island, Shapes, step_of
from clothwright.intake.pdf.ways_to_lie import Cell, Cells, in_holes, ways_to_lie

MOST_WAYS = 2000


class Places(NamedTuple):
    """moves: of each page that has its place, by its number in the list. step: None in no grid.

    cells: column and row (from the top) of these pages; empty in no grid. lost: pages whose place
    was not found. apart: those that share shapes with some others, not with the most.
    """

    moves: Island
    step: Vec | None
    cells: dict[int, Cell]
    lost: tuple[int, ...]
    apart: tuple[int, ...] = ()


def places_of(
    pages: Sequence[DrawnPage],
    shapes: Shapes,
    labels: Labels,
    window: Box | None,
    said: Cells | None = None,
) -> Places | None:
    """Return where pages lie that share shapes; None where they cannot lie as the maker said."""
    step = _step(pages, shapes, window)
    if step is None and said is not None:
        return None
    if step is None:
        main = shapes.islands[0]
        lost = tuple(k for k in range(len(pages)) if k not in main)
        return Places(dict(main), None, {}, lost)
    islands = [_Cells.of(i, step) for i in shapes.islands]
    if said is not None:
        fits = all(i.fits(said) for i in islands)
        return _placed(said, islands, step, len(pages)) if fits else None
    best: tuple[float, Cells] | None = None
    for cells in islice(
        (c for some in ways_to_lie(pages, labels.names, labels.numbers) for c in some), MOST_WAYS
    ):
        if not all(i.fits(cells) for i in islands):
            continue
        lack = shapes.missing(_placed(cells, islands, step, len(pages)).moves)
        if best is None or lack < best[0]:
            best = (lack, cells)
        if lack == 0.0:
            break
    if best is not None and best[0] < 1.0:
        return _placed(best[1], islands, step, len(pages))
    return _by_order(pages, shapes, islands, step)


class _Cells(NamedTuple):
    """An island on the grid: its pages' cells from its first one's, and their moves."""

    cells: dict[int, Cell]
    moves: Island

    @classmethod
    def of(cls, island: Island, step: Vec) -> _Cells:
        first = next(iter(island.values()))
        return cls(
            {
                k: (round((v.x - first.x) / step.x), -round((v.y - first.y) / step.y))
                for k, v in island.items()
            },
            island,
        )

    def fits(self, cells: Cells) -> bool:
        """Tell whether pages in these cells lie to each other as the island's do."""
        return len({(cells[k][0] - c, cells[k][1] - r) for k, (c, r) in self.cells.items()}) == 1

    def cells_at(self, cell: Cell) -> dict[int, Cell]:
        """Return the cells of the island's pages when its first page lies in one."""
        return {k: (c + cell[0], r + cell[1]) for k, (c, r) in self.cells.items()}

    def at(self, cell: Cell, step: Vec) -> Island:
        """Return the moves of the island when its first page lies in a cell."""
        first = next(iter(self.moves.values()))
        by = Vec(cell[0] * step.x, -cell[1] * step.y) - first
        return {k: v + by for k, v in self.moves.items()}


def _placed(cells: Cells, islands: Sequence[_Cells], step: Vec, count: int) -> Places:
    moves: Island = {}
    for island in islands:
        first = next(iter(island.cells))
        moves |= island.at(cells[first], step)
    return Places(moves, step, {k: cells[k] for k in range(count)}, ())


def _by_order(
    pages: Sequence[DrawnPage], shapes: Shapes, islands: Sequence[_Cells], step: Vec
) -> Places:
    """Place the largest island; then those of which order or holes leave one place only.

    Others of several pages are laid beyond, each by itself.
    """
    main = islands[0]
    moves, cells = main.at((0, 0), step), dict(main.cells)
    waiting = [i for i in islands[1:] if any(pages[k].lines for k in i.cells)]

    def clear(at: Cell, island: _Cells) -> bool:
        return shapes.missing({**moves, **island.at(at, step)}) == 0.0

    grown = True
    while grown:
        grown = False
        for island in list(waiting):
            ways = [at for at in _between(cells, island) if clear(at, island)]
            if not ways and _only_marks(pages, island):
                ways = [at for at in in_holes(cells, island.cells) if clear(at, island)]
            if len(ways) == 1:
                moves |= island.at(ways[0], step)
                cells |= island.cells_at(ways[0])
                waiting.remove(island)
                grown = True
    groups = [i for i in waiting if len(i.cells) > 1]
    for island in groups:
        left, top = (min(cell[k] for cell in island.cells.values()) for k in (0, 1))
        at = max(c for c, _ in cells.values()) + 2 - left, min(r for _, r in cells.values()) - top
        moves |= island.at(at, step)
        cells |= island.cells_at(at)
    left, top = min(c for c, _ in cells.values()), min(r for _, r in cells.values())
    cells = {k: (c - left, r - top) for k, (c, r) in cells.items()}
    lost = tuple(sorted(k for i in waiting if i not in groups for k in i.cells))
    return Places(moves, step, cells, lost, tuple(k for i in groups for k in i.cells))


def _only_marks(pages: Sequence[DrawnPage], island: _Cells) -> bool:
    """Tell whether pages draw no outline of a piece: then they belong inside of one."""
    return not any(
        x.closed and abs(polygon_area(ring(x.path))) > SMALL_MM2
        for k in island.cells
        for x in pages[k].lines
    )


def _between(known: dict[int, Cell], island: _Cells) -> Iterator[Cell]:
    """Yield the cells of an island's first page that keep the order of the pages."""
    orders = [
        (o, way) for o in (_row_first, _column_first) for way in (1, -1) if _in_order(known, o, way)
    ]
    if not orders:
        return
    wide = [c for c, _ in known.values()]
    tall = [r for _, r in known.values()]
    for c in range(min(wide), max(wide) + 1):
        for r in range(min(tall), max(tall) + 1):
            here = island.cells_at((c, r))
            if set(here.values()) & set(known.values()):
                continue
            if any(_in_order({**known, **here}, *o) for o in orders):
                yield c, r


def _row_first(cell: Cell) -> Cell:
    return cell[1], cell[0]


def _column_first(cell: Cell) -> Cell:
    return cell


def _in_order(cells: dict[int, Cell], order: Callable[[Cell], Cell], way: int) -> bool:
    """Tell whether pages follow each other so; way: -1 when the last one comes first."""
    listed = [order(cells[k]) for k in sorted(cells)][::way]
    return all(a < b for a, b in pairwise(listed))


def _step(pages: Sequence[DrawnPage], shapes: Shapes, window: Box | None) -> Vec | None:
    """Return how far pages lie from each other; what islands do not tell, from frame or page."""
    across, down = step_of([i for i in shapes.islands if len(i) > 1])
    size = window.size if window else Vec(pages[0].width, pages[0].height)
    across = across and across / max(1, round(across / size.x))
    down = down and down / max(1, round(down / size.y))
    if across is None:
        return None if down is None else Vec(size.x - _overlap(size.y, down), down)
    return Vec(across, size.y - _overlap(size.x, across) if down is None else down)


def _overlap(size: float, step: float) -> float:
    """Return by how much neighbours overlap; 0 where pages were left out between them."""
    return size - step if 0.0 < size - step < 0.3 * size else 0.0


def step_said(shapes: Shapes, cells: Cells) -> Vec | None:
    """Return the step at which most pages lie, in cells that are said; None when none tell."""
    xs: list[float] = []
    ys: list[float] = []
    for island in shapes.islands:
        for n, a in enumerate(island):
            for b in list(island)[:n]:
                across, down = cells[a][0] - cells[b][0], cells[a][1] - cells[b][1]
                by = island[a] - island[b]
                xs += [by.x / across] if across else []
                ys += [-by.y / down] if down else []
    if not xs or not ys or min(median(xs), median(ys)) < 1.0:
        return None
    return Vec(median(xs), median(ys))
