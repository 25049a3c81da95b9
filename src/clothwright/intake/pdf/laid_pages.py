"""Pages laid where they belong, and joined to one drawing; or side by side."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.geometry.box import Box
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText, Pages, Sheet
from clothwright.intake.letters import ends_of
from clothwright.intake.pdf.clip import EDGE_MM, clipped
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.furniture import is_furniture
from clothwright.intake.pdf.joined_ends import joined_ends
from clothwright.intake.pdf.running_on import TileGrid
from clothwright.intake.pdf.said_tiles import SaidTiles, check_moved
from clothwright.intake.pdf.true_curves import with_true_curves
from clothwright.intake.pen import PenLine

APART_MM = 20.0
"""mm between pages that are not tiles."""


SEEN_MM = 0.5
"""mm: lines of two pages that miss each other by more are seen to."""


class Joined(NamedTuple):
    """One drawing from many pages. notes: what was done, in words. pages: None of a single one."""

    lines: tuple[PenLine, ...]
    texts: tuple[DrawnText, ...]
    notes: tuple[str, ...]
    pages: Pages | None = None


def windowed(page: DrawnPage, window: Box, moved: Vec = Vec(0.0, 0.0)) -> DrawnPage:  # noqa: B008
    """Return a page's lines inside a window and words that reach in, from its lower left corner.

    moved: by how much the page lies off its place; the window shows that much less of one side.
    """
    shown = window.moved(moved * -1.0)
    move = translation(shown.low * -1.0)
    lines = [
        replace(part, path=part.path.transformed(move))
        for x in page.lines
        if not is_furniture(x, window)
        for part in clipped(x, shown)
    ]
    seen = (t for t in page.texts if any(shown.holds(p, EDGE_MM) for p in (t.at, *ends_of(t))))
    texts = tuple(replace(t, at=move.apply(t.at)) for t in seen)
    return replace(page, lines=tuple(lines), texts=texts)


def laid(
    tiles: Sequence[DrawnPage],
    window: Box,
    grid: TileGrid,
    *,
    how: str,
    said: SaidTiles,
) -> Joined:
    """Return tiles in the places of a grid, joined. how: found, in words. Raises BadInput."""
    check_moved(said, [p.number for p in tiles])
    lines: list[PenLine] = []
    texts: list[DrawnText] = []
    whole_curves = with_true_curves(tiles, [by - window.low for by in grid.by])
    for whole, by in zip(whole_curves, grid.by, strict=True):
        page = windowed(whole, window, said.move_of(whole.number))
        move = translation(by)
        lines += [replace(x, path=x.path.transformed(move)) for x in page.lines]
        texts += [replace(t, at=move.apply(t.at)) for t in page.texts]
    ends = joined_ends(lines, grid.seams)
    words = f"{len(tiles)} pages, {grid.columns} across and {len(grid.seams[1]) + 1} down, {how}"
    met = "meet" if ends.miss <= SEEN_MM else "do not all meet: look at the joints"
    note = f"joined: {words}; lines that run on {met}"
    if ends.loose:
        note += f"; {ends.loose} {'end' if ends.loose == 1 else 'ends'} at the joints stay loose"
    size = window.size
    return Joined(
        tuple(ends.lines),
        tuple(texts),
        (note,),
        Pages(
            sheets=tuple(
                Sheet(p.number, by, by + size) for p, by in zip(tiles, grid.by, strict=True)
            ),
            how=words,
            rows=_rows(tiles, grid),
            step=size,
            miss=ends.miss,
            miss_at=ends.at,
            loose=ends.loose,
            beside=tuple(sorted(tiles[grid.on.index(k)].number for k in grid.apart)),
            doubts=tuple(tiles[grid.on.index(k)].number for k in grid.doubts),
        ),
    )


def _rows(tiles: Sequence[DrawnPage], grid: TileGrid) -> tuple[tuple[int, ...], ...]:
    """Return the pages' numbers as they lie, row by row from the top; 0 where none lies."""
    at = {(round(by.x, 3), round(by.y, 3)): p.number for p, by in zip(tiles, grid.by, strict=True)}
    xs = sorted({x for x, _ in at})
    ys = sorted({y for _, y in at}, reverse=True)
    return tuple(tuple(at.get((x, y), 0) for x in xs) for y in ys)


def side_by_side(drawn: Sequence[DrawnPage], pages: Sequence[DrawnPage], said: SaidTiles) -> Joined:
    """Return pages that are no tiles, each by itself, in rows from the top."""
    lines: list[PenLine] = []
    texts: list[DrawnText] = []
    sheets = []
    wide, tall = max(p.width for p in drawn) + APART_MM, max(p.height for p in drawn) + APART_MM
    across = math.ceil(math.sqrt(1.5 * len(drawn)))
    down = -(-len(drawn) // across)
    for k, page in enumerate(drawn):
        low = Vec(k % across * wide, (down - 1 - k // across) * tall) + said.move_of(page.number)
        move = translation(low)
        lines += [replace(line, path=line.path.transformed(move)) for line in page.lines]
        texts += [replace(t, at=move.apply(t.at)) for t in page.texts]
        sheets.append(Sheet(page.number, low, low + Vec(page.width, page.height)))
    left = tuple(p.number for p in pages if not p.lines)
    note = f"{len(drawn)} pages laid side by side, each read on its own, as you said"
    if not said.apart:
        note = (
            f"{len(drawn)} pages laid side by side: too little runs on from one to another (when "
            'they are parts of one drawing, say how they lie, such as --tiles "3x2")'
        )
    how = f"{len(drawn)} pages, each read on its own"
    return Joined(
        tuple(lines),
        tuple(texts),
        (note, *left_out(left, "blank")),
        Pages(sheets=tuple(sheets), how=how, apart=True, left=left),
    )


def left_out(numbers: Sequence[int], why: str) -> tuple[str, ...]:
    """Return a note on pages that were left out; () when there are none."""
    if not numbers:
        return ()
    listed = ", ".join(map(str, numbers[:12])) + (" and more" if len(numbers) > 12 else "")
    return (f"left out, pages ({why}): {listed}",)
