"""Where a garment opens: the line of its left and its right piece that lies on itself when closed.

With a button stand that is the centre line, without one the edge (common practice).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.pattern.parts import (
    ON_LINE_MM,
    along_grain,
    centre_line,
    facing_names,
    front_or_back,
    is_pair,
    sleeve_names,
)
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role

MOST_STAND = 0.4
"""Share of a piece's width that may lie beyond its centre line: more is no stand. Our own choice;
a double-breasted front has about a quarter there."""
LAPS = ("closure", "facing")
"""Kinds of seam that leave an edge open to be closed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """A piece cut as a pair that opens. name: of the line in her words, of no other line or seam.

    line: of the piece as drawn, from its lower end up, from one edge of the piece to another.
    """

    name: str
    piece: Piece
    line: Path


def closings(pattern: Pattern) -> tuple[Closing, ...]:
    """Return where the garments of a pattern open.

    A front or a back that is cut as a pair and not sewn to its own twin opens on its centre line,
    else on the row of its buttons, else on its only straight edge that is sewn to no other piece.
    """
    inside = {*facing_names(pattern), *sleeve_names(pattern)}
    found = [
        closing
        for piece in pattern.pieces
        if piece.name not in inside and (closing := _closing(pattern, piece))
    ]
    taken = Counter((*(c.name for c in found), *(s.name for s in _others(pattern, found))))
    return tuple(
        replace(c, name=f"{c.name} of {c.piece.name}") if taken[c.name] > 1 else c for c in found
    )


def closes(seam: Seam, piece: Piece) -> bool:
    """Tell whether a seam closes the left and the right one of a piece."""
    return seam.kind == "closure" and seam.pieces == {piece.name}


def _closing(pattern: Pattern, piece: Piece) -> Closing | None:
    view = front_or_back(piece)
    if not view or not is_pair(piece) or any(_is_twin(s, piece) for s in pattern.seams):
        return None
    line = centre_line(pattern, piece) or _open_edge(pattern, piece)
    if line is None or _stand(piece, line) > MOST_STAND:
        return None
    own = next((s.name for s in pattern.seams if closes(s, piece)), "")
    return Closing(name=own or f"centre {view}", piece=piece, line=_across(piece, line))


def _is_twin(seam: Seam, piece: Piece) -> bool:
    """Tell whether a seam sews the two of a pair together."""
    return seam.kind == "plain" and seam.pieces == {piece.name}


def _others(pattern: Pattern, found: Sequence[Closing]) -> Iterator[Seam]:
    return (s for s in pattern.seams if not any(closes(s, c.piece) for c in found))


def _open_edge(pattern: Pattern, piece: Piece) -> Path | None:
    """Return the only straight edge that no seam joins to another piece, None for none or more."""
    sewn = [
        {r.edge for r in s.refs if r.piece == piece.name}
        for s in pattern.seams
        if s.kind not in LAPS
    ]
    joined = set[str]().union(*sewn)
    free = [
        e.path
        for e in piece.edges
        if e.name not in joined and _may_open(e) and along_grain(piece, e.path)
    ]
    return free[0] if joined and len(free) == 1 else None


def _may_open(edge: Edge) -> bool:
    return edge.role not in (Role.HEM, Role.FOLD) and edge.path.is_straight


def _stand(piece: Piece, line: Path) -> float:
    """Return the share of a piece's width that lies beyond a line along its grain, 0 to 0.5."""
    up, path = piece.up, piece.outline
    off = [up.cross(p - line.start) for p in path.flatten(1.0)]
    wide = max(off) - min(off)
    return min(max(0.0, *off), max(0.0, -min(off))) / wide


def _across(piece: Piece, line: Path) -> Path:
    """Return a line along the grain, from its lower end up, run on to the piece's own edges."""
    up = piece.up
    middle = (line.start + line.end) * 0.5
    at = [c.at_b for c in line_crossings(piece.outline, middle, up)]
    low = max((b for b in at if b < -ON_LINE_MM), default=up.dot(line.start - middle))
    high = min((b for b in at if b > ON_LINE_MM), default=up.dot(line.end - middle))
    return polyline((middle + up * low, middle + up * high))
