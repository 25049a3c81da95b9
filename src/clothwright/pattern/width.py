"""How wide a piece is where it goes round the body: at a level, or along an edge; darts folded."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import pairwise

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.piece import Dart, Edge, Piece

ALONG_MM = 15.0
"""An edge that stays this near to a level is the level's own line: the waist of a skirt."""
NEAR_MM = 3 * ALONG_MM
MOST_SLOPE = 0.5
PART = 0.25
"""Share of an edge: a part between its darts that is shorter tells nothing. Our own figure."""
CENTRES = ("centre front", "centre back")
"""Marks past which nothing counts: buttons lap there, a wrap crosses over."""


def width_at(piece: Piece, level: str, stands_open: Collection[str] = ()) -> float:
    """Return the finished width of a piece at a level in mm, darts folded out.

    Square to the grain between the stitching lines; past a mark "centre front" or "centre back"
    nothing counts. What an edge that stands open (a low neck, a front cut away) leaves bare up to
    that mark counts. Where an edge runs along the level, the edge's length. A dart counts when it
    runs more up than across: one along the level takes nothing from its girth. Raises BadInput.
    """
    at, across = piece.level(level).at, piece.up.perp * -1.0
    edge = level_edge(piece, level)
    if edge is not None:
        return width_along(piece, edge)
    inside = [
        _to_centre(piece, at, across, *ends) for ends in _bared(piece, at, across, stands_open)
    ]
    return sum(high - low for low, high in inside) - sum(
        _folded(piece, d, at, across) for d in piece.darts
    )


def width_along(piece: Piece, edge: Edge) -> float:
    """Return the length of an edge up to the marked centre, mm, darts folded out."""
    whole = net_length(piece, edge.name)
    for place in _centres(piece):
        met = [c.at_a for c in line_crossings(edge.path, place, piece.up)]
        if met:
            cut = net_at(piece, edge.name, met[0])
            return max(cut, whole - cut)
    return whole


def level_edge(piece: Piece, level: str) -> Edge | None:
    """Return the edge that is the level's own line, if there is one.

    It lies near the level, or a part of it does between its darts: what lies beyond a dart turns
    with it, and lies there again once the dart is sewn.
    """
    at, up, across = piece.level(level).at, piece.up, piece.up.perp * -1.0
    for edge in piece.edges:
        chord = edge.path.end - edge.path.start
        if abs(up.dot(chord)) > MOST_SLOPE * abs(across.dot(chord)):
            continue
        near = any(
            all(abs(up.dot(p - at)) <= ALONG_MM for p in part) for part in _parts(piece, edge)
        )
        if near and abs(across.dot(chord)) > 0.6 * _span(piece.outline, at, across):
            return edge
    return None


def _parts(piece: Piece, edge: Edge) -> Iterator[tuple[Vec, ...]]:
    """Yield places along a whole edge, then along each larger part between its darts."""
    ends = sorted((0.0, edge.length, *(x for d in piece.darts_on(edge.name) for x in (d.a, d.b))))
    stretches = zip(ends[::2], ends[1::2], strict=True)
    for low, high in ((0.0, edge.length), *stretches):
        if high - low >= PART * edge.length:
            yield tuple(edge.path.point_at(low + (high - low) * k / 8) for k in range(9))


def _span(path: Path, at: Vec, across: Vec) -> float:
    """Return how far an outline reaches across near a level, mm."""
    points = [s.point(t / 4) - at for s in path.segments for t in range(5)]
    points += [c.point - at for c in line_crossings(path, at, across)]
    xs = [across.dot(p) for p in points if abs(across.cross(p)) <= NEAR_MM]
    return max(xs, default=0.0) - min(xs, default=0.0)


def _inside(piece: Piece, at: Vec, across: Vec) -> Iterator[tuple[float, float]]:
    """Return the stretches of a level's line that lie in the piece: mm from `at`."""
    outline, up = piece.outline, across.perp
    hits = sorted(c.at_b for c in line_crossings(outline, at, across))
    for low, high in pairwise(hits):
        if high - low < 0.1:
            continue
        middle = at + across * ((low + high) / 2)
        above = sum(c.at_b > 0 for c in line_crossings(outline, middle, up))
        if above % 2:
            yield low, high


def _centres(piece: Piece) -> Iterator[Vec]:
    """Yield a place on each centre line that is marked on a piece which is not cut on the fold."""
    for mark in piece.marks if piece.fold is None else ():
        points = [] if mark.at is None else [mark.at]
        points += [] if mark.path is None else [mark.path.start, mark.path.end]
        if mark.name in CENTRES and points:
            yield sum(points[1:], points[0]) * (1 / len(points))


def _to_centre(piece: Piece, at: Vec, across: Vec, low: float, high: float) -> tuple[float, float]:
    """Return a stretch cut off at the centre line, where the piece has one inside it."""
    for place in _centres(piece):
        x = across.dot(place - at)
        if low < x < high:
            low, high = (x, high) if high - x > x - low else (low, x)
    return low, high


def _bared(
    piece: Piece, at: Vec, across: Vec, stands_open: Collection[str]
) -> list[tuple[float, float]]:
    """Return the stretches of a level's line, drawn out to the centre over an edge that is open."""
    inside = list(_inside(piece, at, across))
    met = [(c.at_b, e.name) for e in piece.edges for c in line_crossings(e.path, at, across)]
    for x in (across.dot(place - at) for place in _centres(piece) if inside):
        if x < inside[0][0] and min(met)[1] in stands_open:
            inside[0] = x, inside[0][1]
        elif x > inside[-1][1] and max(met)[1] in stands_open:
            inside[-1] = inside[-1][0], x
    return inside


def _folded(piece: Piece, dart: Dart, at: Vec, across: Vec) -> float:
    """Return how much of a level's line lies in a dart, mm; 0 for a dart that lies along it."""
    up = across.perp
    path = piece.edge(dart.edge).path
    legs = [path.point_at(dart.a), path.point_at(dart.b)]
    axis = dart.point - (legs[0] + legs[1]) * 0.5
    if abs(up.dot(axis)) <= abs(across.dot(axis)):
        return 0.0
    found = []
    for leg in legs:
        low, high = up.dot(leg - at), up.dot(dart.point - at)
        if low * high < 0:
            found.append(across.dot(leg + (dart.point - leg) * (low / (low - high)) - at))
    return abs(found[0] - found[1]) if len(found) == 2 else 0.0
