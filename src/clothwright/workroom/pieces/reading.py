"""How a waiting file is read, shown: how its pages lie, what its layers mean, what are sizes."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.vec import Vec
from clothwright.intake.answers import NONE, PIECES, SIZES, UNSURE, Answers
from clothwright.intake.drawing import Drawing, Pages
from clothwright.intake.dxf_layers import NAMES, NUMBERED
from clothwright.intake.pages_told import pages_alt, pages_are_sure, pages_picture, pages_words
from clothwright.intake.pdf.said_tiles import said_tiles
from clothwright.intake.recognise import unnamed_words
from clothwright.intake.waiting.seen import SeenDrawing
from clothwright.picture.picture import Picture
from clothwright.units import Unit
from clothwright.words import listed, show_length

LAYERS = (
    (NUMBERED, "Yes: 1 is the boundary, 14 the sew line, 4 notches, 7 the grain …"),
    (NAMES, "No, they are only names"),
)

ALIKE = ((SIZES, "Sizes of one piece"), (PIECES, "No, each is what it is drawn as"))


@dataclass(frozen=True, slots=True, kw_only=True)
class PagesView:
    """How the pages of a file lie, in words, and what a form about it is filled with.

    picture: the pages (mm) with their numbers and lines. good: nothing about it is a doubt. left:
    pages that were left out. way: how it was answered: found (not yet), none (each by itself),
    rows, grid. apart: as in `intake.drawing.Pages`. rows: the pages' numbers row by row.
    shift: from a page to the next, as typed; step: as found. moved: each moved page, and how far.
    """

    answered: bool
    picture: Picture
    alt: str
    words: tuple[str, ...]
    good: bool
    left: tuple[int, ...]
    way: str
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
    """What is asked about how a file is read. layers: how they are taken; options: its answers.

    alike: how blocks or layers that are alike are taken, or "unsure"; words: what is known about
    them.
    """

    pages: PagesView | None
    layers: str
    layers_answered: bool
    alike: str
    alike_words: str
    alike_answered: bool
    options: tuple[tuple[str, str], ...] = LAYERS
    alike_options: tuple[tuple[str, str], ...] = ALIKE


def reading_view(seen: SeenDrawing, unit: Unit) -> ReadingView | None:
    """Return what is asked about how a file is read; None where nothing is."""
    if seen.drawing is None or not seen.otherwise:
        return None
    drawing, how = seen.drawing, seen.waiting.how
    return ReadingView(
        pages=_pages_view(drawing, drawing.pages, how, unit) if drawing.pages else None,
        layers=drawing.layers,
        layers_answered=bool(how.layers),
        alike=drawing.alike,
        alike_words=_alike_words(drawing),
        alike_answered=bool(how.alike),
    )


def _alike_words(drawing: Drawing) -> str:
    """Return what is known about what may be sizes, in sentences; "" where nothing may."""
    if words := unnamed_words(drawing):
        return f"{words[0].upper()}{words[1:]}."
    words = f"In the file they are called {listed(drawing.alike_names)}."
    if drawing.alike == UNSURE:
        words += (
            " They are drawn alike, so they may be sizes; or they are pieces with a number each."
        )
    return words


def _pages_view(drawing: Drawing, pages: Pages, how: Answers, unit: Unit) -> PagesView:
    said = said_tiles(how.tiles, how.shift, how.moved)
    rows = said.rows or pages.rows
    step = pages.step
    across, _, down = how.shift.partition(", ")
    return PagesView(
        answered=bool(how.tiles or how.moved),
        picture=pages_picture(drawing, pages),
        alt=pages_alt(pages),
        words=pages_words(pages, unit),
        good=pages_are_sure(pages),
        left=pages.left,
        way=_way(how.tiles, rows=bool(said.rows)),
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
