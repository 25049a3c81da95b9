"""The list of changes line by line, and what the checks find before and after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clothwright.changes import CHANGES
from clothwright.units import Unit
from clothwright.units.params import declared, read_fields
from clothwright.words import say, show_day
from clothwright.workbook import Replay, Step, Workbook, change_title
from clothwright.workroom.changing.figures import LengthNow, figures
from clothwright.workroom.editing.asking import said_value
from clothwright.workroom.toile.signs import reason_of
from clothwright.workroom.walking.checking import findings_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """One change of the list. kind: as it is typed; title: as it is said.

    given: what it was asked to do, pairs of a label and words. said: what it did; error: why it
    could not be done, else "". All in the workbook's unit. on: False for one that is switched off.
    why: her reason, and what the toile showed. day: on which it was added, in words, "" where
    nobody knows. figures: lengths before and after.
    """

    number: int
    kind: str
    title: str
    params: Mapping[str, object]
    given: tuple[tuple[str, str], ...]
    on: bool
    why: str
    said: str
    error: str
    day: str
    figures: tuple[LengthNow, ...]


def lines_of(book: Workbook, done: Replay, days: Sequence[str] = ()) -> tuple[ChangeLine, ...]:
    """Return every change of the list. done: the changes as applied.

    days: on which each was added, where that is known (`OpenBook.days`).
    """
    states = (book.bought, *done.states)
    known = days if len(days) == len(done.told) else ("",) * len(done.told)
    return tuple(
        ChangeLine(
            number=t.number,
            kind=t.step.change,
            title=change_title(t.step.change),
            params=t.step.params,
            given=_given(t.step, book.unit),
            on=t.step.on,
            why=say(reason_of(book, t.step), book.unit),
            said=say(t.said, book.unit),
            error=t.error,
            day=show_day(day) if day else "",
            figures=figures(states[t.number - 1], states[t.number], book.unit),
        )
        for t, day in zip(done.told, known, strict=True)
    )


def found_in(book: Workbook, done: Replay | None = None) -> int:
    """Return how many findings the checks have. done: the changes as applied, where known."""
    return len(findings_of(book, done))


def _given(step: Step, unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return what a step was given as labels and words; "back.side" is said "back, side"."""
    params = next((c.params for c in CHANGES if c.id == step.change), None)
    if params is None:
        return ()
    values, _ = read_fields(params, step.params, unit=unit)
    raw = {name.replace("-", "_"): str(value) for name, value in step.params.items()}
    return tuple(
        (it.label, said_value(values.get(name, raw[name]), it, unit))
        for name, it in declared(params).items()
        if name in raw
    )
