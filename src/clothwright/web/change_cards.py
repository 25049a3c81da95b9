"""The list of changes as cards: what each one did, with each piece before and after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from markupsafe import Markup

from clothwright.changes import CHANGES
from clothwright.drawing.before_after import before_after
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.web.change_forms import chosen
from clothwright.web.svg import inline
from clothwright.words import say
from clothwright.workbook import Step, Told, Workbook, replay

TITLES = {c.id: c.title for c in CHANGES}


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A piece that a change touches. how: "altered", "new" or "gone"."""

    name: str
    how: str
    drawing: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One change of the list. id: its lasting name. figures: its parameters, as they were given."""

    id: str
    number: int
    kind: str
    title: str
    on: bool
    said: str
    error: str
    why: str
    figures: tuple[tuple[str, str], ...]
    drawn: tuple[Drawn, ...]


def states(book: Workbook) -> tuple[Pattern, ...]:
    """Return the pattern as bought and after each change, one more than there are changes."""
    out = [book.bought]
    for step in book.steps:
        out.append(replay(replace(book, bought=out[-1], steps=(step,))).pattern)
    return tuple(out)


def cards(
    book: Workbook, told: Sequence[Told], ids: Sequence[str], at: Sequence[Pattern]
) -> tuple[Card, ...]:
    """Return the cards, in order. told, ids, at: the record, lasting names, `states`."""
    return tuple(
        Card(
            id=name,
            number=t.number,
            kind=t.step.change,
            title=TITLES.get(t.step.change, t.step.change),
            on=t.step.on,
            said=say(t.said, book.unit),
            error=t.error,
            why=t.step.why,
            figures=_figures(t.step),
            drawn=drawn(at[t.number - 1], at[t.number], book.unit),
        )
        for t, name in zip(told, ids, strict=True)
    )


def _figures(step: Step) -> tuple[tuple[str, str], ...]:
    params: Mapping[str, object] = step.params
    return tuple((k.replace("_", " "), ", ".join(chosen(v, ""))) for k, v in params.items())


def drawn(before: Pattern, after: Pattern, unit: Unit) -> tuple[Drawn, ...]:
    """Return every piece that differs between two states of the pattern, drawn with both."""
    was = {p.name: p for p in before.pieces}
    now = {p.name: p for p in after.pieces}
    out = []
    for name in dict.fromkeys((*now, *was)):
        old, new = was.get(name), now.get(name)
        if old is new or old == new:
            continue
        how = "altered" if old and new else "new" if new else "gone"
        out.append(Drawn(name=name, how=how, drawing=_drawing(old, new, unit)))
    return tuple(out)


@lru_cache(maxsize=256)
def _drawing(before: Piece | None, after: Piece | None, unit: Unit) -> Markup:
    return inline(before_after(before, after, unit), alt="", extra="before-after")
