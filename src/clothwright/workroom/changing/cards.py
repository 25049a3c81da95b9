"""The pieces before and after each change of the list, drawn; and what an edit of it would do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.drawing.before_after import before_after
from clothwright.errors import CannotDo, garbled
from clothwright.pattern.pattern import Pattern
from clothwright.picture.picture import Picture
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workbook import Replay, Workbook, change_title, replay
from clothwright.workroom.editing.committing import apply_edit
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.changes import AddChange, SetChange
from clothwright.workroom.walking.checking import findings_of

States = tuple[Pattern, ...]
"""The pattern as bought and after each change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeAfter:
    """A piece that a change touches. how: "altered", "new" or "gone"; picture: both, in mm."""

    name: str
    how: str
    picture: Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePreview:
    """What an edit of the list would do: its sentence, and every piece drawn with both states."""

    words: str
    drawn: tuple[BeforeAfter, ...]


def states(book: Workbook, done: Replay) -> States:
    """Return the pattern as bought and after each change, one more than there are changes."""
    return (book.bought, *done.states)


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
        raise garbled()
    after = apply_edit(book, edit, ids)
    then = replay(after)
    told = then.told[number - 1]
    if told.error:
        title = change_title(told.step.change)
        raise CannotDo(what=f'"{title}" cannot be done like this', why=told.error)
    new = len(findings_of(after, then))
    return ChangePreview(
        words=f"{say(told.said, book.unit)} Findings of the walk: {found} now, {new} with it.",
        drawn=drawn(done.pattern, then.pattern, book.unit),
    )
