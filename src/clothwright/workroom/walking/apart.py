"""How well pieces go together, as one figure: which of several mends a teacher would choose.

Pieces that were right agree in more than the one seam that is told of: lines run fair across it,
and the seams beside it agree. The piece that was spoilt, put back, leaves least.
"""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.checks.weigh import FAILURES
from clothwright.geometry.vec import Vec
from clothwright.pattern.beside import Beside, sewn_flat
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.walk import walk_seam

MM_OF_A_DEG = 1.0
"""mm that a line is off a fair one for each degree of a corner: over the 60 mm that are drawn anew
a degree is 1.05 mm (plane geometry)."""

BACK = 0.5
"""Share of what a piece changes in length by which it comes back to what it was; our own figure."""


def apart_mm(pattern: Pattern) -> float:
    """Return by how much seams are off and lines not fair across them, in all, mm."""
    return sum(_seams(pattern)) + MM_OF_A_DEG * sum(_corners(pattern))


def _seams(pattern: Pattern) -> Iterator[float]:
    for seam in pattern.seams:
        try:
            yield abs(walk_seam(pattern, seam).off)
        except FAILURES:
            continue  # what cannot be walked is a finding of its own


def _corners(pattern: Pattern) -> Iterator[float]:
    beside = Beside(pattern)
    for seam in sewn_flat(pattern):
        try:
            for a, b, _ in beside.lines_across(seam):
                yield abs(a.angle_deg + b.angle_deg - 180.0)
        except FAILURES:
            continue


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
