"""Where paths and lines cross, in mm along each of them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from clothwright.geometry.pairs import box, boxes_apart, loop_of, segment_pairs
from clothwright.geometry.path import Path
from clothwright.geometry.roots import bernstein_roots
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.turning import turning_spans
from clothwright.geometry.vec import Vec


class Crossing(NamedTuple):
    """One common point: mm along the first path, mm along the second, and the point itself."""

    at_a: float
    at_b: float
    point: Vec


def crossings(a: Path, b: Path, *, tol: float = JOIN_MM) -> tuple[Crossing, ...]:
    """Return every point where two paths cross or touch within `tol` mm, in order along a.

    A point at a joint of segments counts once, at the start of a closed path as 0 mm. Where the
    paths run along each other, the two ends of the common stretch are returned.

    >>> from clothwright.geometry.path import polyline
    >>> crossings(polyline([(0, 0), (10, 0)]), polyline([(4, -3), (4, 3)]))
    (Crossing(at_a=4.0, at_b=3.0, point=Vec(x=4.0, y=0.0)),)
    """
    found = []
    starts_a, starts_b = _starts(a), _starts(b)
    for i, s in enumerate(a.segments):
        for j, r in enumerate(b.segments):
            if boxes_apart(s, r, tol):
                continue
            for t, u in segment_pairs(s, r, tol):
                at_a, at_b = starts_a[i] + s.length_to(t), starts_b[j] + r.length_to(u)
                found.append(Crossing(_wrapped(a, at_a, tol), _wrapped(b, at_b, tol), s.point(t)))
    return _without_runs(_merged(found, tol), a, b, tol)


def line_crossings(path: Path, p: Vec, direction: Vec) -> tuple[Crossing, ...]:
    """Return where a path meets the endless line through p (mm), in order. Raises ValueError.

    at_a is mm along the path; at_b is mm from p along `direction`, negative behind p. A straight
    part that lies in the line gives its two ends. `direction` need not have length 1 but must
    not be zero (ValueError).
    """
    axis = direction.unit
    if axis.x == 0.0 and axis.y == 0.0:
        raise ValueError("a line needs a direction that is not zero")
    found = []
    for start, segment in zip(_starts(path), path.segments, strict=True):
        for t in _line_roots(segment, p, axis):
            at, point = start + segment.length_to(t), segment.point(t)
            found.append(Crossing(_wrapped(path, at, JOIN_MM), axis.dot(point - p), point))
    return _merged(found, JOIN_MM)


def meet(p: Vec, u: Vec, q: Vec, v: Vec) -> Vec | None:
    """Return where the endless lines through p along u and through q along v cross.

    None when they are parallel (within a millionth of a degree).

    >>> meet(Vec(0, 0), Vec(1, 0), Vec(4, 3), Vec(0, 1))
    Vec(x=4.0, y=0.0)
    """
    turn = u.cross(v)
    if abs(turn) <= 1.75e-8 * u.norm * v.norm:
        return None
    return p + u * ((q - p).cross(v) / turn)


def self_crossings(path: Path) -> tuple[Crossing, ...]:
    """Return every point where a path, open or closed, crosses or touches itself.

    at_a < at_b are both distances along the path. Joints of neighbouring segments, and the
    common start and end of a closed path, do not count.
    """
    found = []
    segments, starts = path.segments, _starts(path)
    for i, segment in enumerate(segments):
        loop = None if isinstance(segment, Line) else loop_of(segment)
        if loop is not None:
            at_a, at_b = (starts[i] + segment.length_to(t) for t in loop)
            found.append(Crossing(at_a, at_b, segment.point(loop[0])))
    for i, j in _suspects(segments):
        for t, u in segment_pairs(segments[i], segments[j], JOIN_MM):
            at_a = starts[i] + segments[i].length_to(t)
            at_b = starts[j] + segments[j].length_to(u)
            found.append(Crossing(at_a, at_b, segments[i].point(t)))
    whole = path.length
    closed = path.start.is_near(path.end, JOIN_MM)
    near = 10 * JOIN_MM
    return _merged(
        [
            c
            for c in found
            if c.at_b - c.at_a > near and not (closed and c.at_a + whole - c.at_b <= near)
        ],
        JOIN_MM,
    )


def _suspects(segments: Sequence[Segment]) -> list[tuple[int, int]]:
    """Pairs of segments that might meet: boxes overlap, and the path between turns half round.

    A stretch whose directions all lie within a half turn goes one way only and cannot cross
    itself.
    """
    boxes = [box(s) for s in segments]
    spans = turning_spans(segments)
    order = sorted(range(len(segments)), key=lambda i: boxes[i][0])
    active: list[int] = []
    found = []
    for i in order:
        left, bottom, _, top = boxes[i]
        active = [j for j in active if boxes[j][2] >= left - JOIN_MM]
        for j in active:
            if boxes[j][1] <= top + JOIN_MM and bottom <= boxes[j][3] + JOIN_MM:
                low, high = min(i, j), max(i, j)
                if spans.widest(low, high) >= 179.9:
                    found.append((low, high))
        active.append(i)
    return sorted(found)


def _starts(path: Path) -> list[float]:
    run, starts = 0.0, []
    for segment in path.segments:
        starts.append(run)
        run += segment.length
    return starts


def _wrapped(path: Path, at: float, tol: float) -> float:
    """Distance 0 instead of the whole length on a closed path."""
    if at > tol and path.start.is_near(path.end, tol) and path.length - at <= tol:
        return 0.0
    return at


def _line_roots(segment: Segment, p: Vec, axis: Vec) -> tuple[float, ...]:
    if isinstance(segment, Line):
        low, high = axis.cross(segment.p0 - p), axis.cross(segment.p1 - p)
        if abs(low) <= JOIN_MM and abs(high) <= JOIN_MM:
            return 0.0, 1.0
        if low * high > 0 and min(abs(low), abs(high)) > JOIN_MM:
            return ()
        return (min(1.0, max(0.0, low / (low - high))),)
    a, b, c, d = (axis.cross(k - p) for k in segment.controls())
    if max(abs(a), abs(b), abs(c), abs(d)) <= JOIN_MM:
        return 0.0, 1.0
    return bernstein_roots((a, b, c, d), JOIN_MM)


def _merged(found: list[Crossing], tol: float) -> tuple[Crossing, ...]:
    """In order, each point once (it is found twice when it lies on a joint)."""
    kept: list[Crossing] = []
    near = 10 * tol
    for crossing in sorted(found):
        for other in reversed(kept):
            if crossing.at_a - other.at_a > near:
                kept.append(crossing)
                break
            if abs(crossing.at_b - other.at_b) <= near:
                break
        else:
            kept.append(crossing)
    return tuple(kept)


def _without_runs(
    found: tuple[Crossing, ...], a: Path, b: Path, tol: float
) -> tuple[Crossing, ...]:
    """Of a stretch where both paths run together, keep only its two ends."""
    if len(found) < 3:
        return found
    together = [b.nearest(a.point_at((c.at_a + d.at_a) / 2))[1] <= tol for c, d in pairwise(found)]
    return tuple(
        c
        for i, c in enumerate(found)
        if not (0 < i < len(found) - 1 and together[i - 1] and together[i])
    )
