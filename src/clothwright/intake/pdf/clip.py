"""Lines cut off at the edges of a window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from clothwright.geometry.box import Box
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pen import PenLine

EDGE_MM = 1e-4
SPECK_MM = 0.02
"""mm: no part of a line is shorter; one that lies so little beyond an edge is not cut there."""


def shown_in(page: DrawnPage, window: Box) -> DrawnPage:
    """Return the lines that a page shows in a window, measured from its lower left corner."""
    move = translation(window.low * -1.0)
    parts = (part for x in page.lines for part in clipped(x, window))
    return replace(page, lines=tuple(replace(x, path=x.path.transformed(move)) for x in parts))


def clipped(line: PenLine, window: Box) -> Iterator[PenLine]:
    """Yield the parts of a line inside a window; whole lines stay closed."""
    box = line.path.bounds()
    if window.holds(box, EDGE_MM):
        yield line
        return
    if not window.meets(box):
        return
    parts = [p for p in _cut(line.path, window) if window.holds(p.middle, EDGE_MM)]
    if line.closed and len(parts) > 1 and parts[0].start.distance(parts[-1].end) < EDGE_MM:
        parts = [parts[-1].joined(parts[0].with_ends(start=parts[-1].end)), *parts[1:-1]]
    for part in parts:
        yield replace(line, path=part, closed=False)


def _cut(path: Path, window: Box) -> Iterator[Path]:
    ways = (Vec(1.0, 0.0), Vec(0.0, 1.0), Vec(1.0, 0.0), Vec(0.0, 1.0))
    length = path.length
    sides = zip(window.corners, ways, strict=True)
    ats = sorted(c.at_a for p, v in sides for c in line_crossings(path, p, v))
    cuts = [0.0]
    for at in ats:
        if at - cuts[-1] > SPECK_MM and length - at > SPECK_MM:
            cuts.append(at)
    for a, b in pairwise([*cuts, length]):
        yield path.between(a, b)
