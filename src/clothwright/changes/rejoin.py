"""Move the parts of a cut piece, each by its own turn, shift or slide, and join them again.

All lengths in mm along the stitching line as drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwright.changes.slash import (
    BLEND_MM,
    Opening,
    Slash,
    Stretch,
    is_inside,
    lips,
    part_outline,
    stretches,
)
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import crossings, line_crossings, self_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import IDENTITY, Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Dart, Edge, Grain, Level, Mark, Piece, signed_area
from clothwright.pattern.places import held_by
from clothwright.pattern.whole import moved_mark

ON_CUT_MM = 0.05
"""mm: what lies this near to a cut lies on it."""
Moves = tuple[Transform, ...]
"""Where each part goes, by its number."""
Placed = tuple[Stretch, float, float]
"""A stretch, where it starts on its edge now, mm, and how many times as long it is."""
Outlines = tuple[tuple[Vec, ...], ...]
"""The polygon round each part, by its number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rejoined:
    """The piece after its parts moved; `openings` are those of the cut as they are now.

    A closed opening has a = b. An open one is bridged by a straight line from a to b. now: where a
    place of the piece as it was lies.
    """

    piece: Piece
    openings: tuple[Opening, ...]
    now: Callable[[Vec], Vec]


def rejoined(slash: Slash, moves: Moves, *, bridged: bool = False) -> Rejoined:
    """Move each part and join them all again.

    Ends that meet are joined; open ends are bridged straight. Notches, darts, marks and levels
    go with their part; the grain line is shifted along and not turned. Darts with a leg inside an
    opening are left out. bridged: a marked line that is cut runs on straight over what opens, as
    over cloth that is let in; else it becomes two. Raises CannotDo when the joined outline would
    cross itself.
    """
    runs = stretches(slash)
    _refuse_overlap(slash, runs)
    places: dict[str, list[Placed]] = {}
    edges: list[Edge] = []
    spans: list[Opening] = []
    for edge in slash.piece.edges:
        own = [s for s in runs if s.edge == edge.name]
        path, starts, open_ = _assembled(edge, own, moves)
        grown = [_times(edge, run, moves) for run in own]
        places[edge.name] = list(zip(own, starts, grown, strict=True))
        notches = tuple(replace(n, at=_placed(places[edge.name], n.at)) for n in edge.notches)
        edges.append(replace(edge, path=path, notches=notches))
        spans.extend(open_)
    edges = _closed_up(edges)
    darts = tuple(
        _moved_dart(d, places[d.edge], moves)
        for d in slash.piece.darts
        if _whole(d, places[d.edge])
    )
    outlines = tuple(part_outline(slash, k) for k in range(len(slash.openings)))
    piece = replace(
        slash.piece,
        edges=tuple(edges),
        darts=darts,
        marks=tuple(
            m
            for n in slash.piece.marks
            for m in _moved_mark(slash, n, outlines, moves, bridged=bridged)
        ),
        levels=tuple(_moved_level(slash, lv, outlines, moves) for lv in slash.piece.levels),
        grain=_moved_grain(slash.piece.grain, outlines, moves),
    )
    _refuse_crossing(piece)
    by_rank = dict(zip(slash.ranks, spans, strict=True))
    return Rejoined(
        piece=piece,
        openings=tuple(by_rank[k] for k in range(len(spans))),
        now=lambda p: _moved_point(p, outlines, moves),
    )


def _refuse_overlap(slash: Slash, runs: tuple[Stretch, ...]) -> None:
    """Refuse openings that reach over each other. Raises CannotDo."""
    for run in runs:
        if run.end < run.start - JOIN_MM:
            raise CannotDo(
                what=f'piece "{slash.piece.name}" cannot be cut so',
                why=f'two of the cuts meet its edge "{run.edge}" at the same place',
                nearest="a smaller amount, or another place for one of the cuts",
            )


def _assembled(
    edge: Edge, own: list[Stretch], moves: Moves
) -> tuple[Path, list[float], list[Opening]]:
    """Join an edge's moved stretches; where each starts now, and the openings between them.

    Ends that nearly meet are drawn to the middle between them.
    """
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
            moved = path.length
            if segments and segments[-1].end.distance(path.start) > JOIN_MM:
                middle, last = segments[-1].end.lerp(path.start, 0.5), segments[-1]
                segments[-1:] = Path((last,)).with_ends(end=middle).segments
                grown = segments[-1].length - last.length
                at += grown
                spans[-1] = Opening(edge.name, at, at)
                path = path.with_ends(start=middle)
                starts[-1] = at + path.length - moved
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


def _placed(places: list[Placed], at: float) -> float:
    """Where a place of the edge is now; inside an opening: its first end."""
    for run, start, times in places:
        if at <= run.end + JOIN_MM:
            return start + max(0.0, min(at, run.end) - run.start) * times
    run, start, times = places[-1]
    return start + (run.end - run.start) * times


def _times(edge: Edge, run: Stretch, moves: Moves) -> float:
    """Return how many times as long a stretch is when moved: 1, but for a part that is slid."""
    move = moves[run.part]
    if run.end - run.start <= JOIN_MM or move.is_rigid:
        return 1.0
    path = edge.path.between(run.start, run.end)
    return path.transformed(move).length / path.length


def _whole(dart: Dart, places: list[Placed]) -> bool:
    return any(
        run.start - JOIN_MM <= dart.a and dart.b <= run.end + JOIN_MM for run, _, _ in places
    )


def _moved_dart(dart: Dart, places: list[Placed], moves: Moves) -> Dart:
    for run, start, times in places:
        if run.start - JOIN_MM <= dart.a and dart.b <= run.end + JOIN_MM:
            a, b = (start + (at - run.start) * times for at in (dart.a, dart.b))
            point = moves[run.part].apply(dart.point)
            return replace(dart, a=max(0.0, a), b=b, point=point)
    return dart


def _moved_mark(
    slash: Slash, mark: Mark, outlines: Outlines, moves: Moves, *, bridged: bool
) -> Iterator[Mark]:
    """Yield a mark where its part is now; a line that the cut crosses becomes two, or runs on.

    Where something is sewn on goes whole. What lies in an opening that goes is left out; runs that
    meet again are one line.
    """
    held = held_by(slash.piece, mark)
    if held is not None or mark.path is None:
        place = held or mark.at
        part = place and _part_at(place, outlines, moves)
        yield mark if part is None else moved_mark(mark, moves[part])
        return
    whole = tuple(slash.piece.outline.flatten(0.5))
    runs: list[Path] = []
    for run in _cut_line(slash, mark.path):
        part = _part_at(run.middle, outlines, moves)
        if part is None and is_inside(whole, run.middle):
            continue
        moved = run if part is None else run.transformed(moves[part])
        gap = runs[-1].end.distance(moved.start) if runs else 0.0
        if runs and gap <= BLEND_MM:
            runs[-1] = runs[-1].joined(moved.with_ends(start=runs[-1].end))
        elif runs and bridged:
            over = Path((Line(runs[-1].end, moved.start),))
            runs[-1] = runs[-1].joined(over).joined(moved)
        else:
            runs.append(moved)
    for n, path in enumerate(runs or [mark.path]):
        at = None if mark.at is None or n else _moved_point(mark.at, outlines, moves)
        yield replace(mark, name=mark.name if n == 0 else f"{mark.name} {n + 1}", at=at, path=path)


def _cut_line(slash: Slash, path: Path) -> tuple[Path, ...]:
    """Return a line in runs, cut where it meets one of the cuts."""
    ats = {
        round(c.at_a, 6)
        for lip in lips(slash)
        for c in crossings(path, polyline(lip))
        if 0.01 < c.at_a < path.length - 0.01
    }
    return path.split_many(sorted(ats))


def _part_at(p: Vec, outlines: Outlines, moves: Moves) -> int | None:
    """Return the number of the part that holds p, None outside of all.

    On a cut it is that of the part that moves it least, whichever way the piece is drawn.
    """
    here = [k for k, o in enumerate(outlines) if is_inside(o, p) or _runs_by(o, p)]
    return min(here, key=lambda k: round(moves[k].apply(p).distance(p), 6), default=None)


def _runs_by(outline: tuple[Vec, ...], p: Vec) -> bool:
    """Tell whether a polygon's line passes within 0.05 mm of a place."""
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        way = b - a
        t = min(1.0, max(0.0, (p - a).dot(way) / (way.dot(way) or 1.0)))
        if a.lerp(b, t).is_near(p, ON_CUT_MM):
            return True
    return False


def _moved_point(p: Vec, outlines: Outlines, moves: Moves) -> Vec:
    part = _part_at(p, outlines, moves)
    return p if part is None else moves[part].apply(p)


def _moved_level(slash: Slash, level: Level, outlines: Outlines, moves: Moves) -> Level:
    """Leave a level that crosses a part at rest; else it goes with the part that rises least."""
    up = slash.piece.up
    found = line_crossings(slash.piece.outline, level.at, up.perp)
    probes = [level.at]
    probes += [c.point.lerp(d.point, t) for c, d in pairwise(found) for t in (0.25, 0.5, 0.75)]
    parts = sorted({k for p in probes if (k := _part_at(p, outlines, moves)) is not None})
    if not parts or any(moves[k] == IDENTITY for k in parts):
        return level
    ways = [moves[k].apply(level.at) - level.at for k in parts]
    by = min(ways, key=lambda way: (round(abs(up.dot(way)), 6), way.norm))
    return replace(level, at=level.at + by)


def _moved_grain(grain: Grain | None, outlines: Outlines, moves: Moves) -> Grain | None:
    """Shift the grain line with the part its middle lies on; it turns with none."""
    if grain is None:
        return None
    middle = grain.start.lerp(grain.end, 0.5)
    by = _moved_point(middle, outlines, moves) - middle
    return Grain(start=grain.start + by, end=grain.end + by)


def _refuse_crossing(piece: Piece) -> None:
    if signed_area(piece) <= 0 or self_crossings(piece.outline):
        raise CannotDo(
            what=f'piece "{piece.name}" cannot be joined again after this cut',
            why="its stitching line would cross itself",
            nearest="a smaller amount, or another place for the cut",
        )
