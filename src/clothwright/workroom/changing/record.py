"""The list of changes line by line, and what the checks find before and after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwright.words import say
from clothwright.workbook import Replay, Workbook
from clothwright.workroom.editing.edit import change_title
from clothwright.workroom.walking.checking import findings_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """One change of the list. kind: as it is typed; title: as it is said.

    said: what it did, in the workbook's unit; error: why it could not be done, else "".
    """

    number: int
    kind: str
    title: str
    params: Mapping[str, object]
    on: bool
    why: str
    said: str
    error: str


def lines_of(book: Workbook, done: Replay) -> tuple[ChangeLine, ...]:
    """Return every change of the list. done: the changes as applied."""
    return tuple(
        ChangeLine(
            number=t.number,
            kind=t.step.change,
            title=change_title(t.step.change),
            params=t.step.params,
            on=t.step.on,
            why=t.step.why,
            said=say(t.said, book.unit),
            error=t.error,
        )
        for t in done.told
    )


def found_in(book: Workbook, done: Replay | None = None) -> int:
    """Return how many findings the checks have. done: the changes as applied, where known."""
    return len(findings_of(book, done))
