"""Bends of a line that should run fair: corners inside an edge, and where a dart is sewn shut."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.piece import Dart, Edge, Piece

CHORD_MM = 3.0
"""mm on both sides of a place over which its bend is seen: a step finer than a pencil line's width
is no corner. Our own choice."""

SAMPLED_MM = 40.0
"""mm: corners of one sense nearer to each other than this, between straight lines, are points of a
curve that was drawn point by point. Our own choice."""

LEAST_DEG = 2.0
"""degrees: a corner that no eye sees. Our own choice."""

_FINE_MM = 0.02
_FLAT_DEG = 1.0


class Bend(NamedTuple):
    """A corner in a line. at: mm along the edge; deg: positive where the piece sticks out there."""

    at: float
    deg: float


def bends_in(piece: Piece, edge: Edge) -> tuple[Bend, ...]:
    """Return the corners inside an edge, those in the mouth of a dart left out."""
    darts = piece.darts_on(edge.name)
    return tuple(
        b
        for b in _corners(edge.path)
        if not any(d.a - CHORD_MM < b.at < d.b + CHORD_MM for d in darts)
    )


def bend_at_dart(piece: Piece, dart: Dart) -> Bend | None:
    """Return how an edge bends where a dart of it is sewn shut; None at the end of the edge.

    Turned about its point until one leg lies on the other, the edge beyond the dart meets the edge
    before it: positive where the piece then sticks out, negative where it dents.
    """
    path = piece.edge(dart.edge).path
    if dart.a < CHORD_MM or path.length - dart.b < CHORD_MM:
        return None
    a, b = path.point_at(dart.a), path.point_at(dart.b)
    before, after = a - path.point_at(dart.a - CHORD_MM), path.point_at(dart.b + CHORD_MM) - b
    turn = turn_between_deg(before, after) - turn_between_deg(a - dart.point, b - dart.point)
    return Bend(dart.a, (turn + 180.0) % 360.0 - 180.0)


@lru_cache(maxsize=4096)
def _corners(path: Path) -> tuple[Bend, ...]:
    """Return the corners of a line; kept, since few pieces change."""
    segments = path.segments
    ats = list(accumulate(s.length for s in segments))[:-1]
    turns = [turn_between_deg(s.tangent(1.0), t.tangent(0.0)) for s, t in pairwise(segments)]
    seen = [
        Bend(at, _seen(path, at, turn) if abs(turn) > LEAST_DEG else 0.0)
        for at, turn in zip(ats, turns, strict=True)
    ]
    return tuple(
        b for i, b in enumerate(seen) if abs(b.deg) > LEAST_DEG and not _sampled(path, seen, i)
    )


def _seen(path: Path, at: float, turn: float) -> float:
    """Return a bend as it is seen over a few mm: none where a step goes out and comes back."""
    here = path.point_at(at)
    before = here - path.point_at(at - CHORD_MM)
    chord = turn_between_deg(before, path.point_at(at + CHORD_MM) - here)
    return min(turn, chord, key=abs) if turn * chord > 0 else 0.0


def _sampled(path: Path, seen: list[Bend], i: int) -> bool:
    """Tell whether a corner is a point of a curve drawn point by point."""
    pair = path.segments[i], path.segments[i + 1]
    if not all(isinstance(s, Line) for s in pair):
        return False
    return any(
        abs(other.at - seen[i].at) <= SAMPLED_MM
        and other.deg * seen[i].deg >= 0.5 * seen[i].deg ** 2
        for other in _beside(seen, i)
    )


def _beside(seen: list[Bend], i: int) -> Iterator[Bend]:
    yield from seen[max(0, i - 1) : i]
    yield from seen[i + 1 : i + 2]


class Wave(NamedTuple):
    """A line that turns out and back again. at: mm along it; length: of the shorter turn, mm.

    deg: by how much it turns back, without sign.
    """

    at: float
    length: float
    deg: float


def waves_in(piece: Piece, edge: Edge) -> tuple[Wave, ...]:
    """Return where an edge turns one way and soon the other, its darts left out."""
    if piece.darts_on(edge.name):
        return ()
    return _waves(edge.path)


@lru_cache(maxsize=4096)
def _waves(path: Path) -> tuple[Wave, ...]:
    arcs = _arcs(path)
    found = []
    for first, second in pairwise(arcs):
        small = min(first, second, key=lambda a: a.length)
        deg = min(abs(first.deg), abs(second.deg))
        found.append(Wave(small.at + small.length / 2, small.length, deg))
    return tuple(found)


class _Arc(NamedTuple):
    """A part of a line that turns one way only."""

    at: float
    length: float
    deg: float


def _arcs(path: Path) -> list[_Arc]:
    """Return the parts of a line that turn one way, straight parts left out."""
    if path.is_straight:
        return []
    points = path.flatten(_FINE_MM)
    legs = [q - p for p, q in pairwise(points)]
    arcs: list[_Arc] = []
    at = 0.0
    for leg, after in pairwise(legs):
        at += leg.norm
        deg, half = turn_between_deg(leg, after), (leg.norm + after.norm) / 2
        if arcs and arcs[-1].deg * deg > 0:
            last = arcs[-1]
            arcs[-1] = _Arc(last.at, at + after.norm / 2 - last.at, last.deg + deg)
        else:
            arcs.append(_Arc(at - leg.norm / 2, half, deg))
    return _joined(arcs)


def _joined(arcs: list[_Arc]) -> list[_Arc]:
    """Leave out turns too small to be seen; what they parted is one again."""
    kept: list[_Arc] = []
    for arc in arcs:
        if abs(arc.deg) < _FLAT_DEG:
            continue
        if kept and kept[-1].deg * arc.deg > 0:
            last = kept.pop()
            arc = _Arc(last.at, arc.at + arc.length - last.at, last.deg + arc.deg)  # noqa: PLW2901
        kept.append(arc)
    return kept
