"""One outline becomes a piece; what is dangerous to guess is asked."""

from __future__ import annotations

from dataclasses import replace

from clothwright.intake.answers import NONE, PIECES, SIZES, UNSURE, Answers, Question
from clothwright.intake.candidates import Candidate
from clothwright.intake.drafting import Draft1, draft
from clothwright.intake.drawing import Drawing
from clothwright.intake.edges import DRAWN
from clothwright.units import Unit
from clothwright.words import listed, show_length


def scale_question(drawing: Drawing, scale: str) -> Question | None:
    """Return the question of size, None when the file or the maker has said it.

    Where a test square is drawn, the first choice is what it says.
    """
    if scale or drawing.scale_known:
        return None
    words = drawing.scale_why or "the file names no unit, so that its size is not known"
    choices: tuple[str, ...] = ("mm", "cm", "in", "1/72 in", "1/96 in", "10 cm is 378")
    square = drawing.square
    if square is not None:
        choices = (f"{square.said} is {square.side:.4f}", *choices)
        words += "; a test square says how large it is"
    return Question(id="scale", words=words, choices=choices)


def alike_question(drawing: Drawing) -> Question | None:
    """Return the question whether blocks or layers are sizes, None when the file or she says it."""
    if drawing.alike != UNSURE:
        return None
    named = listed([f'"{name}"' for name in drawing.alike_names])
    words = unnamed_words(drawing) or (
        f"what is called {named} may be sizes of one piece, or pieces of their own"
    )
    return Question(id="alike", words=words, choices=(SIZES, PIECES))


def unnamed_words(drawing: Drawing) -> str:
    """Say which lines may be sizes though nothing names them; "" where something does."""
    if not drawing.alike_by:
        return ""
    several = {"layer": "layers", "dashes": "kinds of dashes"}
    by = several.get(drawing.alike_by, f"{drawing.alike_by}s")
    return (
        f"lines in {len(drawing.alike_names)} {by} lie in one another as sizes do, and nothing "
        f"names them: they may be sizes {listed(drawing.alike_names)} of one piece, from the "
        "smallest, or lines of one size"
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
        wide, tall = (show_length(x, unit) for x in candidate.outline.path.bounds().size)
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
