"""What goes with a piece gets what the piece got: mends that the record of changes knows."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.pattern.finding import Finding, Mend
from clothwright.workbook import Replay, Workbook, check_settings
from clothwright.workroom.changing.alike import pieces_of, steps_alike
from clothwright.workroom.editing.mending import Mending
from clothwright.workroom.walking.trial import BEHIND
from clothwright.workroom.walking.tried import tried_mending


def offered(f: Finding, book: Workbook, done: Replay) -> Mending | None:
    """Return the change that mends a finding, as it is offered (`tried_mending`).

    What was left behind gets, before anything else, what was done to the piece it goes with. done:
    the changes as applied.
    """
    known = tuple(_in_the_record(f.where.piece, book, done)) if f.code == BEHIND else ()
    return tried_mending(f, done.pattern, check_settings(book), book.unit, known)


def _in_the_record(piece: str, book: Workbook, done: Replay) -> Iterator[Mend]:
    """Yield the changes of the list, the last first, as they would be done to a companion, too."""
    for number in range(len(book.steps), 0, -1):
        for step in steps_alike(book, number, done):
            if book.steps[number - 1].on and piece in pieces_of(book, step, number, done):
                yield Mend(change=step.change, params=step.params)
