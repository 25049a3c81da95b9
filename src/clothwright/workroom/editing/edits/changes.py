"""Edits of the list of changes. A change is named by its lasting name, or by its number ("3")."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from clothwright.errors import BadInput, CannotDo
from clothwright.units.params import read_params
from clothwright.words import Sentence, within
from clothwright.workbook import Step, change_of, change_title
from clothwright.workroom.changing.alike import steps_alike
from clothwright.workroom.editing.differing import joined_by
from clothwright.workroom.editing.edit import Desk, Edit, Values


@dataclass(frozen=True, slots=True, kw_only=True)
class AddChange(Edit):
    """Put a change into the list. at: its place (1 = first), left out: at the end.

    toile: the note of the toile that it answers, by its lasting name. alike: "yes" does the same to
    what goes with its pieces, behind it. found: "yes" where it mends what was found on the pieces
    as they were looked at, and is refused once they were changed.
    """

    kind: str
    params: Values = field(default_factory=dict)
    why: str = ""
    on: bool = True
    at: int | None = None
    toile: str = ""
    alike: str = ""
    found: str = ""

    def do(self, desk: Desk) -> Desk:
        """Put it where it was to come among its neighbours. Raises BadInput, CannotDo, Mistakes."""
        now, seen = desk.book, desk.base.book
        if self.found and (now.steps, now.bought) != (seen.steps, seen.bought):
            raise CannotDo(
                what="this cannot be mended so any more",
                why="the pieces were changed after it was found",
                nearest="to look at what is found on them now",
            )
        step = Step(change=self.kind, params=self.params, on=self.on, why=self.why)
        step = _read(desk, replace(step, toile=self.toile))
        if self.toile and self.toile not in {n.name for n in desk.book.toile}:
            raise BadInput(what="that note of the toile is gone", expected="one that is there")
        order = desk.base.ids
        place = len(desk.ids)
        if self.at is not None and self.at != len(order) + 1:
            place = desk.after(order, _place(self.at, len(order) + 1))
        desk = _put(desk, place, step, _new(desk))
        return _repeated(desk, place) if self.alike else desk

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what the change did to the pieces; what it is, when it is off."""
        told = now.told.get(_new(was))
        if told is not None and told.step.on and not told.error:
            return _said_of_new(was, now)
        off = "" if self.on else ", switched off"
        return (f"Added a change ({within(change_title(self.kind))}){off}",)

    def works(self, was: Desk, now: Desk) -> str:
        """Return the name it was given."""
        return _new(was)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetChange(Edit):
    """Give a change other parameters (only those named), or another reason.

    kind: makes it a change of another kind, which keeps what both ask for. alike: as in AddChange.
    """

    change: str
    params: Values = field(default_factory=dict)
    why: str | None = None
    kind: str = ""
    alike: str = ""

    def do(self, desk: Desk) -> Desk:
        """Read the parameters anew, the old ones with the new."""
        at = desk.change(self.change)
        old = desk.book.steps[at]
        params = {k: v for k, v in {**old.params, **self.params}.items() if v is not None}
        why = old.why if self.why is None else self.why
        kind = self.kind or old.change
        desk = _set(desk, at, _read(desk, replace(old, change=kind, params=params, why=why)))
        return _repeated(desk, at) if self.alike else desk

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what the change does now; that it has another reason, when it does the same."""
        name = now.lasting(self.change)
        told = now.told.get(name)
        if not self.params and not self.kind:
            return (f"Another reason for {now.called(name)}",)
        if told is not None and told.step.on and not told.error:
            return (f"Change {now.ids.index(name) + 1} set: ", *told.said)
        return (f"Other measurements for {now.called(name)}",)

    def works(self, was: Desk, now: Desk) -> str:
        """Return the name of the change."""
        return now.lasting(self.change)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveChange(Edit):
    """Take a change out of the list."""

    change: str

    def do(self, desk: Desk) -> Desk:
        """Take it out; the others stay as they are."""
        return _without(desk, desk.change(self.change))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f"Removed {was.called(self.change)}",)


@dataclass(frozen=True, slots=True, kw_only=True)
class RepeatChange(Edit):
    """Do a change to what goes with the pieces it changes, too: linings, facings."""

    change: str

    def do(self, desk: Desk) -> Desk:
        """Put the same change for them behind it. Raises CannotDo where there is none."""
        at = desk.change(self.change)
        new = _repeated(desk, at)
        if new is desk:
            raise CannotDo(
                what=f"{desk.called(self.change)} is done to nothing else",
                why="nothing that goes with its pieces has the like of what it names, or it is "
                "done there already",
                nearest="to say which pieces go together",
            )
        return new

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what was done to them."""
        repeated = f"Repeated {was.called(self.change)} for what goes with it"
        return _said_of_new(was, now) or (repeated,)

    def works(self, was: Desk, now: Desk) -> str:
        """Return the name of the first that is new."""
        return next(i for i in now.ids if i not in was.ids)


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveChange(Edit):
    """Move a change to another place (1 = first)."""

    change: str
    to: int

    def do(self, desk: Desk) -> Desk:
        """Take it out and put it in again after the neighbour it was to follow."""
        at = desk.change(self.change)
        name, step = desk.ids[at], desk.book.steps[at]
        order = tuple(i for i in desk.base.ids if i != name)
        place = _place(self.to, len(order) + 1)
        rest = _without(desk, at)
        return _put(
            rest, len(rest.ids) if place == len(order) else rest.after(order, place), step, name
        )

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which, and to what place."""
        place = now.ids.index(now.lasting(self.change)) + 1
        return (f"Moved {was.called(self.change)} to place {place}",)


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchChange(Edit):
    """Switch a change on or off."""

    change: str
    on: bool

    def do(self, desk: Desk) -> Desk:
        """Switch it where it stands."""
        at = desk.change(self.change)
        return _set(desk, at, replace(desk.book.steps[at], on=self.on))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which, and how."""
        return (f"Switched {now.called(self.change)} {'on' if self.on else 'off'}",)


def _read(desk: Desk, step: Step) -> Step:
    """Return a step whose parameters can be read. Raises BadInput, Mistakes."""
    kind = change_of(step.change)
    params = {k: tuple(v) if isinstance(v, list) else v for k, v in step.params.items()}
    read_params(kind.params, params, unit=desk.book.unit, where=kind.title)
    return replace(step, params=params)


def _repeated(desk: Desk, at: int) -> Desk:
    """Put behind a change (its place, from 0) the same for what goes with its pieces."""
    for k, step in enumerate(steps_alike(desk.book, at + 1), start=1):
        desk = _put(desk, at + k, _read(desk, step), _new(desk))
    return desk


def _said_of_new(was: Desk, now: Desk) -> Sentence:
    """Say what the changes do that were put in; nothing of those that do nothing."""
    new = [now.told[i] for i in now.ids if i not in was.ids and i in now.told]
    return joined_by([t.said for t in new if t.step.on and not t.error], " ")


def _new(desk: Desk) -> str:
    taken = {*desk.ids, *desk.base.ids}
    names = (f"{desk.fresh}-{k}" for k in range(1, len(taken) + 2))
    return next(n for n in names if n not in taken)


def _put(desk: Desk, place: int, step: Step, name: str) -> Desk:
    steps, ids = list(desk.book.steps), list(desk.ids)
    steps.insert(place, step)
    ids.insert(place, name)
    return replace(desk.with_book(steps=tuple(steps)), ids=tuple(ids))


def _without(desk: Desk, at: int) -> Desk:
    steps = desk.book.steps
    out = desk.with_book(steps=steps[:at] + steps[at + 1 :])
    return replace(out, ids=desk.ids[:at] + desk.ids[at + 1 :])


def _set(desk: Desk, at: int, step: Step) -> Desk:
    steps = desk.book.steps
    return desk.with_book(steps=(*steps[:at], step, *steps[at + 1 :]))


def _place(number: int, last: int) -> int:
    if 1 <= number <= last:
        return number - 1
    raise BadInput(what=f"there is no place {number} in the list", expected=f"1 to {last}")
