"""What the lines and words of a drawing say together: sizes, and whether it is true to size."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from clothwright.intake.drawing import DrawnText
from clothwright.intake.letters import joined_letters
from clothwright.intake.pen import PenLine
from clothwright.intake.sizes_by_pen import told_apart
from clothwright.intake.true_size import Scale, checked


class ToldLines(NamedTuple):
    """The lines that are drawn, each with its size ("" for all), and what the others say.

    lines: without test squares and legend. sizes: all there are. note: what told them apart, ""
    when there is one size.
    """

    lines: tuple[tuple[PenLine, str], ...]
    texts: tuple[DrawnText, ...]
    sizes: tuple[str, ...]
    scale: Scale
    note: str


def told_by(lines: Sequence[PenLine], texts: Sequence[DrawnText]) -> ToldLines:
    """Return what lines and words (mm) say together; words set letter by letter are joined."""
    texts = joined_letters(texts)
    sized, scale = told_apart(lines, texts), checked(lines, texts)
    return ToldLines(
        lines=tuple(
            (line, size)
            for k, (line, size) in enumerate(zip(lines, sized.sizes, strict=True))
            if size is not None and k not in scale.of_square
        ),
        texts=texts,
        sizes=sized.names,
        scale=scale,
        note=f"sizes told apart by {sized.by}: {', '.join(sized.names)}" if sized.names else "",
    )
