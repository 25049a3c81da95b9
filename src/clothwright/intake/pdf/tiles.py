"""Pages that are tiles of one drawing, joined; pages that are not, laid side by side.

Three ways, tried in this order: every page draws the whole and shows a part of it (the same lines,
moved); a frame or crosses at the same place of every page mark what it shows; or neighbours
overlap, and what is drawn in the overlap agrees. Each way is checked on the lines that run on from
page to page, and the result says how far they miss.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.errors import BadInput
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText
from clothwright.intake.pdf.clip import Window, clipped
from clothwright.intake.pdf.drawn import DrawnPage, PenLine
from clothwright.intake.pdf.furniture import frame_of, is_furniture, name_of
from clothwright.intake.pdf.joined_ends import joined_ends
from clothwright.intake.pdf.running_on import (
    Grid,
    best_grid,
    grid_of,
    overlap_of,
    reach_of,
)
from clothwright.intake.pdf.said_tiles import SaidTiles
from clothwright.intake.pdf.whole_on_each import shifts_of

SAME_PAGE_MM = 1.0
APART_MM = 20.0
"""mm between pages that are not tiles."""


class Place(NamedTuple):
    """Where a page lies in the joined drawing: its number, and how it was moved."""

    page: int
    by: Vec


class Joined(NamedTuple):
    """One drawing from many pages. miss: mm by which lines miss each other at the joints.

    how: in words, "" when there was nothing to join.
    """

    lines: tuple[PenLine, ...]
    texts: tuple[DrawnText, ...]
    notes: tuple[str, ...]
    places: tuple[Place, ...] = ()
    how: str = ""
    miss: float = 0.0


def join(pages: Sequence[DrawnPage], said: SaidTiles = SaidTiles()) -> Joined:  # noqa: B008
    """Join the pages of a file. said: how they lie, when the maker says it. Raises BadInput."""
    drawn = [p for p in pages if p.lines]
    if said.apart and len(drawn) > 1:
        return _side_by_side(drawn, pages)
    if len(drawn) < 2:
        left = [p.number for p in pages if not p.lines]
        return Joined(drawn[0].lines, drawn[0].texts, _left_out(left, "blank"))
    group = _of_one_size(drawn)
    if said.across:
        return _as_said(pages, _tiles_said(pages, said), said)
    whole = shifts_of(group)
    if whole is not None:
        return _whole_on_each(pages, group, whole)
    tiles = _without_covers(group)
    found = frame_of(tiles) if len(tiles) > 1 else None
    joined = _framed(pages, tiles, *found, 0) if found else None
    if joined is None and len(tiles) > 1:
        joined = _overlapping(pages, tiles, 0)
    return joined if joined is not None else _side_by_side(drawn, pages)


def _tiles_said(pages: Sequence[DrawnPage], said: SaidTiles) -> list[DrawnPage]:
    """Return the pages that the maker says lie together: the last ones, blank ones too."""
    count = said.across * said.down
    drawn = [p for p in pages if p.lines]
    for tiles in (drawn, list(pages)):
        if len(tiles) == count:
            return tiles
    group = _without_covers(_of_one_size(pages))
    if len(group) != count:
        raise BadInput(
            where="--tiles",
            what=f"{said.across} across and {said.down} down are {count} pages, the file has "
            f"{len(group)} that may lie together",
            expected="the number of pages that carry a part of the drawing",
        )
    return group


def _as_said(pages: Sequence[DrawnPage], tiles: Sequence[DrawnPage], said: SaidTiles) -> Joined:
    """Join pages as the maker says, row by row; what she did not say is found."""
    found = None
    if said.step is not None:
        low, high = reach_of(tiles)
        half = (high - low - said.step) / 2
        window = Window(low + half, low + half + said.step)
        return _laid(
            pages,
            tiles,
            [_windowed(p, window) for p in tiles],
            grid_of(said.across, said.down, said.step),
            "as you said",
        )
    marked = frame_of([p for p in tiles if p.lines])
    if marked is not None:
        found = _framed(pages, tiles, *marked, said.across)
    if found is None:
        found = _overlapping(pages, tiles, said.across)
    if found is None:
        raise BadInput(
            where="--tiles",
            what="no line runs on from page to page when they lie so",
            expected="pages in the order of the file, row by row from the top",
            try_='--shift with the distance from a page to the next, such as "190 mm, 277 mm"',
        )
    return found


def _of_one_size(pages: Sequence[DrawnPage]) -> list[DrawnPage]:
    """Return the largest group of pages of one paper size."""
    best: list[DrawnPage] = []
    for page in pages:
        group = [
            p
            for p in pages
            if abs(p.width - page.width) < SAME_PAGE_MM
            and abs(p.height - page.height) < SAME_PAGE_MM
        ]
        if len(group) > len(best):
            best = group
    return best


def _without_covers(pages: Sequence[DrawnPage]) -> list[DrawnPage]:
    """Return the pages that share a frame, without cover pages before them; all when none do."""
    for leave in range(min(4, len(pages) - 1)):
        rest = list(pages[leave:])
        if frame_of(rest) is not None:
            return rest
    return list(pages)


def _whole_on_each(
    pages: Sequence[DrawnPage], group: Sequence[DrawnPage], shifts: Sequence[Vec | None]
) -> Joined:
    """Every page draws everything: take the first page's lines, and what others have more."""
    kept = [(p, s) for p, s in zip(group, shifts, strict=True) if s is not None]
    seen: set[tuple[int, ...]] = set()
    lines: list[PenLine] = []
    texts: list[DrawnText] = []
    for page, shift in kept:
        move = translation(shift)
        for line in page.lines:
            moved = replace(line, path=line.path.transformed(move))
            key = _print_of(moved)
            if key not in seen:
                seen.add(key)
                lines.append(moved)
        texts += [replace(t, at=move.apply(t.at)) for t in page.texts]
    furniture = _standing_still(kept)
    lines = [x for x in lines if _print_of(x) not in furniture]
    numbers = {p.number for p, _ in kept}
    left = [p.number for p in pages if p.number not in numbers]
    how = f"{len(kept)} pages, each a part of the same drawing"
    return Joined(
        tuple(lines),
        tuple(texts),
        (f"joined: {how}", *_left_out(left, "no part of it")),
        tuple(Place(p.number, s) for p, s in kept),
        how,
    )


def _standing_still(kept: Sequence[tuple[DrawnPage, Vec]]) -> set[tuple[int, ...]]:
    """Return what stands at the same place of every page: frames, margins, marks."""
    if len(kept) < 2:
        return set()
    each = [{_print_of(x) for x in page.lines} for page, _ in kept]
    still = set.intersection(*each)
    out: set[tuple[int, ...]] = set()
    for page, shift in kept:
        move = translation(shift)
        out |= {
            _print_of(replace(x, path=x.path.transformed(move)))
            for x in page.lines
            if _print_of(x) in still
        }
    return out


def _print_of(line: PenLine) -> tuple[int, ...]:
    """Return what tells a line from others: its box and length, to a twentieth of a mm."""
    low, high = line.path.bounds()
    return tuple(round(v * 20) for v in (low.x, low.y, high.x, high.y, line.path.length))


def _framed(
    pages: Sequence[DrawnPage], tiles: Sequence[DrawnPage], window: Window, marks: str, columns: int
) -> Joined | None:
    """Join pages by the window that each shows."""
    cut = [_windowed(p, window) for p in tiles]
    names = [name_of(p) for p in tiles]
    grid = best_grid(cut, names, window.size, columns)
    if grid is None:
        return None
    return _laid(pages, tiles, cut, grid, f"by {marks}")


def _windowed(page: DrawnPage, window: Window) -> DrawnPage:
    """Return the page's lines inside a window, measured from its lower left corner."""
    move = translation(window.low * -1.0)
    lines = [
        replace(part, path=part.path.transformed(move))
        for x in page.lines
        if not is_furniture(x, window)
        for part in clipped(x, window)
    ]
    texts = tuple(replace(t, at=move.apply(t.at)) for t in page.texts if window.holds(t.at))
    return replace(page, lines=tuple(lines), texts=texts)


def _overlapping(
    pages: Sequence[DrawnPage], tiles: Sequence[DrawnPage], columns: int
) -> Joined | None:
    """Join pages whose margins repeat what the neighbour shows."""
    found = overlap_of(tiles, columns)
    if found is None:
        return None
    grid, window = found
    cut = [_windowed(p, window) for p in tiles]
    return _laid(pages, tiles, cut, grid, "by what neighbouring pages both show")


def _laid(
    pages: Sequence[DrawnPage],
    tiles: Sequence[DrawnPage],
    cut: Sequence[DrawnPage],
    grid: Grid,
    how: str,
) -> Joined:
    lines: list[PenLine] = []
    texts: list[DrawnText] = []
    for page, by in zip(cut, grid.by, strict=True):
        move = translation(by)
        lines += [replace(x, path=x.path.transformed(move)) for x in page.lines]
        texts += [
            replace(t, at=move.apply(t.at))
            for t in page.texts
            if name_of(replace(page, texts=(t,))) is None
        ]
    whole, miss = joined_ends(lines, grid.seams)
    numbers = {p.number for p in tiles}
    left = [p.number for p in pages if p.number not in numbers]
    rows = len(grid.seams[1]) + 1
    words = f"{len(tiles)} pages, {grid.columns} across and {rows} down, {how}"
    note = f"joined: {words}; lines that run on miss by {miss:.2f} mm at most"
    return Joined(
        tuple(whole),
        tuple(texts),
        (note, *_left_out(left, "no part of it")),
        tuple(Place(p.number, b) for p, b in zip(tiles, grid.by, strict=True)),
        words,
        miss,
    )


def _side_by_side(drawn: Sequence[DrawnPage], pages: Sequence[DrawnPage]) -> Joined:
    lines: list[PenLine] = []
    texts: list[DrawnText] = []
    places = []
    x = 0.0
    for page in drawn:
        move = translation((x, 0.0))
        lines += [replace(line, path=line.path.transformed(move)) for line in page.lines]
        texts += [replace(t, at=move.apply(t.at)) for t in page.texts]
        places.append(Place(page.number, Vec(x, 0.0)))
        x += page.width + APART_MM
    left = [p.number for p in pages if not p.lines]
    note = (
        f"{len(drawn)} pages laid side by side: too little runs on from one to another (when they "
        'are parts of one drawing, say how they lie, such as --tiles "3x2")'
    )
    return Joined(tuple(lines), tuple(texts), (note, *_left_out(left, "blank")), tuple(places))


def _left_out(numbers: Sequence[int], why: str) -> tuple[str, ...]:
    if not numbers:
        return ()
    listed = ", ".join(map(str, numbers[:12])) + (" and more" if len(numbers) > 12 else "")
    return (f"left out, pages ({why}): {listed}",)
