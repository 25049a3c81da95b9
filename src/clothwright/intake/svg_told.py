"""What the lines and words of an SVG say together: the paper, the test square, the sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.geometry.box import Box
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText
from clothwright.intake.painted_strokes import with_lines
from clothwright.intake.paper import without_paper
from clothwright.intake.pen import DrawnPen, PenLine
from clothwright.intake.told_by_pen import drawing_of, told_by


def drawn(
    name: str,
    lines: Sequence[tuple[DrawnLine, DrawnPen]],
    texts: Sequence[DrawnText],
    sheet: Box,
    *,
    notes: Sequence[str],
    scale_known: bool,
    alike: str = "",
) -> Drawing:
    """Return the drawing that lines with their pens and words make. sheet: its corners, mm.

    alike: as in `told_by`.
    """
    pens = [PenLine(path=x.path, closed=x.closed, pen=pen) for x, pen in lines]
    read = with_lines(pens, scale_known=scale_known)
    own = {id(x): replace(lines[k][0], path=x.path, closed=x.closed) for x, k in read}
    kept, paper = without_paper([x for x, _ in read], sheet)
    told = told_by(kept, texts, alike)
    said = (paper, *(told.scale.notes if told.scale.square else ()), told.note)
    sized = [replace(own[id(x)], size=size) for x, size in told.lines]
    return drawing_of(name, told, sized, notes=(*notes, *said), scale_known=scale_known)
