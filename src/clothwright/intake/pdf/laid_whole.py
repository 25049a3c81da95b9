"""Pages that draw shapes whole, laid where they belong: each shape once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from clothwright.geometry.box import Box, box_of_all
from clothwright.geometry.transform import translation
from clothwright.intake.drawing import DrawnText, Pages, Sheet
from clothwright.intake.pdf.clip import EDGE_MM, clipped
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.joined_ends import joined_ends
from clothwright.intake.pdf.laid_pages import Joined
from clothwright.intake.pdf.places import Places
from clothwright.intake.pdf.shared_shapes import SAME_MM, SHORT_MM, Shapes, same_shape
from clothwright.intake.pen import PenLine


def laid_whole(
    pages: Sequence[DrawnPage], shapes: Shapes, places: Places, window: Box | None
) -> Joined:
    """Return the pages in their places, each shape once.

    A shape that stands on one page only is taken as it is where that page shows all of it, where
    it is closed, or short; an open line that reaches out is cut where the page's part ends, and
    joined with what the next page shows of it.
    """
    window = window or box_of_all(p.paper for p in pages)
    if places.step is not None:
        window = window.of_size(places.step)  # what no neighbour shows
    kept = _Kept()
    cut: list[PenLine] = []
    texts: list[DrawnText] = []
    sheets = []
    for k, by in places.moves.items():
        page, move = pages[k], translation(by)
        texts += [replace(t, at=move.apply(t.at)) for t in page.texts]
        sheets.append(Sheet(page.number, *window.moved(by)))
        for line in page.lines:
            moved = replace(line, path=line.path.transformed(move))
            whole = places.step is None or line.closed or line.path.length < SHORT_MM
            whole = whole or window.holds(line.path.bounds(), EDGE_MM)
            if whole or shapes.on_others(k, line, places.moves):
                kept.add(moved)
            else:
                cut += list(clipped(moved, window.moved(by)))
    lines = [*kept.lines, *_rejoined(cut, sheets)]
    rows = _rows(pages, places)
    across = f", {len(rows[0])} across and {len(rows)} down" if rows else ""
    how = f"{len(sheets)} pages{across}, each a part of the same drawing"
    return Joined(
        tuple(lines),
        tuple(texts),
        (f"joined: {how}",),
        Pages(
            sheets=tuple(sheets),
            how=how,
            whole=True,
            rows=rows,
            step=places.step,
            beside=tuple(sorted(pages[k].number for k in places.apart)),
        ),
    )


def _rejoined(cut: Sequence[PenLine], sheets: Sequence[Sheet]) -> list[PenLine]:
    seams = (
        tuple({round(x, 3) for s in sheets for x in (s.low.x, s.high.x)}),
        tuple({round(y, 3) for s in sheets for y in (s.low.y, s.high.y)}),
    )
    return joined_ends(cut, seams).lines


class _Kept:
    """Lines, each once: the same shape at the same place is one, whichever page it is from."""

    def __init__(self) -> None:
        self.lines: list[PenLine] = []
        self._near: dict[tuple[int, int], list[PenLine]] = defaultdict(list)

    def add(self, line: PenLine) -> None:
        """Keep a line, unless it is there already."""
        low = line.path.bounds().low
        x, y = round(low.x), round(low.y)
        for i in (-1, 0, 1):
            for j in (-1, 0, 1):
                for other in self._near.get((x + i, y + j), ()):
                    away = other.path.bounds().low.distance(low)
                    if away < 3 * SAME_MM and same_shape(other, line):
                        return
        self._near[x, y].append(line)
        self.lines.append(line)


def _rows(pages: Sequence[DrawnPage], places: Places) -> tuple[tuple[int, ...], ...]:
    """Return the pages' numbers row by row from the top; 0 where none lies."""
    at = {cell: pages[k].number for k, cell in places.cells.items()}
    wide = max((c for c, _ in at), default=-1) + 1
    tall = max((r for _, r in at), default=-1) + 1
    return tuple(tuple(at.get((c, r), 0) for c in range(wide)) for r in range(tall))
