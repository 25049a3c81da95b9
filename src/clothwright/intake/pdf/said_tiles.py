"""What the maker says about how pages lie together."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from clothwright.errors import BadInput, one_of
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.ways_to_lie import Cells
from clothwright.units import Unit, is_count, parse_length
from clothwright.words import AtMost, with_lengths

NONE = "none"
MOST = 100
MOST_MOVED_MM = 200.0
"""mm: a page that lies farther off its place belongs to another place."""
_GRID = re.compile(r"([0-9]{1,3})\s*[x×*]\s*([0-9]{1,3})(\s+(by )?columns)?")
_ROWS = re.compile(r"[0-9\s,\-–/;]+")


class SaidTiles(NamedTuple):
    """How pages lie together. across, down: 0 when not said. apart: each page is by itself.

    step: from a page to the next, across and down, mm; None when not said. columns: the pages
    follow each other down the columns. rows: their numbers, row by row from the top, 0 for an empty
    place; () when not said. moved: pages that lie off their place, and by how much, mm.
    """

    across: int = 0
    down: int = 0
    apart: bool = False
    step: Vec | None = None
    columns: bool = False
    rows: tuple[tuple[int, ...], ...] = ()
    moved: tuple[tuple[int, Vec], ...] = ()

    @property
    def says(self) -> bool:
        """Tell whether the places of the pages are said."""
        return bool(self.across or self.rows)

    def move_of(self, page: int) -> Vec:
        """Return by how much a page lies off its place, mm."""
        return dict(self.moved).get(page, Vec(0.0, 0.0))


def said_tiles(tiles: str, shift: str, moved: str = "") -> SaidTiles:
    """Read "3x2" and "190 mm, 277 mm" (plain numbers are mm). Raises BadInput.

    >>> said_tiles("3 x 2", "").across
    3
    >>> said_tiles("1 2 3 / 4 - 5", "").rows
    ((1, 2, 3), (4, 0, 5))
    """
    plain = tiles.strip().lower()
    if plain == NONE:
        return SaidTiles(apart=True)
    step = _step(shift) if shift.strip() else None
    moves = _moved(moved)
    if not plain:
        if step is not None:
            raise BadInput(
                where="--shift",
                what="it does not say how the pages lie",
                expected='--tiles with it, such as --tiles "3x2"',
            )
        return SaidTiles(moved=moves)
    found = _GRID.fullmatch(plain)
    if found is None and _ROWS.fullmatch(plain) and re.search(r"[\s/;,]", plain):
        return SaidTiles(rows=_rows(plain, tiles), step=step, moved=moves)
    across, down = (int(n) for n in found.groups()[:2]) if found else (0, 0)
    if not (0 < across <= MOST and 0 < down <= MOST):
        raise BadInput(
            where="--tiles",
            what=f'"{tiles[:60]}" does not say how pages lie together',
            expected='pages across and down, such as "3x2", their numbers row by row, such as '
            '"1 2 3 / 4 5 6", or none',
        )
    by_columns = bool(found and found[3])
    return SaidTiles(across, down, step=step, columns=by_columns, moved=moves)


def _rows(plain: str, tiles: str) -> tuple[tuple[int, ...], ...]:
    """Read rows of page numbers; short rows are filled up with empty places."""
    rows = [re.findall(r"[0-9]+|[-–]", row) for row in re.split(r"[/;\n]", plain)]
    long = any(len(n) > 9 for row in rows for n in row)
    read = [[int(n) if is_count(n) else 0 for n in row] for row in rows if row]
    wide = max(map(len, read), default=0)
    numbers = [n for row in read for n in row if n]
    large = long or wide > MOST or len(read) > MOST
    twice = None if large else next((n for n in numbers if numbers.count(n) > 1), None)
    if not numbers or twice is not None or large:
        raise BadInput(
            where="--tiles",
            what=f"page {twice} stands in it twice"
            if twice is not None
            else f'"{tiles[:60]}" names no pages, or more than {MOST} in a row',
            expected='each page once, row by row, such as "1 2 3 / 4 - 5" (- is an empty place)',
        )
    return tuple((*row, *[0] * (wide - len(row))) for row in read)


def _step(text: str) -> Vec:
    across, down = _pair(text, "--shift", "across and down", least_mm=1.0)
    return Vec(across, down)


def _pair(text: str, where: str, what: str, *, least_mm: float | None) -> tuple[float, float]:
    parts = re.split(r"\s*;\s*|,\s+", text.strip())
    if len(parts) == 1:
        parts = text.split(",")
    if len(parts) != 2:
        raise BadInput(
            where=where,
            what=f'"{text[:60]}" is not two lengths',
            expected=with_lengths(f'{what}, such as "190 mm, 277 mm"'),
        )
    one, two = (parse_length(p, unit=Unit.mm, where=where, least_mm=least_mm) for p in parts)
    return one, two


def _moved(text: str) -> tuple[tuple[int, Vec], ...]:
    """Read "5: 2 mm, -1 mm; 7: 0, 1 mm" into pages and moves to the right and up."""
    out: dict[int, Vec] = {}
    for part in (p.strip() for p in text.split(";") if p.strip()):
        number, colon, lengths = part.partition(":")
        if not colon or not re.fullmatch(r"\s*[0-9]{1,4}\s*", number):
            raise BadInput(
                where="--moved",
                what=f'"{part[:60]}" does not say which page is moved, and how far',
                expected=with_lengths('page: right, up, such as "5: 2 mm, -1 mm"'),
            )
        right, up = _pair(lengths, "--moved", "right and up", least_mm=None)
        off = max(abs(right), abs(up))
        if off > MOST_MOVED_MM:
            raise BadInput(
                where="--moved",
                what=(f"page {int(number)} would lie ", off, " off its place"),
                expected=("at most ", AtMost(MOST_MOVED_MM)),
                try_="another order of the pages",
            )
        out[int(number)] = Vec(right, up)
    return tuple(out.items())


def check_moved(said: SaidTiles, numbers: Sequence[int]) -> None:
    """Raise BadInput when a page is said to be moved that does not lie in the drawing."""
    for page, _ in said.moved:
        if page not in numbers:
            raise BadInput(
                where="--moved",
                what=f"page {page} is not among those that are joined",
                expected=one_of(map(str, numbers)),
            )


def tiles_said(
    pages: Sequence[DrawnPage],
    group: Sequence[DrawnPage],
    without_covers: Callable[[Sequence[DrawnPage]], list[DrawnPage]],
    said: SaidTiles,
) -> tuple[list[DrawnPage], Cells]:
    """Return the pages that the maker says lie together, and each one's place. Raises BadInput.

    pages: all of the file. group: those of one paper size; without_covers: what is left of them
    without the covers. With pages across and down the last ones are taken, blank ones too.
    """
    if said.rows:
        return _in_rows(pages, said)
    count = said.across * said.down
    drawn = [p for p in pages if p.lines]
    tiles = next((t for t in (drawn, list(pages)) if len(t) == count), None)
    if tiles is None:
        tiles = without_covers(group)
    if len(tiles) != count:
        raise BadInput(
            where="--tiles",
            what=f"{said.across} across and {said.down} down are {count} pages, the file has "
            f"{len(tiles)} that may lie together",
            expected="the number of pages that carry a part of the drawing",
            try_='their numbers row by row, such as "1 2 3 / 4 - 5", - for an empty place',
        )
    if said.columns:
        return tiles, [(k // said.down, k % said.down) for k in range(count)]
    return tiles, [(k % said.across, k // said.across) for k in range(count)]


def _in_rows(pages: Sequence[DrawnPage], said: SaidTiles) -> tuple[list[DrawnPage], Cells]:
    by_number = {p.number: p for p in pages}
    tiles, cells = [], []
    for r, row in enumerate(said.rows):
        for c, number in enumerate(row):
            if not number:
                continue
            if number not in by_number:
                raise BadInput(
                    where="--tiles",
                    what=f"the file has no page {number}",
                    expected=f"pages from 1 to {max(by_number)}",
                )
            tiles.append(by_number[number])
            cells.append((c, r))
    if not any(p.lines for p in tiles):
        raise BadInput(
            where="--tiles", what="all these pages are blank", expected="pages with lines"
        )
    return tiles, cells
