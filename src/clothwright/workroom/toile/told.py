"""The notes of the toile as they are told in the guide, and with the walk."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.body.toile import ToileNote
from clothwright.picture.document import Chapter, Points
from clothwright.words import say
from clothwright.workbook import Replay, Workbook
from clothwright.workroom.toile.signs import note_said


def answers(book: Workbook, done: Replay, note: ToileNote) -> tuple[str, ...]:
    """Return what the changes that answer a note did, in the workbook's unit."""
    mine = (t for t in done.told if t.step.toile == note.name and t.step.on)
    return tuple(t.error or say(t.said, book.unit) for t in mine)


def toile_chapters(book: Workbook, done: Replay) -> tuple[Chapter, ...]:
    """Return a chapter with every note and what became of it; none where nothing is noted."""
    if not book.toile:
        return ()
    items = tuple(" ".join(_told(book, done, note)) for note in book.toile)
    title = "What the trial garment showed"
    return (Chapter(title=title, blocks=(Points(items=items, numbered=True),)),)


def _told(book: Workbook, done: Replay, note: ToileNote) -> Iterator[str]:
    yield say(note_said(note), book.unit)
    taken = answers(book, done, note)
    yield from taken
    if note.answer == "left":
        yield "Left as it is."
    elif not taken:
        yield "Not answered yet."
