"""Edges drawn in any order and either way round -> one closed chain, counter-clockwise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.errors import BadInput
from clothwright.geometry.area import polygon_area
from clothwright.geometry.path import Path
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Dart, Edge, Join

MEET_MM = 0.5
"""mm: ends of edges nearer than this are taken to meet; the later one is moved to the earlier."""
AS_THEY_ARE_MM = 10 * JOIN_MM
"""mm: ends nearer than this are left as they are (a piece allows as much)."""


class Drawn(NamedTuple):
    """An edge as drawn, and its line in the file."""

    edge: Edge
    line: int


class Run(NamedTuple):
    """Edges that follow each other: place and whether it runs back. gap: mm to `nearest`, or 0."""

    order: tuple[tuple[int, bool], ...]
    gap: float = 0.0
    nearest: int = 0


def drawn_area(edges: Sequence[Drawn]) -> float:
    """Return the area inside the edges as they follow each other, mm², negative when clockwise."""
    points: list[Vec] = []
    for i, back in _followed([d.edge.path for d in edges]).order:
        path = edges[i].edge.path
        points.extend((path.reversed() if back else path).flatten(1.0))
    return polygon_area(points)


def chained(
    edges: Sequence[Drawn], darts: tuple[Dart, ...], where: str
) -> tuple[tuple[Drawn, ...], tuple[Dart, ...]]:
    """Return the edges in order, each the right way round, ends moved together where they gape.

    A corner's name and join belong to the point where the edge that names them was drawn to start.
    Raises BadInput when the edges make no closed chain.
    """
    order, gap, nearest = _followed([d.edge.path for d in edges])
    if gap:
        one, other = edges[order[-1][0]], edges[nearest]
        raise BadInput(
            where=f'{where}, line {one.line}, edge "{one.edge.name}"',
            what=(
                "it stops ",
                gap,
                f' from the next edge, "{other.edge.name}" (line {other.line})',
            ),
            expected="edges whose ends meet, all round the piece",
        )
    if any(back for _, back in order):
        edges, darts = _turned(edges, darts, order)
    else:
        edges = [edges[i] for i, _ in order]
    out: list[Drawn] = []
    for i, drawn in enumerate(edges):
        before = out[i - 1].edge.path.end if i else None
        path = drawn.edge.path
        if before is not None and before.distance(path.start) > AS_THEY_ARE_MM:
            path = path.with_ends(start=before)
        if i == len(edges) - 1 and path.end.distance(edges[0].edge.path.start) > AS_THEY_ARE_MM:
            path = path.with_ends(end=edges[0].edge.path.start)
        out.append(drawn if path is drawn.edge.path else drawn._replace(edge=_on(drawn.edge, path)))
    return tuple(out), darts


def _on(edge: Edge, path: Path) -> Edge:
    """The edge on a path whose end was moved a little; its notches stay on it."""
    longest = path.length
    notches = tuple(replace(n, at=min(n.at, longest)) for n in edge.notches)
    return replace(edge, path=path, notches=notches)


def _followed(paths: Sequence[Path]) -> Run:
    """Follow the edges from the first one on: as they stand in the file, else end to end."""
    pairs = list(zip(paths, (*paths[1:], *paths[:1]), strict=True))
    if all(a.end.distance(b.start) <= AS_THEY_ARE_MM for a, b in pairs):
        return Run(tuple((i, False) for i in range(len(paths))))
    order = [(0, False)]
    left = list(range(1, len(paths)))
    at = paths[0].end
    while left:
        ends = [(at.distance(paths[i].start), i, False) for i in left]
        ends += [(at.distance(paths[i].end), i, True) for i in left]
        # The edge that follows in the file comes first where several would do.
        gap, i, back = min(ends, key=lambda e: (round(e[0] / MEET_MM), e[2], e[1], e[0]))
        if gap > MEET_MM:
            return Run(tuple(order), gap, i)
        order.append((i, back))
        left.remove(i)
        at = paths[i].start if back else paths[i].end
    gap = at.distance(paths[0].start)
    return Run(tuple(order), gap if gap > MEET_MM else 0.0, 0)


def _turned(
    edges: Sequence[Drawn], darts: tuple[Dart, ...], order: Sequence[tuple[int, bool]]
) -> tuple[list[Drawn], tuple[Dart, ...]]:
    corners = [
        (d.edge.path.start, d.edge.corner, d.edge.join)
        for d in edges
        if d.edge.corner or d.edge.join is not Join.EXTENDED
    ]
    out = []
    for i, back in order:
        edge = _reversed(edges[i].edge) if back else edges[i].edge
        start = edge.path.start
        corner, join = next(
            ((c, j) for p, c, j in corners if p.is_near(start, MEET_MM)), ("", Join.EXTENDED)
        )
        out.append(edges[i]._replace(edge=replace(edge, corner=corner, join=join)))
    back_names = {edges[i].edge.name: edges[i].edge.length for i, back in order if back}
    turned = tuple(
        replace(
            d,
            a=back_names[d.edge] - d.b,
            b=back_names[d.edge] - d.a,
            pressed="end" if d.pressed == "start" else "start",
        )
        if d.edge in back_names
        else d
        for d in darts
    )
    return out, turned


def _reversed(edge: Edge) -> Edge:
    length = edge.length
    notches = tuple(replace(n, at=length - n.at) for n in reversed(edge.notches))
    return replace(edge, path=edge.path.reversed(), notches=notches)
