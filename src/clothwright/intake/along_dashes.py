"""The line along dashes: what it does in the gaps, at its corners, and where a dash is a chord."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import radians
from statistics import mean

from clothwright.geometry.fit import fit_curve
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec, turn_between_deg, unit_at

FIT_MM = 0.02
JOINT_DEG = 4.0
CORNER_DEG = 12.0
"""Bends that are corners: within a dash or between two straight ones; between curved ones."""
SHARP_DEG = 35.0
"""From a chord of a curve to the next it turns by less."""
STEEPER = 3.0
"""Times by which a curve may be bent more after a dash than before it."""
PARALLEL = 1e-6
"""Sine of an angle: lines with less between them meet nowhere."""


def along(paths: Sequence[Path], *, closed: bool, over: float = 0.0) -> Path:
    """Return one line along dashes (mm) headed one way: their gaps bridged, with its corners.

    over: how far a dash may stand out over a corner, mm: half a pen.
    """
    ways = [segment for path in paths for segment in path.segments]
    bends = _bends(ways, closed=closed)
    points, corners = [ways[0].start], list[int]()
    for k, (segment, bend) in enumerate(zip(ways, bends, strict=True)):
        points += [*_between(segment, bend), segment.end]
        if k + 1 == len(ways) and not closed:
            break
        after = ways[(k + 1) % len(ways)]
        corner = _corner_between(segment, after, bend, bends[(k + 1) % len(ways)], over)
        if corner is None:
            points.append(after.start)
            continue
        if (corner - segment.end).dot(segment.tangent(1.0)) < 0:
            points.pop()
        corners.append(len(points))
        points.append(corner)
        if (after.start - corner).dot(after.tangent(0.0)) > 0:
            points.append(after.start)
        elif k + 1 == len(ways):
            points[0] = corner
    if closed:
        points, corners = _from_corner(points, corners)
    fitted = fit_curve(points, FIT_MM, corners=corners)
    return fitted.with_ends(end=fitted.start) if closed else fitted


def _bends(ways: Sequence[Segment], *, closed: bool) -> list[float]:
    """Return how the curve is bent of which each segment is a piece, degrees to the mm.

    A straight one may be the chord of its piece: then those before and after turn off from it by
    about as much. Where one turns off by far more there is a corner, and the other tells.
    """
    turns = [_bend(a, b) for a, b in pairwise([*ways, ways[0]])]
    if not closed:
        turns[-1] = None
    return [
        _chord_bend(turns[k - 1], turns[k])
        if isinstance(s, Line)
        else turn_between_deg(s.tangent(0.0), s.tangent(1.0)) / s.length
        for k, s in enumerate(ways)
    ]


def _chord_bend(before: float | None, after: float | None) -> float:
    known = sorted((bend for bend in (before, after) if bend is not None), key=abs)
    if len(known) == 2 and abs(known[1]) > STEEPER * abs(known[0]):
        known.pop()
    return mean(known) if known else 0.0


def _bend(a: Segment, b: Segment) -> float | None:
    """Return how a line is bent from one dash to the next, degrees to the mm; None at a corner."""
    turn = _turn(a, b)
    long = _half(a) + a.end.distance(b.start) + _half(b)
    return turn / long if abs(turn) < SHARP_DEG and long > JOIN_MM else None


def _half(segment: Segment) -> float:
    """Return how far from its end a segment points as its end does: a chord in its middle."""
    return segment.length / 2 if isinstance(segment, Line) else 0.0


def _turn(a: Segment, b: Segment) -> float:
    return turn_between_deg(a.tangent(1.0), b.tangent(0.0))


def _between(segment: Segment, bend: float) -> list[Vec]:
    """Return points of a dash between its ends, so many that no curve leaves it."""
    if not isinstance(segment, Line):
        return list(segment.flatten(0.005)[1:-1])
    way = segment.end - segment.start
    out = way.perp * (radians(bend) * segment.length / 2)
    return [segment.point(t) - out * (t * (1 - t)) for t in (1 / 3, 2 / 3)]


def _corner_between(
    a: Segment, b: Segment, bend_a: float, bend_b: float, over: float
) -> Vec | None:
    """Return where the line turns in the gap between two dashes; None where it runs on.

    Both go on there as they are bent, so far as from their ends to the corner.
    """
    gap = b.start - a.end
    sure = gap.norm <= JOIN_MM or (isinstance(a, Line) and isinstance(b, Line))
    by = _turn(a, b) - bend_a * (_half(a) + gap.norm / 2) - bend_b * (_half(b) + gap.norm / 2)
    if abs(by) < max(JOINT_DEG if sure else CORNER_DEG, abs(_turn(a, b)) / 2):
        return None
    if gap.norm <= JOIN_MM:
        return a.end
    corner, ahead, back = a.end + gap / 2, 0.0, 0.0
    for _ in range(3):
        u = unit_at(a.tangent(1.0).angle_deg + bend_a * (_half(a) + ahead / 2))
        v = unit_at(b.tangent(0.0).angle_deg - bend_b * (_half(b) - back / 2))
        across = u.cross(v)
        if abs(across) < PARALLEL:
            return corner
        ahead, back = gap.cross(v) / across, gap.cross(u) / across
        reach = 2 * gap.norm + 0.1
        if not (-0.05 - over <= ahead <= reach and -reach <= back <= 0.05 + over):
            return None
        corner = a.end + u * ahead
    return corner


def _from_corner(points: list[Vec], corners: list[int]) -> tuple[list[Vec], list[int]]:
    """Let a closed line begin at its first corner."""
    if not corners:
        return points, corners
    open_ = points[:-1]
    k = corners[0]
    turned = [*open_[k:], *open_[:k], open_[k]]
    n = len(open_)
    return turned, sorted((c - k) % n for c in corners if c != k)
