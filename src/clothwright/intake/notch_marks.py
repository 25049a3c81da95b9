"""Notches drawn on an edge: a tick across it or on it, a V, a T. Figures are our own choice."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.geometry.intersect import crossings
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.notch_shapes import NotchFind, doubled

ON_MM = 0.8
"""mm: a mark this near to a line touches it."""
TICK_MM = (2.0, 16.0)
TICK_DEG = 55.0
"""degrees: a notch mark stands at least this steep on its line."""


def is_straight(line: DrawnLine) -> bool:
    """Tell whether a line is open, straight and not a point."""
    return not line.closed and line.path.is_straight and line.path.length > 0.5


def away_from(base: Path, p: Vec) -> float:
    """Return how far a point lies from a line, mm."""
    return base.nearest(p)[1]


def tick_notches(base: Path, left: list[DrawnLine]) -> tuple[NotchFind, ...]:
    """Take notch marks out of the lines: a tick across or on an edge, a V on it, a T on it."""
    found: list[NotchFind] = []
    stems: list[tuple[int, Vec, Vec]] = []
    crosses = crossed(left)
    for line in list(left):
        if id(line) in crosses:
            continue
        if line.path.bounds().size.norm > 1.5 * TICK_MM[1]:
            continue
        at = _vee(base, line)
        if at is not None:
            found.append(NotchFind(at, "V"))
            left.remove(line)
            continue
        tick = _tick(base, line)
        if tick is not None:
            found.append(NotchFind(tick[0], "tick"))
            stems.append((len(found) - 1, *tick[1:]))
            left.remove(line)
    for line in list(left):
        for k, end, u in stems:
            if _is_bar(line, end, u):
                found[k] = NotchFind(found[k].at, "T")
                left.remove(line)
                break
    return doubled(sorted(found, key=lambda f: base.nearest(f.at)[0]))


def _tick(base: Path, line: DrawnLine) -> tuple[Vec, Vec, Vec] | None:
    """Return (place on the line, the mark's free end, its direction) of a tick, or None."""
    if not is_straight(line) or not TICK_MM[0] <= line.path.length <= TICK_MM[1]:
        return None
    a, b = line.path.ends
    near = sorted((a, b, a.lerp(b, 0.5)), key=lambda p: away_from(base, p))
    at, away = base.nearest(near[0])
    point = base.point_at(at)
    if away > ON_MM:
        met = crossings(line.path, base)
        if len(met) != 1:
            return None
        at, point = met[0].at_b, met[0].point
    steep = abs(turn_between_deg(base.tangent_at(at), b - a)) % 180.0
    if min(steep, 180.0 - steep) < TICK_DEG:
        return None
    free = max((a, b), key=point.distance)
    return point, free, (free - point).unit


def _vee(base: Path, line: DrawnLine) -> Vec | None:
    """Return where a small triangle, or a V of two lines, stands with its mouth on the line."""
    s = line.path.segments
    if not 2 <= len(s) <= 3 or not all(isinstance(x, Line) for x in s):
        return None
    corners = [x.start for x in s] + ([] if line.closed else [s[-1].end])
    if len(corners) != 3 or (not line.closed and len(s) != 2):
        return None
    on = [p for p in corners if away_from(base, p) <= ON_MM]
    if len(on) != 2 or not 1.0 <= on[0].distance(on[1]) <= TICK_MM[1]:
        return None
    return base.point_at(base.nearest(on[0].lerp(on[1], 0.5))[0])


def _is_bar(line: DrawnLine, end: Vec, u: Vec) -> bool:
    if not is_straight(line) or line.path.length > TICK_MM[1]:
        return False
    a, b = line.path.ends
    return abs((b - a).unit.dot(u)) < 0.3 and a.lerp(b, 0.5).distance(end) < 1.5


def crossed(lines: Sequence[DrawnLine]) -> dict[int, Vec | None]:
    """Return for two short lines that cross in their middles the place: of the first, None after.

    Such a cross marks a point: a button, a dart's tip.
    """
    short = [x for x in lines if is_straight(x) and x.path.length <= TICK_MM[1]]
    middle = {id(x): x.path.start.lerp(x.path.end, 0.5) for x in short}
    out: dict[int, Vec | None] = {}
    for n, one in enumerate(short):
        for other in short[n + 1 :]:
            if id(one) in out or id(other) in out:
                continue
            across = one.path.start_tangent.cross(other.path.start_tangent)
            if middle[id(one)].distance(middle[id(other)]) < 0.5 and abs(across) > 0.5:
                out[id(one)], out[id(other)] = middle[id(one)], None
    return out
