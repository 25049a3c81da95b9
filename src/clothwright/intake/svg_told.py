"""What the lines and words of an SVG say together: the paper, the test square, the sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText
from clothwright.intake.notches_in_sizes import in_their_sizes
from clothwright.intake.painted_strokes import with_lines
from clothwright.intake.paper import without_paper
from clothwright.intake.pen import DrawnPen, PenLine
from clothwright.intake.told_by_pen import told_by


def drawn(
    name: str,
    lines: Sequence[tuple[DrawnLine, DrawnPen]],
    texts: Sequence[DrawnText],
    sheet: tuple[Vec, Vec],
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
    scale = told.scale
    said = (paper, *(scale.notes if scale.square else ()), told.note)
    return Drawing(
        name=name,
        lines=in_their_sizes(
            [replace(own[id(x)], size=size) for x, size in told.lines], told.sizes
        ),
        scale_known=scale_known and scale.agrees,
        scale_why=scale.notes[0] if scale_known and not scale.agrees else "",
        notes=(*notes, *(note for note in said if note)),
        texts=told.texts,
        sizes=told.sizes,
        alike=told.alike,
        alike_names=told.alike_names,
        alike_by=told.alike_by,
        square=scale.square,
    )
