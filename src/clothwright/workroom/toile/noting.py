"""What a note of the toile is filled in from: places of the pieces, signs, sides, the day."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from clothwright.body.toile import SIDES
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.workroom.toile.sign import Sign, places_of
from clothwright.workroom.toile.signs import SIGNS

Choices = tuple[tuple[str, str], ...]
"""What can be chosen: as it is typed, and as it is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToileForm:
    """The form. places: those of each piece; signs: under headings; today: as a file has a day."""

    places: tuple[tuple[str, Choices], ...]
    signs: tuple[tuple[str, tuple[Sign, ...]], ...]
    sides: Choices
    today: str


def form_of_toile(pattern: Pattern) -> ToileForm:
    """Return what a note is filled in from, on the pieces as they are now."""
    groups = dict.fromkeys(s.group for s in SIGNS)
    said = {
        "both": "both sides alike",
        "left": "the left side only",
        "right": "the right side only",
    }
    return ToileForm(
        places=tuple((p.name, _places(p)) for p in pattern.pieces),
        signs=tuple((g, tuple(s for s in SIGNS if s.group == g)) for g in groups),
        sides=tuple((side, said[side]) for side in SIDES),
        today=today(),
    )


def today() -> str:
    """Return the maker's own day, as a file has it."""
    return dt.date.today().isoformat()  # noqa: DTZ011


def _places(piece: Piece) -> Choices:
    """Return the edges, lines, corners and marks of a piece; last the piece as a whole."""
    rows = [(n, f"{kind} {n}") for kind, n in places_of(piece)]
    whole = (piece.name, f"{piece.name}, as a whole")
    return (*((f"{piece.name}.{n}", f"{piece.name}, {said}") for n, said in rows), whole)
