"""A piece made longer or shorter part by part along one direction: a band between its notches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.buttons import is_hole
from clothwright.pattern.piece import Edge, Mark, Piece

END = 1e-9
"""A parameter this near to a cubic's end is its end."""


class PartsShifted(NamedTuple):
    """Every place x mm along a direction goes where `to` says, in equal shares between `knots`.

    start, along: from where and which way x is counted. Beyond the knots all is only shifted.
    """

    start: Vec
    along: Vec
    knots: tuple[float, ...]
    to: tuple[float, ...]

    def x(self, p: Vec) -> float:
        """Return how far along a point lies, mm."""
        return self.along.dot(p - self.start)

    def shift(self, x: float) -> float:
        """Return by how much a place is shifted along, mm."""
        held = min(max(x, self.knots[0]), self.knots[-1])
        return float(np.interp(held, self.knots, self.to)) - held

    def point(self, p: Vec) -> Vec:
        """Return where a point goes."""
        return p + self.along * self.shift(self.x(p))

    def path(self, path: Path) -> Path:
        """Return a path stretched: straight lines stay straight, curves are exact affine images."""
        return Path(tuple(s for segment in path.segments for s in self._segments(segment)))

    def _segments(self, s: Segment) -> Sequence[Segment]:
        if isinstance(s, Line):
            return (Line(self.point(s.p0), self.point(s.p1)),)
        found, rest, done = [], s, 0.0
        for t in (*_met(self, s), 1.0):
            part, rest = rest.split((t - done) / (1.0 - done)) if t < 1.0 else (rest, rest)
            found.append(self._affine(part))
            done = t
        return found

    def _affine(self, s: Cubic) -> Cubic:
        """Return a curve that lies between two knots, carried by what holds there."""
        p0, p3 = self.point(s.p0), self.point(s.p3)
        x, slope = self.x(s.point(0.5)), 0.0
        for i in range(len(self.knots) - 1):
            if self.knots[i] <= x <= self.knots[i + 1]:
                slope = (self.to[i + 1] - self.to[i]) / (self.knots[i + 1] - self.knots[i]) - 1.0

        def moved(p: Vec, end: Vec, to: Vec) -> Vec:
            way = p - end
            return to + way + self.along * (slope * self.along.dot(way))

        return Cubic(p0, moved(s.p1, s.p0, p0), moved(s.p2, s.p3, p3), p3)


def stretched(piece: Piece, by: PartsShifted) -> Piece:
    """Return a piece without darts with all that lies on it carried along; its grain is shifted."""
    grain = piece.grain
    if grain is not None:
        shift = by.along * by.shift(by.x(grain.start.lerp(grain.end, 0.5)))
        grain = replace(grain, start=grain.start + shift, end=grain.end + shift)
    return replace(
        piece,
        edges=tuple(_edge(e, by) for e in piece.edges),
        levels=tuple(replace(level, at=by.point(level.at)) for level in piece.levels),
        marks=tuple(_mark(m, by) for m in piece.marks),
        grain=grain,
    )


def _met(by: PartsShifted, s: Cubic) -> list[float]:
    """Return the parameters at which a curve lies on a knot, in order."""
    a, b, c, d = (by.x(p) for p in s.controls())
    cubic = (d - 3 * c + 3 * b - a, 3 * (c - 2 * b + a), 3 * (b - a))
    found = [t for knot in by.knots for t in np.roots((*cubic, a - knot))]
    return sorted(float(t.real) for t in found if abs(t.imag) < END < t.real < 1 - END)


def _edge(edge: Edge, by: PartsShifted) -> Edge:
    path = by.path(edge.path)
    at = (path.nearest(by.point(edge.path.point_at(n.at)))[0] for n in edge.notches)
    notches = (replace(n, at=a) for n, a in zip(edge.notches, at, strict=True))
    return replace(edge, path=path).with_notches(notches)


def _mark(mark: Mark, by: PartsShifted) -> Mark:
    """Return a mark carried along; a buttonhole stays as long as it is."""
    at = mark.at and by.point(mark.at)
    if mark.path is None or not is_hole(mark):
        return replace(mark, at=at, path=mark.path and by.path(mark.path))
    shift = translation(by.along * by.shift(by.x(mark.path.middle)))
    return replace(mark, at=at, path=mark.path.transformed(shift))
