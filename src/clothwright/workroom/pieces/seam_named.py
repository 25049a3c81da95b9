"""Seams that are named: in words, each with its form; set anew, turned, taken out, added."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from clothwright.errors import BadInput
from clothwright.intake.seams.proposed import pair_of
from clothwright.intake.seams.said import SeamSaid, said_seam
from clothwright.pattern.fullness import fullness
from clothwright.pattern.measure import side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.pattern.walk import mark_named, notch_number, run_name
from clothwright.store.book.parts import values_of
from clothwright.words import begun, say
from clothwright.workbook import Workbook
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.names import NameNotch
from clothwright.workroom.editing.edits.seams import AddSeam, RemoveSeam, SetSeam
from clothwright.workroom.editing.edits.whole import Several
from clothwright.workroom.editing.opened import OpenBook, Result
from clothwright.workroom.pieces.seam_form import SeamForm, seam_form


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedSeam:
    """A seam that is named, in words. how: what is eased, gathered or folded, "" for nothing.

    form: None where a change has made it, so that it is set there.
    """

    name: str
    a: str
    b: str
    how: str
    form: SeamForm | None


def named_seams(book: Workbook, pattern: Pattern) -> tuple[NamedSeam, ...]:
    """Return every seam there is now. pattern: the pieces after all changes."""
    bought = {s.name: s for s in book.bought.seams}

    def card(seam: Seam) -> NamedSeam:
        mine = bought.get(seam.name)
        how = say(fullness(pattern, seam), book.unit)
        return NamedSeam(
            name=seam.name,
            a=run_name(seam.a),
            b=run_name(seam.b),
            how=begun(how),
            form=seam_form(book.bought, mine, book.unit) if mine else None,
        )

    return tuple(card(s) for s in pattern.seams)


def set_seam(book: OpenBook, name: str, said: SeamSaid, base: int) -> Result:
    """Set a named seam as was said, against revision `base`. Raises BadInput, CannotDo."""
    at = book.read().book
    old = at.bought.seam(name)
    new = said_seam(at.bought, old, at.unit, said)
    marks, new = marks_named(at.bought, new)
    was, now = (values_of(Seam, s, at.unit) for s in (old, new))
    values = {k: now.get(k) for k in {**was, **now} if was.get(k) != now.get(k)}
    return book.edit(_together(marks, SetSeam(seam=name, values=values)), base=base)


def add_seam(book: OpenBook, sides: Sequence[str], said: SeamSaid, base: int) -> Result:
    """Add a seam of two edges, or of two rows of edges with commas. Raises BadInput, CannotDo.

    An edge that says "reversed" is travelled so; where none does, the ends are laid as they seem
    to belong together.
    """
    at = book.read().book
    a, b = (_edges(text) for text in sides)
    for ref in (*a, *b):
        at.bought.edge(ref)
    if set(a) & set(b) and a != b:
        raise BadInput(what="an edge stands on both sides", expected="another one")
    found = pair_of(at.bought, a, b).seam
    if any(r.reversed for r in (*a, *b)):
        found = Seam(name=found.name, a=a, b=b)
    seam = said_seam(at.bought, found, at.unit, said)
    marks, seam = marks_named(at.bought, seam)
    adding = AddSeam(values=values_of(Seam, seam, at.unit))
    return book.edit(_together(marks, adding), base=base)


def marks_named(bought: Pattern, seam: Seam) -> tuple[tuple[NameNotch, ...], Seam]:
    """Return the edits that name the notches a seam counts on by their numbers, and the seam then.

    A change may put a notch before them, and they would be others.
    """
    edits: list[NameNotch] = []
    known = {p.name for p in bought.pieces}
    if any(r.piece not in known for r in seam.b):
        return (), seam
    run = side(bought, seam.b)
    taken = {s.name for s in run.stations}
    for field in ("ease_from", "ease_to"):
        mark = mark_named(run, getattr(seam, field))
        if mark is None or mark.name:
            continue
        number = notch_number(bought, seam.b, mark)
        name = next(n for k in itertools.count(1) if (n := f"{seam.name} {k}") not in taken)
        taken.add(name)
        edits.append(NameNotch(piece=mark.piece, edge=mark.edge, notch=number, name=name))
        bound: dict[str, Any] = {field: name}
        seam = replace(seam, **bound)
    return tuple(edits), seam


def _together(marks: tuple[NameNotch, ...], last: Edit) -> Edit:
    return Several(edits=(*marks, last)) if marks else last


def take_out(book: OpenBook, name: str, base: int) -> Result:
    """Take a named seam out; its pieces stay. Raises BadInput."""
    return book.edit(RemoveSeam(seam=name), base=base)


def _edges(text: str) -> tuple[EdgeRef, ...]:
    return tuple(parse_edge(t) for t in text.split(",") if t.strip())
