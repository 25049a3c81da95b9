"""A cloth on the table: drawn, said, its handles and its fields."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.form import ClothForm, entries_of, form_of
from clothwright.cloth.meanings import cloth_words, other_widths
from clothwright.drawing.cloth import cloth_picture, shown_length
from clothwright.drawing.cloth_flaws import FlawKnob, spots
from clothwright.drawing.cloth_holds import PrintHold, holds, knob_radius
from clothwright.drawing.printed import PhotoOn, photo_on
from clothwright.picture.picture import Picture
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workbook import Workbook


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothLine:
    """A cloth in one line: its name and its size in words."""

    name: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothShown:
    """A cloth alone on the table. long, wide: mm of it that is drawn; radius: of a knob, mm.

    size, words, widths: what it is, what that means, and how much of other widths it is worth.
    entries: see `entries_of`.
    """

    cloth: Cloth
    size: str
    picture: Picture
    photo: PhotoOn | None
    long: float
    wide: float
    radius: float
    holds: tuple[PrintHold, ...]
    spots: tuple[FlawKnob, ...]
    words: tuple[str, ...]
    widths: tuple[tuple[str, str], ...]
    form: ClothForm
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
        photo=photo_on(cloth, long),
        long=long,
        wide=cloth.width,
        radius=knob_radius(cloth),
        holds=holds(cloth, unit),
        spots=spots(cloth, unit),
        words=cloth_words(cloth, unit),
        widths=other_widths(cloth, unit),
        form=form_of(cloth, unit),
        entries=entries_of(cloth, unit),
    )


def materials(book: Workbook) -> tuple[str, ...]:
    """Return what pieces are cut from and cloths are for, by name."""
    cut = {c.material for p in book.bought.pieces for c in p.cuts}
    return tuple(sorted(cut | {c.material for c in book.cloths} | {"shell"}))
