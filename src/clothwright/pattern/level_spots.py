"""Where a level line of a piece meets the seams it runs to."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.refs import EdgeRef


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
    """Where the level line meets an edge, mm along it; the first place from the run's start."""
    found = _met(piece.edge(ref.edge).path, piece.level(level).at, piece.up.perp)
    if not found:
        return None
    return max(found) if ref.reversed else min(found)


@lru_cache(maxsize=4096)
def _met(path: Path, at: Vec, across: Vec) -> tuple[float, ...]:
    """Return where a line meets an edge, mm along it; kept, since few pieces change."""
    return tuple(c.at_a for c in line_crossings(path, at, across))
