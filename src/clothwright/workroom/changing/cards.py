"""The list of changes as cards: what each one did, with each piece before and after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

from clothwright.changes import CHANGES
from clothwright.drawing.before_after import before_after
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.pattern import Pattern
from clothwright.picture.picture import Picture
from clothwright.units import Unit, parse_length
from clothwright.words import ref_name, say, show_length
from clothwright.workbook import Replay, Step, Told, Workbook, replay
from clothwright.workroom.changing.forms import chosen
from clothwright.workroom.editing.committing import apply_edit
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.changes import AddChange, SetChange
from clothwright.workroom.walking.checking import findings_of

KINDS = {c.id: c for c in CHANGES}
States = tuple[Pattern, ...]
"""The pattern as bought and after each change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeAfter:
    """A piece that a change touches. how: "altered", "new" or "gone"; picture: both, in mm."""

    name: str
    how: str
    picture: Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeCard:
    """One change of the list, in words of the maker's unit.

    said: what it did; error: why it could not be done; one of them is "". given: what it was asked
    to do, pairs of a label and words. on: False for one that is switched off.
    """

    number: int
    title: str
    on: bool
    said: str
    error: str
    why: str
    given: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePreview:
    """What an edit of the list would do: its sentence, and every piece drawn with both states."""

    words: str
    drawn: tuple[BeforeAfter, ...]


def states(book: Workbook, done: Replay) -> States:
    """Return the pattern as bought and after each change, one more than there are changes."""
    return (book.bought, *done.states)


def cards(told: Sequence[Told], unit: Unit) -> tuple[ChangeCard, ...]:
    """Return the record of the changes as cards, in order."""
    return tuple(
        ChangeCard(
            number=t.number,
            title=KINDS[t.step.change].title if t.step.change in KINDS else t.step.change,
            on=t.step.on,
            said=say(t.said, unit),
            error=t.error,
            why=t.step.why,
            given=_given(t.step, unit),
        )
        for t in told
    )


def _given(step: Step, unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return what a step was given as labels and words; "back.side" is said "back, side"."""
    known = fields(KINDS[step.change].params) if step.change in KINDS else ()
    kinds = {f.name: f.metadata["kind"] for f in known}
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


def drawn(before: Pattern, after: Pattern, unit: Unit) -> tuple[BeforeAfter, ...]:
    """Return every piece that differs between two states of the pattern, drawn with both."""
    was = {p.name: p for p in before.pieces}
    now = {p.name: p for p in after.pieces}
    out = []
    for name in dict.fromkeys((*now, *was)):
        old, new = was.get(name), now.get(name)
        if old is new or old == new:
            continue
        how = "altered" if old and new else "new" if new else "gone"
        out.append(BeforeAfter(name=name, how=how, picture=before_after(old, new, unit)))
    return tuple(out)


def preview(
    book: Workbook, done: Replay, edit: Edit, ids: Sequence[str], found: int
) -> ChangePreview:
    """Return what adding a change, or setting one anew, would do; nothing is saved.

    done: the changes as applied; ids: their lasting names; found: findings of the walk so far.
    Raises BadInput for another edit, CannotDo when the change cannot be done.
    """
    if isinstance(edit, AddChange):
        number = len(book.steps) + 1
    elif isinstance(edit, SetChange) and edit.change in ids:
        number = ids.index(edit.change) + 1
    else:
        raise BadInput(where="preview", what="this is no change", expected="a change of the list")
    after = apply_edit(book, edit, ids)
    then = replay(after)
    told = then.told[number - 1]
    if told.error:
        title = KINDS[told.step.change].title
        raise CannotDo(what=f'"{title}" cannot be done like this', why=told.error)
    new = len(findings_of(after, then))
    return ChangePreview(
        words=f"{say(told.said, book.unit)} Findings of the walk: {found} now, {new} with it.",
        drawn=drawn(done.pattern, then.pattern, book.unit),
    )
