"""Is a piece its own mirror image, and about which line?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Piece

ALIKE_MM = 2.0
"""mm: points nearer than this to their mirror image count as lying on it. Our own choice."""


class OwnMiddle(NamedTuple):
    """A line through a point in a direction of length 1."""

    at: Vec
    along: Vec


def mirror_axes(piece: Piece) -> tuple[OwnMiddle, ...]:
    """Return the lines about which a whole piece is its own mirror image: shape, notches, darts.

    Edge i lies on edge k - i: for each k the axis follows from the pairs of corners.
    """
    if piece.fold is not None:
        return ()
    lengths = [e.length for e in piece.edges]
    n = len(lengths)
    turns = (
        k
        for k in range(n)
        if all(abs(lengths[i] - lengths[(k - i) % n]) <= ALIKE_MM for i in range(n))
    )
    return tuple(axis for k in turns for axis in _axis(piece, k))


def is_symmetrical(piece: Piece) -> bool:
    """Tell whether a whole piece is its own mirror image, so that left and right are alike."""
    return bool(mirror_axes(piece))


def _axis(piece: Piece, k: int) -> Iterator[OwnMiddle]:
    edges, n = piece.edges, len(piece.edges)
    pairs = [(e.path.start, edges[(k - i) % n].path.end) for i, e in enumerate(edges)]
    pairs += [(e.path.middle, edges[(k - i) % n].path.middle) for i, e in enumerate(edges)]
    across = max((q - p for p, q in pairs), key=lambda v: v.norm)
    if across.norm < ALIKE_MM:
        return
    along = across.perp.unit
    middles = [(p + q) * 0.5 for p, q in pairs]
    at = sum(middles, Vec(0.0, 0.0)) / len(middles)
    mirror = reflection(at, at + along)
    if all(mirror.apply(p).distance(q) <= ALIKE_MM for p, q in pairs) and _marks_alike(piece, k):
        yield OwnMiddle(at, along)


def _marks_alike(piece: Piece, k: int) -> bool:
    """Tell whether notches and darts lie on their own mirror images too."""
    n = len(piece.edges)
    for i, edge in enumerate(piece.edges):
        twin = piece.edges[(k - i) % n]
        mine = [(x.kind, x.at) for x in edge.notches]
        theirs = [(x.kind, twin.length - x.at) for x in reversed(twin.notches)]
        if len(mine) != len(theirs):
            return False
        if any(
            a[0] is not b[0] or abs(a[1] - b[1]) > ALIKE_MM
            for a, b in zip(mine, theirs, strict=True)
        ):
            return False
        darts = [d.a for d in piece.darts_on(edge.name)]
        twins = [twin.length - d.b for d in reversed(piece.darts_on(twin.name))]
        if len(darts) != len(twins):
            return False
        if any(abs(a - b) > ALIKE_MM for a, b in zip(darts, twins, strict=True)):
            return False
    return True
