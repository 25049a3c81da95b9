"""One part of a piece: a run of its outline closed by a line, with what lies on the part.

What changes that divide a piece, or draft one piece on another, share. All lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from clothwright.changes.slash import is_inside
from clothwright.geometry.intersect import crossings, line_crossings
from clothwright.geometry.path import Path, ring_path
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Cut, Edge, Grain, Join, Level, Mark, Piece

CORNER_MM = 0.5
"""mm: a line that ends nearer than this to a corner ends in the corner."""
SHORTEST_MM = 20.0
"""mm: a seam shorter than this is none; a grain line shorter than this is drawn anew."""


class OutlinePlace(NamedTuple):
    """A place on a piece's outline: mm from the start of an edge."""

    edge: str
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """The run of an outline from one place on to another, counter-clockwise, closed by an edge.

    closing: the new edge, along any line from `last` back to `first`.
    """

    name: str
    first: OutlinePlace
    last: OutlinePlace
    closing: Edge


def cut_out(piece: Piece, part: CutPart) -> Piece:
    """Return a part of a piece, with its share of notches, darts, grain, levels and marks.

    Darts that do not open on the run as a whole are left out. A part that no longer touches the
    fold is cut as a pair.
    """
    runs = tuple(_runs(piece, part.first, part.last))
    edges = [stretch_of(piece.edge(r.edge), r.start, r.end) for r in runs]
    start, end = part.closing.path.ends
    edges[0] = replace(edges[0], path=edges[0].path.with_ends(start=end))
    edges[-1] = replace(edges[-1], path=edges[-1].path.with_ends(end=start))
    corner = next((e.corner for e in piece.edges if e.path.start.is_near(start, CORNER_MM)), "")
    edges.append(replace(part.closing, corner=corner))
    darts = tuple(
        replace(d, a=d.a - r.start, b=d.b - r.start)
        for r in runs
        for d in piece.darts_on(r.edge)
        if r.start - CORNER_MM <= d.a and d.b <= r.end + CORNER_MM
    )
    bare = replace(piece, name=part.name, edges=tuple(edges), darts=darts)
    if piece.fold is not None and bare.fold is None:
        bare = replace(bare, cuts=tuple(off_fold(c) for c in piece.cuts))
    return with_inside_of(bare, piece, part.closing.path)


def with_inside_of(part: Piece, piece: Piece, line: Path) -> Piece:
    """Return a part with the grain, levels and marks of a piece that lie on it.

    line: what parts them; a marked line that crosses it is cut there.
    """
    outline = part.outline.flatten(0.5)
    return replace(
        part,
        grain=_grain(piece, outline),
        levels=tuple(_levels(piece, part)),
        marks=tuple(_marks(piece, line, outline)),
    )


def off_fold(cut: Cut) -> Cut:
    """Return how to cut what is no longer on a fold."""
    return replace(cut, how="pair") if cut.how == "fold" else cut


class _Run(NamedTuple):
    edge: str
    start: float
    end: float


def _runs(piece: Piece, first: OutlinePlace, last: OutlinePlace) -> Iterator[_Run]:
    """Yield the stretches of the outline from one place on to another."""
    n, i = len(piece.edges), piece.index(first.edge)
    more = (piece.index(last.edge) - i) % n
    more = n if more == 0 and last.at <= first.at else more
    for k in range(more + 1):
        edge = piece.edges[(i + k) % n]
        low = first.at if k == 0 else 0.0
        high = last.at if k == more else edge.length
        if high - low > CORNER_MM:
            yield _Run(edge.name, low, high)


def stretch_of(edge: Edge, start: float, end: float) -> Edge:
    """Return a part of an edge (mm); a notch that the new line meets is gone, that marks it."""
    if start <= CORNER_MM and end >= edge.length - CORNER_MM:
        return edge
    low = start + CORNER_MM if start > CORNER_MM else -1.0
    high = end - CORNER_MM if end < edge.length - CORNER_MM else edge.length + 1.0
    notches = tuple(
        replace(n, at=max(n.at - start, 0.0)) for n in edge.notches if low < n.at < high
    )
    out = replace(edge, path=edge.path.between(start, end), notches=notches)
    return out if start <= CORNER_MM else replace(out, corner="", join=Join.EXTENDED)


def _grain(piece: Piece, outline: tuple[Vec, ...]) -> Grain | None:
    """Return the part's share of the grain line; a part without any gets a copy in its middle."""
    grain = piece.grain
    if grain is None:
        return None
    up = grain.direction
    for at in (grain.start.lerp(grain.end, 0.5), grain.start, grain.end):
        span = _inside(outline, at, up)
        if span is None or not is_inside(outline, at):
            continue
        low = max(span[0], up.dot(grain.start - at))
        high = min(span[1], up.dot(grain.end - at))
        if high - low >= SHORTEST_MM:
            return Grain(start=at + up * low, end=at + up * high)
    return _longest(outline, up)


def _longest(outline: tuple[Vec, ...], up: Vec) -> Grain | None:
    """Return a grain line where a piece (corners, mm) is highest, rather in its middle."""
    across, ring = -up.perp, ring_path(outline)
    left, right = (f(across.dot(c) for c in outline) for f in (min, max))
    best, found = 0.0, None
    for k in (5, 4, 6, 3, 7, 2, 8, 1, 9):
        base = across * (left + (right - left) * k / 10)
        for a, b in pairwise(sorted(c.at_b for c in line_crossings(ring, base, up))):
            middle, worth = base + up * ((a + b) / 2), (b - a) * (1 - 0.05 * abs(k - 5))
            if worth > best + 0.01 and is_inside(outline, middle):
                half = up * (0.35 * (b - a))
                best, found = worth, Grain(start=middle - half, end=middle + half)
    return found


def _inside(outline: tuple[Vec, ...], at: Vec, up: Vec) -> tuple[float, float] | None:
    """Return how far below and above a point the line through it stays inside, less a little."""
    ring = ring_path(outline)
    runs = [c.at_b for c in line_crossings(ring, at, up)]
    below, above = [r for r in runs if r <= 0], [r for r in runs if r >= 0]
    if not below or not above:
        return None
    low, high = max(below), min(above)
    room = 0.1 * (high - low)
    return low + room, high - room


def _levels(piece: Piece, part: Piece) -> Iterator[Level]:
    for level in piece.levels:
        if len(line_crossings(part.outline, level.at, piece.up.perp)) > 1:
            yield level


def _holds(outline: tuple[Vec, ...], at: Vec) -> bool:
    """Tell whether a place lies in a part or on its line."""
    return is_inside(outline, at) or ring_path(outline).nearest(at)[1] < JOIN_MM


def _marks(piece: Piece, line: Path, outline: tuple[Vec, ...]) -> Iterator[Mark]:
    """Yield the marks that lie on a part; a line mark that crosses the new line is cut there."""
    for mark in piece.marks:
        if mark.path is None:
            if mark.at is not None and _holds(outline, mark.at):
                yield mark
            continue
        cuts = [
            c.at_a
            for c in crossings(mark.path, line)
            if CORNER_MM < c.at_a < mark.path.length - CORNER_MM
        ]
        for path in mark.path.split_many(sorted(cuts)):
            if _holds(outline, path.point_at(path.length / 2)):
                yield replace(mark, path=path)
                break
