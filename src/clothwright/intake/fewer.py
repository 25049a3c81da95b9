"""Fewer curves: arcs that a program cut into many are drawn again with few, within 0.05 mm."""

from __future__ import annotations

from itertools import pairwise

from clothwright.geometry.fit import fit_curve
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.vec import turn_between_deg

TOL_MM = 0.03
SMOOTH_DEG = 2.0
"""A joint that bends less is no corner."""
MANY = 4
"""More curves than this running on smoothly are too many."""
SHORT_MM = 8.0
"""mm: straight steps shorter than this, running on smoothly, are a curve cut into steps."""


def with_fewer_curves(path: Path, *, closed: bool) -> Path:
    """Return the path with each smooth run of many curves drawn with few; corners stay."""
    if len(path.segments) <= MANY:
        return path
    runs = _runs(path)
    if len(runs) == 1 and closed:
        return path  # no corner to begin at: a circle, a mark
    made = [_fitted(run) for run in runs]
    whole = join_all(made)
    return whole if len(whole.segments) < len(path.segments) else path


def _runs(path: Path) -> list[list[Segment]]:
    runs: list[list[Segment]] = [[path.segments[0]]]
    for before, after in pairwise(path.segments):
        bend = abs(turn_between_deg(before.tangent(1.0), after.tangent(0.0)))
        steps = _is_step(before) and _is_step(after)
        if bend > (8.0 if steps else SMOOTH_DEG) or _long_line(before) or _long_line(after):
            runs.append([])
        runs[-1].append(after)
    return runs


def _is_step(segment: Segment) -> bool:
    return isinstance(segment, Line) and segment.length < SHORT_MM


def _long_line(segment: Segment) -> bool:
    return isinstance(segment, Line) and segment.length >= SHORT_MM


def _fitted(run: list[Segment]) -> Path:
    path = Path(tuple(run))
    if len(run) <= MANY:
        return path
    if all(isinstance(s, Line) for s in run):
        points = [run[0].start, *(s.end for s in run)]
        return fit_curve(points, TOL_MM)
    points = [run[0].start]
    for segment in run:
        points += segment.flatten(0.005)
    fitted = fit_curve(
        points, TOL_MM, start_tangent=path.start_tangent, end_tangent=path.end_tangent
    )
    return fitted if len(fitted.segments) < len(run) else path
