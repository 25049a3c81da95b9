"""The ways in which the pages of a file may lie together, the likeliest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwright.intake.pdf.drawn import DrawnPage

Cells = Sequence[tuple[int, int]]
"""For each page its column (from the left) and row (from the top)."""
Names = Sequence[tuple[int, int] | None]


def named(names: Names) -> bool:
    """Tell whether every page has a name of its own."""
    return all(n is not None for n in names) and len(set(names)) == len(names)


def ways_to_lie(pages: Sequence[DrawnPage], names: Names) -> Iterator[Iterator[Cells]]:
    """Yield groups of ways: as the names say and row by row; then those of turned pages.

    Blank pages between the first and the last have their places; the way in which they have none
    is tried too.
    """
    yield _from_top_left(pages, names)
    yield _flipped(pages, names)


def _from_top_left(pages: Sequence[DrawnPage], names: Names) -> Iterator[Cells]:
    if named(names):
        known = [n for n in names if n is not None]
        least = (min(a for a, _ in known), min(b for _, b in known))
        cells = [(a - least[0], b - least[1]) for a, b in known]
        yield [(b, a) for a, b in cells]
        yield cells
    for order in _orders(pages):
        count = order[-1] + 1
        for wide in range(1, count + 1):
            yield [(k % wide, k // wide) for k in order]
        for tall in range(2, count):
            yield [(k // tall, k % tall) for k in order]


def _orders(pages: Sequence[DrawnPage]) -> list[list[int]]:
    by_number = [p.number - pages[0].number for p in pages]
    closed_up = list(range(len(pages)))
    return [by_number] if by_number == closed_up else [by_number, closed_up]


def _flipped(pages: Sequence[DrawnPage], names: Names) -> Iterator[Cells]:
    """Yield the ways that begin at another corner: all pages were turned by a quarter or a half."""
    for cells in _from_top_left(pages, names):
        wide, tall = max(c for c, _ in cells), max(r for _, r in cells)
        if wide and tall:
            yield [(wide - c, r) for c, r in cells]
            yield [(c, tall - r) for c, r in cells]
        yield [(wide - c, tall - r) for c, r in cells]
