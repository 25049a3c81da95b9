"""A whole workbook saved as a step, as an edit does it."""

from __future__ import annotations

from pathlib import Path

from clothwright.store import opened
from clothwright.store.history import steps as history
from clothwright.store.history.record import Saved
from clothwright.store.history.touched import carried
from clothwright.workbook import Workbook


def save_step(folder: Path, book: Workbook, *, words: str, base: int | None = None) -> Saved:
    """Save a workbook over the one that is there; its changes keep their names by likeness.

    base: the revision it was made from; CannotDo when another one is there by now.
    """

    def make(now: history.Now) -> history.Made:
        history.refuse_moved(now, base, f'"{words}" was not saved')
        was, fresh = now.opened(), f"c{now.record.last_number + 1}"
        ids = was.ids if book == was.book else carried(was.book.steps, was.ids, book.steps, fresh)
        return history.Made(book=book, words=words, ids=ids)

    return history.step(folder, make)


def revision(folder: Path) -> int:
    """Return the revision the workbook is at."""
    return opened(folder).revision
