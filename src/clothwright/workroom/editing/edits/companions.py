"""Edits of which pieces go together."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.errors import BadInput, did_you_mean, named, one_of
from clothwright.pattern.companions import as_drawn, check_companion, parse_along
from clothwright.pattern.pattern import COMPANIONS, Companion
from clothwright.words import Sentence, listed
from clothwright.workroom.editing.edit import Desk, Edit


@dataclass(frozen=True, slots=True, kw_only=True)
class AddCompanion(Edit):
    """Say which pieces a facing, a lining or another piece goes with.

    along: "EDGE on PIECE.EDGE" each, or "PIECE" for the two as wholes.
    """

    piece: str
    kind: str
    along: tuple[str, ...]

    def do(self, desk: Desk) -> Desk:
        """Add it after the others, its edges meant to differ as they are drawn. Raises BadInput."""
        bought = desk.book.bought
        along = tuple(map(parse_along, self.along))
        if self.kind not in COMPANIONS:
            near = did_you_mean(self.kind, COMPANIONS)
            what = f'"{self.kind}" does not say what a piece is to another.{near}'
            raise BadInput(what=what, expected=one_of(COMPANIONS))
        if not along:
            raise BadInput(what="it is not said what it goes with", expected="a piece or an edge")
        new = Companion(piece=self.piece, kind=self.kind, of=along)
        check_companion(bought, new)
        if any(c.piece == new.piece for c in bought.companions):
            what = f'what "{new.piece}" goes with is said already'
            raise BadInput(what=what, expected="another piece, or to take that out first")
        return _with(desk, (*bought.companions, as_drawn(bought, new)))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what goes with what."""
        new = now.book.bought.companions[-1]
        pieces = listed(list(dict.fromkeys(a.piece for a in new.of)))
        return (f'The piece "{new.piece}" goes with {pieces}, as {new.kind}',)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveCompanion(Edit):
    """Say that a piece goes with no other."""

    piece: str

    def do(self, desk: Desk) -> Desk:
        """Take it out; the piece stays."""
        known = desk.book.bought.companions
        none = "No piece is said to go with another."
        one = named(known, self.piece, "nothing is said to go with", none)
        return _with(desk, tuple(c for c in known if c != one))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'The piece "{self.piece}" goes with no other',)


def _with(desk: Desk, companions: tuple[Companion, ...]) -> Desk:
    return desk.with_book(bought=replace(desk.book.bought, companions=companions))
