"""The list of changes line by line, and what the checks find before and after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

from clothwright.changes import CHANGES
from clothwright.errors import BadInput
from clothwright.units import Unit, parse_length
from clothwright.words import ref_name, say, show_length
from clothwright.workbook import Replay, Step, Workbook
from clothwright.workroom.changing.forms import chosen
from clothwright.workroom.editing.edit import change_title
from clothwright.workroom.walking.checking import findings_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """One change of the list. kind: as it is typed; title: as it is said.

    given: what it was asked to do, pairs of a label and words. said: what it did; error: why it
    could not be done, else "". All in the workbook's unit. on: False for one that is switched off.
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


def lines_of(book: Workbook, done: Replay) -> tuple[ChangeLine, ...]:
    """Return every change of the list. done: the changes as applied."""
    return tuple(
        ChangeLine(
            number=t.number,
            kind=t.step.change,
            title=change_title(t.step.change),
            params=t.step.params,
            given=_given(t.step, book.unit),
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


def _given(step: Step, unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return what a step was given as labels and words; "back.side" is said "back, side"."""
    kinds = {
        f.name: f.metadata["kind"] for c in CHANGES if c.id == step.change for f in fields(c.params)
    }
    out = []
    for name, value in step.params.items():
        kind = kinds.get(name.replace("-", "_"), "")
        words = [_said(v, kind, unit) for v in chosen(value, kind)]
        out.append((name.replace("_", " ").replace("-", " "), "; ".join(words)))
    return tuple(out)


def _said(text: str, kind: str, unit: Unit) -> str:
    if kind == "length":
        try:
            return show_length(parse_length(text, unit=unit), unit)
        except BadInput:
            return text
    place = kind in ("edge", "edges", "point", "place", "dart")
    return ref_name(text) if place else text
