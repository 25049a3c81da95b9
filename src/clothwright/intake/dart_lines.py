"""Darts among the lines inside an outline: two straight legs from an edge that meet in a point.

Drawings are no finer than a pen: legs may end a little before or beyond the edge, and stop a little
apart at the point. Figures are our own choice.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from clothwright.geometry.intersect import crossings, meet
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.notch_marks import ON_MM, TICK_MM, away_from, is_straight
from clothwright.units import Unit
from clothwright.words import show_length

DART_MM = (20.0, 320.0)
MOUTH_MM = 90.0
DART_DEG = 60.0
RUN_ON_MM = 60.0
"""mm: a dart's leg is run on to the outline over the seam allowance, at most this far."""
REACH_MM = 3.0
"""mm: legs that end no farther outside the edge, or no farther apart at the point, still meet."""
TOLD_MM = 0.5
"""mm: what misses by more is told."""


class DartFind(NamedTuple):
    """A dart that was recognised. a, b: where its legs meet the outline; point: where they meet.

    outside: mm by which a leg leads out over the edge; apart: mm between the legs at the point.
    """

    a: Vec
    b: Vec
    point: Vec
    outside: float = 0.0
    apart: float = 0.0


def take_darts(base: Path, left: list[DrawnLine]) -> tuple[DartFind, ...]:
    """Take darts out of the lines, with their middle lines and the ticks across their points.

    base: the closed line (mm) that they begin at.
    """
    found: list[DartFind] = []
    for line in list(left):
        corners = _one_line(base, line)
        dart = _dart(base, *corners) if corners else None
        if dart:
            found.append(dart)
            left.remove(line)
    legs = [x for x in left if is_straight(x) and DART_MM[0] <= x.path.length <= DART_MM[1]]
    pairs = [
        (dart.a.distance(dart.b), i, j, dart)
        for i, one in enumerate(legs)
        for j, other in enumerate(legs[i + 1 :], start=i + 1)
        if (dart := _dart_of_two(base, one, other))
    ]
    taken: list[DrawnLine] = []
    for _, i, j, dart in sorted(pairs, key=lambda p: -p[0]):  # the middle line makes half a dart
        free = legs[i] not in taken and legs[j] not in taken
        if free and not any(dart.point.distance(d.point) < 1.0 for d in found):
            found.append(dart)
            taken += [legs[i], legs[j]]
    for line in taken:
        left.remove(line)
    for dart in found:
        left[:] = [x for x in left if not _of_dart(x, dart)]
    return tuple(found)


def loose_words(darts: Sequence[DartFind], unit: Unit) -> str:
    """Say by how much drawn legs miss the edge and each other; "" where they meet."""
    outside, apart = (max(d.outside for d in darts), max(d.apart for d in darts))
    out = []
    if outside > TOLD_MM:
        out.append(f"legs that end up to {show_length(outside, unit)} outside the edge end at it")
    if apart > TOLD_MM:
        out.append(f"legs up to {show_length(apart, unit)} apart at the point meet")
    return f"; {' and '.join(out)}" if out else ""


def corners_of_dart(base: Path, line: DrawnLine) -> tuple[Vec, Vec, Vec] | None:
    """Return (end, point, end) of a closed triangle whose mouth lies along an edge; None else."""
    s = line.path.segments
    if not line.closed or len(s) != 3 or not all(isinstance(x, Line) for x in s):
        return None
    at = sorted((x.start for x in s), key=lambda p: away_from(base, p))
    a, b, point = at
    if away_from(base, b) > REACH_MM:
        return None
    return (a, point, b) if _dart(base, a, point, b) else None


def opened(line: DrawnLine, corners: tuple[Vec, Vec, Vec]) -> DrawnLine:
    """Return a dart drawn as a closed triangle as the line of its two legs."""
    return DrawnLine(path=polyline(corners), closed=False, label=line.label, size=line.size)


def _one_line(base: Path, line: DrawnLine) -> tuple[Vec, Vec, Vec] | None:
    s = line.path.segments
    if not line.closed and len(s) == 2 and all(isinstance(x, Line) for x in s):
        return s[0].start, s[0].end, s[1].end
    return corners_of_dart(base, line)


def _of_dart(line: DrawnLine, dart: DartFind) -> bool:
    """Tell whether a line is a dart's middle, or the tick across its point."""
    if not is_straight(line):
        return False
    a, b = line.path.ends
    if line.path.length <= TICK_MM[1] and a.lerp(b, 0.5).distance(dart.point) < 1.0:
        return True
    middle = dart.a.lerp(dart.b, 0.5)
    wide = dart.a.distance(dart.b) / 2
    return any(
        p.distance(dart.point) < 1.0 + dart.apart and q.distance(middle) < wide
        for p, q in ((a, b), (b, a))
    )


def _dart_of_two(base: Path, one: DrawnLine, other: DrawnLine) -> DartFind | None:
    for a, p in (one.path.ends, one.path.ends[::-1]):
        for q, b in (other.path.ends, other.path.ends[::-1]):
            apart = p.distance(q)
            if apart > REACH_MM or apart > 0.2 * a.distance(b):
                continue
            point = _tip(a, p, q, b)
            dart = _dart(base, a, point, b)
            return dart._replace(apart=apart) if dart else None
    return None


def _tip(a: Vec, p: Vec, q: Vec, b: Vec) -> Vec:
    """Return where two legs that stop near each other meet when they are run on."""
    middle = p.lerp(q, 0.5)
    if p.distance(q) <= TOLD_MM:
        return middle
    at = meet(a, p - a, b, q - b)
    return at if at is not None and at.distance(middle) <= 4 * REACH_MM else middle


def _dart(base: Path, a: Vec, point: Vec, b: Vec) -> DartFind | None:
    legs = a.distance(point), b.distance(point)
    if not all(DART_MM[0] <= leg <= DART_MM[1] for leg in legs) or max(legs) > 1.5 * min(legs):
        return None
    if abs(turn_between_deg(a - point, b - point)) > DART_DEG or away_from(base, point) < 5.0:
        return None
    at_a, at_b = _reach(base, point, a), _reach(base, point, b)
    if at_a is None or at_b is None or not 1.0 < at_a.distance(at_b) <= MOUTH_MM:
        return None
    beyond = (
        end.distance(at) if end.distance(point) > at.distance(point) else 0.0
        for end, at in ((a, at_a), (b, at_b))
    )
    return DartFind(at_a, at_b, point, outside=max(beyond))


def _reach(base: Path, point: Vec, end: Vec) -> Vec | None:
    """Return where a leg meets the line, run on over an allowance; None when it does not."""
    u = (end - point).unit
    found = [c.point for c in crossings(Path((Line(point, end + u * RUN_ON_MM),)), base)]
    near = min(found, key=end.distance, default=None)
    if near is not None and (len(found) == 1 or near.distance(end) <= 2 * REACH_MM):
        return near
    return end if away_from(base, end) <= ON_MM else None
