"""What the lines inside an outline mean: notch marks, darts, grain arrow, fold mark, levels.

Everything found here is a proposal; the maker is asked about each. Figures are our own choice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.intake.dart_lines import DartFind, take_darts
from clothwright.intake.drawing import NOTCH_POINT, POINT, DrawnLine, DrawnText
from clothwright.intake.notch_marks import (
    away_from,
    is_straight,
    tick_notches,
)
from clothwright.intake.notch_shapes import NotchFind
from clothwright.intake.said_lines import said_fold, said_grain, said_notches
from clothwright.pattern.piece import Grain

ARROW_MM = 40.0
SHORT_MM = 12.0
"""mm: a shorter arrow is the grain only by its heads or its word, down to this."""
HEAD_MM = 25.0
BRACKET_MM = 45.0


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
    darts = take_darts(base, left)
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
        ends = max(away_from(base, p) for p in line.path.ends)
        if along and away <= BRACKET_MM and ends < away and s[1].length > 1.5 * legs:
            left.remove(line)
            for end in line.path.ends:
                _take_heads(left, end, BRACKET_MM / 2)
            return base.point_at(at)
    return None


# --- grain ---------------------------------------------------------------------------------------


def _grain(left: list[DrawnLine], words: Sequence[Vec]) -> Grain | None:
    """Take the grain arrow out of the lines: a straight line with heads, or with its word."""
    best: tuple[float, DrawnLine, bool, bool] | None = None
    for line in left:
        if not is_straight(line) or line.path.length < SHORT_MM:
            continue
        a, b = line.path.ends
        reach = _reach(line)
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
    a, b = line.path.ends
    for end in (a, b):
        _take_heads(left, end, _reach(line))
    turned = at_start if at_start != at_end else (b - a).unit.y < -1e-6
    return Grain(start=b, end=a) if turned else Grain(start=a, end=b)


def _reach(arrow: DrawnLine) -> float:
    """Return how large an arrow's heads are at most, mm."""
    share = 0.3 if arrow.path.length >= ARROW_MM else 0.6
    return min(HEAD_MM, share * arrow.path.length)


def _heads(left: Sequence[DrawnLine], arrow: DrawnLine, end: Vec, reach: float) -> list[DrawnLine]:
    """Return the lines that make an arrow's head at an end: a corner or an end of them is there."""
    out = []
    for line in left:
        if line is arrow:
            continue
        if line.path.bounds().size.norm <= reach and any(
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
