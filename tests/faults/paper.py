"""What scissors and tape do to a paper piece: cut and spread, folded out, a corner moved.

None of it goes through the changes of the program: the outlines are cut and moved here. Notches,
darts and marks stay where they are drawn on the paper. Lengths in mm; y is up in every garment.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from clothwright.demo.curves import spline
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.segment import Line
from clothwright.geometry.transform import Transform, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Dart, Edge, Piece

_LEVEL, _STAY = Vec(1.0, 0.0), Vec(0.0, 0.0)


def redrawn(piece: Piece, **paths: Path) -> Piece:
    """Return the piece with edges drawn anew; what is marked on them stays at its place on paper.

    paths: by the edge's name, "_" for a space.
    """
    named = {name.replace("_", " "): path for name, path in paths.items()}
    edges = tuple(_drawn(e, named.get(e.name, e.path)) for e in piece.edges)
    darts = tuple(_legs(d, piece.edge(d.edge).path, named.get(d.edge)) for d in piece.darts)
    return replace(piece, edges=edges, darts=darts)


def _drawn(edge: Edge, path: Path) -> Edge:
    if path is edge.path:
        return edge
    notches = (replace(n, at=path.nearest(edge.path.point_at(n.at))[0]) for n in edge.notches)
    return replace(edge, path=path, notches=tuple(notches))


def _legs(dart: Dart, was: Path, path: Path | None) -> Dart:
    if path is None:
        return dart
    a, b = (path.nearest(was.point_at(s))[0] for s in (dart.a, dart.b))
    return replace(dart, a=a, b=b)


def cornered(piece: Piece, edge: str, x: float, y: float) -> Piece:
    """Return the piece with the corner where an edge starts moved by (x, y); both edges follow."""
    i = piece.index(edge)
    before, after = piece.edges[i - 1], piece.edges[i]
    to = after.path.start + Vec(x, y)
    return _both(piece, {before.name: before.path.with_ends(end=to),
                         after.name: after.path.with_ends(start=to)})  # fmt: skip


def _both(piece: Piece, paths: dict[str, Path]) -> Piece:
    return redrawn(piece, **{name.replace(" ", "_"): path for name, path in paths.items()})


def let_out(piece: Piece, edge: str, by: float) -> Piece:
    """Return the piece with a whole edge moved outwards by `by`; its neighbours follow."""
    i, count = piece.index(edge), len(piece.edges)
    path = piece.edges[i].path
    shift = -(path.end - path.start).unit.perp * by
    moved = path.transformed(translation(shift))
    before, after = piece.edges[i - 1], piece.edges[(i + 1) % count]
    return _both(piece, {edge: moved, before.name: before.path.with_ends(end=moved.start),
                         after.name: after.path.with_ends(start=moved.end)})  # fmt: skip


def hollowed(piece: Piece, edge: str, by: float) -> Piece:
    """Return the piece with the middle of an edge cut away by `by` (< 0: added), its ends kept."""
    path = piece.edge(edge).path
    points = []
    for k in range(7):
        at = path.length * k / 6
        points.append(
            path.point_at(at) + path.tangent_at(at).perp * (by * math.sin(math.pi * k / 6))
        )
    new = spline(points, path.start_tangent.angle_deg, path.end_tangent.angle_deg)
    return _both(piece, {edge: new})


def lengthened(piece: Piece, level: float, by: float) -> Piece:
    """Return the piece cut across at a height and its lower part moved down by `by`.

    by < 0: the strip below the cut is folded out. Straight lines fill what opens.
    """
    low = min(level, level + by)

    def put(p: Vec) -> Vec:
        if p.y >= level:
            return p
        return Vec(p.x, p.y - by if p.y <= low else level)

    edges = []
    for e in piece.edges:
        path = _across(e.path, level, low, -by)
        places = (path.nearest(put(e.path.point_at(n.at)))[0] for n in e.notches)
        notches = tuple(replace(n, at=s) for n, s in zip(e.notches, places, strict=True))
        edges.append(replace(e, path=path, notches=notches))
    by_name = {e.name: e.path for e in edges}
    darts = tuple(
        _moved_dart(d, piece.edge(d.edge).path, by_name[d.edge], put) for d in piece.darts
    )
    grain = piece.grain and replace(
        piece.grain, start=put(piece.grain.start), end=put(piece.grain.end)
    )
    return replace(
        piece, edges=_closed(edges), darts=darts, grain=grain,
        levels=tuple(replace(lv, at=put(lv.at)) for lv in piece.levels),
        marks=tuple(replace(m, at=put(m.at)) if m.at else m for m in piece.marks),
    )  # fmt: skip


def wedged(piece: Piece, level: float, hinge: float, side: float, by: float) -> Piece:
    """Return the piece cut across at a height, and what lies below turned so that one side gains.

    hinge, side: how far right the uncut side and the cut one are; by > 0. On a fold the paper is
    slid instead, each place by its share.
    """
    about = Vec(hinge, level)
    move = rotation_deg(math.degrees(2 * math.atan(by / 2 / (hinge - side))), about)
    if piece.fold is not None:
        k = by / (hinge - side)
        move = Transform(b=k, f=-k * hinge)

    def put(p: Vec) -> Vec:
        return move.apply(p) if p.y < level else p

    def spread(path: Path) -> Path:
        cut = [c.at_a for c in line_crossings(path, about, _LEVEL)]
        ends = (0.0, *(at for at in cut if 0.01 < at < path.length - 0.01), path.length)
        runs = [path.between(a, b) for a, b in pairwise(ends)]
        moved = [r.transformed(move) if r.middle.y < level else r for r in runs]
        bridged = [moved[0]]
        for run in moved[1:]:
            gap = bridged[-1].end.distance(run.start) > 1e-6
            bridged += [Path((Line(bridged[-1].end, run.start),))] if gap else []
            bridged.append(run)
        return join_all(bridged)

    edges = []
    for e in piece.edges:
        path = spread(e.path)
        notches = (replace(n, at=path.nearest(put(e.path.point_at(n.at)))[0]) for n in e.notches)
        edges.append(replace(e, path=path, notches=tuple(notches)))
    by_name = {e.name: e.path for e in edges}
    darts = (_moved_dart(d, piece.edge(d.edge).path, by_name[d.edge], put) for d in piece.darts)
    return replace(piece, edges=_closed(edges), darts=tuple(darts))


def tucked(piece: Piece, x: float, by: float) -> Piece:
    """Return the piece folded narrower by `by`, right of a line from top to bottom at x."""

    def put(q: Vec) -> Vec:
        return Vec(q.x - by if q.x >= x + by else min(q.x, x), q.y)

    def folded(path: Path) -> Path:
        segments = (type(s)(*map(put, s.controls())) for s in path.segments)
        return Path(tuple(s for s in segments if s.start.distance(s.end) > 1e-6))

    new = _both(piece, {e.name: folded(e.path) for e in piece.edges})
    darts = tuple(replace(d, point=put(d.point)) for d in new.darts)
    return replace(new, darts=darts)


def _moved_dart(dart: Dart, was: Path, path: Path, put: Callable[[Vec], Vec]) -> Dart:
    a, b = (path.nearest(put(was.point_at(s)))[0] for s in (dart.a, dart.b))
    return replace(dart, a=a, b=b, point=put(dart.point))


def _across(path: Path, level: float, low: float, up: float) -> Path:
    """Return an edge cut at a height: below `low` moved by `up`, what lies between left out."""
    lines = {level, low}
    cuts = sorted(
        c.at_a
        for y in lines
        for c in line_crossings(path, Vec(0.0, y), _LEVEL)
        if 0.01 < c.at_a < path.length - 0.01
    )
    parts: list[Path] = []
    for a, b in pairwise((0.0, *cuts, path.length)):
        part = path.between(a, b)
        y = part.point_at(part.length / 2).y
        if low < y < level:
            continue
        part = part if y >= level else part.transformed(translation((0.0, up)))
        if parts and parts[-1].end.distance(part.start) > 1e-6:
            if up < 0:
                parts.append(Path((Line(parts[-1].end, part.start),)))
            else:
                part = part.with_ends(start=parts[-1].end)
        parts.append(part)
    return join_all(parts)


def _closed(edges: list[Edge]) -> tuple[Edge, ...]:
    """Let each edge start where the one before it ends."""
    ends = (e.path.end for e in (edges[-1], *edges[:-1]))
    return tuple(
        replace(e, path=e.path.with_ends(start=p)) for e, p in zip(edges, ends, strict=True)
    )


def notched(piece: Piece, edge: str, name: str, by: float) -> Piece:
    """Return the piece with a notch moved along its edge by `by`."""
    e = piece.edge(edge)
    notches = tuple(replace(n, at=n.at + by) if n.name == name else n for n in e.notches)
    return piece.with_edge(replace(e, notches=notches))


def darted(piece: Piece, name: str, *, a: float = 0.0, b: float = 0.0, point: Vec = _STAY) -> Piece:
    """Return the piece with a dart's legs moved along the edge, or its point on the paper."""
    moved = (
        replace(d, a=d.a + a, b=d.b + b, point=d.point + point) if d.name == name else d
        for d in piece.darts
    )
    return replace(piece, darts=tuple(moved))
