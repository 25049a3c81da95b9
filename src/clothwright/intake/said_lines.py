"""Lines inside an outline of which the file itself says what they are: notches, grain, fold."""

from __future__ import annotations

from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import FOLD, GRAIN, NOTCH, NOTCH_POINT, POINT, DrawnLine
from clothwright.intake.notch_marks import ON_MM, is_straight, tick_notches
from clothwright.intake.notch_shapes import NotchFind, doubled
from clothwright.pattern.piece import Grain

REACH_MM = 40.0
"""mm: a line called a notch that is larger than this is none; nor is one farther off the edge."""
HEAD_MM = 1.5


def said_notches(base: Path, outer: Path | None, left: list[DrawnLine]) -> tuple[NotchFind, ...]:
    """Take what the file calls notches out of the lines, and points that lie on an edge.

    base: the line that notches stand on; outer: the cutting line outside it, None when it is base.
    """
    lines = [x for x in left if x.kind == NOTCH]
    tried = list(lines)
    found = [*tick_notches(outer or base, tried)]
    for line in tried:  # no shape that is known: where it is nearest to the edge
        at = _foot(outer or base, line)
        if at is not None and line.path.bounds().size.norm <= REACH_MM:
            found.append(NotchFind(at, "tick"))
    for line in list(left):
        if line.kind == NOTCH:
            left.remove(line)
        elif line.kind in (POINT, NOTCH_POINT):
            at = line.path.bounds().middle
            away = min(p.nearest(at)[1] for p in (base, outer or base))
            if away <= (REACH_MM if line.kind == NOTCH_POINT else ON_MM):
                found.append(NotchFind(at, "point"))
                left.remove(line)
    return doubled(sorted(found, key=lambda f: base.nearest(f.at)[0]))


def _foot(base: Path, line: DrawnLine) -> Vec | None:
    points = [p for s in line.path.segments for p in (s.start, s.end)]
    at, away = min((base.nearest(p) for p in points), key=lambda x: x[1])
    return base.point_at(at) if away <= REACH_MM else None


def said_grain(left: list[DrawnLine]) -> Grain | None:
    """Take the longest straight line of those called grain lines, and its arrow heads."""
    mine = [x for x in left if x.kind == GRAIN]
    straight = [x for x in mine if is_straight(x)]
    if not straight:
        return None
    line = max(straight, key=lambda x: x.path.length)
    a, b = line.path.start, line.path.end
    others = [x for x in mine if x is not line]
    heads = [[x for x in others if _touches(x, end)] for end in (a, b)]
    gone = {id(line), *(id(x) for some in heads for x in some)}
    left[:] = [x for x in left if id(x) not in gone]
    at_start, at_end = (bool(h) for h in heads)
    turned = at_start if at_start != at_end else (b - a).unit.y < -1e-6
    return Grain(start=b, end=a) if turned else Grain(start=a, end=b)


def _touches(line: DrawnLine, end: Vec) -> bool:
    near = any(p.distance(end) <= HEAD_MM for s in line.path.segments for p in (s.start, s.end))
    return near and line.path.bounds().size.norm <= REACH_MM


def said_fold(base: Path, left: list[DrawnLine]) -> Vec | None:
    """Take lines called fold out; return the middle of the longest straight one, on the edge."""
    mine = [x for x in left if x.kind == FOLD]
    left[:] = [x for x in left if x.kind != FOLD]
    straight = [x for x in mine if is_straight(x)]
    if not straight:
        return None
    path = max(straight, key=lambda x: x.path.length).path
    return base.point_at(base.nearest(path.middle)[0])
