"""Square a hem: make it straight and at right angles to the grain."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import own_point
from clothwright.changes.hemline import new_hem
from clothwright.changes.partners import partners
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import parse_edge
from clothwright.pattern.rise import centre_point, centre_words
from clothwright.units.params import param
from clothwright.words import Sentence, edge_name


@dataclass(frozen=True, slots=True, kw_only=True)
class SquareHem:
    """Parameters of `square-hem`."""

    edge: str = param("edge", "the hem to square to the grain", label="Which hem")
    through: str = param(
        "point",
        "a point the new hem goes through, such as its side end; left out: the end of the hem at "
        "the fold or the centre, else the middle of the hem",
        default="",
        label="Through which point",
    )


def apply(pattern: Pattern, params: SquareHem) -> Outcome:
    """Make a hem straight and square to the grain through a point.

    The edges beside it are cut off there or run on straight. A dart that opens at the hem is
    closed while the hem is drawn and opened again. What lies wholly below is left out and told.

    Raises CannotDo when the hem would cut through another edge or its dart, BadInput for unknown
    names. Source: docs/sources.md, straight hems for borders (common practice).
    """
    ref = parse_edge(params.edge)
    piece = pattern.piece(ref.piece)
    p, name = _through(piece, ref.edge, params.through)
    what = f'the hem "{edge_name(ref.piece, ref.edge)}" cannot be squared through {name}'
    new, gone = new_hem(piece, ref.edge, p, what)
    said = [
        f"Squared {edge_name(ref.piece, ref.edge)} to the grain through {name}",
        *_side_words(piece, new, ref.edge),
    ]
    if gone:
        said.append("; cut off with the rest: " + ", ".join(gone))
    changed = pattern.with_piece(new)
    return Outcome(pattern=changed, said=(*said, ".", *partners(pattern, changed)))


def _through(piece: Piece, name: str, point: str) -> tuple[Vec, str]:
    """The point to draw the hem through, and what to call it."""
    edge = piece.edge(name)
    if point:
        spot = own_point(piece, point)
        return piece.point(spot), f"its {spot}"
    return centre_point(piece, edge), centre_words(piece, edge)


def _side_words(old: Piece, new: Piece, name: str) -> Sentence:
    words: list[str | float] = []
    for edge in old.neighbours(name):
        by = new.edge(edge.name).length - edge.length
        if abs(by) > 0.05:
            words += [f"; {edge.name} is ", abs(by), " longer" if by > 0 else " shorter"]
    return tuple(words)


CHANGE = Change(
    id="square-hem",
    title="Square a hem",
    topic="hems and allowances",
    why="A border or a stripe runs straight along the cloth: it can only be followed by a hem that "
    "is straight and square to the grain.",
    source="docs/sources.md: hems on a border (common practice)",
    params=SquareHem,
    apply=apply,
)
