"""Which pieces go together: what is proposed, what is said, and saying it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwright.errors import named
from clothwright.pattern.companions import along_text
from clothwright.pattern.pattern import COMPANIONS, Companion
from clothwright.pattern.together import alongside, kind_of, proposed
from clothwright.words import listed
from clothwright.workbook import Workbook
from clothwright.workroom.editing.edits.companions import AddCompanion, RemoveCompanion
from clothwright.workroom.editing.edits.whole import Several
from clothwright.workroom.editing.opened import OpenBook, Result


@dataclass(frozen=True, slots=True, kw_only=True)
class TogetherCard:
    """A piece and what it goes with, in words: its kind, and each piece with its edges."""

    piece: str
    kind: str
    along: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """What is proposed, what is said, and what there is to choose from."""

    proposed: tuple[TogetherCard, ...]
    said: tuple[TogetherCard, ...]
    pieces: tuple[str, ...]
    kinds: tuple[str, ...] = COMPANIONS


def together_of(book: Workbook) -> Together:
    """Return which pieces as bought go together."""
    return Together(
        proposed=tuple(map(_card, proposed(book.bought))),
        said=tuple(map(_card, book.bought.companions)),
        pieces=tuple(p.name for p in book.bought.pieces),
    )


def _card(companion: Companion) -> TogetherCard:
    pieces = dict.fromkeys(a.piece for a in companion.of)

    def edges(piece: str) -> str:
        found = dict.fromkeys(a.edge_of for a in companion.of if a.piece == piece and a.edge_of)
        return f"{piece} ({listed(list(found))})" if found else piece

    return TogetherCard(
        piece=companion.piece, kind=companion.kind, along=listed([edges(p) for p in pieces])
    )


def say_together(book: OpenBook, pieces: Sequence[str], base: int) -> Result:
    """Say of proposed pieces that they go with what is proposed, as one step. Raises BadInput."""
    at = book.read().book
    found = proposed(at.bought)
    none = "No pieces are proposed."
    chosen = [named(found, p, "no proposal is made for", none) for p in pieces]
    edits = tuple(map(_adding, chosen))
    return book.edit(edits[0] if len(edits) == 1 else Several(edits=edits), base=base)


def add_together(book: OpenBook, piece: str, other: str, kind: str, base: int) -> Result:
    """Say that a piece goes with another: edge on edge where names and lengths are alike.

    kind: "" for what its name says. Raises BadInput.
    """
    at = book.read().book
    one, two = at.bought.piece(piece), at.bought.piece(other)
    kind = kind.strip() or kind_of(at.bought, one)
    made = Companion(piece=piece, kind=kind, of=alongside(one, two))
    return book.edit(_adding(made), base=base)


def _adding(companion: Companion) -> AddCompanion:
    along = tuple(map(along_text, companion.of))
    return AddCompanion(piece=companion.piece, kind=companion.kind, along=along)


def take_apart(book: OpenBook, piece: str, base: int) -> Result:
    """Say that a piece goes with no other. Raises BadInput."""
    return book.edit(RemoveCompanion(piece=piece), base=base)
