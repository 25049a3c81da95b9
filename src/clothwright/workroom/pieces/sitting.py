"""The intake sitting: a waiting file read, once, and what it would become as answered so far."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path as FilePath
from typing import NamedTuple

from clothwright.errors import ClothwrightError
from clothwright.intake.answers import Answers
from clothwright.intake.candidates import Seen, see
from clothwright.intake.drawing import Drawing
from clothwright.intake.in_sizes import of_size, size_question
from clothwright.intake.recognise import (
    piece_names,
    scale_question,
)
from clothwright.intake.waiting.said import Waiting
from clothwright.intake.waiting.seen import (
    Outline,
    SeenDrawing,
    all_outlines,
    drawn_outline,
    name_question,
    size_shown,
    to_add,
    typed_outline,
    without_outlines,
)
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.photo.photographed import is_photo
from clothwright.units import Unit
from clothwright.words import told
from clothwright.workroom.editing.edits.pieces import AddPieces
from clothwright.workroom.pieces import photo_sitting, typing
from clothwright.workroom.pieces.adding import annotated, reader_of


def look(one: Waiting, bought: Pattern, unit: Unit) -> SeenDrawing:
    """Return how a drawing stands. What is wrong with the file is told in `trouble`."""
    try:
        stamp = photo_sitting.stamp_of(one.stored)
        return _looked(one, bought, unit, stamp)
    except ClothwrightError as error:
        return SeenDrawing(waiting=one, trouble=told(error, unit))
    except OSError as error:
        words = f"{one.file}: it cannot be read ({error.strerror})."
        return SeenDrawing(waiting=one, trouble=words)


def _looked(one: Waiting, bought: Pattern, unit: Unit, stamp: int) -> SeenDrawing:
    own = _own(one)
    if own is not None:
        return _own_look(one, own, bought)
    if typing.is_notes(one):
        return _typed_look(one, bought, unit)
    drawing = _read_file(str(one.stored), one.file, stamp, one.how, unit)
    scale = scale_question(drawing, one.scale)
    seen = _seen(_whole(one, stamp), size_shown(one, drawing.sizes), unit)
    if not seen.candidates:
        return without_outlines(one, drawing, seen)
    found = all_outlines(one, seen.candidates)
    note = photo_sitting.note_of(one, unit)
    read = piece_names(tuple(c for _, c in found.values()), Answers())
    outlines = tuple(
        drawn_outline(
            one, n, pair, one.about(n).answers.name or name, bought=bought, unit=unit, note=note
        )
        for (n, pair), name in zip(found.items(), read, strict=True)
    )
    return SeenDrawing(
        waiting=one,
        scale=scale,
        size=size_question(drawing, one.size),
        sizes=drawing.sizes,
        bar=photo_sitting.bar_question(one),
        outlines=outlines,
        notes=seen.notes,
        drawing=drawing,
    )


def seen_in(one: Waiting, size: str, unit: Unit) -> Seen:
    """Return the outlines of one size of a drawing ("": it holds one only). Raises BadInput."""
    return _seen(_whole(one, photo_sitting.stamp_of(one.stored)), size, unit)


def _whole(one: Waiting, stamp: int) -> _Whole:
    return _Whole(str(one.stored), one.file, stamp, one.how, one.scale)


@lru_cache(maxsize=4)
def _read_file(stored: str, file: str, stamp: int, how: Answers, unit: Unit) -> Drawing:
    """Read a drawing; kept while it is answered about."""
    del stamp
    if is_photo(stored):
        return photo_sitting.drawing_in(FilePath(stored), unit)
    with open(stored, "rb") as handle:  # noqa: PTH123
        return reader_of(file).drawing(handle.read(), file, how)


class _Whole(NamedTuple):
    """What a drawing is read by; what was seen in it is kept while this is the same."""

    stored: str
    file: str
    stamp: int
    how: Answers
    scale: str


@lru_cache(maxsize=16)
def _seen(whole: _Whole, size: str, unit: Unit) -> Seen:
    drawing = _read_file(*whole[:4], unit)
    return see(of_size(drawing, size) if size else drawing, whole.scale, unit)


def _own(one: Waiting) -> Piece | None:
    if one.stored.suffix != ".svg":
        return None
    return annotated(one.stored.read_bytes(), one.file, one.about(0).answers.name)


def _own_look(one: Waiting, piece: Piece, bought: Pattern) -> SeenDrawing:
    """A drawing with our annotation is read exactly; only its name may stand in the way."""
    said = one.about(0)
    taken = any(p.name == piece.name for p in bought.pieces)
    outline = Outline(
        number=0,
        name=piece.name,
        said=said,
        piece=piece,
        must=name_question(piece.name, said) if taken else (),
        notes=("read exactly, by its own annotation",),
        taken=taken,
    )
    return SeenDrawing(waiting=one, outlines=(outline,))


def _typed_look(one: Waiting, bought: Pattern, unit: Unit) -> SeenDrawing:
    """Typed measurements are read exactly; asked is only what they do not say."""
    typed = typing.typed_of(one, unit)
    typed.raise_slips("")
    found = tuple(
        typed_outline(one, n, piece, bought, unit) for n, piece in enumerate(typed.pieces)
    )
    return SeenDrawing(waiting=one, outlines=found)


def edit_of(one: SeenDrawing) -> AddPieces:
    """Return the one edit that adds the pieces of a drawing. Raises CannotDo: what is missing."""
    wanted = to_add(one)
    return AddPieces(
        pieces=tuple(o.piece for o in wanted if o.piece is not None),
        replace=any(o.taken for o in wanted),
    )
