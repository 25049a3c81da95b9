"""The pieces a finding speaks of, its edges and its point marked."""

from __future__ import annotations

import math
from collections.abc import Iterable

from clothwright.drawing.arrange import side_by_side
from clothwright.drawing.named import bare_picture
from clothwright.geometry.path import polyline, ring_path
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import levels_at
from clothwright.picture.picture import DrawnRole, Item, Picture, Stroke
from clothwright.words import listed, refs_name

ROW_MM = 2000.0
"""mm: pieces stand in one row up to this width."""
APART_MM = 60.0
SPOT_SHARE = 0.025
"""Radius of the ring round a point, as a share of the piece's longer side."""


def marked_picture(
    pattern: Pattern, edges: Iterable[tuple[str, str]], point: str = "", *, grain: bool = False
) -> tuple[Picture, str]:
    """Return pieces side by side with edges (piece, edge) marked, mm, and what is drawn in words.

    An edge "" is none: the piece alone. point: the name of a point of the pieces, or of a notch of
    these edges, which is ringed, or of a level, which is marked, where there is one of that name.
    grain: the grain lines are marked, too. What is not there is left out.
    """
    there = {p.name: p for p in pattern.pieces}
    known = [(piece, edge) for piece, edge in edges if piece in there]
    names = dict.fromkeys(piece for piece, _ in known)
    marked = [(p, e) for p, e in known if e]
    drawn = (_one(there[n], {e for p, e in marked if p == n}, point, grain=grain) for n in names)
    spots = [_point_words(there[n], marked, point) for n in names]
    spots = [*(("grain line",) if grain else ()), *filter(None, dict.fromkeys(spots))]
    words = refs_name(marked or known)
    if spots or marked:
        words += f"{', with ' if marked and spots else ', ' if spots else ''}{listed(spots)} marked"
    return side_by_side(drawn, widest=ROW_MM, gap=APART_MM), words


def _point_words(piece: Piece, marked: list[tuple[str, str]], point: str) -> str:
    """Say which point or level of a piece is marked; "" where it has none of that name."""
    if any(v.name == point for v in piece.levels):
        return f"{point} line"
    if not _spots(piece, {e for _, e in marked}, point):
        return ""
    return point if point in piece.points() else f'notch "{point}"'


def _spots(piece: Piece, edges: set[str], point: str) -> list[Vec]:
    """Return where a point of this name lies: a corner, a mark, a notch of the marked edges."""
    at = piece.points().get(point)
    if at is not None:
        return [at]
    own = [e for e in piece.edges if e.name in edges]
    return [e.path.point_at(n.at) for e in own for n in e.notches if point and n.name == point]


def _one(piece: Piece, edges: set[str], point: str, *, grain: bool) -> Picture:
    items: list[Item] = [
        Stroke(path=e.path, role=DrawnRole.FAULT) for e in piece.edges if e.name in edges
    ]
    if grain and piece.grain is not None:
        line = polyline((piece.grain.start, piece.grain.end))
        items.append(Stroke(path=line, role=DrawnRole.FAULT))
    lines = (levels_at(piece, v) for v in piece.levels if v.name == point)
    items += [Stroke(path=line, role=DrawnRole.FAULT) for line in lines if line is not None]
    low, high = piece.outline.bounds()
    reach = SPOT_SHARE * max(high.x - low.x, high.y - low.y)
    for at in _spots(piece, edges, point):
        items.append(Stroke(path=ring_path(_round(at, reach)), role=DrawnRole.FAULT, closed=True))
    return bare_picture(piece).plus(Picture(items=tuple(items)))


def _round(at: Vec, reach: float) -> list[tuple[float, float]]:
    turns = (k * math.tau / 24 for k in range(24))
    return [(at.x + reach * math.cos(t), at.y + reach * math.sin(t)) for t in turns]
