"""Pages that are tiles of one drawing, joined; pages that are not, laid side by side.

Three ways, tried in this order: pages draw shapes whole that reach over to others (the same lines,
moved); a frame or crosses at the same place of every page mark what it shows; or neighbours
overlap, and what is drawn in the overlap agrees. Each way is checked on the lines that run on from
page to page, and the result says how far they miss. What the maker says comes before all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.errors import BadInput
from clothwright.geometry.box import Box, box_of_all
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.furniture import Frame, frames_of, is_furniture, without_still
from clothwright.intake.pdf.labels import Labels, labels_of
from clothwright.intake.pdf.laid_pages import Joined, laid, left_out, side_by_side
from clothwright.intake.pdf.laid_whole import laid_whole
from clothwright.intake.pdf.other_pages import with_others
from clothwright.intake.pdf.places import places_of, step_said
from clothwright.intake.pdf.running_on import exactly, grid_at, running_on
from clothwright.intake.pdf.said_tiles import SaidTiles, tiles_said
from clothwright.intake.pdf.shared_shapes import Shapes
from clothwright.intake.pdf.true_curves import with_true_curves
from clothwright.intake.pdf.ways_to_lie import Cells
from clothwright.words import with_lengths

SAME_PAGE_MM = 1.0
WHOLE = 0.5
"""Share of what reaches out of its page that must stand on other pages, for shapes to be whole."""


class _Tiles(NamedTuple):
    """Pages that may be tiles, without what stands on every page; the frames that they had."""

    pages: list[DrawnPage]
    labels: Labels
    frames: list[Frame]

    @property
    def window(self) -> Box | None:
        """What each page shows, where a frame says so."""
        return self.frames[0].window if self.frames else None

    @property
    def shown(self) -> Box:
        """What each page shows: as a frame says, else as far as any page draws."""
        return self.window or reach_of(self.pages)

    @classmethod
    def of(cls, group: Sequence[DrawnPage], *, every: bool = False) -> _Tiles:
        """Take the pages that have the frame of most; with every, all, with a frame or not."""
        frames = frames_of([p for p in group if p.lines])
        own = [k for k, p in enumerate(group) if p.lines]
        some = list(group) if every or not frames else [group[own[k]] for k in frames[0].on]
        labels = labels_of(some)
        bare = [
            replace(
                p,
                lines=tuple(
                    x for x in p.lines if not any(is_furniture(x, f.window) for f in frames)
                ),
            )
            for p in without_still(labels.pages)
        ]
        return cls(bare, labels, frames)


def join(pages: Sequence[DrawnPage], said: SaidTiles = SaidTiles()) -> Joined:  # noqa: B008
    """Join the pages of a file. said: how they lie, when the maker says it. Raises BadInput."""
    drawn = [p for p in pages if p.lines]
    if said.apart and len(drawn) > 1:
        return side_by_side(drawn, pages, said)
    if len(drawn) < 2:
        left = [p.number for p in pages if not p.lines]
        return Joined(drawn[0].lines, drawn[0].texts, left_out(left, "blank"))
    if said.says:
        tiles, cells = tiles_said(pages, _of_one_size(pages), _with_frames, said)
        found = _Tiles.of(tiles, every=True)
        joined: Joined | None = _as_said(found, cells, said)
    else:
        found = _Tiles.of(_of_one_size(drawn))
        joined = _found(found, said) if len(found.pages) > 1 else None
    if joined is None:
        return side_by_side(drawn, pages, said)
    marked = bool(found.frames) or said.says
    return with_others(joined, pages, found.pages, marked=marked)


def _found(tiles: _Tiles, said: SaidTiles, cells: Cells | None = None) -> Joined | None:
    """Join pages in the first way that holds; None when none does.

    cells: how they lie, when it is said.
    """
    joined = _whole(tiles, said, cells)
    return joined if joined is not None else _running_on(tiles, said, cells)


def _as_said(tiles: _Tiles, cells: Cells, said: SaidTiles) -> Joined:
    """Join pages as the maker says; what she did not say is found. Raises BadInput."""
    step = said.step
    if step is None:
        joined = _found(tiles, said, cells)
        if joined is not None:
            return joined
        step = step_said(Shapes(tiles.pages, None), cells)
    if step is None:
        raise BadInput(
            where="--tiles",
            what="no line runs on from page to page when they lie so",
            expected="pages in the order of the file, row by row from the top",
            try_=with_lengths(
                '--shift with the distance from a page to the next, such as "190 mm, 277 mm"'
            ),
        )
    window = tiles.shown.of_size(step)
    return laid(tiles.pages, window, grid_at(cells, step), how="as you said", said=said)


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


def _with_frames(pages: Sequence[DrawnPage]) -> list[DrawnPage]:
    """Return the pages that share a frame, without covers; all when none do."""
    frames = frames_of(pages)
    return [pages[k] for k in frames[0].on] if frames else list(pages)


def _whole(tiles: _Tiles, said: SaidTiles, cells: Cells | None = None) -> Joined | None:
    """Join pages by the shapes that several of them draw whole; None when they do not."""
    shapes = Shapes(tiles.pages, tiles.window)
    both, reaching = shapes.explained()
    if len(shapes.islands[0]) < 2 or both < WHOLE * reaching or both == 0.0:
        return None
    places = places_of(tiles.pages, shapes, tiles.labels, tiles.window, cells)
    if places is None:
        return None
    if said.moved and places.step is not None and not places.lost:
        window = tiles.shown.of_size(places.step)
        grid = grid_at([places.cells[k] for k in range(len(tiles.pages))], places.step)
        return laid(tiles.pages, window, grid, how="by the shapes that they share", said=said)
    return laid_whole(tiles.pages, shapes, places, tiles.window)


def _running_on(tiles: _Tiles, said: SaidTiles, cells: Cells | None = None) -> Joined | None:
    """Join pages by lines that run on, in the first window that holds: a frame, else the reach."""
    every = range(len(tiles.pages))
    drawn = [k for k in every if tiles.pages[k].lines or cells]
    ways = [(f.window, f"by {f.marks}", every) for f in tiles.frames]
    reach = reach_of(tiles.pages)
    for window, how, on in (*ways, (reach, "by what neighbouring pages both show", drawn)):
        pages = [tiles.pages[k] for k in on]
        found = running_on(pages, tiles.labels.of(on), window, cells)
        if found is not None:
            grid, shown = found
            some = [pages[k] for k in grid.on]
            true = with_true_curves(some, [by - shown.low for by in grid.by])
            if true != some:
                grid, shown = exactly(true, window, grid)
            return laid(true, shown, grid, how=how, said=said)
    return None


def reach_of(pages: Sequence[DrawnPage]) -> Box:
    """Return the box that holds what any page draws and shows: beyond it all are cut."""
    drawn = box_of_all(line.path.bounds() for p in pages for line in p.lines)
    return drawn.common(box_of_all(p.paper for p in pages))
