"""Closed lines inside an outline: which of them is the piece's own line, a mark, or a piece."""

from __future__ import annotations

from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.geometry.area import polygon_area
from clothwright.geometry.path import ring
from clothwright.geometry.region import all_inside
from clothwright.intake.answers import Answers, Question
from clothwright.intake.candidates import Candidate
from clothwright.intake.drawing import STITCH, DrawnLine, DrawnText
from clothwright.units import Unit, is_count
from clothwright.words import counted, show_length

FATES = ("mark", "piece", "left out")
ALIKE = 0.5
"""Share of the area of the outermost that a line inside has when it may be another size of it."""
COPY = 0.998
"""Share of the area from which on it is the same line drawn twice."""


def nested_question(whole: Candidate, answers: Answers, unit: Unit) -> Question | None:
    """Return the question which line is the piece's own where several lie in each other like sizes.

    None when it is answered, or one line lies inside: it may be the stitching line.
    """
    area = polygon_area(ring(whole.outline.path))
    large = {
        n: x
        for n, x in enumerate(whole.nested, start=2)
        if x.kind != STITCH and ALIKE < polygon_area(ring(x.path)) / area < COPY
    }
    if answers.outline or answers.inside or len(large) < 2:  # one is asked about as stitching line
        return None
    lines = {1: whole.outline} | large
    words = (
        f"{counted(len(lines), 'closed line')} lie in one another, as sizes do, and no legend or "
        "layer names them: which is yours?"
    )
    choices = tuple(f"{n} ({size_words(x, unit)})" for n, x in lines.items())
    return Question(id="outline", words=words, choices=choices)


def size_words(line: DrawnLine, unit: Unit) -> str:
    """Say how large a closed line is."""
    wide, tall = (show_length(x, unit) for x in line.path.bounds().size)
    return f"{wide} wide, {tall} tall"


def answered(candidate: Candidate, answers: Answers) -> Candidate:
    """Return an outline as the maker has said it is. Raises BadInput.

    `Answers.outline` says which closed line is the piece's own (1 = the outermost, 2 and on = those
    inside it, the largest first); `Answers.inside` what becomes of the lines inside.
    """
    fates = fates_of(answers.inside, len(candidate.nested))
    own = [candidate.nested[k - 1] for k, fate in fates.items() if fate == "piece"]
    marks = tuple(candidate.nested[k - 1] for k, fate in fates.items() if fate == "mark")
    gone = {id(candidate.nested[k - 1]) for k in fates}
    left = tuple(x for x in candidate.nested if id(x) not in gone)
    inner, texts = candidate.inner, candidate.texts
    for line in own:
        inner = tuple(x for x in inner if not _inside(line, x))
        texts = tuple(t for t in texts if not _holds(line, t))
    out = replace(candidate, nested=left, inner=inner, texts=texts, kept=marks)
    k = _number(answers.outline, len(candidate.nested))
    return out if k == 1 else _within(out, candidate.nested[k - 2])


def own_pieces(candidate: Candidate, answers: Answers) -> dict[int, Candidate]:
    """Return the lines inside that are pieces of their own, by their numbers. Raises BadInput."""
    fates = fates_of(answers.inside, len(candidate.nested))
    whole = replace(candidate, kept=())
    return {
        k: _within(whole, candidate.nested[k - 1]) for k, fate in fates.items() if fate == "piece"
    }


def _within(candidate: Candidate, line: DrawnLine) -> Candidate:
    """Return a line inside as the outline, with what lies in it."""
    return Candidate(
        outline=line,
        nested=tuple(x for x in candidate.nested if x is not line and _inside(line, x)),
        inner=tuple(x for x in candidate.inner if _inside(line, x)),
        texts=tuple(t for t in candidate.texts if _holds(line, t)),
        kept=tuple(x for x in candidate.kept if _inside(line, x)),
    )


def _inside(outer: DrawnLine, line: DrawnLine) -> bool:
    return all_inside([line.path.flatten(0.5)], ring(outer.path))[0]


def _holds(outer: DrawnLine, text: DrawnText) -> bool:
    return all_inside([[text.at]], ring(outer.path))[0]


def _number(text: str, inside: int) -> int:
    plain = text.strip() or "1"
    if not is_count(plain) or not 1 <= int(plain) <= inside + 1:
        raise BadInput(
            where="--outline",
            what=f'there is no closed line "{text}"',
            expected=f"1 (the outermost) to {inside + 1}" if inside else "1: there is only one",
        )
    return int(plain)


def fates_of(text: str, inside: int) -> dict[int, str]:
    """Read "1=mark, 2=piece" into what becomes of the lines inside, by number. Raises BadInput."""
    out: dict[int, str] = {}
    for part in (p.strip() for p in text.split(",") if p.strip()):
        number, equals, fate = (p.strip() for p in part.partition("="))
        known = is_count(number) and 1 <= int(number) <= inside
        if not equals or not known or fate not in FATES:
            raise BadInput(
                where="--inside",
                what=f'"{part}" does not say what a line inside is',
                expected=f"NUMBER=mark or NUMBER=piece, numbers 1 to {inside}"
                if inside
                else "nothing: no closed line lies inside",
            )
        out[int(number)] = fate
    return out
