"""What the lines and words of a drawing say together: sizes, and whether it is true to size."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from clothwright.intake.answers import PIECES, SIZES, UNSURE
from clothwright.intake.drawing import Drawing, DrawnLine, DrawnText, Pages
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


def drawing_of(
    name: str,
    told: ToldLines,
    lines: Sequence[DrawnLine],
    *,
    notes: Sequence[str],
    scale_known: bool = True,
    pages: Pages | None = None,
) -> Drawing:
    """Return the drawing that lines (mm), each with its size, make with what they say together.

    scale_known: the file names its unit; what is drawn may still contradict it.
    """
    scale = told.scale
    return Drawing(
        name=name,
        lines=in_their_sizes(lines, told.sizes),
        scale_known=scale_known and scale.agrees,
        scale_why=scale.notes[0] if scale_known and not scale.agrees else "",
        notes=tuple(note for note in notes if note),
        texts=told.texts,
        sizes=told.sizes,
        alike=told.alike,
        alike_names=told.alike_names,
        alike_by=told.alike_by,
        pages=pages,
        square=scale.square,
    )
