"""How one piece is laid on another, so that what they have in common lies edge on edge."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.changes.redraw import prolonged
from clothwright.geometry.path import Path
from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.transform import IDENTITY, Transform, reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import companions
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef

POINTS = 7
"""How many points of a line are looked at; our own figure."""

BEYOND_MM = 400.0
"""mm: a facing's short shoulder may lie anywhere along the shoulder, or on its run beyond the end;
no line of a body is much longer."""

OUT_MM = 5.0
"""mm: two lines that lie further apart are no more alike than these; our own figure."""

BETTER_MM = 0.05
"""mm by which a way to lay a piece has to be the better one to be taken."""


class LaidLine(NamedTuple):
    """One line as it lies on another. flipped: its piece was turned over for that."""

    path: Path
    move: Transform
    flipped: bool


class _Pair(NamedTuple):
    """A line of the piece that stays, and what lies along it of the other one."""

    own: Path
    there: Path


def line_laid(pattern: Pattern, own: EdgeRef, of: EdgeRef) -> LaidLine:
    """Lay the piece of one edge on that of another, and return the edge `of` as it lies there.

    Where they lie is told by all that is known to lie along each other but these two edges
    (`companions`), and by the edges beside these two: of all ways to lay one such line on its like
    from either end, the one by which most of them meet is taken. It is turned over only where that
    is better; of ways that are as good, the one by which the edge moves least is taken. The line
    runs the way of the edge `own`. Source: orthogonal Procrustes (`geometry.rigid`), plane
    geometry. Raises ValueError where neither piece has another edge.
    """
    piece, other = pattern.piece(own.piece), pattern.piece(of.piece)
    over = reflection(Vec(0.0, 0.0), other.up)
    found: list[tuple[float, LaidLine]] = []
    for first in (IDENTITY, over):
        pairs = _pairs(pattern, own, of, first)
        for move in _moves(pairs):
            path = _seen(other, of.edge, first).transformed(move)
            laid = LaidLine(path, first.then(move), first is over)
            found.append((_apart(pairs, move), laid))
    if not found:
        raise ValueError(f"{piece.name} has no edge beside {own.edge}")
    most, ends = min(off for off, _ in found) + BETTER_MM, piece.edge(own.edge).path.ends
    best = (laid for off, laid in found if off <= most)
    return min(best, key=lambda way: (way.flipped, round(_far(way.path.ends, ends), 3)))


def _far(ends: tuple[Vec, Vec], others: tuple[Vec, Vec]) -> float:
    return sum(a.distance(b) for a, b in zip(ends, others, strict=True))


def _seen(piece: Piece, edge: str, first: Transform) -> Path:
    """Return an edge of a piece as it is, or turned over; then it runs round the other way."""
    path = piece.edge(edge).path.transformed(first)
    return path.reversed() if first.mirrors else path


def _pairs(pattern: Pattern, own: EdgeRef, of: EdgeRef, first: Transform) -> list[_Pair]:
    """Return the lines of two pieces that lie along each other, but for two edges themselves."""
    piece, other = pattern.piece(own.piece), pattern.piece(of.piece)
    beside, there = piece.neighbours(own.edge), other.neighbours(of.edge)
    theirs = there[::-1] if first.mirrors else there
    names = [(a.name, b.name) for a, b in zip(beside, theirs, strict=True)]
    for c in companions(pattern):
        ties = [t for t in c.of if t.edge]
        if c.piece == piece.name:
            names += [(t.edge, t.edge_of) for t in ties if t.piece == other.name]
        elif c.piece == other.name:
            names += [(t.edge_of, t.edge) for t in ties if t.piece == piece.name]
    left = (n for n in dict.fromkeys(names) if own.edge != n[0] and of.edge != n[1])
    return [_Pair(piece.edge(a).path, _seen(other, b, first)) for a, b in left]


def _moves(pairs: list[_Pair]) -> Iterator[Transform]:
    """Yield how each line is laid on its like: from its start, and from its end."""
    for own, there in pairs:
        long = min(own.length, there.length)
        for at_end in (False, True):
            rows = [_points(p.reversed() if at_end else p, long) for p in (there, own)]
            yield rigid_fit(*rows)[0]


def _points(path: Path, long: float) -> list[Vec]:
    return [path.point_at(long * k / (POINTS - 1)) for k in range(POINTS)]


def _apart(pairs: list[_Pair], move: Transform) -> float:
    """Return how far the lines lie from each other in the mean, mm; their ends do not count."""
    off = 0.0
    for own, there in pairs:
        line = prolonged(prolonged(there, BEYOND_MM).reversed(), BEYOND_MM).transformed(move)
        off += sum(min(OUT_MM, line.nearest(p)[1]) for p in _points(own, own.length))
    return off / (POINTS * len(pairs))
