"""What the lines and words of a drawing say together: sizes, and whether it is true to size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.intake.answers import PIECES, SIZES, UNSURE
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText
from clothwright.intake.letters import joined_letters
from clothwright.intake.notches_in_sizes import in_their_sizes
from clothwright.intake.pen import PenLine
from clothwright.intake.sizes_by_pen import SizedLines, told_apart
from clothwright.intake.true_size import Scale, checked


class ToldLines(NamedTuple):
    """The lines that are drawn, each with its size ("" for all), and what the others say.

    lines: without test squares and legend. sizes: all there are. by, note: what told them apart, ""
    when there is one size. alike, alike_names, alike_by: as in `Drawing`, where nothing names them.
    """

    lines: tuple[tuple[PenLine, str], ...]
    texts: tuple[DrawnText, ...]
    sizes: tuple[str, ...]
    scale: Scale
    by: str
    note: str
    alike: str = ""
    alike_names: tuple[str, ...] = ()
    alike_by: str = ""


def told_by(lines: Sequence[PenLine], texts: Sequence[DrawnText], alike: str = PIECES) -> ToldLines:
    """Return what lines and words (mm) say together; words set letter by letter are joined.

    alike: whether what nothing names but its pen are sizes; "" where that is to be asked.
    """
    texts = joined_letters(texts)
    sized, scale = told_apart(lines, texts), checked(lines, texts)
    unnamed = sized.names if sized.unnamed else ()
    if unnamed and alike != SIZES:
        sized = SizedLines(("",) * len(lines), (), sized.by)
    return ToldLines(
        lines=tuple(
            (line, size)
            for k, (line, size) in enumerate(zip(lines, sized.sizes, strict=True))
            if size is not None and k not in scale.of_square
        ),
        texts=texts,
        sizes=sized.names,
        scale=scale,
        by=sized.by,
        note=f"sizes told apart by {sized.by}: {', '.join(sized.names)}" if sized.names else "",
        alike=(alike or UNSURE) if unnamed else "",
        alike_names=unnamed,
        alike_by=sized.by if unnamed else "",
    )


def told_drawing(
    name: str,
    lines: Sequence[tuple[DrawnLine, PenLine]],
    texts: Sequence[DrawnText],
    *,
    notes: Sequence[str],
    scale_known: bool,
) -> tuple[Drawing, ToldLines]:
    """Return the drawing that lines (mm), each with its pen, and words make, and what they say.

    A line that has a size keeps it.
    """
    own = {id(pen): x for x, pen in lines}
    told = told_by([pen for _, pen in lines], texts)
    scale = told.scale
    said = (*notes, *(scale.notes if scale.square else ()), told.note)
    drawing = Drawing(
        name=name,
        lines=in_their_sizes(
            [replace(own[id(x)], size=own[id(x)].size or size) for x, size in told.lines],
            told.sizes,
        ),
        scale_known=scale_known and scale.agrees,
        scale_why=scale.notes[0] if scale_known and not scale.agrees else "",
        notes=tuple(note for note in said if note),
        texts=told.texts,
        sizes=told.sizes,
        square=scale.square,
    )
    return drawing, told
