"""What is said at the sitting: a file comes in, a question is answered, the pieces are added."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path as FilePath

from clothwright.errors import BadInput
from clothwright.intake.waiting.answers import ANSWERS, Answering, Fields
from clothwright.intake.waiting.reading import READING, read_anew
from clothwright.intake.waiting.said import Waiting, size_shown
from clothwright.intake.waiting.seen import Outline, SeenDrawing
from clothwright.workbook import Workbook
from clothwright.workroom.apart.asking import Left, Unread
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.pieces import inbox, sitting, typing


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """Pieces that were added, in how many, told in words; the revision they are in."""

    count: int
    words: str
    revision: int


def bring_in(folder: FilePath, book: Workbook, file: str, data: bytes) -> Waiting:
    """Put a file into the inbox. Raises BadInput: one that cannot be read is not kept.

    One that takes too long to read, or too much memory, is: `look` says so of it. Raises Left when
    she does not wait for it, and then it is not kept either.
    """
    if not file.strip():
        raise BadInput(where="file", what="it has no name", expected="a file with its name")
    one = inbox.put_in(folder, file.strip(), data)
    try:
        seen = _seen(book, one)
    except Left:
        inbox.throw_away(folder, one.id)
        raise
    stays = typing.is_notes(one) or seen.otherwise or isinstance(seen.error, Unread)
    if seen.trouble and not stays:
        inbox.throw_away(folder, one.id)
        raise BadInput(what=seen.trouble)
    return one


def answer(folder: FilePath, book: Workbook, key: str, number: int, fields: Fields) -> str:
    """Save what is said about a waiting drawing; return what came of it, in words.

    number: of the outline that it is about. fields: `what` names the question (`ANSWERS`, or how
    the file is read), the others answer it. Raises BadInput, CannotDo; then nothing is saved.
    """
    what = fields.get("what", "")
    if what in READING:
        return _read_otherwise(folder, book, key, fields)
    if what not in ANSWERS:
        raise BadInput(where="answer", what=f'"{what[:40]}" was not asked', expected="a question")
    _seen(book, inbox.one_waiting(folder, key))  # read before the inbox is held for the answer

    def change(one: Waiting) -> Waiting:
        seen = _seen(book, one)
        outline = _outline_of(seen, number)
        return ANSWERS[what](
            Answering(fields=fields, unit=book.unit, one=one, outline=outline, sizes=seen.sizes)
        )

    return _seen(book, inbox.answer(folder, key, change)).trouble or "Saved."


def _read_otherwise(folder: FilePath, book: Workbook, key: str, fields: Fields) -> str:
    def change(one: Waiting) -> Waiting:
        how = READING[fields["what"]](fields, one.how, book.unit)
        return read_anew(_seen(book, one), _seen(book, replace(one, how=how)))

    before = inbox.one_waiting(folder, key)
    change(before)  # read before the inbox is held for the answer
    after = inbox.answer(folder, key, change)
    trouble = _seen(book, after).trouble
    words = trouble or "Read anew."
    if before.said and not after.said and not trouble:
        words += " Its outlines are others now: their questions are asked again."
    return words


def add_pieces(book: OpenBook, key: str, base: int) -> Added:
    """Add the pieces of a waiting drawing, as one edit against revision `base`.

    Raises BadInput, CannotDo: what is missing.
    """
    it = book.read().book
    one = inbox.one_waiting(book.folder, key)
    seen = _seen(it, one)
    sizes, why = sitting.in_sizes(one, it.bought, it.unit) if seen.sizes else (None, "")
    edit = replace(sitting.edit_of(seen), sizes=sizes)
    done = book.edit(edit, base=base, token=f"add-{key}")
    if typing.is_notes(one):
        added = tuple(o.piece for o in seen.outlines if o.wanted and o.piece is not None)
        typing.keep(book.folder, typing.notes_in(one), added)
    inbox.throw_away(book.folder, key)
    size = size_shown(one, seen.sizes)
    if why and sizes is None:
        why = f"Only size {size} is added, since the sizes do not correspond: {why}"
    elif why:
        why = f"{why[0].upper()}{why[1:]}."
    words = f"{done.words} {why}".strip()
    return Added(count=len(edit.pieces), words=words, revision=done.revision)


def _seen(book: Workbook, one: Waiting) -> SeenDrawing:
    return sitting.look(one, book.bought, book.unit)


def _outline_of(seen: SeenDrawing, number: int) -> Outline:
    if seen.trouble:
        raise BadInput(what=seen.trouble)
    found = next((o for o in seen.outlines if o.number == number), None)
    if found is None:
        raise BadInput(where="piece", what="there is no such outline", expected="one that is shown")
    return found
