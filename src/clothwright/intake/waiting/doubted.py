"""A waiting drawing, and whether its pieces can be as large as they are read."""

from __future__ import annotations

from dataclasses import replace

from clothwright.geometry.vec import Vec
from clothwright.intake.candidates import scale_of
from clothwright.intake.plausible_size import ReadSize, size_doubt
from clothwright.intake.waiting.seen import Outline, SeenDrawing
from clothwright.units import Unit


def with_doubt(seen: SeenDrawing, unit: Unit) -> SeenDrawing:
    """Return a drawing with the question whether its pieces are at true size, if it is one.

    It is none while the scale is asked, where a test square says it or she has.
    """
    one, drawing = seen.waiting, seen.drawing
    square = drawing.square if drawing else None
    side = square.side * scale_of(one.scale, unit) if square else 0.0
    agrees = square is not None and square._replace(side=side).agrees(0.01)
    if seen.scale or one.true_size or agrees:
        return seen
    measured = [m for o in seen.outlines if o.wanted and (m := _measured(o))]
    doubt = size_doubt(measured, unit, one.scale, scalable=drawing is not None)
    return replace(seen, doubt=doubt)


def _measured(outline: Outline) -> ReadSize | None:
    """Return how large an outline is, mm; None for one of our own, and one that is none yet."""
    if outline.candidate is not None:
        path = outline.candidate.outline.path
    elif outline.typed is not None and outline.piece is not None:
        path = outline.piece.outline
    else:
        return None
    up = outline.piece.up if outline.piece else Vec(0.0, 1.0)
    return ReadSize(outline.name, *path.bounds().size, abs(up.x) > abs(up.y))
