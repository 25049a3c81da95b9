"""Small ways to spoil a pattern."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Notch, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import moved


def with_piece(pattern: Pattern, name: str, spoil: Callable[[Piece], Piece]) -> Pattern:
    """One piece replaced by what `spoil` makes of it."""
    return pattern.with_piece(spoil(pattern.piece(name)))


def with_edge(pattern: Pattern, name: str, edge: str, **more: object) -> Pattern:
    """One edge given other properties."""
    piece = pattern.piece(name)
    return pattern.with_piece(piece.with_edge(replace(piece.edge(edge), **more)))  # type: ignore[arg-type]


def with_seam(pattern: Pattern, name: str, **more: object) -> Pattern:
    """One seam given other properties."""
    return pattern.with_seam(replace(pattern.seam(name), **more))  # type: ignore[arg-type]


def with_notch(pattern: Pattern, name: str, edge: str, n: int, **more: object) -> Pattern:
    """One notch (numbered from 0) given other properties."""
    notches = list(pattern.piece(name).edge(edge).notches)
    notches[n] = replace(notches[n], **more)  # type: ignore[arg-type]
    return with_edge(pattern, name, edge, notches=tuple(notches))


def without_notch(pattern: Pattern, name: str, edge: str, n: int) -> Pattern:
    """One notch (numbered from 0) rubbed out."""
    notches = pattern.piece(name).edge(edge).notches
    return with_edge(pattern, name, edge, notches=(*notches[:n], *notches[n + 1 :]))


def with_notches(pattern: Pattern, name: str, edge: str, *more: Notch) -> Pattern:
    """Notches added."""
    notches = pattern.piece(name).edge(edge).notches
    return with_edge(pattern, name, edge, notches=(*notches, *more))


def lowered(piece: Piece, by: float, hem: str = "hem") -> Piece:
    """A half piece with a straight level hem made longer by `by` mm, notches left on the body."""
    i = piece.index(hem)
    down = Vec(0, -by)
    edges = list(piece.edges)
    before, after = (i - 1) % len(edges), (i + 1) % len(edges)
    shift = Transform(f=-by)
    edges[i] = replace(edges[i], path=edges[i].path.transformed(shift))
    edges[before] = replace(
        edges[before], path=edges[before].path.with_ends(end=edges[before].path.end + down)
    )
    follow = edges[after]
    grown = follow.path.with_ends(start=follow.path.start + down)
    more = grown.length - follow.length
    notches = tuple(replace(n, at=n.at + more) for n in follow.notches)
    edges[after] = replace(follow, path=grown, notches=notches)
    darts = tuple(
        replace(d, a=d.a + more, b=d.b + more) if d.edge == follow.name else d for d in piece.darts
    )
    return replace(piece, edges=tuple(edges), darts=darts)


def with_corner(piece: Piece, edge: str, to: tuple[float, float]) -> Piece:
    """The start corner of an edge moved; both neighbours follow."""
    i = piece.index(edge)
    edges = list(piece.edges)
    edges[i - 1] = replace(edges[i - 1], path=edges[i - 1].path.with_ends(end=Vec(*to)))
    edges[i] = replace(edges[i], path=edges[i].path.with_ends(start=Vec(*to)))
    return replace(piece, edges=tuple(edges))


def redrawn(piece: Piece, edge: str, path: Path) -> Piece:
    """One edge drawn anew between the same ends."""
    return piece.with_edge(replace(piece.edge(edge), path=path))


def through(*points: tuple[float, float]) -> Path:
    """Straight lines through the points."""
    return polyline(points)


def turned(pattern: Pattern, move: Transform) -> Pattern:
    """The whole pattern moved; after a mirroring move the runs of every seam turn round."""
    pieces = tuple(moved(p, move) for p in pattern.pieces)
    seams = tuple(_mirrored(s) if move.mirrors else s for s in pattern.seams)
    return replace(pattern, pieces=pieces, seams=seams)


def _mirrored(seam: Seam) -> Seam:
    return replace(seam, a=_flipped(seam.a), b=_flipped(seam.b))


def _flipped(refs: tuple[EdgeRef, ...]) -> tuple[EdgeRef, ...]:
    return tuple(EdgeRef(r.piece, r.edge, not r.reversed) for r in refs)


def edge_of(pattern: Pattern, name: str, edge: str) -> Edge:
    """A named edge of a named piece."""
    return pattern.piece(name).edge(edge)
