"""What an edit is, and the desk it is done on.

An edit speaks of the workbook that was looked at (`Desk.base`); the desk holds the workbook as it
is now. Places in the list of changes and numbers of rules are looked up in the one and found again
in the other: a change by its lasting name, a rule by what it says.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any

from clothwright.errors import BadInput, CannotDo
from clothwright.rules.plan import Plan
from clothwright.store import Opened
from clothwright.store.history.record import Key
from clothwright.units import is_count
from clothwright.words import Sentence
from clothwright.workbook import Told, Workbook, change_name

Values = Mapping[str, Any]
"""Entries as in workbook.toml: lengths as text, or bare numbers in the workbook's unit; None puts
an entry back to what it is when left out."""

Typed = str
"""A text with lengths as typed: what has no unit of its own counts in the workbook's."""

IN_UNIT: tuple[Key, ...] = (("unit",),)
"""What lengths typed without a unit lean on."""
_TYPED = re.compile(r"\b(Values|Typed)\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One thing that can be done to a workbook: the fields it is told by, and the four below.

    Each kind is one record in a file beside this one, and one line in `edits.EDITS`. Its name in
    plain data is its own, with hyphens: SetCloth is "set-cloth".
    """

    def do(self, desk: Desk) -> Desk:
        """Return the desk with this done. Raises BadInput, Mistakes, CannotDo."""
        raise NotImplementedError

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Return what it did, for the record, from the desk before and after. Lengths in mm."""
        raise NotImplementedError

    def leans(self, at: Opened) -> tuple[Key, ...]:
        """Return what it relies on without touching it: the unit, where lengths were typed."""
        typed = (getattr(self, f.name) for f in fields(self) if _TYPED.search(str(f.type)))
        return IN_UNIT if any(typed) else ()

    def works(self, was: Desk, now: Desk) -> str:
        """Return the lasting name of the change it adds or sets, which must be possible, or ""."""
        return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanEdit(Edit):
    """An edit of a plan that must still be there; "" is the chosen one, if it is still chosen."""

    plan: str

    def leans(self, at: Opened) -> tuple[Key, ...]:
        """Return the plan, and the unit where lengths were typed."""
        chosen: tuple[Key, ...] = () if self.plan else (("chosen_plan",),)
        name = self.plan or at.book.plan().name
        return (*chosen, ("plan", name, "name"), *Edit.leans(self, at))


@dataclass(frozen=True, slots=True, kw_only=True)
class Did:
    """One edit that was done: the desk before it and after it."""

    edit: Edit
    was: Desk
    now: Desk


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """The workbook as it is now, and the one an edit was made on.

    ids: the lasting names of its changes, in order. fresh: begins the names of new ones. did: the
    edits that were done so far. told: what became of each change, by its name, once replayed.
    """

    book: Workbook
    ids: tuple[str, ...]
    base: Opened
    fresh: str = "new"
    did: tuple[Did, ...] = ()
    told: Mapping[str, Told] = field(default_factory=dict)

    def done(self, edit: Edit) -> Desk:
        """Return the desk with an edit done, and noted. Raises BadInput, Mistakes, CannotDo."""
        after = edit.do(self)
        if len(after.did) > len(self.did):
            return after
        return replace(after, did=(*self.did, Did(edit=edit, was=self, now=after)))

    def with_book(self, **values: Any) -> Desk:
        """Return the desk with a workbook that has other values."""
        return replace(self, book=replace(self.book, **values))

    def lasting(self, name: str) -> str:
        """Return the lasting name of a change said by it, or by its number. Raises BadInput."""
        known = self.base.ids
        if is_count(name) and name not in known:
            if not 1 <= int(name) <= len(known):
                raise BadInput(
                    what=f"there is no change {name}",
                    expected=f"a number from 1 to {len(known)}"
                    if known
                    else "a workbook with changes",
                )
            return known[int(name) - 1]
        return name

    def change(self, name: str) -> int:
        """Return where a change stands now, from 0. Raises BadInput, CannotDo."""
        lasting = self.lasting(name)
        if lasting in self.ids:
            return self.ids.index(lasting)
        if lasting in self.base.ids:
            raise CannotDo(
                what=f"change {self.base.ids.index(lasting) + 1} cannot be edited",
                why="it was taken out meanwhile",
                nearest="to bring it back with undo",
            )
        raise BadInput(what=f'there is no change "{name}"', expected="one in the list")

    def called(self, name: str) -> str:
        """Return what a change is called: its number, and what its kind does."""
        at = self.ids.index(self.lasting(name))
        return change_name(at + 1, self.book.steps[at].change)

    def after(self, order: tuple[str, ...], place: int) -> int:
        """Return where something comes now that was to come at a place (from 0) of an order."""
        before = [i for i in order[:place] if i in self.ids]
        return self.ids.index(before[-1]) + 1 if before else 0

    def plan(self, name: str) -> Plan:
        """Return the plan that a name means; the implied one when there is none. BadInput."""
        wanted = name or self.base.book.plan().name
        if not any(p.name == wanted for p in self.book.plans) and not self.base.book.plans:
            return Plan(name=wanted)
        return self.book.plan(wanted)

    def with_plan(self, plan: Plan, was: str = "") -> Desk:
        """Return the desk with a plan put in the place of the one called `was` (or its own)."""
        old = was or plan.name
        plans = tuple(plan if p.name == old else p for p in self.book.plans)
        return self.with_book(plans=plans if plan in plans else (*plans, plan))


def desk_of(at: Opened, *, base: Opened | None = None, fresh: str = "new") -> Desk:
    """Return a desk with a workbook on it. base: the one an edit speaks of, if another."""
    return Desk(book=at.book, ids=at.ids, base=base or at, fresh=fresh)


def new_name(kind: str, name: str, known: list[str]) -> None:
    """Raise BadInput when a new thing has no name, or one that is taken."""
    if name in known:
        raise BadInput(
            what=f'there is a {kind} "{name}" already', expected="a name that is not taken"
        )
    if not name:
        raise BadInput(what=f"the {kind} has no name", expected="a name")
