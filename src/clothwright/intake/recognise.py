"""From lines to pieces: closed outlines, corners, edges; the unknown is asked, not guessed."""

from __future__ import annotations

import re
from dataclasses import dataclass

from clothwright.errors import BadInput, raise_all
from clothwright.geometry.path import Path
from clothwright.geometry.region import is_simple
from clothwright.geometry.transform import scaling
from clothwright.geometry.vec import unit_at
from clothwright.intake.answers import Answers, Question
from clothwright.intake.drawing import Drawing, DrawnLine
from clothwright.intake.edges import edges_of, merged, names_of, parts_of
from clothwright.intake.outlines import MOST_MARKS, Found, outlines, ring, shared_out
from clothwright.pattern.derive import piece_from_cutting
from clothwright.pattern.piece import Cut, Grain, Mark, Piece
from clothwright.units import Unit, parse_angle_deg, parse_length, show_length

NONE = "none"
"""The answer that an outline includes no allowance."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """Pieces made of a drawing.

    notes: what was done or left out, in words. questions: what was proposed and may be answered
    otherwise (`Question.default` says what was taken).
    """

    pieces: tuple[Piece, ...]
    notes: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()


def questions(drawing: Drawing, answers: Answers, *, unit: Unit) -> tuple[Question, ...]:
    """Return what must be answered before anything is made of a drawing; () when nothing must.

    These are never guessed: a wrong guess would be cut into cloth.
    """
    asked = []
    if not answers.scale and not drawing.scale_known:
        asked.append(
            Question(
                id="scale",
                words="the drawing names no physical size (its width and height have no unit)",
                choices=("mm", "cm", "in", "1/72 in", "10 cm is 378"),
            )
        )
    if not answers.allowance:
        words = "it does not say whether the outline includes the seam allowance"
        found = outlines(_scaled(drawing, answers, unit)) if not asked else None
        if found and found.outlines:
            low, high = found.outlines[0].path.bounds()
            wide, tall = show_length(high.x - low.x, unit), show_length(high.y - low.y, unit)
            words += f" (the first piece is {wide} wide and {tall} high)"
        asked.append(Question(id="allowance", words=words, choices=("5/8 in", NONE)))
    return tuple(asked)


def propose(drawing: Drawing, answers: Answers, *, unit: Unit) -> Draft:
    """Return the pieces of a drawing. Raises BadInput that names the option to answer with."""
    raise_all(
        [_unanswered(drawing, q) for q in questions(drawing, answers, unit=unit) if q.id == "scale"]
    )
    lines = _scaled(drawing, answers, unit)
    found = outlines(lines)
    if not found.outlines:
        raise BadInput(
            where=drawing.name,
            what=f"there is no closed outline among its {len(lines)} lines",
            expected="a closed line round each piece",
            try_="joining the ends of the outline in the drawing",
        )
    raise_all([_unanswered(drawing, q) for q in questions(drawing, answers, unit=unit)])
    notes = [*drawing.notes, *found.notes]
    if answers.edges and len(found.outlines) > 1:
        notes.append("the same edge names were given to every outline")
    pieces, asked = _pieces(drawing, answers, unit, found, notes)
    return Draft(pieces=pieces, notes=tuple(notes), questions=tuple(asked))


def _pieces(
    drawing: Drawing, answers: Answers, unit: Unit, found: Found, notes: list[str]
) -> tuple[tuple[Piece, ...], list[Question]]:
    inside, nowhere = shared_out(found)
    if nowhere:
        notes.append(f"left out, lines that lie in no outline: {nowhere}")
    names = _piece_names(found.outlines, answers)
    pieces, asked = [], []
    for line, name, inner in zip(found.outlines, names, inside, strict=True):
        marks = _marks(inner) if len(inner) <= MOST_MARKS else ()
        if marks:
            notes.append(f'"{name}": inner lines kept as marks: {len(marks)}')
        elif inner:
            notes.append(f'"{name}": left out, more inner lines than marks: {len(inner)}')
        where = f'{drawing.name}, outline "{name}"'
        piece = _piece(line, name, answers, unit=unit, where=where, marks=marks)
        pieces.append(piece)
        asked += _proposed(piece, answers)
    notes.extend(f'"{q.piece}": {q.words} (--{q.id} for another)' for q in asked)
    return tuple(pieces), asked


def _unanswered(drawing: Drawing, question: Question) -> BadInput:
    option = f"--{question.id}"
    expected = {
        "scale": f'{option} mm (or cm, in, "1/72 in") for the unit it was drawn in, or {option} '
        '"10 cm is 378" for a measured length',
        "allowance": f'{option} "5/8 in" when it is included, or {option} none',
    }[question.id]
    return BadInput(where=drawing.name, what=question.words, expected=expected)


def _proposed(piece: Piece, answers: Answers) -> list[Question]:
    """What was taken for granted about a piece."""
    asked = []
    if not answers.edges:
        names = ",".join(e.name for e in piece.edges)
        asked.append(
            Question(
                id="edges",
                piece=piece.name,
                words="edges named, counter-clockwise from the lower left: " + names,
                default=names,
            )
        )
    if not answers.grain:
        asked.append(
            Question(id="grain", piece=piece.name, words="grain taken as up the page", default="up")
        )
    return asked


def _scaled(drawing: Drawing, answers: Answers, unit: Unit) -> list[DrawnLine]:
    move = scaling(_scale(answers, unit))
    return [
        DrawnLine(path=x.path.transformed(move), closed=x.closed, label=x.label)
        for x in drawing.lines
    ]


def _scale(answers: Answers, unit: Unit) -> float:
    """Return mm for one unit of the drawing."""
    if not answers.scale:
        return 1.0
    known = re.fullmatch(r"\s*(.+?)\s+is\s+(.+?)\s*", answers.scale)
    if known:
        real = parse_length(known.group(1), unit=unit, where="--scale", least_mm=1e-6)
        drawn = parse_length(known.group(2), unit=Unit.mm, where="--scale", least_mm=1e-6)
        return real / drawn
    one = answers.scale if answers.scale.strip()[:1].isdigit() else f"1 {answers.scale}"
    return parse_length(one, unit=unit, where="--scale", least_mm=1e-6)


def _piece_names(lines: tuple[DrawnLine, ...], answers: Answers) -> list[str]:
    """Return a different name for each outline: as answered, else its own label, else a number."""
    wanted = [
        answers.name or line.label.replace(".", " ").strip() or f"piece {k}"
        for k, line in enumerate(lines, start=1)
    ]
    if answers.name and len(lines) > 1:
        return [f"{answers.name} {k}" for k in range(1, len(lines) + 1)]
    names: list[str] = []
    for name in wanted:
        tries = (name if k == 1 else f"{name} {k}" for k in range(1, len(lines) + 1))
        names.append(next(t for t in tries if t not in names))
    return names


def _marks(lines: tuple[DrawnLine, ...]) -> tuple[Mark, ...]:
    """Return inner lines as marks, named by their labels or numbered."""
    names: list[str] = []
    for k, line in enumerate(lines, start=1):
        label = line.label.replace(".", " ").strip()
        names.append(label if label and label not in names else f"line {k}")
    return tuple(Mark(name=n, path=x.path) for n, x in zip(names, lines, strict=True))


def _piece(
    line: DrawnLine,
    name: str,
    answers: Answers,
    *,
    unit: Unit,
    where: str,
    marks: tuple[Mark, ...],
) -> Piece:
    if not is_simple(ring(line.path)):
        raise BadInput(
            where=where,
            what="the outline crosses or touches itself",
            expected="a line that goes once round the piece",
        )
    parts = parts_of(line.path, answers.corners, where)
    parts, names = merged(parts, names_of(parts, answers.edges, where))
    edges = edges_of(parts, names, answers, unit, where)
    grain = _grain(line.path, answers.grain)
    cuts = _cuts(answers.cut, folded=bool(answers.fold))
    if answers.allowance.strip().lower() == NONE:
        return Piece(name=name, edges=edges, grain=grain, cuts=cuts, marks=marks)
    return piece_from_cutting(name, edges, grain=grain, cuts=cuts, marks=marks)


def _grain(path: Path, text: str) -> Grain:
    """Return a grain line through the middle of the outline, half as long as it is high."""
    plain = text.strip().lower()
    angle = 90.0 if plain in ("", "up") else parse_angle_deg(text, where="--grain")
    low, high = path.bounds()
    middle, u = (low + high) / 2, unit_at(angle)
    reach = max(abs(u.x) * (high.x - low.x), abs(u.y) * (high.y - low.y)) / 4
    return Grain(start=middle - u * reach, end=middle + u * reach)


def _cuts(text: str, *, folded: bool) -> tuple[Cut, ...]:
    if not text.strip():
        return (Cut(how="fold" if folded else "once"),)
    cuts = []
    for part in text.split(","):
        words = part.split()
        count = int(words.pop()) if words and words[-1].isdigit() else 1
        how = words.pop() if words and words[-1] in ("once", "pair", "fold") else ""
        if not how or not words or not 0 < count < 100:
            raise BadInput(
                where="--cut",
                what=f'"{part.strip()}" does not say how to cut',
                expected='MATERIAL and once, pair or fold, for example "shell pair, lining pair"',
            )
        cuts.append(Cut(material=" ".join(words), how=how, count=count))
    return tuple(cuts)


__all__ = ["Answers", "Draft", "Question", "propose", "questions"]
