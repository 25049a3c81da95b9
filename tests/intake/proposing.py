"""What a drawing or a text becomes when its questions are answered at once, in one size."""

from __future__ import annotations

from dataclasses import replace

from clothwright.intake.answers import Answers, Question
from clothwright.intake.candidates import see
from clothwright.intake.drawing import Drawing
from clothwright.intake.typed.file import typed_in
from clothwright.intake.waiting.at_once import (
    NOTHING,
    Draft,
    drawn_draft,
    typed_draft,
    waiting_at_once,
)
from clothwright.intake.waiting.seen import drawn_look
from clothwright.pattern.piece import Piece
from clothwright.units import Unit


def propose(drawing: Drawing, answers: Answers, *, unit: Unit) -> Draft:
    """The pieces of a drawing, all that is drawn there."""
    return drawn_draft(replace(drawing, sizes=()), answers, unit)


def questions(drawing: Drawing, answers: Answers, *, unit: Unit) -> tuple[Question, ...]:
    """What must be answered before anything is made of a drawing."""
    one = waiting_at_once(drawing.name, answers)
    seen = drawn_look(one, drawing, lambda _: see(drawing, answers.scale, unit), NOTHING, unit)
    return (*seen.asked, *(q for o in seen.outlines for q in o.must))


def typed_pieces(
    data: bytes, name: str, answers: Answers, unit: Unit
) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
    """The pieces of a text of measurements, and notes."""
    made = typed_draft(name, typed_in(data, name, unit), answers, unit)
    return made.pieces, made.notes
