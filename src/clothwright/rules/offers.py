"""What a placing rule can name in a workbook, and how one thing to choose is told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Sentence
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.rules.names import piece_field
from clothwright.words import point_name


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One thing to choose. key: how a form names it; values: the declared fields it stands for.

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


def points(of: Sequence[Piece], field: str = "point") -> Iterator[Choice]:
    """Yield the points of pieces. field: the one a point fills ("point_a", with "piece_a")."""
    for piece in of:
        for name in piece.named_points():
            yield Choice(
                key=f"{piece.name}.{name}",
                words=(point_name(piece.name, name),),
                values={piece_field(field): piece.name, field: name},
                group=piece.name,
            )


def pieces(of: Iterable[Piece], field: str = "piece") -> Iterator[Choice]:
    """Yield pieces to choose from."""
    for p in of:
        yield Choice(key=p.name, words=(p.name,), values={field: p.name})
