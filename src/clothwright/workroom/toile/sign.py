"""What a sign of the toile is: what is seen, its likely cause, and the changes that correct it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.errors import not_known
from clothwright.pattern.finding import Mend
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.words import split_ref


class SeenAt(NamedTuple):
    """A sign on the pieces as they are. place: an edge, a level or a point of the piece, or "".

    kind: which of them ("edge", "level", "point", "piece"). by: mm, measured on the body.
    """

    pattern: Pattern
    piece: Piece
    place: str
    kind: str
    by: float

    @property
    def ref(self) -> str:
        """The place as a change is told it: "PIECE.PLACE"."""
        return f"{self.piece.name}.{self.place}" if self.place else self.piece.name


Ways = Callable[[SeenAt], Iterator[Mend]]
"""Yields the changes that correct it, the likeliest first; each may be taken or left."""


def nothing(_: SeenAt) -> Iterator[Mend]:
    """Yield no change: what corrects it is told in words alone."""
    return iter(())


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """One thing a toile can show. id: kebab-case. group: its heading in the form.

    said: what is seen, after "it showed". measure: what is measured on the body. cause, correction:
    sentences without a full stop. at: the kinds of place it is noted at. source: of the row.
    """

    id: str
    group: str
    said: str
    measure: str
    cause: str
    correction: str
    source: str
    at: tuple[str, ...] = ("edge", "level", "point", "piece")
    ways: Ways = nothing


def kind_of_place(piece: Piece, place: str) -> str:
    """Tell what a place is: "edge", "level", "point"; "piece" for none, "" where it is gone."""
    if not place:
        return "piece"
    if any(e.name == place for e in piece.edges):
        return "edge"
    if any(v.name == place for v in piece.levels):
        return "level"
    return "point" if place in piece.points() else ""


def places_of(piece: Piece) -> tuple[tuple[str, str], ...]:
    """Return what can be named on a piece: edges, lines, corners and marks, each with its kind."""
    named = {e.corner for e in piece.edges} | {m.name for m in piece.marks}
    edges = [("edge", e.name) for e in piece.edges]
    lines = [("line", v.name) for v in piece.levels]
    points = [("point", n) for n in piece.named_points() if n in named]
    return (*edges, *lines, *points)


def check_place(pattern: Pattern, where: str) -> None:
    """Refuse a place that is not there: a piece, an edge, line or point of one. Raises BadInput."""
    name, place = split_ref(where)
    piece = pattern.piece(name)
    if not kind_of_place(piece, place):
        known = dict.fromkeys(n for _, n in places_of(piece))
        raise not_known(f'there is no place "{place}" on {name}', place, known, where="the toile")
