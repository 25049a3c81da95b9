"""Edits of what is named on the pieces as bought: levels, points, corners, notches.

Where a piece comes in several sizes, each of them gets the name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass, replace
from typing import Any

from clothwright.errors import CannotDo
from clothwright.pattern.landmarks import with_corner, with_level, with_notch, with_point
from clothwright.pattern.piece import Piece
from clothwright.units import parse_length
from clothwright.words import Sentence
from clothwright.workbook import Workbook
from clothwright.workroom.editing.edit import Desk, Edit, Typed


@dataclass(frozen=True, slots=True, kw_only=True)
class AddLevel(Edit):
    """Mark a level (waist, hip, elbow) on a piece, square to its grain.

    at: a named point that it goes through; above: how far above that it lies (a minus: below).
    """

    piece: str
    name: str
    at: str
    above: Typed = ""

    def do(self, desk: Desk) -> Desk:
        """Mark it."""
        above = _length(desk, self.above)
        return _on(desk, self.piece, lambda p: with_level(p, self.name, self.at, above))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f"Marked the {self.name} line on {self.piece}",)


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPoint(Edit):
    """Mark a point on a piece, such as the bust point.

    at: a named point from which it is measured; right, up: how far from there, the grain arrow
    pointing up (a minus: to the left, down).
    """

    piece: str
    name: str
    at: str
    right: Typed = ""
    up: Typed = ""

    def do(self, desk: Desk) -> Desk:
        """Mark it."""
        aside, up = _length(desk, self.right), _length(desk, self.up)
        make = lambda p: with_point(p, self.name, self.at, aside=aside, up=up)  # noqa: E731
        return _on(desk, self.piece, make)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'Marked the point "{self.name}" on {self.piece}',)


@dataclass(frozen=True, slots=True, kw_only=True)
class NameCorner(Edit):
    """Name the corner of a piece where an edge starts."""

    piece: str
    edge: str
    name: str

    def do(self, desk: Desk) -> Desk:
        """Name it; a name that something counts on stays."""
        old = desk.book.bought.piece(self.piece).edge(self.edge).corner
        point = f"{self.piece}.{old}"
        used = any(t in (point, old) for t in _texts(desk.book))
        _refuse_used(self.piece, old, self.name, used=used)
        return _on(desk, self.piece, lambda p: with_corner(p, self.edge, self.name))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'The corner of {self.piece} where its {self.edge} starts is "{self.name}"',)


@dataclass(frozen=True, slots=True, kw_only=True)
class NameNotch(Edit):
    """Name a notch of an edge, counted from the edge's start."""

    piece: str
    edge: str
    notch: int
    name: str

    def do(self, desk: Desk) -> Desk:
        """Name it; a name that something counts on stays."""
        notches = desk.book.bought.piece(self.piece).edge(self.edge).notches
        old = notches[self.notch - 1].name if 1 <= self.notch <= len(notches) else ""
        seams = desk.book.bought.seams_of(self.piece, self.edge)
        used = any(old in (s.ease_from, s.ease_to) for s in seams)
        used = used or any(t.endswith(f"{self.edge} notch {old}") for t in _texts(desk.book))
        _refuse_used(self.piece, old, self.name, used=used)
        return _on(desk, self.piece, lambda p: with_notch(p, self.edge, self.notch, self.name))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'Notch {self.notch} on the {self.edge} of {self.piece} is "{self.name}"',)


def _on(desk: Desk, name: str, make: Callable[[Piece], Piece]) -> Desk:
    """Return the desk with a piece as bought, in all its sizes, made otherwise."""
    bought = desk.book.bought
    found = bought.with_piece(make(bought.piece(name)))
    sizes = bought.sizes
    if sizes is not None and name in sizes.piece_names:
        each = tuple(tuple(make(p) if p.name == name else p for p in set_) for set_ in sizes.pieces)
        found = replace(found, sizes=replace(sizes, pieces=each))
    return desk.with_book(bought=found)


def _length(desk: Desk, typed: str) -> float:
    return parse_length(typed, unit=desk.book.unit) if typed.strip() else 0.0


def _refuse_used(piece: str, old: str, new: str, *, used: bool) -> None:
    """Raise CannotDo where a change, a rule or a seam counts on a name that would be no more."""
    if old and old != new and used:
        raise CannotDo(
            what=f'"{old}" of "{piece}" cannot be called "{new}"',
            why="a change, a placing rule or a seam names it",
            nearest="to take that out first, and put it in again with the new name",
        )


def _texts(book: Workbook) -> Iterator[str]:
    """Yield every text of the changes and placing rules, which may name a point."""
    yield from (t for s in book.steps for v in s.params.values() for t in _said(v))
    yield from (t for p in book.plans for r in p.rules for t in _said(asdict(r)))


def _said(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from (t for v in value.values() for t in _said(v))
    elif isinstance(value, list | tuple):
        yield from (t for v in value for t in _said(v))
