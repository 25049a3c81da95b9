"""Dashes that were drawn one by one, as areas or lines, as the dashed line they make."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.along_dashes import along
from clothwright.intake.pen import PenLine, same_colour

LONGEST_MM = 60.0
"""mm: no dash is longer, nor a gap between two."""
ODD = 0.1
"""Share of dashes up to which those that seem to be drawn the other way are not."""
FEWEST = 3
"""Dashes that make a line."""
TOUCH = 0.75
"""Widths of the pen: lines whose ends are nearer meet there, and are no dashes."""
ONE_GAP = 0.3
"""Of the widest gap: one at least of those beside the last dash of a ring is as wide. One of the
next ring, which begins in the same corner, may happen to lie between."""
HAIR_MM = 0.1
"""mm: a thinner pen is taken for as wide there."""
BESIDE_DEG = 45.0


class Dash(NamedTuple):
    """What may be a dash: the line that was drawn, the pen's width (mm), and what stands for it.

    drawn: the area that the pen painted, or the line.
    """

    path: Path
    width: float
    drawn: PenLine


def goes_on(run: Sequence[Dash], dash: Dash) -> bool:
    """Tell whether a dash is the next one of a run of them."""
    last, path = run[-1], dash.path
    if max(last.path.length, path.length) > LONGEST_MM:
        return False
    before, pen = last.drawn.pen, dash.drawn.pen
    if before.layer != pen.layer or not same_colour(before.colour, pen.colour):
        return False
    if abs(dash.width - last.width) > 0.15 * last.width + 0.02:
        return False
    gap = _gap(last.path, path)
    if len(run) >= FEWEST:
        return gap <= _widest_gap(run) and not _is_round(run, path)
    near = gap <= min(LONGEST_MM, 3 * max(last.path.length, path.length, 1.0))
    return near and gap > TOUCH * max(dash.width, HAIR_MM) and not _is_beside(last.path, path)


def _is_round(run: Sequence[Dash], path: Path) -> bool:
    """Tell whether a run has come round to its beginning, and the next dash is none between."""
    if len(run) <= FEWEST:
        return False
    first, last = (_free(run[k].path, run[n].path) for k, n in ((0, 1), (-1, -2)))
    left = first.distance(last)
    before, after = min(
        ((last.distance(a), b.distance(first)) for a, b in (path.ends, path.ends[::-1])),
        key=sum,
    )
    widest = _widest_gap(run)
    fits = before + path.length + after <= 1.45 * left + 0.2
    return left <= widest and not (fits and max(before, after) > ONE_GAP * widest)


def _free(path: Path, beside: Path) -> Vec:
    """Return the end of a dash that is farther from the one beside it."""
    return max(path.ends, key=lambda p: min(p.distance(q) for q in beside.ends))


def _gap(a: Path, b: Path) -> float:
    return min(p.distance(q) for p in a.ends for q in b.ends)


def _is_beside(a: Path, b: Path) -> bool:
    """Tell whether two lines run side by side, and not one after the other."""
    first, second = headed((a, b))
    u, v, way = first.end_tangent, second.start_tangent, second.start - first.end
    alike = abs(turn_between_deg(u, v)) < BESIDE_DEG
    return alike and abs(turn_between_deg(u, way)) > BESIDE_DEG


def _widest_gap(run: Sequence[Dash]) -> float:
    return 1.6 * median(_gap(a.path, b.path) for a, b in pairwise(run[-9:])) + 0.2


def whole_line(run: Sequence[Dash]) -> PenLine:
    """Return the dashed line that a run of at least `FEWEST` dashes makes."""
    paths = headed([dash.path for dash in run], one_way=not run[0].drawn.pen.filled)
    dash = dashes_of(paths)
    closed = len(paths) > FEWEST and paths[-1].end.distance(paths[0].start) <= 1.6 * dash[1] + 0.2
    width = round(median(dash.width for dash in run), 4)
    pen = replace(run[0].drawn.pen, width=width, dash=dash, filled=False)
    return PenLine(path=along(paths, closed=closed, over=width / 2), closed=closed, pen=pen)


def dashes_of(paths: Sequence[Path]) -> tuple[float, ...]:
    """Return how long the dashes of a line are and the gaps, mm; with short ones between, both.

    A dash that was cut off at a corner or an end counts for nothing.
    """
    gap = round(median(a.end.distance(b.start) for a, b in pairwise(paths)), 2)
    lengths = [p.length for p in paths]
    half = max(lengths) / 2
    long = [x for x in lengths if x > half]
    short = [x for x in lengths if x <= half]
    if len(short) <= len(long) / 2:
        return round(median(long), 2), gap
    return round(median(long), 2), gap, round(median(short), 2), gap


def headed(paths: Sequence[Path], *, one_way: bool = False) -> list[Path]:
    """Turn dashes so that each goes on where the one before ends.

    one_way: lines are mostly drawn one way. Round a sharp corner the far end of a dash may be the
    nearer one: where nearly all were drawn one way, all were.
    """
    first, second = paths[0], paths[1]
    ends = second.ends
    turned = [min(map(first.start.distance, ends)) < min(map(first.end.distance, ends))]
    for before, path in pairwise(paths):
        here = before.start if turned[-1] else before.end
        turned.append(here.distance(path.end) < here.distance(path.start))
    share = sum(turned) / len(turned)
    if one_way and min(share, 1 - share) <= ODD:
        turned = [share > ODD] * len(turned)
    return [path.reversed() if back else path for path, back in zip(paths, turned, strict=True)]


def straightened(path: Path) -> Path:
    """Return a line that runs there and back on itself as the one line it is."""
    if len(path.segments) == 2 and path.start.distance(path.end) < 1e-6:
        one, other = path.segments
        if isinstance(one, Line) and isinstance(other, Line):
            return Path((one,))
    return path
