"""What the lines inside an outline mean: notch marks, darts, grain arrow, fold mark, levels.

Everything found here is a proposal; the maker is asked about each. Figures are our own choice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from clothwright.geometry.intersect import crossings
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.drawing import NOTCH_POINT, POINT, DrawnLine, DrawnText
from clothwright.intake.notch_marks import (
    ON_MM,
    TICK_MM,
    away_from,
    ends_of,
    is_straight,
    tick_notches,
)
from clothwright.intake.notch_shapes import NotchFind
from clothwright.intake.said_lines import said_fold, said_grain, said_notches
from clothwright.pattern.piece import Grain

DART_MM = (20.0, 320.0)
MOUTH_MM = 90.0
DART_DEG = 60.0
RUN_ON_MM = 60.0
"""mm: a dart's leg is run on to the outline over the seam allowance, at most this far."""
ARROW_MM = 40.0
HEAD_MM = 25.0
BRACKET_MM = 45.0


class DartFind(NamedTuple):
    """A dart that was recognised. a, b: where its legs meet the outline; point: where they meet."""

    a: Vec
    b: Vec
    point: Vec


class LevelFind(NamedTuple):
    """A level line that was recognised: its name and a point on it."""

    name: str
    at: Vec


class InnerRead(NamedTuple):
    """What was recognised, and the lines that mean nothing known and stay marks.

    fold_at: a point of the edge that a bracket points to, None without one.
    """

    notches: tuple[NotchFind, ...]
    darts: tuple[DartFind, ...]
    grain: Grain | None
    fold_at: Vec | None
    levels: tuple[LevelFind, ...]
    rest: tuple[DrawnLine, ...]


def flat_span(path: Path) -> tuple[Vec, Vec] | None:
    """Return the ends of a line that runs straight, maybe forth and back; None when it bends."""
    points = [p for s in path.segments for p in s.controls()]
    a = points[0]
    b = max(points, key=a.distance)
    a = max(points, key=b.distance)
    u = (b - a).unit
    return (a, b) if all(abs(u.cross(p - a)) < 0.1 for p in points) else None


def inner_read(
    base: Path,
    lines: Sequence[DrawnLine],
    grains: Sequence[Vec] = (),
    levels: Sequence[DrawnText] = (),
    outer: Path | None = None,
) -> InnerRead:
    """Return what lines (mm) inside or across a closed line mean.

    base: the closed line that notches and darts stand on (the stitching line where it is drawn,
    else the outline). grains: places of words about the grain. levels: words that name levels.
    outer: the cutting line outside it, on which notches may be drawn too.
    """
    left = list(lines)
    darts = _darts(base, left)
    notches = said_notches(base, outer, left)
    fold_at, grain = said_fold(base, left), said_grain(left)
    if not any(x.kind not in (POINT, NOTCH_POINT, "") for x in lines):
        notches += tick_notches(base, left)
        if outer is not None:
            notches += tick_notches(outer, left)
        fold_at = _bracket(base, left)
        grain = _grain(left, grains)
    found = _levels(left, levels, grain)
    return InnerRead(notches, darts, grain, fold_at, found, tuple(left))


# --- darts ---------------------------------------------------------------------------------------


def _darts(base: Path, left: list[DrawnLine]) -> tuple[DartFind, ...]:
    """Take darts out of the lines: two straight legs that meet in a point and begin at an edge."""
    found: list[DartFind] = []
    for line in list(left):
        s = line.path.segments
        if not line.closed and len(s) == 2 and all(isinstance(x, Line) for x in s):
            dart = _dart(base, s[0].start, s[0].end, s[1].end)
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


def _of_dart(line: DrawnLine, dart: DartFind) -> bool:
    """Tell whether a line is a dart's middle, or the tick across its point."""
    if not is_straight(line):
        return False
    a, b = ends_of(line)
    if line.path.length <= TICK_MM[1] and a.lerp(b, 0.5).distance(dart.point) < 1.0:
        return True
    middle = dart.a.lerp(dart.b, 0.5)
    wide = dart.a.distance(dart.b) / 2
    return any(
        p.distance(dart.point) < 1.0 and q.distance(middle) < wide for p, q in ((a, b), (b, a))
    )


def _dart_of_two(base: Path, one: DrawnLine, other: DrawnLine) -> DartFind | None:
    for a, p in (ends_of(one), ends_of(one)[::-1]):
        for q, b in (ends_of(other), ends_of(other)[::-1]):
            if p.distance(q) <= 0.5:
                return _dart(base, a, p.lerp(q, 0.5), b)
    return None


def _dart(base: Path, a: Vec, point: Vec, b: Vec) -> DartFind | None:
    legs = a.distance(point), b.distance(point)
    if not all(DART_MM[0] <= leg <= DART_MM[1] for leg in legs) or max(legs) > 1.5 * min(legs):
        return None
    if abs(turn_between_deg(a - point, b - point)) > DART_DEG or away_from(base, point) < 5.0:
        return None
    at_a, at_b = _reach(base, point, a), _reach(base, point, b)
    if at_a is None or at_b is None or not 1.0 < at_a.distance(at_b) <= MOUTH_MM:
        return None
    return DartFind(at_a, at_b, point)


def _reach(base: Path, point: Vec, end: Vec) -> Vec | None:
    """Return where a leg meets the line, run on over an allowance; None when it does not."""
    if away_from(base, end) <= ON_MM:
        return end
    u = (end - point).unit
    found = crossings(Path((Line(point, end + u * RUN_ON_MM),)), base)
    if len(found) != 1:
        return None
    return found[0].point


# --- fold ----------------------------------------------------------------------------------------


def _bracket(base: Path, left: list[DrawnLine]) -> Vec | None:
    """Take a fold mark out of the lines: a long side along an edge, both its ends bent to it."""
    for line in list(left):
        s = line.path.segments
        if line.closed or len(s) != 3 or not all(isinstance(x, Line) for x in s):
            continue
        middle = s[1].start.lerp(s[1].end, 0.5)
        at, away = base.nearest(middle)
        legs = max(s[0].length, s[2].length)
        along = abs(base.tangent_at(at).dot((s[1].end - s[1].start).unit)) > 0.99
        ends = max(away_from(base, p) for p in ends_of(line))
        if along and away <= BRACKET_MM and ends < away and s[1].length > 1.5 * legs:
            left.remove(line)
            for end in ends_of(line):
                _take_heads(left, end, BRACKET_MM / 2)
            return base.point_at(at)
    return None


# --- grain ---------------------------------------------------------------------------------------


def _grain(left: list[DrawnLine], words: Sequence[Vec]) -> Grain | None:
    """Take the grain arrow out of the lines: a straight line with heads, or with its word."""
    best: tuple[float, DrawnLine, bool, bool] | None = None
    for line in left:
        if not is_straight(line) or line.path.length < ARROW_MM:
            continue
        a, b = ends_of(line)
        reach = min(HEAD_MM, 0.3 * line.path.length)
        heads = [bool(_heads(left, line, end, reach)) for end in (a, b)]
        named = "grain" in line.label.lower() or any(
            Path((Line(a, b),)).nearest(w)[1] < 15.0 for w in words
        )
        score = 2.0 * sum(heads) + 1.5 * named
        if score and (best is None or (score, line.path.length) > (best[0], best[1].path.length)):
            best = (score, line, heads[0], heads[1])
    if best is None:
        return None
    _, line, at_start, at_end = best
    left.remove(line)
    a, b = ends_of(line)
    for end in (a, b):
        _take_heads(left, end, min(HEAD_MM, 0.3 * line.path.length))
    turned = at_start if at_start != at_end else (b - a).unit.y < -1e-6
    return Grain(start=b, end=a) if turned else Grain(start=a, end=b)


def _heads(left: Sequence[DrawnLine], arrow: DrawnLine, end: Vec, reach: float) -> list[DrawnLine]:
    """Return the lines that make an arrow's head at an end: a corner or an end of them is there."""
    out = []
    for line in left:
        if line is arrow:
            continue
        low, high = line.path.bounds()
        if (high - low).norm <= reach and any(
            p.distance(end) <= 1.5 for s in line.path.segments for p in (s.start, s.end)
        ):
            out.append(line)
    return out


def _take_heads(left: list[DrawnLine], end: Vec, reach: float) -> None:
    stub = DrawnLine(path=Path((Line(end, end + Vec(1e-6, 0.0)),)), closed=False)
    for line in _heads(left, stub, end, reach):
        left.remove(line)


# --- levels --------------------------------------------------------------------------------------


def _levels(
    left: list[DrawnLine], words: Sequence[DrawnText], grain: Grain | None
) -> tuple[LevelFind, ...]:
    """Take lines square to the grain out whose word stands beside them."""
    up = grain.direction if grain else Vec(0.0, 1.0)
    found: list[LevelFind] = []
    for line in list(left):
        span = None if line.closed else flat_span(line.path)
        if span is None or span[0].distance(span[1]) < ARROW_MM:
            continue
        a, b = span
        if abs((b - a).unit.dot(up)) > math.sin(math.radians(2.0)):
            continue
        near = [(line.path.nearest(w.at)[1] - w.height, w.words.strip().lower()) for w in words]
        known = [n for n in sorted(near) if n[0] < 12.0 and n[1] not in {f.name for f in found}]
        if known:
            found.append(LevelFind(known[0][1], a.lerp(b, 0.5)))
            left.remove(line)
    return tuple(found)
