"""Pieces that lie one on the other without a seam between, and finish one line after the other.

The under piece of a slant pocket finishes the waist and the side of a front: two edges that lie end
to end in two seams, on pieces that no seam joins. Laid together they must run on in one line.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, permutations
from typing import NamedTuple

from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.beside import sewn_flat
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef

SAME_DEG = 1.0
"""degrees: turns that differ by less are one; our own figure."""


class End(NamedTuple):
    """An end of an edge where a line runs on over the next piece.

    way: the direction of the line there, unit length. left: 1.0 where the piece lies to the left of
    it, else -1.0: two pieces may be drawn turned over against each other.
    """

    piece: str
    edge: str
    at: Vec
    way: Vec
    left: float

    def seen(self, way: Vec, to: Vec) -> Vec:
        """Return the way from here to a place on the piece, counted along a direction, mm."""
        there = to - self.at
        return Vec(way.dot(there), self.left * way.perp.dot(there))


class Passing(NamedTuple):
    """Where one edge lies end to end with another: the line runs from the first onto the second."""

    first: End
    second: End


class GrainTurn(NamedTuple):
    """By how many degrees the grains of two pieces differ that finish each other's lines."""

    joint: Passing
    deg: float


class LineStep(NamedTuple):
    """By how many mm two lines do not meet at a joint, the pieces laid together at another."""

    laid: Passing
    joint: Passing
    mm: float


def steps(pattern: Pattern) -> Iterator[LineStep]:
    """Yield for each two pieces that finish each other's lines how well they do: the worst joint.

    They are laid together at a joint so that the line runs straight on, or else so that the grain
    lies alike, whichever comes nearer to meeting at the other joint: what is off however they are
    laid is off.
    """
    for joints in _finishing(pattern):
        found = [
            LineStep(a, b, min(_apart(pattern, a, b), _apart(pattern, b, a)))
            for a, b in permutations(joints, 2)
        ]
        if found:
            yield max(found, key=lambda s: s.mm)


def grain_turns(pattern: Pattern) -> Iterator[GrainTurn]:
    """Yield how far the grains differ of pieces that finish each other's lines.

    Only where every joint tells the same turn: a line that was bent is another fault.
    """
    for joints in _finishing(pattern):
        pieces = [pattern.piece(end.piece) for end in joints[0]]
        if any(p.grain is None for p in pieces):
            continue
        turns = [_turn_deg(joint, *(p.up for p in pieces)) for joint in joints]
        if len(turns) > 1 and max(turns) - min(turns) < SAME_DEG:
            yield GrainTurn(joints[0], abs(turns[0]))


def _turn_deg(joint: Passing, first_up: Vec, second_up: Vec) -> float:
    """Return the turn between two grains, up or down, with the line running on, degrees.

    It is counted on the first piece as drawn.
    """
    ups = zip(joint, (first_up, second_up), strict=True)
    ways = [Vec(end.way.dot(up), end.left * end.way.cross(up)) for end, up in ups]
    turn = turn_between_deg(*ways) % 180.0
    return joint.first.left * (turn if turn <= 90.0 else turn - 180.0)


def _finishing(pattern: Pattern) -> Iterator[tuple[Passing, ...]]:
    """Yield the joints of each two pieces that no seam joins."""
    found: dict[tuple[str, str], dict[tuple[str, str], Passing]] = {}
    for seam in sewn_flat(pattern):
        for run in (seam.a, seam.b):
            for r, s in pairwise(run):
                if r.piece != s.piece:
                    joint = _joint(pattern, r, s)
                    pieces = joint.first.piece, joint.second.piece
                    edges = joint.first.edge, joint.second.edge
                    found.setdefault(pieces, {}).setdefault(edges, joint)
    for (first, second), joints in found.items():
        if not any(_joins(pattern, s.name, first, second) for s in pattern.seams):
            yield tuple(joints.values())


def _joins(pattern: Pattern, seam: str, first: str, second: str) -> bool:
    """Tell whether a seam has the two pieces on its two sides."""
    it = pattern.seam(seam)
    a, b = {r.piece for r in it.a}, {r.piece for r in it.b}
    return (first in a and second in b) or (first in b and second in a)


def _joint(pattern: Pattern, r: EdgeRef, s: EdgeRef) -> Passing:
    """Return the joint of two edges that follow each other, by the names of their pieces."""
    ends = _end(pattern, r, at_end=True), _end(pattern, s, at_end=False)
    if r.piece < s.piece:
        return Passing(*ends)
    first, second = (e._replace(way=e.way * -1.0, left=-e.left) for e in reversed(ends))
    return Passing(first, second)


def _end(pattern: Pattern, ref: EdgeRef, *, at_end: bool) -> End:
    """Return the end or the start of an edge as a run travels along it."""
    path = pattern.edge(ref).path
    last = at_end is not ref.reversed
    way = path.end_tangent if last else path.start_tangent
    sign = -1.0 if ref.reversed else 1.0
    at = path.end if last else path.start
    return End(ref.piece, ref.edge, at, way.unit * sign, sign)


def _apart(pattern: Pattern, laid: Passing, there: Passing) -> float:
    """Return how far apart two ends lie, mm, with the pieces laid together at another joint."""
    pieces = [pattern.piece(end.piece) for end in laid]
    ways = [(laid.first.way, laid.second.way), *_grains(*pieces)]
    first, second = there.first.at, there.second.at
    return min(laid.first.seen(a, first).distance(laid.second.seen(b, second)) for a, b in ways)


def _grains(first: Piece, second: Piece) -> Iterator[tuple[Vec, Vec]]:
    """Yield the grains of two pieces, up and down, where both have one."""
    if first.grain and second.grain:
        yield first.up, second.up
        yield first.up, second.up * -1.0
