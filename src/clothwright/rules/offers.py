"""What a placing rule can name in a workbook: edges, points, borders, figures, cloths, ..."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Sentence
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece, Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One thing to choose. key: how a form names it; values: the fields of the rule it stands for.

    words: floats are mm. group: what it is listed under, "" for nothing.
    """

    key: str
    words: Sentence
    values: Mapping[str, object]
    group: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outfit:
    """What is chosen from: the pieces as changed, and the cloths.

    laid, printed: the pieces cut from a cloth of the workbook, and from one with a print.
    """

    pattern: Pattern
    cloths: tuple[Cloth, ...]
    laid: tuple[Piece, ...] = ()
    printed: tuple[Piece, ...] = ()


class Offer(NamedTuple):
    """What a kind of field is chosen from. none: said when there is nothing to choose.

    choices: takes the outfit and the ending of the fields it fills ("_a": piece_a, point_a).
    """

    choices: Callable[[Outfit, str], Iterator[Choice]]
    none: str


def _edges(outfit: Outfit, end: str) -> Iterator[Choice]:
    for piece in outfit.printed:
        for edge in sorted(piece.edges, key=lambda e: e.role is not Role.HEM):
            yield Choice(
                key=f"{piece.name}.{edge.name}",
                words=(f"{piece.name}, {edge.name}",),
                values={f"piece{end}": piece.name, f"edge{end}": edge.name},
                group=piece.name,
            )


def points(of: Sequence[Piece], end: str = "") -> Iterator[Choice]:
    """Yield the points of pieces. end: of the fields they fill ("_a": piece_a, point_a)."""
    for piece in of:
        for name in piece.named_points():
            yield Choice(
                key=f"{piece.name}.{name}",
                words=(f"{piece.name}, {name}",),
                values={f"piece{end}": piece.name, f"point{end}": name},
                group=piece.name,
            )


def pieces(of: Iterable[Piece]) -> Iterator[Choice]:
    """Yield pieces to choose from."""
    for p in of:
        yield Choice(key=p.name, words=(p.name,), values={"piece": p.name})


def _borders(outfit: Outfit, _: str) -> Iterator[Choice]:
    for cloth in outfit.cloths:
        for b in cloth.print.borders:
            yield Choice(key=b.name, words=(b.name,), values={"border": b.name}, group=cloth.name)


def _figures(outfit: Outfit, _: str) -> Iterator[Choice]:
    for cloth in outfit.cloths:
        for f in cloth.print.figures:
            yield Choice(key=f.name, words=(f.name,), values={"figure": f.name}, group=cloth.name)


def _cloths(outfit: Outfit, _: str) -> Iterator[Choice]:
    for c in outfit.cloths:
        yield Choice(key=c.name, words=(c.name,), values={"cloth": c.name})


def _materials(outfit: Outfit, _: str) -> Iterator[Choice]:
    for p in outfit.pattern.pieces:
        for cut in p.cuts:
            yield Choice(
                key=f"{p.name}.{cut.material}",
                words=(f"{p.name}, meant for {cut.material}",),
                values={"piece": p.name, "material": cut.material},
            )


OFFERS: Mapping[str, Offer] = {
    "own edge": Offer(_edges, "no piece is cut from a cloth with a print"),
    "own point": Offer(
        lambda outfit, end: points(outfit.printed, end),
        "no piece is cut from a cloth with a print",
    ),
    "piece": Offer(
        lambda outfit, _: pieces(outfit.laid), "no piece is cut from a cloth of this workbook"
    ),
    "material": Offer(_materials, "no piece says what it is cut from"),
    "border": Offer(_borders, "no cloth has a border yet"),
    "figure": Offer(_figures, "no cloth has a figure to keep clear of yet"),
    "cloth": Offer(_cloths, "there is no cloth yet"),
}
"""What each kind of field is chosen from; a choice says itself what it is one of."""
