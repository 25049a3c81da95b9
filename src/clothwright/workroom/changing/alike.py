"""What is done to a piece is offered to what goes with it: linings, facings, interfacings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from clothwright.changes.alike import asked_alike
from clothwright.changes.named import Request
from clothwright.errors import ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.units.params import declared, read_params
from clothwright.words import listed
from clothwright.words.exact import computed_text
from clothwright.workbook import Replay, Step, Workbook, change_of, replay


def steps_alike(book: Workbook, number: int, done: Replay | None = None) -> tuple[Step, ...]:
    """Return the changes that would do the same as one of the list (from 1) to what goes with it.

    What stands in the list already is left out. done: the changes as applied, where known.
    """
    step = book.steps[number - 1]
    states = (done or replay(book)).states
    before = (book.bought, *states)[number - 1]
    told = {_key(book, s) for s in book.steps}
    return tuple(s for s in _steps(book, step, before) if _key(book, s) not in told)


def said_alike(book: Workbook, number: int, done: Replay) -> str:
    """Return the companions that a change of the list was not done to, in words; "" for none."""
    own = pieces_of(book, book.steps[number - 1], number, done)
    new = steps_alike(book, number, done)
    pieces = dict.fromkeys(p for s in new for p in pieces_of(book, s, number, done))
    return listed([p for p in pieces if p not in own])


def pieces_of(book: Workbook, step: Step, number: int, done: Replay) -> tuple[str, ...]:
    """Return the pieces that a change names, done at a place (from 1) of the list."""
    before = (book.bought, *done.states)[number - 1]
    refs = _request(book, step, before).refs
    return tuple(dict.fromkeys(r.piece for r in refs if r.piece))


def _steps(book: Workbook, step: Step, before: Pattern) -> Iterator[Step]:
    try:
        asked = _request(book, step, before)
        found = asked_alike(asked.change, before, asked.params)
    except ClothwrightError:
        return
    for params in found:
        typed = {**step.params, **_differing(asked.params, params, book.unit)}
        yield replace(step, params=typed)


def _request(book: Workbook, step: Step, before: Pattern) -> Request:
    change = change_of(step.change)
    params = read_params(change.params, step.params, unit=book.unit, where=change.title)
    return Request(change=change, params=params, pattern=before)


def _differing(was: Any, now: Any, unit: Unit) -> Mapping[str, object]:
    """Return the parameters that differ, as they are typed."""
    out: dict[str, object] = {}
    for name, it in declared(now).items():
        value = getattr(now, name)
        if value != getattr(was, name):
            out[name] = computed_text(value, unit) if it.kind == "length" else value
    return out


def _key(book: Workbook, step: Step) -> object:
    """Return what tells one change from another: its kind and what it is asked, however typed."""
    try:
        params = change_of(step.change).params
        return params, read_params(params, step.params, unit=book.unit, where="")
    except ClothwrightError:
        return step.change
