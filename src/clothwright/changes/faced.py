"""Where a facing ends on the piece it faces, and the piece without what it covers. In mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from clothwright.changes.cut_out import CutPart, OutlinePlace, cut_out
from clothwright.changes.darts import free_name
from clothwright.changes.redraw import prolonged
from clothwright.changes.slash import is_inside
from clothwright.changes.strips import INNER
from clothwright.geometry.intersect import crossings
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.transform import IDENTITY, Transform, reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Notch, Piece
from clothwright.pattern.refs import EdgeRef

WITHIN_MM = 3.0
"""mm: an edge of a facing that lies farther inside the piece than this is where it ends."""
OFF_MM = 1.5
"""mm: a facing that fits its piece no better (RMS) was not made for it as it is."""
BEYOND_MM = 15.0
"""mm: how far short of the piece's own line a facing may end."""
NEAR_END_MM = 3.0
"""mm: a notch of a facing nearer to the end of the lining beside it is no notch of that; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Faced:
    """A facing as it lies on a piece.

    path: where it ends, over the piece and a little beyond, in the direction of its own edges.
    edges: what these are called on the facing. faced: the edges of the piece that it is sewn to.
    ends: its edges that lie on others of the piece.
    """

    facing: Piece
    path: Path
    edges: tuple[str, ...]
    faced: tuple[str, ...]
    ends: tuple[FacingEnd, ...]


class FacingEnd(NamedTuple):
    """An end of a facing that lies on an edge of the piece, at its start or at its end.

    back: it runs against that edge.
    """

    on: str
    edge: str
    at_start: bool
    back: bool


class LeftEdge(NamedTuple):
    """The edge of what is left of a piece beside a facing.

    back: it runs against the facing's edges. at: where along these it is, mm.
    """

    edge: str
    back: bool
    at: float


def facings_on(pattern: Pattern, piece: Piece) -> tuple[tuple[Faced, ...], tuple[str, ...]]:
    """Return the facings that lie on a piece, and the names of those that cannot be laid on it.

    A facing is found by a seam of that kind. It cannot be laid where the faced edges have a dart,
    or where it no longer fits them.
    """
    found, left = [], []
    for seam in pattern.seams:
        if seam.kind != "facing":
            continue
        for a, b in ((seam.a, seam.b), (seam.b, seam.a)):
            pairs = [(x, y) for x, y in zip(a, b, strict=False) if x.piece == piece.name]
            if pairs and all(y.piece != piece.name for _, y in pairs) and len(a) == len(b):
                facing = pattern.piece(pairs[0][1].piece)
                lies = _laid(piece, facing, pairs)
                if lies is None:
                    left.append(facing.name)
                else:
                    found.append(lies)
    return tuple(found), tuple(left)


def _laid(piece: Piece, facing: Piece, pairs: list[tuple[EdgeRef, EdgeRef]]) -> Faced | None:
    names = tuple(x.edge for x, _ in pairs)
    if any(piece.darts_on(n) for n in names):
        return None
    own = [p for _, y in pairs for p in _samples(facing, y)]
    onto = [p for x, _ in pairs for p in _samples(piece, x)]
    moves = []
    for over in (IDENTITY, reflection((0.0, 0.0), (0.0, 1.0))):
        move, off = rigid_fit([over.apply(p) for p in own], onto)
        moves.append((off, over.then(move)))
    off, move = min(moves, key=lambda m: m[0])
    return None if off > OFF_MM else _across(piece, facing, names, move)


def _samples(piece: Piece, ref: EdgeRef) -> list[Vec]:
    path = piece.edge(ref.edge).path
    path = path.reversed() if ref.reversed else path
    return [path.point_at(path.length * k / 10) for k in range(11)]


def _across(piece: Piece, facing: Piece, names: tuple[str, ...], move: Transform) -> Faced | None:
    """Return a facing laid on a piece; None where no one line of its edges runs over the piece."""
    outline = piece.outline.flatten(0.2)

    def runs_over(edge: Edge) -> bool:
        spots = (move.apply(edge.path.point_at(edge.length * k / 10)) for k in range(1, 10))
        return any(is_inside(outline, p) and piece.outline.nearest(p)[1] > WITHIN_MM for p in spots)

    run = _in_one_line([e.name not in names and runs_over(e) for e in facing.edges], facing.edges)
    if not run:
        return None
    line = join_all([e.path for e in run]).transformed(move)
    line = prolonged(prolonged(line, BEYOND_MM).reversed(), BEYOND_MM).reversed()
    inside = tuple(e.name for e in run)
    ends = (_end_on(piece, e, move) for e in facing.edges if e not in run)
    on = tuple(e for e in ends if e is not None and e.on not in names)
    return Faced(facing=facing, path=line, edges=inside, faced=names, ends=on)


def _in_one_line(over: list[bool], edges: tuple[Edge, ...]) -> list[Edge]:
    """Return the edges that are meant, one after the other round a piece; none where they part."""
    begins = [i for i, one in enumerate(over) if one and not over[i - 1]]
    if len(begins) != 1:
        return []
    round_it = [*range(begins[0], len(edges)), *range(begins[0])]
    return [edges[i] for i in round_it if over[i]]


def _end_on(piece: Piece, edge: Edge, move: Transform) -> FacingEnd | None:
    """Return an edge of a facing that lies on an edge of the piece, None for another."""
    path = edge.path.transformed(move)
    for own in piece.edges:
        if all(own.path.nearest(p)[1] < WITHIN_MM for p in (*path.ends, path.middle)):
            at = own.path.nearest(path.middle)[0]
            back = own.path.tangent_at(at).dot(path.end - path.start) < 0.0
            return FacingEnd(own.name, edge.name, at < own.length / 2, back)
    return None


def _clipped(line: Path, piece: Piece) -> tuple[float, Path] | None:
    """Return the longest part of a line that lies inside a piece, and where it starts (mm)."""
    outline = piece.outline.flatten(0.2)
    at = [c.at_a for c in crossings(line, piece.outline)]
    parts = [
        (b - a, a, b) for a, b in pairwise(at) if is_inside(outline, line.point_at((a + b) / 2))
    ]
    if not parts:
        return None
    _, start, end = max(parts)
    return start, line.between(start, end)


def without_faced(piece: Piece, on: Faced) -> tuple[Piece, LeftEdge | None]:
    """Return what is left of a piece without all that a facing covers, and its new edge.

    That has the allowance of the facing's, so that the cut edges overlap by two of them, and its
    notches. None where the facing does not reach over the piece.
    """
    found = _clipped(on.path, piece)
    if found is None:
        return piece, None
    at, path = found
    one, two = (_place(piece, p) for p in path.ends)
    name = free_name(tuple(e.name for e in piece.edges), INNER)
    allowance = on.facing.edge(on.edges[0]).allowance
    for first, last, line, back in ((one, two, path.reversed(), True), (two, one, path, False)):
        notches = sorted(_notches_along(on, at, path.length, back=back), key=lambda n: n.at)
        closing = Edge(name=name, path=line, allowance=allowance, notches=tuple(notches))
        part = cut_out(piece, CutPart(name=piece.name, first=first, last=last, closing=closing))
        if not any(e.name in on.faced for e in part.edges):
            return part, LeftEdge(name, back, at)
    return piece, None


def _notches_along(on: Faced, at: float, long: float, *, back: bool) -> Iterator[Notch]:
    """Yield the notches of where a facing ends, on a line from `at` along it and so long, in mm."""
    run = BEYOND_MM - at
    for edge in (on.facing.edge(name) for name in on.edges):
        for notch in edge.notches:
            here = run + notch.at
            if NEAR_END_MM < here < long - NEAR_END_MM:
                yield replace(notch, at=long - here if back else here)
        run += edge.length


def _place(piece: Piece, point: Vec) -> OutlinePlace:
    edge = min(piece.edges, key=lambda e: e.path.nearest(point)[1])
    return OutlinePlace(edge.name, edge.path.nearest(point)[0])
