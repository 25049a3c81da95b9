"""A cloth on the table: drawn, said, its handles and its fields."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth, Flaw
from clothwright.cloth.form import ClothForm, form_of
from clothwright.cloth.meanings import cloth_words, other_widths
from clothwright.cloth.prints import Border, Figure
from clothwright.drawing.cloth import cloth_picture, shown_length
from clothwright.drawing.cloth_flaws import FlawKnob, spots
from clothwright.drawing.cloth_holds import PrintHold, holds, knob_radius
from clothwright.drawing.top_choices import TopChoice, border_choices, ground_choices
from clothwright.picture.picture import Picture
from clothwright.store.book.format import writing_in
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workbook import Workbook

TOUCH_MM = 50.8
"""How large a motif or a flaw is that has just been added."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothLine:
    """A cloth in one line: its name and its size in words."""

    name: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothShown:
    """A cloth alone on the table. long, wide: mm of it that is drawn; radius: of a knob, mm.

    size, words, widths: what it is, what that means, and how much of other widths it is worth.
    tops, bottoms: the ways its ground may be up, and each border may face, to choose by a picture.
    entries: see `entries_of`.
    """

    cloth: Cloth
    size: str
    picture: Picture
    long: float
    wide: float
    radius: float
    holds: tuple[PrintHold, ...]
    spots: tuple[FlawKnob, ...]
    words: tuple[str, ...]
    widths: tuple[tuple[str, str], ...]
    form: ClothForm
    tops: tuple[TopChoice, ...]
    bottoms: tuple[tuple[TopChoice, ...], ...]
    entries: Mapping[str, object]


def cloth_lines(book: Workbook) -> tuple[ClothLine, ...]:
    """Return every cloth of the workbook in one line, in its unit."""
    return tuple(ClothLine(name=c.name, words=_size(c, book.unit)) for c in book.cloths)


def _size(cloth: Cloth, unit: Unit) -> str:
    long = "to buy" if cloth.length is None else f"{show_length(cloth.length, unit)} long"
    return f"{show_length(cloth.width, unit)} wide, {long}"


def cloth_shown(book: Workbook, name: str = "") -> ClothShown | None:
    """Return a cloth of the workbook in its unit; the first for a name that is not there.

    None for a workbook without a cloth.
    """
    first = next(iter(book.cloths), None)
    cloth = next((c for c in book.cloths if c.name == name), first)
    if cloth is None:
        return None
    unit, long = book.unit, shown_length(cloth)
    return ClothShown(
        cloth=cloth,
        size=_size(cloth, unit),
        picture=cloth_picture(cloth, unit),
        long=long,
        wide=cloth.width,
        radius=knob_radius(cloth),
        holds=holds(cloth, unit),
        spots=spots(cloth, unit),
        words=cloth_words(cloth, unit),
        widths=other_widths(cloth, unit),
        form=form_of(cloth, unit),
        tops=ground_choices(cloth),
        bottoms=tuple(border_choices(cloth, n) for n in range(len(cloth.print.borders))),
        entries=entries_of(cloth, unit),
    )


def entries_of(cloth: Cloth, unit: Unit) -> Mapping[str, object]:
    """Return the borders, motifs and flaws as the workbook has them, to be sent anew as a whole.

    fresh: what a new one of each begins as.
    """
    writing, middle = writing_in(unit), cloth.width / 2
    base, height = (25.0, 100.0) if unit.is_metric else (25.4, 101.6)
    square = ((0.0, 0.0), (TOUCH_MM, 0.0), (TOUCH_MM, TOUCH_MM), (0.0, TOUCH_MM))
    ring = tuple((middle + dx, middle + dy) for dx, dy in square)
    border = Border(name="border", side="lower", base=base, height=height)
    motif = Figure(name="motif", x=middle, y=middle, radius=TOUCH_MM)
    fresh = {"border": border, "figure": motif, "flaw": Flaw(name="flaw", ring=ring)}
    now = {"border": cloth.print.borders, "figure": cloth.print.figures, "flaw": cloth.flaws}
    return {
        "cloth": cloth.name,
        "unit": unit.value,
        **{k: [writing.plain(type(row), row) for row in rows] for k, rows in now.items()},
        "fresh": {k: writing.plain(type(row), row) for k, row in fresh.items()},
    }


def materials(book: Workbook) -> tuple[str, ...]:
    """Return what pieces are cut from and cloths are for, by name."""
    cut = {c.material for p in book.bought.pieces for c in p.cuts}
    return tuple(sorted(cut | {c.material for c in book.cloths} | {"shell"}))
