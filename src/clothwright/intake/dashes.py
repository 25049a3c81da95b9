"""Dashes that were drawn as little filled areas, put together to the dashed line they were."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median
from typing import NamedTuple

from clothwright.geometry.fit import fit_curve
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.pen import PenLine, same_colour

LONGEST_MM = 60.0
"""mm: no dash is longer, nor a gap between two."""
FIT_MM = 0.02
JOINT_DEG = 4.0
CORNER_DEG = 12.0
"""Bends that are corners: within a dash or between two straight ones; between curved ones."""
FEWEST = 3
"""Dashes that make a line."""
TOUCH = 0.75
"""Widths of the pen: lines whose ends are nearer meet there, and are no dashes."""
BESIDE_DEG = 45.0


class Dash(NamedTuple):
    """An area that a pen painted: the line along its middle, the pen's width (mm), the area."""

    path: Path
    width: float
    area: PenLine


def goes_on(run: Sequence[Dash], dash: Dash) -> bool:
    """Tell whether a dash is the next one of a run of them."""
    last, path = run[-1], dash.path
    if max(last.path.length, path.length) > LONGEST_MM:
        return False
    before, pen = last.area.pen, dash.area.pen
    if before.layer != pen.layer or not same_colour(before.colour, pen.colour):
        return False
    if abs(dash.width - last.width) > 0.15 * last.width + 0.02:
        return False
    gap = _gap(last.path, path)
    if len(run) >= FEWEST:
        return gap <= 1.6 * _typical_gap(run) + 0.2
    near = gap <= min(LONGEST_MM, 3 * max(last.path.length, path.length, 1.0))
    return near and gap > TOUCH * dash.width and not _is_beside(last.path, path)


def _gap(a: Path, b: Path) -> float:
    return min(p.distance(q) for p in (a.start, a.end) for q in (b.start, b.end))


def _is_beside(a: Path, b: Path) -> bool:
    """Tell whether two lines run side by side, and not one after the other."""
    first, second = _headed((a, b))
    u, v, way = first.end_tangent, second.start_tangent, second.start - first.end
    alike = abs(turn_between_deg(u, v)) < BESIDE_DEG
    return alike and abs(turn_between_deg(u, way)) > BESIDE_DEG


def _typical_gap(run: Sequence[Dash]) -> float:
    return median(_gap(a.path, b.path) for a, b in pairwise(run[-9:]))


def whole_line(run: Sequence[Dash]) -> PenLine:
    """Return the dashed line that a run of at least `FEWEST` dashes makes."""
    paths = _headed([dash.path for dash in run])
    gaps = [a.end.distance(b.start) for a, b in pairwise(paths)]
    gap = median(gaps)
    closed = len(paths) > FEWEST and paths[-1].end.distance(paths[0].start) <= 1.6 * gap + 0.2
    pen = replace(
        run[0].area.pen,
        width=round(median(dash.width for dash in run), 4),
        dash=(round(median(p.length for p in paths), 2), round(gap, 2)),
        filled=False,
    )
    return PenLine(path=_whole(paths, closed=closed), closed=closed, pen=pen)


def _headed(paths: Sequence[Path]) -> list[Path]:
    """Turn dashes so that each goes on where the one before ends."""
    first, second = paths[0], paths[1]
    ends = (second.start, second.end)
    if min(first.start.distance(q) for q in ends) < min(first.end.distance(q) for q in ends):
        first = first.reversed()
    out = [first]
    for path in paths[1:]:
        here = out[-1].end
        out.append(
            path if here.distance(path.start) <= here.distance(path.end) else path.reversed()
        )
    return out


def _whole(paths: Sequence[Path], *, closed: bool) -> Path:
    """Return one line along all dashes, gaps bridged, with its corners."""
    points: list[Vec] = []
    corners: list[int] = []
    ring = [*paths, paths[0]] if closed else list(paths)
    for k, path in enumerate(ring):
        if k == len(paths):
            points.append(path.start)
            break
        for n, segment in enumerate(path.segments):
            if n and _bends(path.segments[n - 1], segment):
                corners.append(len(points))
            points += [segment.start, *segment.flatten(0.005)[:-1]]
        points.append(path.end)
        if k + 1 < len(ring):
            corner = _corner_between(path, ring[k + 1])
            if corner is not None:
                corners.append(len(points))
                points.append(corner)
    if closed:
        points, corners = _from_corner(points, corners)
    fitted = fit_curve(points, FIT_MM, corners=corners)
    return fitted.with_ends(end=fitted.start) if closed else fitted


def _bends(before: Segment, after: Segment) -> bool:
    return abs(turn_between_deg(before.tangent(1.0), after.tangent(0.0))) > JOINT_DEG


def _corner_between(a: Path, b: Path) -> Vec | None:
    """Return where the line turns in the gap between two dashes; None where it runs on."""
    u, v = a.end_tangent, b.start_tangent
    straight = isinstance(a.segments[-1], Line) and isinstance(b.segments[0], Line)
    if abs(turn_between_deg(u, v)) < (JOINT_DEG if straight else CORNER_DEG):
        return None
    across = u.cross(v)
    gap = b.start - a.end
    ahead, back = gap.cross(v) / across, gap.cross(u) / across
    reach = 2 * gap.norm + 0.1
    if -0.05 <= ahead <= reach and -reach <= back <= 0.05:
        return a.end + u * ahead
    return None


def _from_corner(points: list[Vec], corners: list[int]) -> tuple[list[Vec], list[int]]:
    """Let a closed line begin at its first corner."""
    if not corners:
        return points, corners
    open_ = points[:-1]
    k = corners[0]
    turned = [*open_[k:], *open_[:k], open_[k]]
    n = len(open_)
    return turned, sorted((c - k) % n for c in corners if c != k)


def straightened(path: Path) -> Path:
    """Return a line that runs there and back on itself as the one line it is."""
    if len(path.segments) == 2 and path.start.distance(path.end) < 1e-6:
        one, other = path.segments
        if isinstance(one, Line) and isinstance(other, Line):
            return Path((one,))
    return path
