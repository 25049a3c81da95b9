"""The questions about what is read answered all at once, by the options of a command."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from clothwright.errors import BadInput
from clothwright.intake.answers import NONE, Answers, Question
from clothwright.intake.candidates import Seen, see
from clothwright.intake.drawing import Drawing
from clothwright.intake.edges import DRAWN
from clothwright.intake.in_sizes import of_size, size_named, size_question
from clothwright.intake.outlines import NESTED
from clothwright.intake.plausible_size import SizeDoubt
from clothwright.intake.recognise import alike_question, scale_question
from clothwright.intake.typed.pieces import check_silent
from clothwright.intake.typed.sheet import Typed, TypedPiece
from clothwright.intake.waiting.doubted import with_doubt
from clothwright.intake.waiting.said import Answered, Waiting
from clothwright.intake.waiting.seen import Outline, SeenDrawing, drawn_look, typed_look
from clothwright.intake.waiting.sizes import sizes_of
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit
from clothwright.words import listed, with_lengths

NOTHING = Pattern(pieces=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """Pieces made of a file. sizes: in every size, None where it holds one or they do not agree.

    notes: what was done or left out, in words. questions: what was proposed and may be answered
    otherwise (`Question.default` says what was taken).
    """

    pieces: tuple[Piece, ...]
    sizes: SizeRange | None = None
    notes: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()


def typed_draft(name: str, typed: Typed, answers: Answers, unit: Unit) -> Draft:
    """Return the pieces of typed measurements. name: of the file.

    Raises BadInput or Mistakes: every line that cannot be read, every diagonal that misses; an
    option that is missing, or says what the notes say.
    """
    typed.raise_slips(name)
    for one in typed.pieces:
        check_silent(one, answers)
    seen = typed_look(waiting_at_once(name, answers), typed, NOTHING, unit)
    return _draft(with_doubt(seen, unit))


def drawn_draft(drawing: Drawing, answers: Answers, unit: Unit, *, note: str = "") -> Draft:
    """Return the pieces of a drawing. note: what each says of itself besides.

    When the pieces of another size do not correspond, corner by corner, only the one asked for is
    kept, and a note says why. Raises BadInput, CannotDo: the option that is missing.
    """
    if drawing.sizes and answers.size:
        answers = replace(answers, size=size_named(drawing, answers.size))

    for question in (
        alike_question(drawing),
        size_question(drawing, answers.size),
        scale_question(drawing, answers.scale),
    ):
        if question is not None:
            raise _unanswered(drawing.name, question)

    def look(size: str) -> Seen:
        return see(of_size(drawing, size) if size else drawing, answers.scale, unit)

    one = waiting_at_once(drawing.name, answers)
    seen = with_doubt(drawn_look(one, drawing, look, NOTHING, unit, note=note), unit)
    made = _draft(seen)
    if not drawing.sizes:
        return made
    sizes, why = sizes_of(seen, unit, lambda size: look(size).candidates)
    if sizes is None:
        words = f"only size {answers.size} is kept, since the sizes do not correspond: {why}"
    else:
        words = f"all sizes are kept ({', '.join(drawing.sizes)}); {answers.size} is the one shown"
        words += f"; {why}" if why else ""
    return replace(made, sizes=sizes, notes=(*made.notes, words))


def waiting_at_once(name: str, answers: Answers) -> Waiting:
    """What would wait, with these answers about each of its outlines."""
    return Waiting(
        id="",
        file=name,
        came="",
        stored=Path(),
        scale=answers.scale,
        size=answers.size,
        true_size=answers.true_size,
        every=Answered(answers=answers),
    )


def _draft(seen: SeenDrawing) -> Draft:
    """Return the pieces of what was answered at once. Raises BadInput, CannotDo."""
    if seen.doubt:
        raise _doubted(seen.waiting.file, seen.doubt, drawn=seen.drawing is not None)
    for one in seen.outlines:
        if one.must:
            raise _unanswered(seen.waiting.file, one.must[0], one.typed)
    for error in (seen.error, *(o.error for o in seen.outlines)):
        if error:
            raise error
    answers = seen.waiting.about(0).answers
    notes = [n for n in seen.notes if not (answers.allowance == DRAWN and n.startswith(NESTED))]
    if answers.edges and len(seen.outlines) > 1:
        notes.append("the same edge names were given to every outline")
    questions = []
    for one in seen.outlines:
        notes += [f'"{one.name}": {words}' for words in _told(one)]
        questions += [(one.name, q) for q in one.asked]
    notes += [f'"{name}": {q.words} ({_otherwise(q)})' for name, q in questions]
    return Draft(
        pieces=tuple(o.piece for o in seen.outlines if o.piece),
        notes=tuple(notes),
        questions=tuple(q for _, q in questions),
    )


def _told(one: Outline) -> tuple[str, ...]:
    apart = (a.words for a in one.apart)
    if one.typed is None:
        return (*one.notes, *apart)
    checks = [f"checked: {c.words}" for c in one.typed.checks]
    return (*(checks or ["no diagonal was measured to check"]), *one.typed.took, *apart)


def _otherwise(question: Question) -> str:
    """Return how something else is said on the command line."""
    if NONE in question.choices:
        return f"--{question.id} none if not"
    return f"--{question.id} for another"


def _unanswered(file: str, question: Question, typed: TypedPiece | None = None) -> BadInput:
    """Return the error that names the option which answers a question about a file."""
    where, choices = file, question.choices
    if typed is not None:
        where = f"{file}, {typed.name}"
        expected = (
            'a line such as "allowance 5/8 in included" or "allowance not included", or '
            '--allowance "5/8 in", or --allowance none'
        )
    elif question.id == "size":
        expected = (
            f"--size {choices[len(choices) // 2]} (or another): the one to begin with; the others "
            "are kept too"
        )
    elif question.id == "alike":
        expected = "--alike sizes (of one piece) or --alike pieces (no sizes)"
    elif question.id == "scale":
        return BadInput(where=where, what=question.words, expected=_scales(choices))
    elif question.id == "outline":
        expected = f"--outline with its number: {'; '.join(choices)}; the others are left out"
    else:
        expected = '--allowance "5/8 in" when it is included, or --allowance none'
        if DRAWN in choices:
            expected += ", or --allowance drawn when the line inside is the stitching line"
    return BadInput(where=where, what=question.words, expected=with_lengths(expected))


def _doubted(file: str, doubt: SizeDoubt, *, drawn: bool) -> BadInput:
    """Return the error that names what to say where a piece is too small or too large."""
    others = [f'--scale "{scale}" ({said} then)' for scale, said in doubt.ways]
    if not others:
        others = ["another --scale" if drawn else "another unit behind the numbers"]
    expected = f"--true-size when it is, or {listed(others, 'or')}"
    return BadInput(where=file, what=doubt.words, expected=expected)


def _scales(choices: tuple[str, ...]) -> str:
    """Say what a scale may be: units as they are typed, in no unit of hers."""
    said = (
        '--scale mm (or cm, in, "1/72 in") for the unit it was drawn in, or --scale '
        '"10 cm is 378" for a measured length'
    )
    if " is " in choices[0]:
        return f'--scale "{choices[0]}", as its test square says; else {said}'
    return said
