"""What a mend does to pieces: whether it takes back what was meant, how far corners go."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_intake, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece

BACK = 0.5
"""Share of what a piece changes in length by which it comes back to what it was; our own figure."""

HALF = 0.5
"""Share of what a dart takes below which it shapes the piece no more; our own figure."""


def takes_back(bought: Pattern | None, before: Pattern, after: Pattern) -> bool:
    """Tell whether a change takes back what was changed on a piece since it was bought.

    bought: the pieces before the first change; None where that is not known. Edges are compared by
    their net lengths.
    """
    was = {} if bought is None else {p.name: p for p in bought.pieces}
    new = {p.name: p for p in after.pieces}
    for piece in before.pieces:
        then, now = was.get(piece.name), new.get(piece.name)
        if then is None or now is None or now is piece or then == piece:
            continue
        if _nearer(then, piece, now):
            return True
    return False


def takes_dart(before: Pattern, after: Pattern) -> bool:
    """Tell whether a dart loses more than half of what it takes: it shapes the piece no more."""
    new = {p.name: p for p in after.pieces}
    return any(
        0.0 < dart_intake(now, other) < HALF * dart_intake(piece, dart)
        for piece in before.pieces
        if (now := new.get(piece.name, piece)) is not piece
        for dart in piece.darts
        for other in now.darts
        if other.name == dart.name
    )


def moved_mm(before: Pattern, after: Pattern) -> float:
    """Return how far corners have gone along the grain and across it, added up, mm.

    That way a hand moves a corner: down, or in; seldom by as much as it takes of both.
    """
    new = {p.name: p for p in after.pieces}
    return sum(
        abs(by.dot(piece.up)) + abs(by.cross(piece.up))
        for piece in before.pieces
        if new.get(piece.name, piece) is not piece
        for by in _gone(piece, new[piece.name])
    )


def _gone(before: Piece, after: Piece) -> Iterator[Vec]:
    now = {e.name: e.path.start for e in after.edges}
    return (now[e.name] - e.path.start for e in before.edges if e.name in now)


def _nearer(bought: Piece, before: Piece, after: Piece) -> bool:
    """Tell whether a piece's edges come back to what they were, all in all."""
    lengths = list(_lengths(bought, before, after))
    moved = sum(abs(now - then) for _, then, now in lengths)
    back = sum(abs(then - was) - abs(now - was) for was, then, now in lengths)
    return back > BACK * moved


def _lengths(*pieces: Piece) -> Iterator[list[float]]:
    """Yield how long each edge is that they all have, net, mm: one figure for each piece."""
    for edge in pieces[0].edges:
        if all(any(e.name == edge.name for e in p.edges) for p in pieces[1:]):
            yield [net_length(p, edge.name) for p in pieces]
