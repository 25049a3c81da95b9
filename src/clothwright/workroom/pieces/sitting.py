"""The intake sitting: a waiting file read, once, and what it would become as answered so far.

All of it is worked out in the process that reads files (`apart`): what is read stays there.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache, partial
from pathlib import Path as FilePath
from typing import NamedTuple

from clothwright.errors import ClothwrightError
from clothwright.intake.answers import Answers
from clothwright.intake.candidates import Candidate, Seen, see
from clothwright.intake.drawing import Drawing
from clothwright.intake.in_sizes import of_size
from clothwright.intake.waiting.doubted import with_doubt
from clothwright.intake.waiting.said import Waiting
from clothwright.intake.waiting.seen import SeenDrawing, drawn_look, own_look, to_add, typed_look
from clothwright.intake.waiting.sizes import sizes_of
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.photo.photographed import is_photo
from clothwright.units import Unit
from clothwright.words import told
from clothwright.workroom.apart.asking import Left, apart, in_one_time
from clothwright.workroom.editing.edits.pieces import AddPieces
from clothwright.workroom.pieces import photo_sitting, typing
from clothwright.workroom.pieces.adding import annotated, reader_of
from clothwright.workroom.pieces.photo_said import how_many


class _Asked(NamedTuple):
    """How a drawing stands depends on this."""

    one: Waiting
    unit: Unit
    stamp: int


_SEEN: deque[tuple[_Asked, Pattern, SeenDrawing]] = deque(maxlen=3)
"""How drawings stood when last looked at: an answer, and the page after it, ask for the same. The
process that reads has its own: adding a piece in all its sizes asks for it once more."""


def look(one: Waiting, bought: Pattern, unit: Unit) -> SeenDrawing:
    """Return how a drawing stands. What is wrong with the file is told in `trouble`. Raises Left.

    error: Unread, where it could not be read within the limits.
    """
    try:
        with in_one_time(how_many(one)):
            if is_photo(one.stored.name):
                photo_sitting.view_of(one)  # put together first
            asked = _Asked(one, unit, photo_sitting.stamp_of(one.stored))
            work = partial(apart, one.file, _looked, one, bought, unit, asked.stamp)
            return _once(asked, bought, work)
    except Left:
        raise
    except ClothwrightError as error:
        return SeenDrawing(waiting=one, trouble=told(error, unit), error=error)
    except OSError as error:
        words = f"{one.file}: it cannot be read ({error.strerror})."
        return SeenDrawing(waiting=one, trouble=words)


def _once(asked: _Asked, bought: Pattern, work: Callable[[], SeenDrawing]) -> SeenDrawing:
    """Return how a drawing stands as it was seen before, else look."""
    for before, pattern, seen in tuple(_SEEN):
        if before == asked and pattern == bought:
            return seen
    seen = work()
    _SEEN.append((asked, bought, seen))
    return seen


def _looked(one: Waiting, bought: Pattern, unit: Unit, stamp: int) -> SeenDrawing:
    """Look, in the process that reads; its own sizes are worked out from what was seen."""
    work = partial(_look_into, one, bought, unit, stamp)
    return _once(_Asked(one, unit, stamp), bought, work)


def _look_into(one: Waiting, bought: Pattern, unit: Unit, stamp: int) -> SeenDrawing:
    own = _own(one)
    if own is not None:
        return own_look(one, own, bought)
    if typing.is_notes(one):
        typed = typing.typed_of(one, unit)
        typed.raise_slips("")
        return with_doubt(typed_look(one, typed, bought, unit), unit)
    drawing = _read_file(str(one.stored), one.file, stamp, one.how, unit)
    see, note = partial(_seen, _whole(one, stamp), unit=unit), photo_sitting.note_of(one, unit)
    seen = with_doubt(drawn_look(one, drawing, see, bought, unit, note=note), unit)
    return replace(seen, bar=photo_sitting.bar_question(one) if seen.outlines else None)


def in_sizes(one: Waiting, bought: Pattern, unit: Unit) -> tuple[SizeRange | None, str]:
    """Return the pieces of a drawing in all its sizes, or None and why not (`sizes_of`).

    Raises what is wrong with the file; Unread; Left.
    """
    return apart(one.file, _in_sizes, one, bought, unit, photo_sitting.stamp_of(one.stored))


def _in_sizes(
    one: Waiting, bought: Pattern, unit: Unit, stamp: int
) -> tuple[SizeRange | None, str]:
    def drawn(size: str) -> tuple[Candidate, ...]:
        return _seen(_whole(one, stamp), size, unit).candidates

    return sizes_of(_looked(one, bought, unit, stamp), unit, drawn)


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


def edit_of(one: SeenDrawing) -> AddPieces:
    """Return the one edit that adds the pieces of a drawing. Raises CannotDo: what is missing."""
    wanted = to_add(one)
    return AddPieces(
        pieces=tuple(o.piece for o in wanted if o.piece is not None),
        replace=any(o.taken for o in wanted),
    )
