"""Lines cut off at the edges of a window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pen import PenLine

EDGE_MM = 1e-4
SPECK_MM = 0.02
"""mm: no part of a line is shorter; one that lies so little beyond an edge is not cut there."""


class Window(NamedTuple):
    """A rectangle on a page, mm."""

    low: Vec
    high: Vec

    @property
    def size(self) -> Vec:
        """Width and height."""
        return self.high - self.low

    def middle(self, size: Vec) -> Window:
        """Return the part of this size (mm) in its middle."""
        low = self.low + (self.size - size) / 2
        return Window(low, low + size)

    def holds(self, p: Vec, tol: float = EDGE_MM) -> bool:
        """Tell whether a point (mm) lies inside or on its edge."""
        return (
            self.low.x - tol <= p.x <= self.high.x + tol
            and self.low.y - tol <= p.y <= self.high.y + tol
        )


def shown_in(page: DrawnPage, window: Window) -> DrawnPage:
    """Return the lines that a page shows in a window, measured from its lower left corner."""
    move = translation(window.low * -1.0)
    parts = (part for x in page.lines for part in clipped(x, window))
    return replace(page, lines=tuple(replace(x, path=x.path.transformed(move)) for x in parts))


def clipped(line: PenLine, window: Window) -> Iterator[PenLine]:
    """Yield the parts of a line inside a window; whole lines stay closed."""
    low, high = line.path.bounds()
    if window.holds(low) and window.holds(high):
        yield line
        return
    if low.x > window.high.x or low.y > window.high.y:
        return
    if high.x < window.low.x or high.y < window.low.y:
        return
    parts = [p for p in _cut(line.path, window) if window.holds(p.point_at(p.length / 2))]
    if line.closed and len(parts) > 1 and parts[0].start.distance(parts[-1].end) < EDGE_MM:
        parts = [parts[-1].joined(parts[0].with_ends(start=parts[-1].end)), *parts[1:-1]]
    for part in parts:
        yield replace(line, path=part, closed=False)


def _cut(path: Path, window: Window) -> Iterator[Path]:
    corners = (window.low, Vec(window.high.x, window.low.y), window.high)
    sides = (
        (corners[0], Vec(1.0, 0.0)),
        (corners[1], Vec(0.0, 1.0)),
        (corners[2], Vec(1.0, 0.0)),
        (corners[0], Vec(0.0, 1.0)),
    )
    length = path.length
    ats = sorted(c.at_a for p, v in sides for c in line_crossings(path, p, v))
    cuts = [0.0]
    for at in ats:
        if at - cuts[-1] > SPECK_MM and length - at > SPECK_MM:
            cuts.append(at)
    for a, b in pairwise([*cuts, length]):
        yield path.between(a, b)
