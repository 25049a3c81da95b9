"""Edits of what the trial garment showed. A note is named by its lasting name, or by its number."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clothwright.body.body import day_of
from clothwright.body.toile import ToileNote
from clothwright.errors import BadInput
from clothwright.store.book.parts import part_with
from clothwright.units import is_count
from clothwright.words import Sentence, ref_name, show_day
from clothwright.workbook import replay
from clothwright.workroom.editing.differing import Way, differing, length, text
from clothwright.workroom.editing.edit import Desk, Edit, Values
from clothwright.workroom.toile.sign import check_place
from clothwright.workroom.toile.signs import note_said, sign_of

NOTE: Mapping[str, Way] = {
    "where": lambda _, where: (f"at {ref_name(where)}",),
    "seen": lambda _, seen: (sign_of(seen).said,),
    "by": length("by"),
    "side": lambda _, side: (f"on {'both sides' if side == 'both' else f'the {side}'}",),
    "day": lambda _, day: (f"on {show_day(day)}" if day else "no day",),
    "words": text("note"),
    "answer": lambda _, answer: ("left as it is" if answer == "left" else "proposed again",),
}
"""How each field of a note is said in the record."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteToile(Edit):
    """Note one thing that the trial garment showed."""

    values: Values

    def do(self, desk: Desk) -> Desk:
        """Note it after the others."""
        noted = {n.name for n in desk.book.toile} | {s.toile for s in desk.book.steps}
        last = max((int(n) for n in noted if is_count(n)), default=0)
        note = _read(desk, None, {**self.values, "name": str(last + 1)})
        return desk.with_book(toile=(*desk.book.toile, note))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what it showed."""
        return note_said(now.book.toile[-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class SetToile(Edit):
    """Note it otherwise; answer "left": she leaves it as it is."""

    note: str
    values: Values

    def do(self, desk: Desk) -> Desk:
        """Read the values over those it has."""
        old = note_of(desk, self.note)
        new = _read(desk, old, {**self.values, "name": old.name})
        return desk.with_book(toile=tuple(new if n is old else n for n in desk.book.toile))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what differs."""
        old, new = note_of(was, self.note), note_of(now, self.note)
        return (f"{_called(old)}: ", *(differing(old, new, NOTE) or ("as it was",)))


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveToile(Edit):
    """Take a note of the toile out; the changes that answer it stay."""

    note: str

    def do(self, desk: Desk) -> Desk:
        """Take it out."""
        gone = note_of(desk, self.note)
        return desk.with_book(toile=tuple(n for n in desk.book.toile if n is not gone))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f"Removed a note of the toile: {ref_name(note_of(was, self.note).where)}",)


def note_of(desk: Desk, name: str) -> ToileNote:
    """Return a note by its lasting name, or its number where it was looked at. Raises BadInput."""
    notes, seen = desk.book.toile, desk.base.book.toile
    if is_count(name) and 1 <= int(name) <= len(seen):
        name = seen[int(name) - 1].name
    found = next((n for n in notes if n.name == name), None)
    if found is None:
        known = f"a number from 1 to {len(notes)}" if notes else "a note of the toile first"
        raise BadInput(what=f"the toile has no note {name}", expected=known)
    return found


def _called(note: ToileNote) -> str:
    return f"The toile, {ref_name(note.where)}"


def _read(desk: Desk, old: ToileNote | None, values: Values) -> ToileNote:
    """Return a note with other values, its sign and its day known. Raises BadInput, Mistakes."""
    where = "the toile"
    note = part_with(ToileNote, old, values, unit=desk.book.unit, where=where)
    if old is None or note.where != old.where:
        check_place(replay(desk.book).pattern, note.where)
    sign_of(note.seen, where=where)
    return replace(note, day=day_of(note.day, where=f"{where}, day"))
