"""Moving a whole piece: shift, turn, mirror; unfolding a half piece."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.transform import Transform, reflection
from clothwright.pattern.piece import Cut, Dart, Edge, Join, Level, Mark, Notch, Piece

TWIN = "~"
"""Ends the name of the mirrored twin of an edge, dart or mark after unfolding."""

FOLD_MM = 0.01
"""mm: a place this near to the fold lies on it."""

_OTHER_HAND = {Join.SQUARED_BEFORE: Join.SQUARED_AFTER, Join.SQUARED_AFTER: Join.SQUARED_BEFORE}


def moved(piece: Piece, move: Transform) -> Piece:
    """Return the piece after a rigid move; a mirroring move keeps names and turns edges round.

    After a mirroring move the edges still run counter-clockwise, so each edge's direction, its
    notches and its dart legs are counted from its other end.
    """
    grain = piece.grain and replace(
        piece.grain, start=move.apply(piece.grain.start), end=move.apply(piece.grain.end)
    )
    levels = tuple(replace(lv, at=move.apply(lv.at)) for lv in piece.levels)
    marks = tuple(moved_mark(m, move) for m in piece.marks)
    edges = tuple(replace(e, path=e.path.transformed(move)) for e in piece.edges)
    darts = tuple(replace(d, point=move.apply(d.point)) for d in piece.darts)
    if move.mirrors:
        darts = tuple(_turned_dart(d, piece.edge(d.edge).length) for d in darts)
        edges = _turned_edges(edges)
    return replace(piece, edges=edges, darts=darts, grain=grain, levels=levels, marks=marks)


def unfolded(piece: Piece, apart: Collection[str] = ()) -> Piece:
    """Open a half piece along its fold: the fold edge goes, every other edge gains a twin.

    Twins are named with `TWIN` at the end. An edge that meets the fold on both sides of it (hem,
    neck) becomes one edge of twice the length under its own name, but for those that are to stay
    apart; a marked line that meets it becomes one line, too. A piece without a fold edge is
    returned as it is. Cuts "fold" become "once".
    Raises CannotDo when the fold edge is not straight.
    """
    fold = piece.fold
    if fold is None:
        return piece
    if not fold.path.is_straight:
        raise CannotDo(
            what=f'piece "{piece.name}" cannot be unfolded',
            why=f'its fold edge "{fold.name}" is not straight',
            nearest="straighten the fold edge first",
        )
    at = piece.index(fold.name)
    run = (*piece.edges[at + 1 :], *piece.edges[:at])
    mirror = reflection(fold.path.start, fold.path.end)
    twin_edges = _turned_edges(
        tuple(replace(e, path=e.path.transformed(mirror), name=e.name + TWIN) for e in run),
        closed=False,
        last_corner=(fold.corner, fold.join),
    )
    lengths = {e.name: e.length for e in run}
    twin_darts = tuple(
        _turned_dart(
            replace(d, point=mirror.apply(d.point), name=d.name + TWIN, edge=d.edge + TWIN),
            lengths[d.edge],
        )
        for d in piece.darts
    )
    marks = tuple(m for mark in piece.marks for m in _with_twin(mark, fold.path, mirror))
    cuts = tuple(
        Cut(material=c.material, how="once", count=c.count) if c.how == "fold" else c
        for c in piece.cuts
    )
    edges, darts = _merge_at_fold(run, twin_edges, piece.darts + twin_darts, apart)
    return replace(piece, edges=edges, darts=darts, marks=marks, cuts=cuts)


def _with_twin(mark: Mark, fold: Path, mirror: Transform) -> Iterator[Mark]:
    """Yield a mark, and its twin: none of a point on the fold; a line that meets it is one."""
    twin = moved_mark(replace(mark, name=mark.name + TWIN), mirror)
    line = mark.path
    if line is None or twin.path is None:
        yield mark
        if mark.at is not None and twin.at is not None and not mark.at.is_near(twin.at, FOLD_MM):
            yield twin
        return
    if fold.nearest(line.start)[1] <= FOLD_MM < fold.nearest(line.end)[1]:
        line = line.reversed()
    if fold.nearest(line.end)[1] <= FOLD_MM < fold.nearest(line.start)[1]:
        back = twin.path if line is not mark.path else twin.path.reversed()
        yield replace(mark, path=line.joined(back.with_ends(start=line.end)))
        return
    yield from (mark, twin)


def moved_mark(mark: Mark, move: Transform) -> Mark:
    """Return a mark moved whole, its place and its line."""
    return replace(
        mark,
        at=None if mark.at is None else move.apply(mark.at),
        path=None if mark.path is None else mark.path.transformed(move),
    )


def _turned_dart(dart: Dart, length: float) -> Dart:
    return replace(
        dart,
        a=length - dart.b,
        b=length - dart.a,
        pressed="end" if dart.pressed == "start" else "start",
    )


def _turned_edges(
    edges: tuple[Edge, ...],
    *,
    closed: bool = True,
    last_corner: tuple[str, Join] | None = None,
) -> tuple[Edge, ...]:
    """Return the edges travelled the other way round, corners kept at their points."""
    turned: list[Edge] = []
    for i in range(len(edges) - 1, -1, -1):
        edge = edges[i]
        after = edges[(i + 1) % len(edges)]
        corner, join = after.corner, after.join
        on_fold = last_corner is not None and i == len(edges) - 1  # a place there has no twin
        if on_fold and last_corner is not None:
            corner, join = last_corner
        length = edge.length
        notches = tuple(
            Notch(at=length - n.at, kind=n.kind, name=n.name) for n in reversed(edge.notches)
        )
        name_corner = corner if closed or on_fold or not corner else corner + TWIN
        turned.append(
            replace(
                edge,
                path=edge.path.reversed(),
                notches=notches,
                corner=name_corner,
                join=_OTHER_HAND.get(join, join),
            )
        )
    return tuple(turned)


def _merge_at_fold(
    run: tuple[Edge, ...],
    twins: tuple[Edge, ...],
    darts: tuple[Dart, ...],
    apart: Collection[str],
) -> tuple[tuple[Edge, ...], tuple[Dart, ...]]:
    """Join the last edge of the run with its twin, and the last twin with the first edge."""
    edges = [*run, *twins]
    middle = len(run)
    if run[-1].name not in apart:
        edges, darts = _merge_pair(edges, middle - 1, middle, darts)
    if len(run) > 1 and run[0].name not in apart:
        edges, darts = _merge_pair(edges, len(edges) - 1, 0, darts)
    return tuple(edges), darts


def _merge_pair(
    edges: list[Edge], i: int, j: int, darts: tuple[Dart, ...]
) -> tuple[list[Edge], tuple[Dart, ...]]:
    """Merge edge i with the following edge j under the name without TWIN."""
    first, second = edges[i], edges[j]
    name = first.name.removesuffix(TWIN)
    shift = first.length
    merged = Edge(
        name=name,
        path=Path(first.path.segments + second.path.segments),
        role=first.role,
        allowance=first.allowance,
        notches=first.notches + tuple(replace(n, at=n.at + shift) for n in second.notches),
        corner=first.corner,
        join=first.join,
    )
    darts = tuple(
        replace(d, edge=name, a=d.a + shift, b=d.b + shift)
        if d.edge == second.name
        else (replace(d, edge=name) if d.edge == first.name else d)
        for d in darts
    )
    out = [e for k, e in enumerate(edges) if k not in (i, j)]
    out.insert(i if j > i else len(out), merged)
    return out, darts


def levels_at(piece: Piece, level: Level) -> Path | None:
    """Return the part of a level line inside the outline (first to last crossing), or None."""
    found = line_crossings(piece.outline, level.at, piece.up.perp)
    if len(found) < 2:
        return None
    along = piece.up.perp
    points = sorted((c.point for c in found), key=along.dot)
    return polyline((points[0], points[-1]))
