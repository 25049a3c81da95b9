"""A path: a chain of segments measured by arc length from its start."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwright.geometry.box import Box, box_round
from clothwright.geometry.pairs import extreme_ts, nearest_t
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.tolerance import JOIN_MM, SAGITTA_MM
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec


@dataclass(frozen=True, slots=True)
class Path:
    """Segments joined end to end (at least one). Distances along it are arc lengths in mm.

    Where two neighbours meet within `tolerance.JOIN_MM`, the second is made to begin where the
    first ends. Raises ValueError when they are farther apart.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        """Check that the chain is whole, and close what is within rounding."""
        if not self.segments:
            raise ValueError("a path needs at least one segment")
        if any(a.end != b.start for a, b in pairwise(self.segments)):
            object.__setattr__(self, "segments", _chained(self.segments))

    @property
    def start(self) -> Vec:
        """First point."""
        return self.segments[0].start

    @property
    def end(self) -> Vec:
        """Last point."""
        return self.segments[-1].end

    @property
    def ends(self) -> tuple[Vec, Vec]:
        """First and last point."""
        return self.start, self.end

    @property
    def middle(self) -> Vec:
        """The point half-way along it."""
        return self.point_at(self.length / 2)

    @property
    def length(self) -> float:
        """Arc length in mm."""
        return sum(s.length for s in self.segments)

    @property
    def is_straight(self) -> bool:
        """True when every control point lies within 0.001 mm of the line from start to end.

        A path that ends where it starts is not straight.
        """
        points = [p for s in self.segments for p in s.controls()]
        axis = (self.end - self.start).unit
        if axis.x == 0.0 and axis.y == 0.0:
            return False
        return all(abs(axis.cross(p - self.start)) < 1e-3 for p in points)

    def locate(self, at: float) -> tuple[int, float]:
        """Return (index of segment, parameter t) at `at` mm from the start, clamped to the path."""
        rest = max(0.0, at)
        for i, segment in enumerate(self.segments):
            length = segment.length
            if rest <= length or i == len(self.segments) - 1:
                return i, segment.t_at(rest)
            rest -= length
        raise AssertionError("unreachable")

    def point_at(self, at: float) -> Vec:
        """Return the point at `at` mm from the start (clamped)."""
        i, t = self.locate(at)
        return self.segments[i].point(t)

    def tangent_at(self, at: float) -> Vec:
        """Return the direction of travel, length 1, at `at` mm from the start (clamped)."""
        i, t = self.locate(at)
        return self.segments[i].tangent(t)

    @property
    def start_tangent(self) -> Vec:
        """Direction of travel at the start."""
        return self.segments[0].tangent(0.0)

    @property
    def end_tangent(self) -> Vec:
        """Direction of travel at the end."""
        return self.segments[-1].tangent(1.0)

    def split_at(self, at: float) -> tuple[Path, Path]:
        """Split exactly at `at` mm; both parts must be longer than 0. Raises ValueError."""
        if not 0 < at < self.length:
            raise ValueError(f"cannot split a path of {self.length:.3f} mm at {at:.3f} mm")
        i, t = self.locate(at)
        before, after = list(self.segments[:i]), list(self.segments[i + 1 :])
        segment = self.segments[i]
        along = segment.length_to(t)
        if along <= JOIN_MM and before:
            return Path(tuple(before)), Path((segment, *after))
        if segment.length - along <= JOIN_MM and after:
            return Path((*before, segment)), Path(tuple(after))
        first, second = segment.split(t)
        return Path((*before, first)), Path((second, *after))

    def between(self, at0: float, at1: float) -> Path:
        """Return the part from at0 to at1 mm (at0 < at1, clamped). Raises ValueError."""
        whole = self.length
        at0, at1 = max(0.0, at0), min(whole, at1)
        if at1 - at0 <= 0:
            raise ValueError(f"an empty part of a path was asked for ({at0:.3f} to {at1:.3f} mm)")
        part = self
        if at1 < whole - 1e-9:
            part = part.split_at(at1)[0]
        if at0 > 1e-9:
            part = part.split_at(at0)[1]
        return part

    def onward(self, at0: float, at1: float) -> Path:
        """Return the part of a closed path from at0 on to at1 mm, over its start if need be.

        Both lie within its length; where they are the same, all the way round. Raises ValueError.
        """
        if at1 > at0:
            return self.between(at0, at1)
        ways = ((at0, self.length), (0.0, at1))
        return join_all([self.between(a, b) for a, b in ways if b - a > 1e-6])

    def split_many(self, ats: Sequence[float]) -> tuple[Path, ...]:
        """Split at several increasing distances in mm; returns len(ats) + 1 parts."""
        cuts = [0.0, *ats, self.length]
        return tuple(self.between(a, b) for a, b in pairwise(cuts))

    def reversed(self) -> Path:
        """Return the same path travelled the other way."""
        return Path(tuple(s.reversed() for s in reversed(self.segments)))

    def transformed(self, move: Transform) -> Path:
        """Return the moved path."""
        return Path(tuple(s.transformed(move) for s in self.segments))

    def joined(self, other: Path) -> Path:
        """Return this path followed by `other`, which must start where this ends."""
        return Path(self.segments + other.segments)

    def with_ends(self, start: Vec | None = None, end: Vec | None = None) -> Path:
        """Return the path with its first or last point moved, handles carried along."""
        segments = list(self.segments)
        if start is not None:
            segments[0] = _move_start(segments[0], start)
        if end is not None:
            segments[-1] = _move_start(segments[-1].reversed(), end).reversed()
        return Path(tuple(segments))

    def flatten(self, sagitta: float = SAGITTA_MM) -> tuple[Vec, ...]:
        """Return points from start to end whose chords stay within `sagitta` mm of the path."""
        points = [self.start]
        for segment in self.segments:
            points.extend(segment.flatten(sagitta))
        return tuple(points)

    def bounds(self) -> Box:
        """Return the box that just holds the path."""
        points = [self.start]
        for segment in self.segments:
            points.append(segment.end)
            points.extend(segment.point(t) for t in extreme_ts(segment))
        return box_round(points)

    def nearest(self, p: tuple[float, float]) -> tuple[float, float]:
        """Return (distance along the path, distance from it) of its point nearest to p, mm."""
        best_at, best_d, run = 0.0, float("inf"), 0.0
        at_most = min(segment.end.distance(p) for segment in self.segments)
        for segment in self.segments:
            if _may_reach(segment, p, min(best_d, at_most)):
                t = nearest_t(segment, p)
                d = segment.point(t).distance(p)
                if d < best_d:
                    best_at, best_d = run + segment.length_to(t), d
            run += segment.length
        return best_at, best_d


def _may_reach(segment: Segment, p: tuple[float, float], distance: float) -> bool:
    """False where even the box of the points that hold the segment is farther than this, mm."""
    xs, ys = zip(*segment.controls(), strict=True)
    dx = max(min(xs) - p[0], p[0] - max(xs), 0.0)
    dy = max(min(ys) - p[1], p[1] - max(ys), 0.0)
    return not math.hypot(dx, dy) > distance * (1.0 + 1e-9) + 1e-9


def _chained(segments: Sequence[Segment]) -> tuple[Segment, ...]:
    """Return segments of which each begins where the one before ends. Raises ValueError."""
    out = [segments[0]]
    for i, segment in enumerate(segments[1:], start=1):
        gap = out[-1].end.distance(segment.start)
        if gap > JOIN_MM:
            raise ValueError(f"segments {i - 1} and {i} of a path are {gap:.4f} mm apart")
        out.append(_move_start(segment, out[-1].end))
    return tuple(out)


def _move_start(segment: Segment, to: Vec) -> Segment:
    if isinstance(segment, Line):
        return Line(to, segment.p1)
    by = to - segment.p0
    return Cubic(to, segment.p1 + by, segment.p2, segment.p3)


def polyline(points: Iterable[tuple[float, float]]) -> Path:
    """Return the open path of straight lines through the points (at least two, mm)."""
    vs = [Vec(*p) for p in points]
    return Path(tuple(Line(a, b) for a, b in pairwise(vs)))


def ring_path(points: Sequence[tuple[float, float]]) -> Path:
    """Return the closed path of a ring (mm) whose first point is not said twice."""
    return polyline((*points, points[0]))


def ring(path: Path) -> list[tuple[float, float]]:
    """Return a closed path as a polygon within 0.1 mm, its first point not repeated."""
    points = [(p.x, p.y) for p in path.flatten(0.1)]
    return points[:-1] if Vec(*points[0]).distance(points[-1]) < 1e-6 else points


def rectangle(low: tuple[float, float], high: tuple[float, float]) -> Path:
    """Return a closed path round a rectangle, counter-clockwise from its lower left corner (mm).

    low, high: any two corners that lie across from each other.
    """
    (x0, x1), (y0, y1) = sorted((low[0], high[0])), sorted((low[1], high[1]))
    return ring_path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


def join_all(paths: Sequence[Path]) -> Path:
    """Return one path from several that follow each other."""
    return Path(tuple(s for p in paths for s in p.segments))
