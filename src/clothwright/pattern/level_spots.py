"""Where a level line of a piece meets the seams it runs to, kept where a dart is turned."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Mark, Piece, Role
from clothwright.pattern.refs import EdgeRef

MARK = "level"
"""The name of a mark where a level met an edge before a dart was turned; its note tells which."""
ON_EDGE_MM = 1.0
"""mm: a mark this near to an edge lies on it."""
OFF_LINE_MM = 0.5
"""mm: a place nearer to a level line than this lies on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelSpot:
    """Where a level meets one side of a seam.

    distance: mm of stitching line from the run's start, darts folded out.
    """

    ref: EdgeRef
    point: Vec
    distance: float


def level_spot(pattern: Pattern, refs: tuple[EdgeRef, ...], level: str) -> LevelSpot | None:
    """Return the first place where a named level meets a run; None where it meets none of it."""
    run = 0.0
    for ref in refs:
        piece = pattern.piece(ref.piece)
        length = net_length(piece, ref.edge)
        if any(lv.name == level for lv in piece.levels):
            found = _on_edge(piece, ref, level)
            if found is not None:
                at = net_at(piece, ref.edge, found)
                point = piece.edge(ref.edge).path.point_at(found)
                distance = run + (length - at if ref.reversed else at)
                return LevelSpot(ref=ref, point=point, distance=distance)
        run += length
    return None


def _on_edge(piece: Piece, ref: EdgeRef, level: str) -> float | None:
    """Where the level line meets an edge, mm along it; the first place from the run's start.

    Where it was marked before a dart was turned, the mark tells.
    """
    edge = piece.edge(ref.edge)
    marked = (edge.path.nearest(m.at) for m in _marks_of(piece, level) if m.at is not None)
    kept = [at for at, off in marked if off <= ON_EDGE_MM]
    if kept:
        return kept[0]
    found = _met(edge.path, piece.level(level).at, piece.up.perp)
    if not found:
        return None
    return max(found) if ref.reversed else min(found)


@lru_cache(maxsize=4096)
def _met(path: Path, at: Vec, across: Vec) -> tuple[float, ...]:
    """Return where a line meets an edge, mm along it; kept, since few pieces change."""
    return tuple(c.at_a for c in line_crossings(path, at, across))


def with_levels_kept(before: Piece, after: Piece, now: Callable[[Vec], Vec]) -> Piece:
    """Return a piece with marks where its levels met its edges before a part of it was turned.

    now: where a place of `before` is in `after`. Sewn, the garment is the same, and so is where the
    seams meet; but a level is straight, and no longer runs to those places. A place that lies on
    its level again needs no mark.
    """
    marks = [m for m in after.marks if not _is_on_its_level(after, m)]
    for level in before.levels:
        kept = [m.at for m in _marks_of(before, level.name) if m.at is not None]
        for edge in _by_name(before):
            if any(edge.path.nearest(p)[1] <= ON_EDGE_MM for p in kept):
                continue
            for met in line_crossings(edge.path, level.at, before.up.perp):
                darts = before.darts_on(edge.name)
                if any(d.a <= met.at_a <= d.b for d in darts):
                    continue
                mark = Mark(name=_free(marks), at=now(met.point), note=_note(level.name))
                if not _is_on_its_level(after, mark):
                    marks.append(mark)
    return replace(after, marks=tuple(marks))


def _by_name(piece: Piece) -> list[Edge]:
    """Return the edges but the fold: in the same order also where a piece was turned over."""
    return sorted((e for e in piece.edges if e.role is not Role.FOLD), key=lambda e: e.name)


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
