"""The other sizes of a drawing in the sitting: answered as the size that is shown was."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from clothwright.errors import BadInput, ClothwrightError
from clothwright.intake.answers import Answers
from clothwright.intake.candidates import Candidate
from clothwright.intake.in_sizes import InSize, in_every_size, nearest
from clothwright.intake.waiting.said import Answered
from clothwright.intake.waiting.seen import (
    INNER,
    Outline,
    SeenDrawing,
    all_outlines,
    shown_answers,
    size_shown,
    whole_answers,
)
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit
from clothwright.words import counted, told

Sizes = Callable[[str], Sequence[Candidate]]
"""From the name of a size to its outlines."""


def sizes_of(one: SeenDrawing, unit: Unit, drawn: Sizes) -> tuple[SizeRange | None, str]:
    """Return the wanted pieces in every size of the drawing, or None and why, in words.

    drawn: the outlines of any size; what was answered about a piece, and about the lines inside it,
    holds for its other sizes. (None, "") for a drawing of one size.
    """
    wanted = [o for o in one.outlines if o.wanted and o.piece is not None and o.candidate]
    if not one.sizes or not wanted:
        return None, ""
    shown = size_shown(one.waiting, one.sizes)
    own = [InSize(o.piece, partial(_meant, o.said)) for o in wanted if o.piece]
    try:
        return in_every_size(own, one.sizes, shown, partial(_in_size, one, wanted, drawn), unit), ""
    except ClothwrightError as error:
        return (
            None,
            f"Only size {shown} is added, since the sizes do not correspond: {told(error, unit)}",
        )


def _in_size(
    one: SeenDrawing, wanted: Sequence[Outline], drawn: Sizes, size: str
) -> tuple[Candidate, ...]:
    """Return the outline of each wanted piece in a size, as it was said to be. Raises BadInput.

    Outermost lines are the same by their places, lines inside by their order.
    """
    left = list(drawn(size))
    asked = {o.number if o.number < INNER else o.number // INNER - 1 for o in wanted}
    here = []
    for o in one.outlines:
        if o.whole is not None and o.number < INNER:
            here.append(nearest(o.whole, o.name, left, size) if o.number in asked else o.whole)
            _check_inside(o, here[-1], size)
    found = all_outlines(one.waiting, here)
    return tuple(found[o.number][1] for o in wanted)


def _check_inside(outline: Outline, here: Candidate, size: str) -> None:
    """Refuse other lines inside when something was said about them. Raises BadInput."""
    said, there = outline.said.answers, len(outline.whole.nested) if outline.whole else 0
    if (said.outline or said.inside) and len(here.nested) != there:
        raise BadInput(
            what=f'"{outline.name}" has {counted(len(here.nested), "closed line")} inside in size '
            f"{size} and {there} in the size chosen",
            expected="the same lines inside in every size",
        )


def _meant(said: Answered, candidate: Candidate) -> Answers:
    return whole_answers(said, shown_answers(said, candidate))
