"""Left and right: marks on one half of a garment, and those that mirror them on the other."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import combinations
from typing import NamedTuple

from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.parts import centre_line, is_pair
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.symmetry import mirror_axes
from clothwright.words import Sentence

HANDS = ("left", "right")
UPRIGHT = 0.9
"""Cosine of the angle between grain and middle line: a middle that runs up the body. Our own."""

Marks = Callable[[Piece], Iterable[tuple[str, Vec]]]
"""The marks of a piece that are looked at: their names, and where they are."""


class Twin(NamedTuple):
    """Two marks that are meant to mirror each other, on two pieces or on one.

    rise: mm by which the one on the left piece lies higher; out: farther from the centre.
    """

    left: str
    mark: str
    right: str
    twin: str
    rise: float
    out: float


def handless(name: str) -> str:
    """Return a name without its "left" or "right".

    >>> handless("left front"), handless("front")
    ('front', 'front')
    """
    return " ".join(w for w in name.split() if w.lower() not in HANDS)


def two_sides(pattern: Pattern) -> Iterator[tuple[Piece, Piece]]:
    """Yield the pieces that are the left and the right of one thing, by their names."""
    for a, b in combinations(pattern.pieces, 2):
        if a.name != b.name and handless(a.name) == handless(b.name):
            yield a, b


class SideSpot(NamedTuple):
    """Where a mark lies: mm above a level that both sides have, and mm from the centre."""

    rise: float
    out: float


def spots(pattern: Pattern, a: Piece, b: Piece) -> tuple[Callable[[Vec], SideSpot], ...] | None:
    """Return how places on two pieces are measured alike; None where they share no level.

    Heights are counted from a level line that both have, else from the lower end of the centre.
    """
    lines = [line for p in (a, b) if (line := centre_line(pattern, p)) is not None]
    if len(lines) < 2:
        return None
    shared = [lv.name for lv in a.levels if any(lv.name == other.name for other in b.levels)]
    found = []
    for piece, line in zip((a, b), lines, strict=True):
        low = min(line.ends, key=piece.up.dot)
        base = piece.level(shared[0]).at if shared else low
        found.append(_measure(piece.up, base, low))
    return tuple(found)


def _measure(up: Vec, base: Vec, centre: Vec) -> Callable[[Vec], SideSpot]:
    return lambda p: SideSpot(up.dot(p - base), abs(up.cross(p - centre)))


def twins(pattern: Pattern, marks: Marks) -> Iterator[Twin]:
    """Yield the marks that are meant to mirror each other."""
    for a, b in two_sides(pattern):
        measures = spots(pattern, a, b)
        there = {handless(n): (n, at) for n, at in marks(b)}
        for name, at in marks(a) if measures else ():
            if measures and handless(name) in there:
                twin, other = there[handless(name)]
                one, two = measures[0](at), measures[1](other)
                yield Twin(a.name, name, b.name, twin, one.rise - two.rise, one.out - two.out)
    for piece in pattern.pieces:
        if not is_pair(piece) and piece.fold is None:
            yield from _on_one(piece, tuple(marks(piece)))


def _on_one(piece: Piece, marks: tuple[tuple[str, Vec], ...]) -> Iterator[Twin]:
    """Yield the marks nearest to each other's image on a piece that is its own mirror image."""
    axes = [x for x in mirror_axes(piece) if abs(x.along.dot(piece.up)) > UPRIGHT] if marks else []
    for axis in axes[:1]:
        mirror = reflection(axis.at, axis.at + axis.along)
        left = [m for m in marks if axis.along.cross(m[1] - axis.at) > 0.0]
        right = [(name, mirror.apply(at)) for name, at in marks if (name, at) not in left]
        for name, at in left if right else ():
            twin, image = min(right, key=lambda m: at.distance(m[1]))
            off = at - image
            yield Twin(piece.name, name, piece.name, twin, piece.up.dot(off), axis.along.cross(off))


def how_apart(twin: Twin, agree: float) -> Sentence:
    """Say how one of two marks lies otherwise than the other: "2 cm higher"."""
    ways = (
        (twin.rise, " higher", " lower"),
        (twin.out, " farther from the centre", " nearer to the centre"),
    )
    told: list[str | float] = []
    for by, more, less in ways:
        if abs(by) > agree:
            told += [*((" and ",) if told else ()), abs(by), more if by > 0 else less]
    return tuple(told)
