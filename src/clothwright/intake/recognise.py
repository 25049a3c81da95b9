"""From lines to pieces: closed outlines, corners, edges; the unknown is asked, not guessed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.errors import BadInput, raise_all
from clothwright.intake.answers import NONE, Answers, Question
from clothwright.intake.candidates import Candidate, Seen, see
from clothwright.intake.drafting import Draft1, draft
from clothwright.intake.drawing import Drawing
from clothwright.intake.edges import DRAWN
from clothwright.intake.nested import answered, own_pieces
from clothwright.intake.outlines import NESTED
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.words import show_length, with_lengths


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """Pieces made of a drawing.

    notes: what was done or left out, in words. questions: what was proposed and may be answered
    otherwise (`Question.default` says what was taken). outlines: what each piece was made of.
    """

    pieces: tuple[Piece, ...]
    outlines: tuple[Candidate, ...] = ()
    notes: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()


def questions(drawing: Drawing, answers: Answers, *, unit: Unit) -> tuple[Question, ...]:
    """Return what must be answered before anything is made of a drawing; () when nothing must.

    These are never guessed: a wrong guess would be cut into cloth.
    """
    if scale_question(drawing, answers.scale):
        asked = [scale_question(drawing, answers.scale), allowance_question(None, answers, unit)]
        return tuple(q for q in asked if q)
    seen = as_said(see(drawing, answers.scale, unit), answers)
    first = seen.candidates[0] if seen.candidates else None
    asked = [allowance_question(first, answers, unit)]
    return tuple(q for q in asked if q)


def as_said(seen: Seen, answers: Answers) -> Seen:
    """Return the outlines as the answers say, lines inside that are pieces of their own last."""
    if not answers.outline and not answers.inside:
        return seen
    own = [p for c in seen.candidates for p in own_pieces(c, answers).values()]
    return replace(seen, candidates=(*(answered(c, answers) for c in seen.candidates), *own))


def scale_question(drawing: Drawing, scale: str) -> Question | None:
    """Return the question of size, None when the file or the maker has said it."""
    if scale or drawing.scale_known:
        return None
    return Question(
        id="scale",
        words=drawing.scale_why
        or "the drawing names no physical size (its width and height have no unit)",
        choices=("mm", "cm", "in", "1/72 in", "10 cm is 378"),
    )


def allowance_question(
    candidate: Candidate | None, answers: Answers, unit: Unit
) -> Question | None:
    """Return the question of the allowance, None when it is answered. It is never guessed."""
    if answers.allowance or (candidate is not None and candidate.stitching_said):
        return None
    words = "it does not say whether the outline includes the seam allowance"
    choices: tuple[str, ...] = ("5/8 in", NONE)
    if candidate is not None:
        low, high = candidate.outline.path.bounds()
        wide, tall = show_length(high.x - low.x, unit), show_length(high.y - low.y, unit)
        words += f" (the first piece is {wide} wide and {tall} high"
        inner = candidate.stitching
        if inner is not None:
            widths = [show_length(w, unit) for w in (inner.least, inner.most)]
            words += f"; a line runs inside it, {' to '.join(dict.fromkeys(widths))} away"
            choices = (DRAWN, *choices)
        words += ")"
    return Question(id="allowance", words=words, choices=choices)


def drafted(candidate: Candidate, name: str, answers: Answers, *, unit: Unit, where: str) -> Draft1:
    """Return what an outline becomes as answered. Raises BadInput, CannotDo.

    While no allowance is said, the sew line that the file names is taken for it, and proposed.
    """
    if answers.allowance or not candidate.stitching_said:
        return draft(candidate, name, answers, unit=unit, where=where)
    taken = replace(answers, allowance=DRAWN)
    made = draft(candidate, name, taken, unit=unit, where=where)
    allowance = replace(_allowance_proposal(candidate, unit), piece=name)
    return replace(made, questions=(allowance, *made.questions))


def _allowance_proposal(candidate: Candidate, unit: Unit) -> Question:
    """Return what is taken of an outline whose file says which line is the sew line."""
    inner = candidate.stitching
    widths = [show_length(w, unit) for w in (inner.least, inner.most)] if inner else []
    return Question(
        id="allowance",
        words="allowance taken from the sew line that is drawn inside, "
        + " to ".join(dict.fromkeys(widths)),
        choices=(DRAWN,),
        default=DRAWN,
    )


def propose(drawing: Drawing, answers: Answers, *, unit: Unit) -> Draft:
    """Return the pieces of a drawing. Raises BadInput that names the option to answer with."""
    scale = scale_question(drawing, answers.scale)
    if scale:
        raise _unanswered(drawing, scale)
    seen = as_said(see(drawing, answers.scale, unit), answers)
    if not seen.candidates:
        raise BadInput(
            where=drawing.name,
            what=f"there is no closed outline among its {seen.lines} lines",
            expected="a closed line round each piece",
            try_="joining the ends of the outline in the drawing",
        )
    all_asked = (allowance_question(c, answers, unit) for c in seen.candidates)
    asked = next((q for q in all_asked if q), None)
    raise_all([_unanswered(drawing, asked)] if asked else [])
    return _pieces(drawing, seen, answers, unit)


def _pieces(drawing: Drawing, seen: Seen, answers: Answers, unit: Unit) -> Draft:
    notes = [n for n in seen.notes if not (answers.allowance == DRAWN and n.startswith(NESTED))]
    if answers.edges and len(seen.candidates) > 1:
        notes.append("the same edge names were given to every outline")
    pieces: list[Piece] = []
    asked: list[Question] = []
    for one, name in zip(seen.candidates, piece_names(seen.candidates, answers), strict=True):
        where = f'{drawing.name}, outline "{name}"'
        made = drafted(one, name, answers, unit=unit, where=where)
        pieces.append(made.piece)
        asked += made.questions
        notes += [f'"{name}": {note}' for note in made.notes]
    notes.extend(f'"{q.piece}": {q.words} ({_otherwise(q)})' for q in asked)
    return Draft(
        pieces=tuple(pieces),
        outlines=seen.candidates,
        notes=tuple(notes),
        questions=tuple(asked),
    )


def _otherwise(question: Question) -> str:
    """Return how something else is said on the command line."""
    if NONE in question.choices:
        return f"--{question.id} none if not"
    return f"--{question.id} for another"


def _unanswered(drawing: Drawing, question: Question) -> BadInput:
    option = f"--{question.id}"
    expected = {
        "scale": f'{option} mm (or cm, in, "1/72 in") for the unit it was drawn in, or {option} '
        '"10 cm is 378" for a measured length',
        "allowance": f'{option} "5/8 in" when it is included, or {option} none',
    }[question.id]
    if DRAWN in question.choices:
        expected += f", or {option} drawn when the line inside is the stitching line"
    return BadInput(where=drawing.name, what=question.words, expected=with_lengths(expected))


def piece_names(candidates: tuple[Candidate, ...], answers: Answers) -> list[str]:
    """Return a different name for each outline: as answered, as labelled or written, or numbers."""
    if answers.name and len(candidates) > 1:
        return [f"{answers.name} {k}" for k in range(1, len(candidates) + 1)]
    wanted = [
        answers.name or one.words.name or f"piece {k}" for k, one in enumerate(candidates, start=1)
    ]
    names: list[str] = []
    for name in wanted:
        tries = (name if k == 1 else f"{name} {k}" for k in range(1, len(candidates) + 1))
        names.append(next(t for t in tries if t not in names))
    return names


__all__ = ["Answers", "Draft", "Question", "propose", "questions"]
