"""An outline that no piece can be made of: it crosses itself, or is turned inside out by hand."""

from __future__ import annotations

from clothwright.geometry.area import polygon_area
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path
from clothwright.geometry.region import is_simple
from clothwright.geometry.vec import Vec
from clothwright.intake.outlines import ring
from clothwright.words import Sentence


def spoiled(found: Path, now: Path) -> Sentence:
    """Return what is wrong with an outline, with the place; () when a piece can be made of it.

    found: as it was found; now: as corrected. Both closed, mm, y up, (0, 0) at the lower left.
    """
    points = ring(now)
    if is_simple(points):
        turned = polygon_area(points) * polygon_area(ring(found)) < 0
        return ("The outline is turned inside out.",) if turned else ()
    at = next((c.point for c in self_crossings(now)), None)
    return ("The outline crosses itself", *_place(at), ".")


def _place(at: Vec | None) -> Sentence:
    """Say where a crossing is; nothing when only flattened lines touch."""
    return () if at is None else (" ", at.x, " from the left, ", at.y, " from below")


MEND = "No piece can be made of it yet: put the points there right, or undo."
"""What to do about a spoiled outline; the correction is kept until then."""
