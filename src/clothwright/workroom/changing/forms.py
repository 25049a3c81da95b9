"""The form of a change: its fields, filled from the pieces it is done on, and how they are read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, dataclass, replace

from clothwright.changes import CHANGES
from clothwright.changes.change import TOPICS
from clothwright.changes.following import followed
from clothwright.changes.named import Request
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.rules.rule import Ask
from clothwright.units import Unit
from clothwright.units.params import declared, read_fields
from clothwright.workbook import Workbook, change_of, history_of
from clothwright.workroom.changing.cards import States
from clothwright.workroom.editing.asking import Asking, Field, FromForm
from clothwright.workroom.editing.offers import whole_outfit


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeForm:
    """The form of one kind of change. id: the kind, as an edit names it. why: what it is for."""

    id: str
    title: str
    why: str
    fields: tuple[Field, ...]


MENU = tuple((c.id, c.title) for c in CHANGES)
"""Every kind of change and what it is called."""

BY_TOPIC = tuple(
    (topic, tuple((c.id, c.title) for c in CHANGES if c.topic == topic))
    for topic in TOPICS
    if any(c.topic == topic for c in CHANGES)
)
"""The same by what they are about, in the order shown."""


def form_of(
    kind: str, pattern: Pattern, unit: Unit, given: Mapping[str, object] | None = None
) -> ChangeForm | None:
    """Return the form of a kind of change; None for a kind that is not known.

    pattern: the pieces it will be done on. given: what is filled in, as a workbook has it. Lengths
    are shown in `unit`.
    """
    known = any(c.id == kind for c in CHANGES)
    return form_named(kind, pattern, unit, given) if known else None


def form_named(
    kind: str, pattern: Pattern, unit: Unit, given: Mapping[str, object] | None = None
) -> ChangeForm:
    """Do the same, but raise BadInput with the nearest known kind."""
    change = change_of(kind)
    fields = _asking(kind, pattern, unit, given or {}).fields
    return ChangeForm(id=change.id, title=change.title, why=change.why, fields=fields)


def form_to_set(book: Workbook, at: States, number: int) -> ChangeForm | None:
    """Return the form of a change of the list (from 0), None for a kind that is not known.

    What a change before it renamed, divided or joined is filled in as it is called now; where that
    is not one thing, what there is now is offered, and what it names is told as not there.
    """
    change = next((c for c in CHANGES if c.id == book.steps[number].change), None)
    if change is None:
        return None
    fields = _set(book, at, number).fields
    return ChangeForm(id=change.id, title=change.title, why=change.why, fields=fields)


def _set(book: Workbook, at: States, number: int) -> Asking:
    """Return what is asked of a change of the list: on the pieces it is done on, as called now."""
    step = book.steps[number]
    change, states = change_of(step.change), at[1 : number + 1]
    asking = _asking(step.change, at[number], book.unit, step.params)
    if any(
        f.default is MISSING and n not in asking.now for n, f in declared(change.params).items()
    ):
        return asking
    asked = Request(change=change, params=change.params(**asking.now), pattern=at[number])
    found = followed(asked, lambda: history_of(book, states))
    return replace(
        asking,
        now={name: getattr(found.asked.params, name) for name in asking.now},
        gone={m.ref.text for m in found.missing},
    )


def _asking(kind: str, pattern: Pattern, unit: Unit, given: Mapping[str, object]) -> Asking:
    params = change_of(kind).params
    now, _ = read_fields(params, given, unit=unit)
    asks = tuple(Ask(name=name) for name in declared(params))
    return Asking(params=params, asks=asks, outfit=whole_outfit(pattern), unit=unit, now=now)


def stated(book: Workbook, at: States, ids: tuple[str, ...], filled: Mapping[str, str]) -> FromForm:
    """Return the edit that adds a change of the kind in `kind`, or sets the one in `change`.

    at: the pattern as bought and after each change; ids: their lasting names. Raises BadInput for
    an unknown kind, CannotDo when the change is gone.
    """
    name, why = filled.get("change", ""), filled.get("why", "").strip()
    if not name:
        kind = filled.get("kind", "")
        read = _asking(kind, at[-1], book.unit, {}).read(filled)
        return FromForm(
            edit={"edit": "add-change", "kind": kind, "params": read.said, "why": why},
            wrong=read.wrong,
        )
    if name not in ids:
        raise CannotDo(
            what="the change cannot be set",
            why="it was taken out meanwhile",
            nearest="to look at the changes as they are now, and add it anew",
        )
    n = ids.index(name)
    read = _set(book, at, n).read(filled)
    return FromForm(
        edit={"edit": "set-change", "change": name, "params": read.said}, wrong=read.wrong
    )
