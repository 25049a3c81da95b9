"""Edits of the workbook as a whole, and several edits as one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput
from clothwright.store import Opened
from clothwright.store.book.parts import part_with
from clothwright.store.history.record import Key
from clothwright.units import Unit, parse_length, parse_unit
from clothwright.units.params import declared
from clothwright.words import Sentence, show_angle_deg
from clothwright.words.exact import length_text
from clothwright.workbook import Settings, Step, change_of
from clothwright.workroom.editing.differing import (
    Way,
    differing,
    either,
    joined_by,
    length,
    other,
    within,
)
from clothwright.workroom.editing.edit import Desk, Edit, Values, desk_of

CHECKS: Mapping[str, Way] = {
    "agree": length("lines agree up to"),
    "notice": length("a notice up to"),
    "cap_ease_min": length("least ease of a sleeve cap"),
    "cap_ease_max": length("most ease of a sleeve cap"),
    "corner_deg": lambda _, deg: (f"corners may be off by {show_angle_deg(deg)}",),
    "borders": other("other edges along a border"),
}
SETTINGS: Mapping[str, Way] = {
    "gap": length("room between cutting lines"),
    "paper": lambda _, paper: (f"paper {paper}",),
    "for_child": either("for a child", "not for a child"),
    "currency": lambda _, name: (f"prices in {name}" if name else "no currency named",),
    "checks": within(CHECKS),
}
"""How each setting is said in the record."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUnit(Edit):
    """Think in another unit; no length changes by it."""

    unit: str

    def do(self, desk: Desk) -> Desk:
        """Set it; bare numbers in the changes get the unit they were meant in."""
        old, new = desk.book.unit, parse_unit(self.unit, where="unit")
        if new is old:
            return desk
        steps = tuple(meant_in(s, old, new) for s in desk.book.steps)
        return desk.with_book(unit=new, steps=steps)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f"Lengths are shown in {now.book.unit.plural} now",)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSettings(Edit):
    """Give the settings other values."""

    values: Values

    def do(self, desk: Desk) -> Desk:
        """Read the values over those there are."""
        book = desk.book
        new = part_with(Settings, book.settings, self.values, unit=book.unit, where="settings")
        return desk.with_book(settings=new)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what differs."""
        told = differing(was.book.settings, now.book.settings, SETTINGS)
        return ("Settings: ", *(told or ("as they were",)))


@dataclass(frozen=True, slots=True, kw_only=True)
class RenameWorkbook(Edit):
    """Call the outfit something else."""

    title: str

    def do(self, desk: Desk) -> Desk:
        """Set its title. Raises BadInput when there is none."""
        if not self.title.strip():
            raise BadInput(where="title", what="it is empty", expected="what you call the outfit")
        return desk.with_book(title=self.title.strip())

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say its new name."""
        return (f'Called the workbook "{now.book.title}"',)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetNotes(Edit):
    """Write other notes."""

    notes: str

    def do(self, desk: Desk) -> Desk:
        """Set them."""
        return desk.with_book(notes=self.notes)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say that they are others."""
        return ("Other notes" if self.notes else "No notes any more",)


@dataclass(frozen=True, slots=True, kw_only=True)
class Several(Edit):
    """Several edits as one step: all of them or none. words: what they do together."""

    edits: tuple[Edit, ...]
    words: str = ""

    def do(self, desk: Desk) -> Desk:
        """Do each on what the ones before it left."""
        looked_at = base = desk.base
        moved_on = desk.book is not base.book or desk.ids != base.ids
        for edit in self.edits:
            before = desk_of(base, fresh=desk.fresh)
            desk = replace(desk, base=base).done(edit)
            alone = before.done(edit) if moved_on else desk
            base = Opened(book=alone.book, revision=base.revision, ids=alone.ids)
        return replace(desk, base=looked_at)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what they do together, else each."""
        if self.words:
            return (self.words,)
        done = now.did[len(was.did) :]
        return joined_by([d.edit.said(d.was, d.now) for d in done], "; ") or ("Nothing",)

    def leans(self, at: Opened) -> tuple[Key, ...]:
        """Lean on all that each leans on."""
        return tuple(dict.fromkeys(k for e in self.edits for k in e.leans(at)))


def as_one(edits: Sequence[Edit]) -> Edit:
    """Return edits as one step: the only one as it is."""
    return edits[0] if len(edits) == 1 else Several(edits=tuple(edits))


def meant_in(step: Step, old: Unit, new: Unit) -> Step:
    """Return a change whose bare lengths name the unit they were meant in."""
    known = declared(change_of(step.change).params)
    params = dict(step.params)
    for key, value in step.params.items():
        it = known.get(key.replace("-", "_"))
        if it is None or it.kind != "length" or not isinstance(value, str | int | float):
            continue
        meant = parse_length(value, unit=old)
        if parse_length(value, unit=new) != meant:
            params[key] = length_text(meant, old)
    return replace(step, params=params)
