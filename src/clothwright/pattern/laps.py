"""Laps: what a band has beyond the edge that is sewn, and a front beyond its marked centre."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.pattern.beside import STRAIGHT_ON_DEG
from clothwright.pattern.buttons import SMALLEST_MM, least_stand
from clothwright.pattern.measure import corner_angle_deg
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.together import kind_of

BANDS = ("cuff", "band", "waistband")
"""Words that name what closes round the body by a lap (trade words)."""
LEANS_DEG = 3.0
"""An edge that leans from the centre by more is meant to. Our own figure."""
BESIDE_MM = 120.0
"""mm: no farther from its centre line does a lap reach, a double-breasted one neither. Ours."""
LEAST_MM = 2 * least_stand(SMALLEST_MM)
"""mm: a lap that holds the smallest button with its stand on both sides, 7/8 in."""


class Lap(NamedTuple):
    """What a band has beyond the edge that is sewn: its edges, and how long they are, mm."""

    piece: Piece
    edges: tuple[Edge, ...]

    @property
    def length(self) -> float:
        """How long it is in all, mm: one end laps under, the other may lap over."""
        return sum(e.length for e in self.edges)


def laps(pattern: Pattern) -> Iterator[Lap]:
    """Yield the lap of each band that has one: an edge of no seam, straight on from a sewn one."""
    for piece in pattern.pieces:
        if not (is_band_named(piece) or kind_of(pattern, piece) == "waistband"):
            continue
        edges = tuple(e for e in piece.edges if _runs_on(pattern, piece, e))
        if edges:
            yield Lap(piece, edges)


class CentreLap(NamedTuple):
    """What a piece has beyond a centre that is marked on it, up to a straight edge.

    high, low: how far the edge lies from the line at its upper and its lower end, mm; upper, lower:
    the numbers of those corners.
    """

    piece: Piece
    edge: Edge
    centre: str
    high: float
    low: float
    upper: int
    lower: int


def centre_laps(pattern: Pattern) -> Iterator[CentreLap]:
    """Yield each straight, unsewn edge that runs along a marked centre, beside it.

    One that leans by more than `LEANS_DEG` is cut slanting, as the front of a wrap is.
    """
    for piece in pattern.pieces:
        for mark in piece.marks:
            line = mark.path
            if line is None or not line.is_straight or "centre" not in mark.name.lower().split():
                continue
            for edge in piece.edges:
                if _is_beside(pattern, piece, edge, line):
                    yield _centre_lap(piece, edge, mark.name, line)


def _is_beside(pattern: Pattern, piece: Piece, edge: Edge, line: Path) -> bool:
    way, along = (line.end - line.start).unit, edge.path.end - edge.path.start
    if edge.role is Role.FOLD or not edge.path.is_straight or edge.length < line.length / 2:
        return False
    leans = math.degrees(math.atan2(abs(way.cross(along)), abs(way.dot(along))))
    sewn = any(s.kind in ("plain", "cap") for s in pattern.seams_of(piece.name, edge.name))
    apart = [abs(way.cross(p - line.start)) for p in edge.path.ends]
    return leans <= LEANS_DEG and not sewn and max(apart) <= BESIDE_MM


def _centre_lap(piece: Piece, edge: Edge, centre: str, line: Path) -> CentreLap:
    way = (line.end - line.start).unit
    first = piece.index(edge.name)
    ends = [
        (piece.up.dot(p), abs(way.cross(p - line.start)), corner)
        for p, corner in zip(edge.path.ends, (first, (first + 1) % len(piece.edges)), strict=True)
    ]
    (_, low, lower), (_, high, upper) = sorted(ends)
    return CentreLap(piece, edge, centre, high, low, upper, lower)


def is_band_named(piece: Piece) -> bool:
    """Tell whether a piece is called a band or a cuff."""
    return any(word in BANDS for word in piece.name.lower().split())


def _runs_on(pattern: Pattern, piece: Piece, edge: Edge) -> bool:
    """Tell whether an edge of no seam goes straight on from one that is sewn."""
    if edge.role is not Role.SEAM or pattern.seams_of(piece.name, edge.name):
        return False
    i = piece.index(edge.name)
    before, after = piece.neighbours(edge.name)
    beside = ((before, i), (after, (i + 1) % len(piece.edges)))
    return any(
        bool(pattern.seams_of(piece.name, other.name))
        and abs(corner_angle_deg(piece, corner) - 180.0) < STRAIGHT_ON_DEG
        for other, corner in beside
    )
