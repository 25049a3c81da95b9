"""A line inside the outline that runs along it at steady distances: the stitching line."""

from __future__ import annotations

from typing import NamedTuple

from clothwright.geometry.area import polygon_area
from clothwright.geometry.path import Path, ring
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.edges import CORNER_DEG, corner_starts

WIDEST_MM = 110.0
"""mm: no allowance or hem is wider."""
STEADY_MM = 0.6
"""mm: along one edge an allowance varies by no more."""
MOST = 0.85
"""Share of the line's length that must run at a steady distance."""


class InnerLine(NamedTuple):
    """A large closed line inside an outline. steady: it runs at steady distances all round.

    least, most: mm between it and the outline, edge by edge.
    """

    line: DrawnLine
    steady: bool
    least: float
    most: float


def inner_line(outline: Path, line: DrawnLine) -> InnerLine:
    """Return what is known of a closed line (mm, counter-clockwise) inside an outline."""
    widths: list[tuple[float, float, bool]] = []
    for part in _parts(line.path):
        width, spread = distance_to(outline, part)
        widths.append((part.length, width, spread <= STEADY_MM and width <= WIDEST_MM))
    whole = sum(w[0] for w in widths)
    steady = sum(w[0] for w in widths if w[2]) >= MOST * whole
    large = polygon_area(ring(line.path)) > 0.4 * polygon_area(ring(outline))
    most = max(w[1] for w in widths)
    return InnerLine(line, steady and large and most > 2.0, min(w[1] for w in widths), most)


def distance_to(outline: Path, part: Path) -> tuple[float, float]:
    """Return the middle one of the distances of an edge from the outline, and how they vary, mm.

    The ends are left out: near a corner the other edge's line may be nearer.
    """
    inset = min(0.15 * part.length, WIDEST_MM / 2)
    far = part.length - 2 * inset
    ats = [inset + far * k / 8 for k in range(9)]
    away = sorted(outline.nearest(part.point_at(at))[1] for at in ats)
    return away[4], away[7] - away[1]


def _parts(path: Path) -> list[Path]:
    starts = corner_starts(path, CORNER_DEG)
    n = len(path.segments)
    if len(starts) < 2:
        return [path]
    out = []
    for a, b in zip(starts, (*starts[1:], starts[0] + n), strict=True):
        out.append(Path(tuple(path.segments[j % n] for j in range(a, b))))
    return out
