"""The other sizes of a drawing in the sitting: answered as the size that is shown was."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from clothwright.errors import ClothwrightError
from clothwright.intake.answers import Answers
from clothwright.intake.candidates import Candidate
from clothwright.intake.in_sizes import InSize, in_every_size
from clothwright.intake.waiting.said import Answered
from clothwright.intake.waiting.seen import (
    SeenDrawing,
    shown_answers,
    size_shown,
    whole_answers,
)
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit
from clothwright.words import told

Sizes = Callable[[str], Sequence[Candidate]]
"""From the name of a size to its outlines."""


def sizes_of(one: SeenDrawing, unit: Unit, drawn: Sizes) -> tuple[SizeRange | None, str]:
    """Return the wanted pieces in every size of the drawing, or None and why, in words.

    drawn: the outlines of any size; what was answered about a piece holds for its other sizes.
    (None, "") for a drawing of one size.
    """
    own = [
        InSize(o.piece, o.candidate, partial(_meant, o.said))
        for o in one.outlines
        if o.wanted and o.piece is not None and o.candidate is not None
    ]
    if not one.sizes or not own:
        return None, ""
    shown = size_shown(one.waiting, one.sizes)
    try:
        return in_every_size(own, one.sizes, shown, drawn, unit, whole=False), ""
    except ClothwrightError as error:
        return (
            None,
            f"Only size {shown} is added, since the sizes do not correspond: {told(error, unit)}",
        )


def _meant(said: Answered, candidate: Candidate) -> Answers:
    return whole_answers(said, shown_answers(said, candidate))
