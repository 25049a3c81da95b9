"""How a waiting file is read, shown: how its pages lie, what its layers mean."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.fit import arc
from clothwright.geometry.path import rectangle
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import NONE, Answers
from clothwright.intake.drawing import Drawing, Pages, Sheet
from clothwright.intake.dxf_layers import NAMES, NUMBERED
from clothwright.intake.pdf.said_tiles import said_tiles
from clothwright.intake.waiting.seen import SeenDrawing
from clothwright.picture.picture import Item, Picture, Role, Stroke, Text
from clothwright.units import Unit
from clothwright.words import counted, listed, show_difference, show_length

MOST_LINES = 400
"""Lines in the small picture of the pages, the longest."""
GOOD_MM = 0.3
"""mm: lines that miss each other by more are a doubt."""
LAYERS = (
    (NUMBERED, "Yes: 1 is the boundary, 14 the sew line, 4 notches, 7 the grain …"),
    (NAMES, "No, they are only names"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PagesView:
    """How the pages of a file lie, in words, and what a form about it is filled with.

    picture: the pages (mm) with their numbers and lines. good: nothing about it is a doubt. left:
    pages that were left out. way: how it was answered: found (not yet), none (each by itself),
    rows, grid. whole, apart: as in `intake.drawing.Pages`. rows: the pages' numbers row by row.
    shift: from a page to the next, as typed; step: as found. moved: each moved page, and how far.
    """

    answered: bool
    picture: Picture
    alt: str
    words: tuple[str, ...]
    good: bool
    left: tuple[int, ...]
    way: str
    whole: bool
    apart: bool
    across: int
    down: int
    columns: bool
    rows: tuple[str, ...]
    shift: tuple[str, str]
    step: tuple[str, str]
    numbers: tuple[int, ...]
    moved: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingView:
    """What is asked about how a file is read. layers: how they are taken; options: its answers."""

    pages: PagesView | None
    layers: str
    layers_answered: bool
    options: tuple[tuple[str, str], ...] = LAYERS


def reading_view(seen: SeenDrawing, unit: Unit) -> ReadingView | None:
    """Return what is asked about how a file is read; None where nothing is."""
    if seen.drawing is None or not seen.otherwise:
        return None
    drawing, how = seen.drawing, seen.waiting.how
    return ReadingView(
        pages=_pages_view(drawing, drawing.pages, how, unit) if drawing.pages else None,
        layers=drawing.layers,
        layers_answered=bool(how.layers),
    )


def _pages_view(drawing: Drawing, pages: Pages, how: Answers, unit: Unit) -> PagesView:
    said = said_tiles(how.tiles, how.shift, how.moved)
    rows = said.rows or pages.rows
    step = pages.step
    across, _, down = how.shift.partition(", ")
    return PagesView(
        answered=bool(how.tiles or how.moved),
        picture=_picture(drawing, pages),
        alt=_alt(pages),
        words=_words(pages, unit),
        good=pages.whole or (not pages.apart and pages.miss <= GOOD_MM and not pages.loose),
        left=pages.left,
        way=_way(how.tiles, rows=bool(said.rows)),
        whole=pages.whole,
        apart=pages.apart,
        across=said.across or max(map(len, pages.rows), default=0),
        down=said.down or len(pages.rows),
        columns=said.columns,
        rows=tuple(" ".join(str(n) if n else "-" for n in row) for row in rows),
        shift=(across, down),
        step=(show_length(step.x, unit), show_length(step.y, unit)) if step else ("", ""),
        numbers=tuple(sorted(s.number for s in pages.sheets)),
        moved=tuple((page, _move_words(by, unit)) for page, by in said.moved),
    )


def _way(tiles: str, *, rows: bool) -> str:
    if tiles in ("", NONE):
        return tiles or "found"
    return "rows" if rows else "grid"


def _move_words(by: Vec, unit: Unit) -> str:
    right = f"{show_length(abs(by.x), unit)} to the {'right' if by.x >= 0 else 'left'}"
    return f"{right}, {show_length(abs(by.y), unit)} {'up' if by.y >= 0 else 'down'}"


def _words(pages: Pages, unit: Unit) -> tuple[str, ...]:
    """Say how the pages were joined and how well, in sentences."""
    how = pages.how[0].upper() + pages.how[1:]
    if pages.apart:
        return (f"{how}: they lie side by side, and nothing runs on from one to another.",)
    if pages.whole:
        return (f"{how}.", "Where each belongs is told by the lines that they share.")
    miss = show_difference(pages.miss, unit)
    if miss == "none":
        out = [f"{how}.", "Lines that run on from page to page meet."]
    else:
        where = f", between pages {_between(pages)}" if pages.miss_at else ""
        lines = "Lines that run on from page to page miss each other by"
        out = [f"{how}.", f"{lines} {miss} at most{where}."]
    if pages.loose:
        ends = f"{counted(pages.loose, 'end')} of lines at the joints"
        out.append(
            f"{ends} {'runs' if pages.loose == 1 else 'run'} on nowhere: "
            "the pages may lie in another order, or closer together."
        )
    return tuple(out)


def _between(pages: Pages) -> str:
    """Name the two pages at whose joint lines miss most."""
    at = pages.miss_at or Vec(0.0, 0.0)
    near = sorted(pages.sheets, key=lambda s: _away(s, at))[:2]
    return listed([str(n) for n in sorted(s.number for s in near)])


def _away(sheet: Sheet, p: Vec) -> float:
    x = max(sheet.low.x - p.x, 0.0, p.x - sheet.high.x)
    y = max(sheet.low.y - p.y, 0.0, p.y - sheet.high.y)
    return max(x, y) + 1e-4 * p.distance((sheet.low + sheet.high) / 2)


def _picture(drawing: Drawing, pages: Pages) -> Picture:
    """Return the pages as they lie, their numbers, and what is drawn on them."""
    lines = sorted(drawing.lines, key=lambda x: -x.path.length)[:MOST_LINES]
    items: list[Item] = [Stroke(path=x.path, role=Role.CUT, closed=x.closed) for x in lines]
    boxes = (rectangle(s.low, s.high) for s in pages.sheets)
    items += [Stroke(path=box, role=Role.PAGE, closed=True) for box in boxes]
    for s in pages.sheets:
        size = 0.2 * min(s.high.x - s.low.x, s.high.y - s.low.y)
        at = s.low + Vec(0.3 * size, 0.3 * size)
        items.append(Text(words=str(s.number), at=at, size=size, role=Role.PAGE))
    if pages.miss_at is not None and pages.miss > GOOD_MM:
        wide = max(s.high.x for s in pages.sheets) - min(s.low.x for s in pages.sheets)
        ring = arc(pages.miss_at, 0.02 * wide, 0.0, 360.0)
        items.append(Stroke(path=ring, role=Role.FAULT, closed=True))
    return Picture(items=tuple(items))


def _alt(pages: Pages) -> str:
    rows = "; ".join(" ".join(str(n) if n else "none" for n in row) for row in pages.rows)
    return f"The pages as they lie{', row by row: ' + rows if rows else ''}"[:400]
