"""Pages that are tiles of one drawing, joined; pages that are not, laid side by side.

Three ways, tried in this order: every page draws the whole and shows a part of it (the same lines,
moved); a frame or crosses at the same place of every page mark what it shows; or neighbours
overlap, and what is drawn in the overlap agrees. Each way is checked on the lines that run on from
page to page, and the result says how far they miss.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText, Pages, Sheet
from clothwright.intake.pdf.clip import Window
from clothwright.intake.pdf.drawn import DrawnPage, PenLine
from clothwright.intake.pdf.furniture import frame_of, name_of
from clothwright.intake.pdf.laid_pages import Joined, laid, left_out, side_by_side, windowed
from clothwright.intake.pdf.running_on import best_grid, grid_at, overlap_of, reach_of
from clothwright.intake.pdf.said_tiles import SaidTiles, tiles_said
from clothwright.intake.pdf.ways_to_lie import Cells
from clothwright.intake.pdf.whole_on_each import shifts_of
from clothwright.words import with_lengths

SAME_PAGE_MM = 1.0


def join(pages: Sequence[DrawnPage], said: SaidTiles = SaidTiles()) -> Joined:  # noqa: B008
    """Join the pages of a file. said: how they lie, when the maker says it. Raises BadInput."""
    drawn = [p for p in pages if p.lines]
    if said.apart and len(drawn) > 1:
        return side_by_side(drawn, pages, said)
    if len(drawn) < 2:
        left = [p.number for p in pages if not p.lines]
        return Joined(drawn[0].lines, drawn[0].texts, left_out(left, "blank"))
    group = _those_said(_of_one_size(drawn), said)
    whole = shifts_of(group) if said.step is None else None
    if whole is not None:
        return _whole_on_each(pages, group, whole, said)
    if said.says:
        return _as_said(pages, said)
    tiles = _without_covers(group)
    found = frame_of(tiles) if len(tiles) > 1 else None
    joined = _framed(pages, tiles, *found, said=said) if found else None
    if joined is None and len(tiles) > 1:
        joined = _overlapping(pages, tiles, said)
    return joined if joined is not None else side_by_side(drawn, pages, said)


def _those_said(group: list[DrawnPage], said: SaidTiles) -> list[DrawnPage]:
    """Return the pages that the maker named, where she named some."""
    named_ = {n for row in said.rows for n in row}
    some = [p for p in group if p.number in named_]
    return some if len(some) > 1 else group


def _as_said(pages: Sequence[DrawnPage], said: SaidTiles) -> Joined:
    """Join pages as the maker says; what she did not say is found. Raises BadInput."""
    tiles, cells = tiles_said(pages, _of_one_size(pages), _without_covers, said)
    if said.step is not None:
        low, high = reach_of(tiles)
        half = (high - low - said.step) / 2
        window = Window(low + half, low + half + said.step)
        return laid(pages, tiles, window, grid_at(cells, said.step), how="as you said", said=said)
    found = None
    marked = frame_of([p for p in tiles if p.lines])
    if marked is not None:
        found = _framed(pages, tiles, *marked, said=said, cells=cells)
    if found is None:
        found = _overlapping(pages, tiles, said, cells)
    if found is None:
        raise BadInput(
            where="--tiles",
            what="no line runs on from page to page when they lie so",
            expected="pages in the order of the file, row by row from the top",
            try_=with_lengths(
                '--shift with the distance from a page to the next, such as "190 mm, 277 mm"'
            ),
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
    pages: Sequence[DrawnPage],
    group: Sequence[DrawnPage],
    shifts: Sequence[Vec | None],
    said: SaidTiles,
) -> Joined:
    """Every page draws everything: take the first page's lines, and what others have more."""
    kept = [
        (p, s + said.move_of(p.number)) for p, s in zip(group, shifts, strict=True) if s is not None
    ]
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
        (f"joined: {how}", *left_out(left, "no part of it")),
        Pages(
            sheets=tuple(Sheet(p.number, s, s + Vec(p.width, p.height)) for p, s in kept),
            how=how,
            whole=True,
            left=tuple(left),
        ),
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
    pages: Sequence[DrawnPage],
    tiles: Sequence[DrawnPage],
    window: Window,
    marks: str,
    *,
    said: SaidTiles,
    cells: Cells | None = None,
) -> Joined | None:
    """Join pages by the window that each shows. cells: how they lie, when it is said."""
    cut = [windowed(p, window) for p in tiles]
    names = [name_of(p) for p in tiles]
    grid = best_grid(cut, names, window.size, cells)
    return None if grid is None else laid(pages, tiles, window, grid, how=f"by {marks}", said=said)


def _overlapping(
    pages: Sequence[DrawnPage],
    tiles: Sequence[DrawnPage],
    said: SaidTiles,
    cells: Cells | None = None,
) -> Joined | None:
    """Join pages whose margins repeat what the neighbour shows."""
    found = overlap_of(tiles, cells)
    if found is None:
        return None
    grid, window = found
    how = "by what neighbouring pages both show"
    return laid(pages, tiles, window, grid, how=how, said=said)
