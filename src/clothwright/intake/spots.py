"""Points of a drawing: small rings round them, which keep their size whatever the scale is."""

from __future__ import annotations

import math

from clothwright.geometry.arcs import ellipse_arc
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import NOTCH_POINT, POINT, DrawnLine

RING_MM = 0.5
"""mm: radius of the ring that stands for a point."""


def ring_round(at: Vec) -> Path:
    """Return the ring that stands for a point."""
    path = Path(ellipse_arc(at, (RING_MM, RING_MM), 0.0, 0.0, 2 * math.pi))
    return path.with_ends(end=path.start)


def is_spot(line: DrawnLine) -> bool:
    """Tell whether a line stands for a point."""
    return line.kind in (POINT, NOTCH_POINT)
