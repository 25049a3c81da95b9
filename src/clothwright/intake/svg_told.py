"""What the lines and words of an SVG say together: the paper, the test square, the sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText
from clothwright.intake.letters import joined_letters
from clothwright.intake.paper import without_paper
from clothwright.intake.pdf.drawn import DrawnPen, PenLine
from clothwright.intake.pdf.sizes import told_apart
from clothwright.intake.true_size import checked


def drawn(
    name: str,
    lines: Sequence[tuple[DrawnLine, DrawnPen]],
    texts: Sequence[DrawnText],
    sheet: tuple[Vec, Vec],
    *,
    notes: Sequence[str],
    scale_known: bool,
) -> Drawing:
    """Return the drawing that lines with their pens and words make. sheet: its corners, mm."""
    pens = [PenLine(path=x.path, closed=x.closed, pen=pen) for x, pen in lines]
    own = {id(p): x for p, (x, _) in zip(pens, lines, strict=True)}
    texts = joined_letters(texts)
    kept, paper = without_paper(pens, sheet)
    scale = checked(kept, texts)
    sized = told_apart(kept, texts)
    told = [*notes, *([paper] if paper else [])]
    told += scale.notes if scale.square else ()
    if sized.names:
        told.append(f"sizes told apart by {sized.by}: {', '.join(sized.names)}")
    return Drawing(
        name=name,
        lines=tuple(
            replace(own[id(x)], size=size)
            for k, (x, size) in enumerate(zip(kept, sized.sizes, strict=True))
            if size is not None and k not in scale.of_square
        ),
        scale_known=scale_known and scale.agrees,
        scale_why=scale.notes[0] if scale_known and not scale.agrees else "",
        notes=tuple(told),
        texts=tuple(texts),
        sizes=sized.names,
        square=scale.square,
    )
