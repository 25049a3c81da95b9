"""The ways in which the pages of a file may lie together, the likeliest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwright.intake.pdf.drawn import DrawnPage

Cell = tuple[int, int]
Cells = Sequence[tuple[int, int]]
"""For each page its column (from the left) and row (from the top)."""
Names = Sequence[tuple[int, int] | None]
MOST = 1000
"""Pages that numbers may count."""


def named(names: Names) -> bool:
    """Tell whether every page has a name of its own."""
    return all(n is not None for n in names) and len(set(names)) == len(names)


def ways_to_lie(
    pages: Sequence[DrawnPage], names: Names, numbers: Sequence[int] = ()
) -> Iterator[Iterator[Cells]]:
    """Yield groups of ways: as the names say and row by row; then those of turned pages.

    numbers: printed on the pages, which may stand in another order in the file. Blank pages
    between the first and the last have their places; the way in which they have none is tried too.
    """
    yield _from_top_left(pages, names, numbers)
    yield _flipped(pages, names, numbers)


def _from_top_left(
    pages: Sequence[DrawnPage], names: Names, numbers: Sequence[int]
) -> Iterator[Cells]:
    if named(names):
        known = [n for n in names if n is not None]
        least = (min(a for a, _ in known), min(b for _, b in known))
        cells = [(a - least[0], b - least[1]) for a, b in known]
        yield [(b, a) for a, b in cells]
        yield cells
    for order in _orders(pages, numbers):
        count = max(order) + 1
        for wide in range(1, count + 1):
            yield [(k % wide, k // wide) for k in order]
        for tall in range(2, count):
            yield [(k // tall, k % tall) for k in order]


def _orders(pages: Sequence[DrawnPage], numbers: Sequence[int]) -> list[list[int]]:
    least = min(numbers, default=0)
    printed = [n - least for n in numbers]
    by_number = [p.number - pages[0].number for p in pages]
    closed_up = list(range(len(pages)))
    orders = (printed, by_number, closed_up)
    return [o for k, o in enumerate(orders) if o and max(o) < MOST and o not in orders[:k]]


def _flipped(pages: Sequence[DrawnPage], names: Names, numbers: Sequence[int]) -> Iterator[Cells]:
    """Yield the ways that begin at another corner: all pages were turned by a quarter or a half."""
    for cells in _from_top_left(pages, names, numbers):
        wide, tall = max(c for c, _ in cells), max(r for _, r in cells)
        if wide and tall:
            yield [(wide - c, r) for c, r in cells]
            yield [(c, tall - r) for c, r in cells]
        yield [(wide - c, tall - r) for c, r in cells]


def enclosed(known: dict[int, Cell]) -> list[Cell]:
    """Return the empty cells that have a page to the left, the right, above and below."""
    full = set(known.values())
    return [
        (c, r)
        for c in range(min(x for x, _ in full), max(x for x, _ in full))
        for r in range(min(y for _, y in full), max(y for _, y in full))
        if (c, r) not in full
        and any(y == r and x < c for x, y in full)
        and any(y == r and x > c for x, y in full)
        and any(x == c and y < r for x, y in full)
        and any(x == c and y > r for x, y in full)
    ]


def in_holes(known: dict[int, Cell], group: dict[int, Cell]) -> list[Cell]:
    """Return the moves of a group of pages with which all of it lies in holes of the others."""
    holes = set(enclosed(known))
    c, r = next(iter(group.values()))
    moves = [(x - c, y - r) for x, y in sorted(holes)]
    return [m for m in moves if {(a + m[0], b + m[1]) for a, b in group.values()} <= holes]
