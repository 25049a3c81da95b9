"""How an edge rises and falls against a straight line square to the grain, such as a border."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Edge, Piece, Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Rise:
    """Heights of an edge in mm, up the body, above a line.

    centre: its end at the fold or centre, else half way along it (`halfway`). start, end: its
    ends; sides: those away from the centre (their mean, where it has two). low, high: its lowest
    and highest place. below_chord, above_chord: how far it falls below and rises above the
    straight line from end to end, both counted positive.
    """

    centre: float
    halfway: float
    start: float
    end: float
    sides: float
    low: float
    high: float
    below_chord: float
    above_chord: float

    @property
    def best(self) -> float:
        """The height of the line that the edge leaves least: as far below it as above, mm."""
        return (self.low + self.high) / 2

    def above(self, line: float) -> Rise:
        """Return the heights above another line, that lies `line` mm above this one."""
        return Rise(
            centre=self.centre - line,
            halfway=self.halfway - line,
            start=self.start - line,
            end=self.end - line,
            sides=self.sides - line,
            low=self.low - line,
            high=self.high - line,
            below_chord=self.below_chord,
            above_chord=self.above_chord,
        )

    @property
    def total(self) -> float:
        """From its lowest to its highest place, mm."""
        return self.high - self.low

    @property
    def bow(self) -> float:
        """How far it leaves the straight line from end to end at most, mm."""
        return max(self.below_chord, self.above_chord)


def beside(piece: Piece, edge: Edge, end: str) -> Edge:
    """Return the edge that meets another at its "start" or "end"."""
    return piece.neighbours(edge.name)[end == "end"]


def centre_of(piece: Piece, edge: Edge) -> str:
    """Return which end of an edge lies at the fold or centre, "start" or "end"; "" for neither."""
    found = (
        end
        for role in (Role.FOLD, Role.CENTRE)
        for end in ("start", "end")
        if beside(piece, edge, end).role is role
    )
    return next(found, "")


def centre_words(piece: Piece, edge: Edge) -> str:
    """Return what the centre of an edge is called: "the fold", "the centre" or "its middle"."""
    end = centre_of(piece, edge)
    if not end:
        return "its middle"
    return "the fold" if beside(piece, edge, end).role is Role.FOLD else "the centre"


def centre_point(piece: Piece, edge: Edge) -> Vec:
    """Return the end of an edge at the fold or centre, else the place half way along it."""
    end = centre_of(piece, edge)
    if not end:
        return edge.path.point_at(edge.length / 2)
    return edge.path.start if end == "start" else edge.path.end


def inward(piece: Piece, edge: Edge) -> Vec:
    """Return the direction in which a border that lies along an edge goes into the piece, length 1.

    Up the body for an edge that runs round it, such as a hem; from an edge that runs up the body,
    such as a front edge, square to the grain into the piece.
    """
    along = edge.path.end - edge.path.start
    if abs(piece.up.dot(along)) <= abs(piece.up.cross(along)):
        return piece.up
    side = piece.up.perp
    return side if side.dot(along.perp) > 0 else -side


def rise_of(piece: Piece, edge: Edge) -> Rise:
    """Return how an edge rises and falls (`inward`), above the line through its centre."""
    up, zero = inward(piece, edge), centre_point(piece, edge)
    return rise_seen(piece, edge, lambda p: up.dot(p - zero))


def rise_seen(piece: Piece, edge: Edge, height: Callable[[Vec], float]) -> Rise:
    """Return how an edge rises and falls. height: of a point of the piece above the line, mm."""
    points = tuple(edge.path.flatten())
    heights = [height(p) for p in points]
    chord = points[-1] - points[0]
    share = [chord.dot(p - points[0]) / (chord.dot(chord) or 1.0) for p in points]
    bowed = [
        h - heights[0] - t * (heights[-1] - heights[0]) for h, t in zip(heights, share, strict=True)
    ]
    centre = centre_of(piece, edge)
    ends = [h for h, end in ((heights[0], "start"), (heights[-1], "end")) if end != centre]
    return Rise(
        centre=height(centre_point(piece, edge)),
        halfway=height(edge.path.point_at(edge.length / 2)),
        start=heights[0],
        end=heights[-1],
        sides=sum(ends) / len(ends),
        low=min(heights),
        high=max(heights),
        below_chord=max(0.0, -min(bowed)),
        above_chord=max(0.0, *bowed),
    )
