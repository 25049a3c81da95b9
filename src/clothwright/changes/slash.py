"""Cut a piece in two along a line, turn or shift the parts, and join them again.

Plane geometry that several changes share. A cut runs from one opening in the outline through
inner points to a second opening. What lies on the outline after the first opening, up to the
second, is part 0; the rest is part 1. All lengths in mm along the stitching line as drawn.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from clothwright.errors import CannotDo
from clothwright.geometry.area import polygon_area
from clothwright.geometry.intersect import crossings, line_crossings, self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import IDENTITY, Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Dart, Edge, Level, Mark, Piece, Role, signed_area

BLEND_MM = 0.5
"""mm: two ends nearer than this are drawn together when parts are joined; more is refused."""


class Opening(NamedTuple):
    """Where a cut reaches the outline: a = b for a plain cut; what lies between a < b goes."""

    edge: str
    a: float
    b: float


class Stretch(NamedTuple):
    """A part of an edge that stays in one piece: from `start` to `end` mm, in part 0 or 1."""

    edge: str
    start: float
    end: float
    part: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Slash:
    """A cut through a piece: two openings and the inner points between them, first to second."""

    piece: Piece
    first: Opening
    second: Opening
    inner: tuple[Vec, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rejoined:
    """The piece after its parts moved; `first` and `second` are the openings as they are now.

    A closed opening has a = b. An open one is bridged by a straight line from a to b.
    """

    piece: Piece
    first: Opening
    second: Opening


def stretches(slash: Slash) -> tuple[Stretch, ...]:
    """Return the stretches of the outline in the order of its edges, empty ones among them."""
    first, second = _order(slash.piece, slash.first), _order(slash.piece, slash.second)
    part = 1 if first < second else 0
    out: list[Stretch] = []
    for i, edge in enumerate(slash.piece.edges):
        here = sorted(o for o in (first, second) if o[0] == i)
        at = 0.0
        for _, a, b in here:
            out.append(Stretch(edge.name, at, a, part))
            part, at = 1 - part, b
        out.append(Stretch(edge.name, at, edge.length, part))
    return tuple(out)


def part_outline(slash: Slash, part: int) -> tuple[Vec, ...]:
    """Return the corners of a closed polygon (0.5 mm) round one part of a cut piece."""
    runs = stretches(slash)
    starts = [i for i, s in enumerate(runs) if s.part == part and runs[i - 1].part != part]
    turned = (*runs[starts[0] :], *runs[: starts[0]]) if starts else runs
    points: list[Vec] = []
    for run in (s for s in turned if s.part == part):
        path = slash.piece.edge(run.edge).path
        points.append(path.point_at(run.start))
        if run.end - run.start > JOIN_MM:
            points.extend(path.between(run.start, run.end).flatten(0.5))
    return (*points, *(reversed(slash.inner) if part == 0 else slash.inner))


def is_inside(points: tuple[Vec, ...], p: Vec) -> bool:
    """Tell whether p lies inside a closed polygon (even number of crossings = outside)."""
    inside = False
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        if (a.y > p.y) != (b.y > p.y) and p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x):
            inside = not inside
    return inside


def part_that_stays(slash: Slash) -> int:
    """Return which part keeps its place (0 or 1), so that the garment hangs as before.

    The one with the whole fold edge, else the whole centre edge, else the whole grain line (the
    middle of it, if it is cut), else the larger one.
    """
    runs = stretches(slash)
    for role in (Role.FOLD, Role.CENTRE):
        names = [e.name for e in slash.piece.edges if e.role is role]
        parts = {s.part for s in runs if s.edge in names and s.end - s.start > JOIN_MM}
        if len(parts) == 1:
            return parts.pop()
    outlines = [part_outline(slash, i) for i in (0, 1)]
    grain = slash.piece.grain
    if grain is not None:
        for p in (grain.start.lerp(grain.end, 0.5), grain.start, grain.end):
            inside = [is_inside(o, p) for o in outlines]
            if inside.count(True) == 1:
                return inside.index(True)
    return 0 if abs(polygon_area(outlines[0])) > abs(polygon_area(outlines[1])) else 1


def rejoined(slash: Slash, moves: tuple[Transform, Transform]) -> Rejoined:
    """Move part 0 and part 1 and join them again.

    Ends that meet are joined; open ends are bridged straight. Notches, darts, marks and levels
    go with their part; the grain line stays. Darts with a leg inside an opening are left out.
    Raises CannotDo when the joined outline would cross itself.
    """
    runs = stretches(slash)
    places: dict[str, list[tuple[Stretch, float]]] = {}
    edges: list[Edge] = []
    spans: list[Opening] = []
    for edge in slash.piece.edges:
        own = [s for s in runs if s.edge == edge.name]
        path, starts, open_ = _assembled(edge, own, moves)
        places[edge.name] = list(zip(own, starts, strict=True))
        notches = tuple(replace(n, at=_placed(places[edge.name], n.at)) for n in edge.notches)
        edges.append(replace(edge, path=path, notches=notches))
        spans.extend(open_)
    edges = _closed_up(edges)
    darts = tuple(
        _moved_dart(d, places[d.edge], moves)
        for d in slash.piece.darts
        if _whole(d, places[d.edge])
    )
    outlines = (part_outline(slash, 0), part_outline(slash, 1))
    piece = replace(
        slash.piece,
        edges=tuple(edges),
        darts=darts,
        marks=tuple(_moved_marks(slash, outlines, moves)),
        levels=tuple(_moved_level(slash, lv, outlines, moves) for lv in slash.piece.levels),
    )
    _refuse_crossing(piece)
    first, second = _named(slash, spans)
    return Rejoined(piece=piece, first=first, second=second)


def _order(piece: Piece, opening: Opening) -> tuple[int, float, float]:
    return piece.index(opening.edge), opening.a, opening.b


def _assembled(
    edge: Edge, own: list[Stretch], moves: tuple[Transform, Transform]
) -> tuple[Path, list[float], list[Opening]]:
    """Join an edge's moved stretches; where each starts now, and the openings between them."""
    segments: list[Segment] = []
    starts: list[float] = []
    spans: list[Opening] = []
    at = 0.0
    for i, run in enumerate(own):
        start = moves[run.part].apply(edge.path.point_at(run.start))
        if i > 0:
            before = moves[own[i - 1].part].apply(edge.path.point_at(own[i - 1].end))
            gap = before.distance(start)
            wide = gap > BLEND_MM
            if wide:
                segments.append(Line(before, start))
            spans.append(Opening(edge.name, at, at + gap if wide else at))
            at += gap if wide else 0.0
        starts.append(at)
        if run.end - run.start > JOIN_MM:
            path = edge.path.between(run.start, run.end).transformed(moves[run.part])
            if segments and segments[-1].end.distance(path.start) > JOIN_MM:
                path = path.with_ends(start=segments[-1].end)
            segments.extend(path.segments)
            at += path.length
    return Path(tuple(segments)), starts, spans


def _closed_up(edges: list[Edge]) -> list[Edge]:
    """Let each edge start exactly where the one before it ends."""
    out = []
    for before, edge in zip((edges[-1], *edges), edges, strict=False):
        gap = before.path.end.distance(edge.path.start)
        near = 0.0 < gap <= BLEND_MM
        out.append(replace(edge, path=edge.path.with_ends(start=before.path.end)) if near else edge)
    return out


def _placed(places: list[tuple[Stretch, float]], at: float) -> float:
    """Where a place of the edge is now; inside an opening: its first end."""
    for run, start in places:
        if at <= run.end + JOIN_MM:
            return start + max(0.0, min(at, run.end) - run.start)
    run, start = places[-1]
    return start + run.end - run.start


def _whole(dart: Dart, places: list[tuple[Stretch, float]]) -> bool:
    return any(run.start - JOIN_MM <= dart.a and dart.b <= run.end + JOIN_MM for run, _ in places)


def _moved_dart(
    dart: Dart, places: list[tuple[Stretch, float]], moves: tuple[Transform, Transform]
) -> Dart:
    for run, start in places:
        if run.start - JOIN_MM <= dart.a and dart.b <= run.end + JOIN_MM:
            by = start - run.start
            point = moves[run.part].apply(dart.point)
            return replace(dart, a=max(0.0, dart.a + by), b=dart.b + by, point=point)
    return dart


def _moved_marks(
    slash: Slash, outlines: tuple[tuple[Vec, ...], ...], moves: tuple[Transform, Transform]
) -> Iterator[Mark]:
    """Yield each mark where its part is now; a line that the cut crosses becomes two."""
    for mark in slash.piece.marks:
        if mark.path is None:
            move = _move_at(mark.at, outlines, moves)
            yield mark if mark.at is None else replace(mark, at=move.apply(mark.at))
            continue
        parts = _cut_line(slash, mark.path)
        for n, path in enumerate(parts):
            move = _move_at(path.point_at(path.length / 2), outlines, moves)
            at = None if mark.at is None or n else move.apply(mark.at)
            name = mark.name if n == 0 else f"{mark.name} {n + 1}"
            yield replace(mark, name=name, at=at, path=path.transformed(move))


def _cut_line(slash: Slash, path: Path) -> tuple[Path, ...]:
    edges = slash.piece.edge(slash.first.edge).path, slash.piece.edge(slash.second.edge).path
    first = (edges[0].point_at(slash.first.a), edges[0].point_at(slash.first.b))
    last = (edges[1].point_at(slash.second.a), edges[1].point_at(slash.second.b))
    lines = {(first[0], *slash.inner, last[0]), (first[1], *slash.inner, last[1])}
    ats = {
        round(c.at_a, 6)
        for line in lines
        for c in crossings(path, polyline(line))
        if 0.01 < c.at_a < path.length - 0.01
    }
    return path.split_many(sorted(ats))


def _move_at(
    p: Vec | None, outlines: tuple[tuple[Vec, ...], ...], moves: tuple[Transform, Transform]
) -> Transform:
    """Return the move of the part that holds p; outside both: nothing moves."""
    for outline, move in zip(outlines, moves, strict=True):
        if p is not None and is_inside(outline, p):
            return move
    return IDENTITY


def _moved_level(
    slash: Slash,
    level: Level,
    outlines: tuple[tuple[Vec, ...], ...],
    moves: tuple[Transform, Transform],
) -> Level:
    """Leave a level that crosses a part at rest; turn one that lies on moving parts only."""
    found = line_crossings(slash.piece.outline, level.at, slash.piece.up.perp)
    middles = [c.point.lerp(d.point, 0.5) for c, d in pairwise(found)]
    probes = [*middles, level.at]
    for outline, move in zip(outlines, moves, strict=True):
        if move == IDENTITY and any(is_inside(outline, p) for p in probes):
            return level
    return replace(level, at=_move_at(level.at, outlines, moves).apply(level.at))


def _refuse_crossing(piece: Piece) -> None:
    if signed_area(piece) <= 0 or self_crossings(piece.outline):
        raise CannotDo(
            what=f'piece "{piece.name}" cannot be joined again after this cut',
            why="its stitching line would cross itself",
            nearest="a smaller amount, or another place for the cut",
        )


def _named(slash: Slash, spans: list[Opening]) -> tuple[Opening, Opening]:
    """Tell the two spans, found in the order of the outline, apart."""
    swapped = _order(slash.piece, slash.first) > _order(slash.piece, slash.second)
    return (spans[1], spans[0]) if swapped else (spans[0], spans[1])
