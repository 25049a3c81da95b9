"""Typed measurements shown: the text, what is wrong in it, and what it draws as it stands."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path as FilePath

from clothwright.errors import BadInput
from clothwright.intake.typed.examples import EXAMPLE, EXAMPLE_INCH
from clothwright.intake.typed.picture import typed_picture
from clothwright.intake.typed.sheet import Typed, TypedPiece
from clothwright.intake.waiting.said import Waiting
from clothwright.picture.picture import Picture
from clothwright.units import Unit
from clothwright.words import begun, counted, told
from clothwright.workbook import Workbook
from clothwright.workroom.pieces import typing
from clothwright.workroom.pieces.typing import Kept


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedDrawn:
    """A piece as far as its lines go. picture: mm. checks: measured diagonals, and "it agrees"."""

    name: str
    words: str
    checks: tuple[tuple[str, bool], ...]
    took: tuple[str, ...]
    picture: Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedView:
    """Typed measurements. id, base: of the waiting text, "" for a new one. slips: line and words.

    kept: texts whose pieces were added, to be corrected again. unit: of numbers alone.
    """

    id: str
    text: str
    base: str
    pieces: tuple[TypedDrawn, ...]
    slips: tuple[tuple[int, str], ...]
    state: str
    kept: tuple[Kept, ...]
    unit: str
    example: str


def typed_view(folder: FilePath, book: Workbook, one: Waiting | None) -> TypedView | None:
    """Return what is shown of typed measurements; None while another file is answered.

    one: the waiting drawing that was chosen, if any. Raises BadInput, OSError.
    """
    if one is not None and not typing.is_notes(one):
        return None
    text = typing.notes_in(one) if one else ""
    typed = typing.typed_of(one, book.unit) if one else Typed(pieces=(), slips=())
    return TypedView(
        id=one.id if one else "",
        text=text,
        base=typing.digest(text) if one else "",
        pieces=tuple(_drawn(p) for p in typed.pieces),
        slips=tuple((s.line, _bare(s.error, book.unit)) for s in typed.slips),
        state=_state(text, typed),
        kept=() if one else typing.kept(folder, {p.name: p for p in book.bought.pieces}),
        unit=book.unit.plural,
        example=EXAMPLE if book.unit.is_metric else EXAMPLE_INCH,
    )


def _state(text: str, typed: Typed) -> str:
    if not text.strip():
        return "Nothing is typed yet."
    if typed.slips:
        return f"{counted(len(typed.slips), 'line')} to look at."
    return f"All lines are read; {counted(len(typed.pieces), 'piece')} drawn."


def _bare(error: BadInput, unit: Unit) -> str:
    """Return what is wrong without the line, which stands before it."""
    words = told(BadInput(what=error.what, expected=error.expected, try_=error.try_), unit)
    return begun(words)


def _drawn(one: TypedPiece) -> TypedDrawn:
    size = f"{counted(len(one.points), 'point')}, {counted(len(one.paths), 'edge')}"
    whole = "the outline is whole" if one.edges else "the outline is not whole yet"
    return TypedDrawn(
        name=one.name,
        words=f"{size}; {whole}",
        checks=tuple((c.words, c.agrees) for c in one.checks),
        took=tuple(map(begun, one.took)),
        picture=typed_picture(one),
    )
