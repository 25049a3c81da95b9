"""Inner lines that nothing was recognised in: marks of the piece, named or numbered."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec, unit_at
from clothwright.intake.answers import NONE, Answers, says
from clothwright.intake.candidates import Candidate
from clothwright.intake.drawing import DrawnLine, DrawnText
from clothwright.intake.notch_marks import crossed
from clothwright.intake.outlines import MOST_MARKS
from clothwright.pattern.piece import Mark
from clothwright.units import is_count

SPOT_MM = 16.0
"""mm: a closed line that is no larger marks a point."""
WORDS_MM = 10.0
"""mm: words this near to a point name it."""


def marks_of(candidate: Candidate, answers: Answers) -> tuple[tuple[Mark, ...], list[str]]:
    """Return the inner lines that nothing was recognised in as marks, named or numbered."""
    lines = candidate.read.rest
    if says(answers.notches, NONE) or says(answers.darts, NONE) or says(answers.levels, NONE):
        lines = _given_back(candidate, answers)
    if len(lines) > MOST_MARKS:
        return (), [f"left out, more inner lines than marks: {len(lines)}"]
    kept = [] if not lines or says(answers.marks, NONE) else _kept(lines, answers.marks)
    kept += candidate.kept
    if not kept:
        return (), []
    marks: list[Mark] = []
    crosses = crossed(kept)
    for k, line in enumerate(kept, start=1):
        if id(line) in crosses and crosses[id(line)] is None:
            continue
        at = _spot(line) or crosses.get(id(line))
        near = _words_at(candidate.texts, at) if at else []
        own = line.label if line.label != candidate.outline.label else ""
        label = (own or (near[0] if near else "")).replace(".", " ").strip()
        taken = [m.name for m in marks]
        name = f"{'point' if at else 'line'} {k}"
        if label:
            tries = (label if n == 1 else f"{label} {n}" for n in range(1, len(kept) + 2))
            name = next(t for t in tries if t not in taken)
        marks.append(Mark(name=name, at=at, path=None if at else line.path))
    return tuple(marks), [f"inner lines kept as marks: {len(marks)}"]


def _words_at(texts: Sequence[DrawnText], at: Vec) -> list[str]:
    """Return the words that begin, end or run near a place, the nearest first."""
    found = []
    for text in texts:
        half = unit_at(text.turn_deg) * (0.3 * text.height * len(text.words) + 1e-6)
        away = Path((Line(text.at - half, text.at + half),)).nearest(at)[1]
        if away < WORDS_MM:
            found.append((away, text.words))
    return [words for _, words in sorted(found)]


def _spot(line: DrawnLine) -> Vec | None:
    """Return the middle of a small closed line (a drill mark, a button), None for any other."""
    box = line.path.bounds()
    return box.middle if line.closed and max(box.size) <= SPOT_MM else None


def _given_back(candidate: Candidate, answers: Answers) -> tuple[DrawnLine, ...]:
    """Return the lines that are marks when something recognised is said to be none."""
    rest = set(map(id, candidate.read.rest))
    wrong = {
        "notches": [n.at for n in candidate.read.notches],
        "darts": [d.point for d in candidate.read.darts],
        "levels": [x.at for x in candidate.read.levels],
    }
    places = [p for key, at in wrong.items() if says(getattr(answers, key), NONE) for p in at]
    return tuple(
        x
        for x in candidate.inner
        if id(x) in rest or any(x.path.nearest(p)[1] < 1.0 for p in places)
    )


def _kept(lines: Sequence[DrawnLine], text: str) -> list[DrawnLine]:
    if not text.strip() or says(text, "all"):
        return list(lines)
    numbers = [n.strip() for n in text.split(",")]
    if not all(is_count(n) and 1 <= int(n) <= len(lines) for n in numbers):
        raise BadInput(
            where="--marks",
            what=f'"{text}" does not say which inner lines are kept',
            expected=f"numbers from 1 to {len(lines)} with commas, all, or none",
        )
    return [lines[int(n) - 1] for n in dict.fromkeys(numbers)]
