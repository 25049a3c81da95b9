"""Parallel curves (cutting lines beside stitching lines) and how two of them meet at a corner."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from clothwright.geometry.intersect import crossings, line_crossings, meet
from clothwright.geometry.offset_fit import offset_segment
from clothwright.geometry.offset_loops import RawPiece, cleaned, with_end, with_start
from clothwright.geometry.pairs import segment_pairs
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.tolerance import CURVE_MM, JOIN_MM
from clothwright.geometry.vec import Vec, turn_between_deg

MITRE_LIMIT = 4.0
"""A corner inside a path is mitred while its tip is at most this many distances away (as SVG's
stroke-miterlimit: corners sharper than about 29 degrees are blunted)."""


class _Tool(NamedTuple):
    """How far to one side (1 right, -1 left) the parallel runs, and when tips are blunted."""

    distance: float
    side: float
    mitre_limit: float


@lru_cache(maxsize=4096)
def parallel(path: Path, distance: float, *, mitre_limit: float = MITRE_LIMIT) -> Path:
    """Return the parallel curve at `distance` mm: positive to the right of travel.

    On an outline drawn counter-clockwise that is outward, so a seam allowance is positive.
    Lines are exact; curves stay within `tolerance.CURVE_MM` of the true parallel. A corner that
    opens is mitred, or blunted square to its bisector at `mitre_limit` distances when it is
    needle-sharp; a corner that closes is trimmed where both sides cross. The start of a closed
    path is a corner like the others. Where the path bends more tightly than `distance`, the loop
    is cut off; the result never crosses itself. What is consumed at an end is left out, so that
    the parallel may begin or end early (`trim_or_extend` then finds its neighbour).

    Raises CannotDo when nothing is left (the whole path bends more tightly than `distance`).

    The length grows by distance x total turning (in radians): a quarter turn to the left with
    15 mm is 23.56 mm longer at +15 and as much shorter at -15.

    >>> from clothwright.geometry.path import polyline
    >>> parallel(polyline([(0, 0), (100, 0)]), 15).start
    Vec(x=0.0, y=-15.0)
    """
    if distance == 0.0:
        return path
    parts: list[RawPiece] = []
    before: Segment | None = None
    tool = _Tool(abs(distance), math.copysign(1.0, distance), mitre_limit)
    for segment in path.segments:
        if _is_point(segment):
            continue
        new = [RawPiece(s, ok) for s, ok in offset_segment(segment, distance)]
        if before is not None:
            _join(parts, new, (before.tangent(1.0), segment.tangent(0.0)), tool)
        parts.extend(new)
        before = segment
    if before is not None and len(parts) > 1 and path.start.is_near(path.end, JOIN_MM):
        first, parts = parts[:1], parts[1:]
        _join(parts, first, (before.tangent(1.0), path.start_tangent), tool)
        parts = first + parts
    return cleaned(parts, path, distance)


def _is_point(segment: Segment) -> bool:
    first = segment.start
    return all(p.distance(first) < 1e-9 for p in segment.controls())


def _join(
    parts: list[RawPiece], new: list[RawPiece], directions: tuple[Vec, Vec], tool: _Tool
) -> None:
    """Close the gap between the parallel so far and the parallel of the next segment."""
    p, q = parts[-1].segment.end, new[0].segment.start
    if p.distance(q) <= CURVE_MM / 2:
        middle = p.lerp(q, 0.5)
        parts[-1] = RawPiece(with_end(parts[-1].segment, middle), parts[-1].sound)
        new[0] = RawPiece(with_start(new[0].segment, middle), new[0].sound)
    elif turn_between_deg(*directions) * tool.side > 0:
        _extend(parts, new, directions, tool)
    elif not _trim(parts, new):
        parts.append(RawPiece(Line(p, q), sound=False))


def _extend(
    parts: list[RawPiece], new: list[RawPiece], directions: tuple[Vec, Vec], tool: _Tool
) -> None:
    """Continue both sides of an opening corner straight until they meet, or blunt the tip."""
    p, q = parts[-1].segment.end, new[0].segment.start
    half = math.radians(abs(turn_between_deg(*directions))) / 2
    blunt = tool.mitre_limit * math.cos(half) < 1.0
    rise = (tool.mitre_limit - math.cos(half)) / math.sin(half) if blunt else math.tan(half)
    reach = tool.distance * rise
    tip_p, tip_q = p + directions[0] * reach, q - directions[1] * reach
    if not blunt:
        tip_p = tip_q = tip_p.lerp(tip_q, 0.5)
    last, first = parts[-1], new[0]
    if isinstance(last.segment, Line) and last.sound:
        parts[-1] = RawPiece(Line(last.segment.p0, tip_p), sound=True)
    else:
        parts.append(RawPiece(Line(p, tip_p), sound=True))
    if blunt:
        parts.append(RawPiece(Line(tip_p, tip_q), sound=True))
    if isinstance(first.segment, Line) and first.sound:
        new[0] = RawPiece(Line(tip_q, first.segment.p1), sound=True)
    else:
        new.insert(0, RawPiece(Line(tip_q, q), sound=True))


def _trim(parts: list[RawPiece], new: list[RawPiece]) -> bool:
    """Cut both sides of a closing corner at their crossing; False when the neighbours have none."""
    last, first = parts[-1], new[0]
    if not (last.sound and first.sound):
        return False
    pairs = segment_pairs(last.segment, first.segment, JOIN_MM)
    if not pairs:
        return False
    t, u = max(pairs, key=lambda pair: pair[0] - pair[1])
    if t <= 1e-9 or u >= 1 - 1e-9:
        return False
    kept, rest = last.segment.split(t)[0], first.segment.split(u)[1]
    parts[-1] = RawPiece(kept, sound=True)
    new[0] = RawPiece(with_start(rest, kept.end), sound=True)
    return True


class Meeting(NamedTuple):
    """Where the end of one path and the start of the next come together.

    at_a and at_b are mm along each path: more than the length of a means that a is drawn on
    straight past its end, less than 0 that b is drawn on backwards past its start.
    """

    at_a: float
    at_b: float
    point: Vec


def meeting(a: Path, b: Path) -> Meeting | None:
    """Return where a, drawn on from its end, meets b, drawn on backwards from its start.

    Of the crossings of the paths and of their straight continuations the one that changes the
    two paths least counts. None when they never meet (parallel, or drifting apart).

    >>> from clothwright.geometry.path import polyline
    >>> meeting(polyline([(0, 0), (10, 0)]), polyline([(7, -2), (7, 30)]))
    Meeting(at_a=7.0, at_b=2.0, point=Vec(x=7.0, y=0.0))
    """
    return _least_change(_meetings(a, b), a.length)


def _meetings(a: Path, b: Path) -> list[Meeting]:
    long_a = a.length
    found = [Meeting(*c) for c in crossings(a, b)]
    u, v = a.end_tangent, b.start_tangent
    if u.norm == 0.0 or v.norm == 0.0:
        return found
    found.extend(
        Meeting(c.at_a, -c.at_b, c.point) for c in line_crossings(a, b.start, -v) if c.at_b > 0
    )
    found.extend(
        Meeting(long_a + c.at_b, c.at_a, c.point) for c in line_crossings(b, a.end, u) if c.at_b > 0
    )
    tip = meet(a.end, u, b.start, v)
    if tip is not None:
        on, back = u.dot(tip - a.end), -v.dot(tip - b.start)
        if on > 0 and back > 0:
            found.append(Meeting(long_a + on, -back, tip))
    return found


def _least_change(found: list[Meeting], long_a: float) -> Meeting | None:
    """The meeting that changes least; of several alike the one that shares the change best.

    Alike: where both paths go on in almost one direction a touch within the tolerance can stand
    beside the true meeting.
    """
    if not found:
        return None
    changes = [(abs(m.at_a - long_a), abs(m.at_b)) for m in found]
    alike = min(a + b for a, b in changes) + 10 * JOIN_MM
    ranked = [(abs(a - b), m) for (a, b), m in zip(changes, found, strict=True) if a + b <= alike]
    return min(ranked, key=lambda pair: pair[0])[1]


def trim_or_extend(a: Path, b: Path, *, limit: float = 60.0) -> tuple[Path, Path]:
    """Return both paths changed so that a ends where b starts: trimmed, or drawn on straight.

    A corner whose tip would be more than `limit` mm beyond either end is blunted: both are drawn
    on by `limit` at most and a straight line, half of it on each path, closes the gap. Such a
    line, a step, also joins paths that never meet, and paths side by side in nearly the same
    direction (within about 10 degrees) of which one would be trimmed far back by the other's
    continuation: two allowances of different width along one smooth line. With 15 mm of
    allowance the default limit of 60 mm keeps every corner of 28 degrees or more.

    >>> from clothwright.geometry.path import polyline
    >>> a, b = trim_or_extend(polyline([(0, 0), (10, 0)]), polyline([(15, 5), (15, 30)]))
    >>> a.end, b.start
    (Vec(x=15.0, y=0.0), Vec(x=15.0, y=0.0))
    """
    if a.end == b.start:
        return a, b
    found = _least_change(_sensible(_meetings(a, b), a, b), a.length)
    beyond_a = found.at_a - a.length if found else 0.0
    beyond_b = -found.at_b if found else 0.0
    if found is None or beyond_a > limit or beyond_b > limit:
        long_a, long_b = min(limit, max(0.0, beyond_a)), min(limit, max(0.0, beyond_b))
        p, q = a.end + a.end_tangent * long_a, b.start - b.start_tangent * long_b
        middle = p.lerp(q, 0.5)
        return _drawn_on(_drawn_on(a, p), middle), _drawn_back(_drawn_back(b, q), middle)
    return _until(a, found.at_a, found.point), _from(b, found.at_b, found.point)


def _sensible(found: list[Meeting], a: Path, b: Path) -> list[Meeting]:
    """Without meetings that trim one path far more than the two ends lie apart to extend the other.

    Between two directions at angle φ the trimmed length is at most the gap / sin φ.
    """
    long_a, most = a.length, 6.0 * a.end.distance(b.start) + JOIN_MM
    return [
        m
        for m in found
        if (m.at_a > long_a) == (m.at_b < 0.0) or min(m.at_a - long_a, -m.at_b) >= -most
    ]


def _until(path: Path, at: float, point: Vec) -> Path:
    """The path from its start to `point`, which lies at `at` mm along it or past its end."""
    if at >= path.length - JOIN_MM:
        return _drawn_on(path, point)
    if at <= JOIN_MM:
        return Path((Line(path.start, point),))
    return path.between(0.0, at).with_ends(end=point)


def _from(path: Path, at: float, point: Vec) -> Path:
    return _until(path.reversed(), path.length - at, point).reversed()


def _drawn_on(path: Path, to: Vec) -> Path:
    """The path drawn on by a straight line; a last line is lengthened instead."""
    last = path.segments[-1]
    if path.end.distance(to) <= JOIN_MM:
        return path.with_ends(end=to)
    if isinstance(last, Line) and abs(last.tangent(1.0).cross(to - last.p1)) < 1e-9:
        return Path((*path.segments[:-1], Line(last.p0, to)))
    return Path((*path.segments, Line(path.end, to)))


def _drawn_back(path: Path, to: Vec) -> Path:
    return _drawn_on(path.reversed(), to).reversed()
