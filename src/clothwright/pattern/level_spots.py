"""Where a level line of a piece meets the seams it runs to, kept where a dart is turned."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import dart_intake, gross_at, net_at, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Mark, Piece, Role
from clothwright.pattern.refs import EdgeRef

MARK = "level"
"""The name of a mark where a level met an edge before a dart was turned; its note tells which."""
ON_EDGE_MM = 1.0
"""mm: a mark this near to an edge lies on it."""
OFF_LINE_MM = 0.5
"""mm: a place nearer to a level line than this lies on it."""


NEAR_DART_MM = 50.0
"""mm up or down between a level and a dart's point: nearer, the dart shapes the piece there (a bust
dart points to the bust line). Our own choice; a dart's point stops up to 2 in short (M)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelSpot:
    """Where a level meets one side of a seam.

    distance: mm of stitching line from the run's start, darts folded out. slack: mm by which it may
    lie off that, where a dart shaped the piece at the level.
    """

    ref: EdgeRef
    point: Vec
    distance: float
    slack: float = 0.0


def level_spot(pattern: Pattern, refs: tuple[EdgeRef, ...], level: str) -> LevelSpot | None:
    """Return the first place where a named level meets a run; None where it meets none of it.

    Where it was marked before a dart was turned, the marks tell: it lies between them.
    """
    run = 0.0
    kept: list[LevelSpot] = []
    met: list[LevelSpot] = []
    for ref in refs:
        piece = pattern.piece(ref.piece)
        if any(lv.name == level for lv in piece.levels):
            kept += [_spot(piece, ref, run, at) for at in _marked(piece, ref.edge, level)]
            met += [_spot(piece, ref, run, at) for at in _on_edge(piece, ref, level)]
        run += net_length(piece, ref.edge)
    if not kept:
        return met[0] if met else None
    far = [spot.distance for spot in kept]
    low, high = min(far), max(far)
    middle, slack = (low + high) / 2, (high - low) / 2
    return replace(kept[0], distance=middle, slack=slack)


def _spot(piece: Piece, ref: EdgeRef, run: float, at: float) -> LevelSpot:
    """Return a place of an edge (mm along it) as a place of the run, which begins `run` mm on."""
    edge = piece.edge(ref.edge)
    net = net_at(piece, ref.edge, at)
    along = net_length(piece, ref.edge) - net if ref.reversed else net
    return LevelSpot(ref=ref, point=edge.path.point_at(at), distance=run + along)


def _marked(piece: Piece, edge: str, level: str) -> list[float]:
    """Return where a level was marked on an edge before a dart was turned, mm along it."""
    path = piece.edge(edge).path
    near = (path.nearest(m.at) for m in _marks_of(piece, level) if m.at is not None)
    return [at for at, off in near if off <= ON_EDGE_MM]


def _on_edge(piece: Piece, ref: EdgeRef, level: str) -> list[float]:
    """Return where a level line meets an edge, mm along it, the first from the run's start."""
    found = _met(piece.edge(ref.edge).path, piece.level(level).at, piece.up.perp)
    return sorted(found, reverse=ref.reversed)[:1]


def notches_on(piece: Piece, level: str) -> tuple[tuple[str, int], ...]:
    """Return the notches that lie on a level line: edge and number, from 1; within `ON_EDGE_MM`."""
    line = piece.level(level).at
    return tuple(
        (edge.name, number)
        for edge in piece.edges
        for number, notch in enumerate(edge.notches, start=1)
        if abs(piece.up.dot(edge.path.point_at(notch.at) - line)) <= ON_EDGE_MM
    )


def dart_slack(piece: Piece, edge: str, level: str) -> float:
    """Return how much the darts of an edge take that shape a piece at a level, mm.

    A level that runs into a dart is drawn on one side of its fold or on the other.
    """
    line = piece.level(level).at
    return sum(
        dart_intake(piece, d)
        for d in piece.darts
        if d.edge == edge and abs(piece.up.dot(d.point - line)) <= NEAR_DART_MM
    )


@lru_cache(maxsize=4096)
def _met(path: Path, at: Vec, across: Vec) -> tuple[float, ...]:
    """Return where a line meets an edge, mm along it; kept, since few pieces change."""
    return tuple(c.at_a for c in line_crossings(path, at, across))


def with_levels_kept(
    before: Piece, after: Piece, now: Callable[[Vec], Vec] = lambda at: at
) -> Piece:
    """Return a piece with marks where its levels met its edges before a part of it was turned.

    now: where a place of `before` is in `after`; what is not on its edges is not marked. Sewn, the
    garment is the same, and so is where the seams meet; but a level is straight, and no longer runs
    to those places. A place that lies on its level again needs no mark. Where a dart shaped the
    piece at the level two marks stand for what it took, between which the level lies.
    """
    marks = [m for m in after.marks if not _is_needless(after, m)]
    held = {lv.name for lv in after.levels}
    for level in (lv for lv in before.levels if lv.name in held):
        for edge in _by_name(before):
            if _marked(before, edge.name, level.name):
                continue
            for met in line_crossings(edge.path, level.at, before.up.perp):
                places = [now(at) for at in _places(before, after, edge, level.name, met.at_a)]
                for at in _on_edges(after, places):
                    mark = Mark(name=_free(marks), at=at, note=_note(level.name))
                    if not _is_on_its_level(after, mark):
                        marks.append(mark)
    return replace(after, marks=tuple(marks))


def _by_name(piece: Piece) -> list[Edge]:
    """Return the edges but the fold: in the same order also where a piece was turned over."""
    return sorted((e for e in piece.edges if e.role is not Role.FOLD), key=lambda e: e.name)


def _places(before: Piece, after: Piece, edge: Edge, level: str, met: float) -> Iterator[Vec]:
    """Yield between which places of an edge its level lies: one, or two where a dart is no more.

    met: where the level line meets the edge, mm along it. The lower one comes first.
    """
    lost = dart_slack(before, edge.name, level) - dart_slack(after, edge.name, level)
    if lost <= OFF_LINE_MM:
        if not any(d.a <= met <= d.b for d in before.darts_on(edge.name)):
            yield edge.path.point_at(met)
        return
    net, whole = net_at(before, edge.name, met), net_length(before, edge.name)
    ends = (min(max(place, 0.0), whole) for place in (net - lost, net + lost))
    spots = [edge.path.point_at(gross_at(before, edge.name, place)) for place in ends]
    yield from sorted(spots, key=before.up.dot)


def _on_edges(piece: Piece, places: list[Vec]) -> list[Vec]:
    """Return places that lie on a piece's edges. Of two, one beyond an edge's end lies at that end.

    There the piece was cut off: between the two lies what is left of it.
    """
    kept = [at for at in places if piece.outline.nearest(at)[1] <= ON_EDGE_MM]
    if len(kept) == 1 < len(places):
        path = min((e.path for e in piece.edges), key=lambda p: p.nearest(kept[0])[1])
        return [path.point_at(path.nearest(at)[0]) for at in places]
    return kept


def _is_needless(piece: Piece, mark: Mark) -> bool:
    """Tell whether a level's mark says nothing: it lies there, or its dart is back."""
    own = [lv for lv in piece.levels if mark.name.startswith(MARK) and mark.note == _note(lv.name)]
    at = mark.at
    if at is None or not own:
        return False
    edge = min(piece.edges, key=lambda e: e.path.nearest(at)[1])
    both = [net_at(piece, edge.name, one) for one in _marked(piece, edge.name, own[0].name)]
    apart = (max(both) - min(both)) / 2 if both else 0.0
    back = apart > 0.0 and dart_slack(piece, edge.name, own[0].name) >= apart - OFF_LINE_MM
    return back or _is_on_its_level(piece, mark)


def _note(level: str) -> str:
    return f"{level} line"


def _marks_of(piece: Piece, level: str) -> tuple[Mark, ...]:
    """Return the marks that tell where a level meets the edges."""
    note = _note(level)
    return tuple(m for m in piece.marks if m.name.startswith(MARK) and m.note == note)


def _is_on_its_level(piece: Piece, mark: Mark) -> bool:
    """Tell whether a mark tells of a level that runs through it anyway."""
    own = [lv for lv in piece.levels if mark.name.startswith(MARK) and mark.note == _note(lv.name)]
    at = mark.at
    return at is not None and any(abs(piece.up.dot(at - lv.at)) < OFF_LINE_MM for lv in own)


def _free(marks: list[Mark]) -> str:
    taken = {m.name for m in marks}
    names = (MARK, *(f"{MARK} {n}" for n in range(2, len(marks) + 3)))
    return next(n for n in names if n not in taken)
