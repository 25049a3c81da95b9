"""Edits of the seams."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clothwright.pattern.pattern import Seam
from clothwright.pattern.refs import EdgeRef
from clothwright.store.book.parts import part_with
from clothwright.words import Sentence, counted, refs_name
from clothwright.workroom.editing.differing import Way, differing, length
from clothwright.workroom.editing.edit import Desk, Edit, Values, new_name


def _side(_: object, refs: tuple[EdgeRef, ...]) -> Sentence:
    return (f"joins {refs_name([(r.piece, r.edge) for r in refs])}",)


FOLDS_TO_SAID = {
    "": "either way",
    "start": "towards its start",
    "end": "towards its end",
    "box": "in pairs that meet below",
    "inverted": "in pairs that meet above",
}
"""Where the folds of a seam lie, in words."""

SEAM: Mapping[str, Way] = {
    "name": lambda _, name: (f'called "{name}" now',),
    "a": _side,
    "b": _side,
    "ease": length("ease"),
    "ease_from": lambda _, notch: (f"ease from {notch or 'its beginning'}",),
    "ease_to": lambda _, notch: (f"ease to {notch or 'its end'}",),
    "eased_max": length("ease of up to"),
    "kind": lambda _, kind: (f"a {kind} seam",),
    "join": lambda _, join: (f"{join} now",),
    "folds": lambda _, folds: (counted(folds, "fold"),),
    "zip": length("zip of"),
    "fold_to": lambda _, to: (f"folds {FOLDS_TO_SAID[to]}",),
}
"""How each field of a seam is said in the record."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AddSeam(Edit):
    """Add a seam."""

    values: Values

    def do(self, desk: Desk) -> Desk:
        """Add it after the others, under a name that is not taken."""
        seam = part_with(Seam, None, self.values, unit=desk.book.unit, where="new seam")
        new_name("seam", seam.name, [s.name for s in desk.book.bought.seams])
        return _with_seams(desk, (*desk.book.bought.seams, seam))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which edges it joins."""
        seam = now.book.bought.seams[-1]
        a, b = (refs_name([(r.piece, r.edge) for r in side]) for side in (seam.a, seam.b))
        return (f'Added the seam "{seam.name}": {a} to {b}',)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSeam(Edit):
    """Give a seam other values."""

    seam: str
    values: Values

    def do(self, desk: Desk) -> Desk:
        """Read the values over those it has."""
        seams = desk.book.bought.seams
        old = desk.book.bought.seam(self.seam)
        new = part_with(Seam, old, self.values, unit=desk.book.unit, where=f'seam "{self.seam}"')
        if new.name != old.name:
            new_name("seam", new.name, [s.name for s in seams])
        return _with_seams(desk, tuple(new if s.name == old.name else s for s in seams))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what differs."""
        at = [s.name for s in was.book.bought.seams].index(self.seam)
        told = differing(was.book.bought.seams[at], now.book.bought.seams[at], SEAM)
        return (f'Seam "{self.seam}": ', *(told or ("as it was",)))


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveSeam(Edit):
    """Take a seam out."""

    seam: str

    def do(self, desk: Desk) -> Desk:
        """Take it out; its pieces stay."""
        name = desk.book.bought.seam(self.seam).name
        return _with_seams(desk, tuple(s for s in desk.book.bought.seams if s.name != name))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'Removed the seam "{self.seam}"',)


def _with_seams(desk: Desk, seams: tuple[Seam, ...]) -> Desk:
    return desk.with_book(bought=replace(desk.book.bought, seams=seams))
