"""What was answered about a drawing that waits, outline by outline, as it is kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from typing import ClassVar, Self

from clothwright.errors import BadInput
from clothwright.intake.answers import NONE, Answers
from clothwright.intake.candidates import Candidate
from clothwright.intake.edges import DRAWN

LONGEST = 2_000
"""Letters of an answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What was answered about one outline.

    take: "yes" or "no", "" not answered. replace: "yes" to put it in the place of a piece of its
    name. answers: `allowance` and `add` without edges of their own; those stand in widths (edge:
    length as typed).
    """

    take: str = ""
    replace: str = ""
    answers: Answers = field(default_factory=Answers)
    widths: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitting:
    """What is kept of a waiting drawing. file: what it was called. came: when, UTC.

    scale, size: the answers about the whole drawing, "" while there are none. true_size: "yes" when
    pieces are as large as they are read by that scale. how: those by which
    the file is read (tiles, shift, moved, layers, alike). said: by outline, from 0.
    """

    FORMAT: ClassVar[str] = "clothwright-inbox/1"
    file: str
    came: str
    scale: str
    size: str = ""
    true_size: str = ""
    how: Answers = Answers()  # noqa: RUF009
    said: Mapping[int, Answered]


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting(Sitting):
    """A drawing in the inbox, with what has been answered. id: its own folder there.

    every: what is said of each outline at once, by a command: what is proposed is then taken and
    told, and only what may not be guessed is asked. None in a sitting.
    """

    id: str
    stored: FilePath
    scale: str = ""
    said: Mapping[int, Answered] = field(default_factory=dict)
    every: Answered | None = None

    def about(self, outline: int) -> Answered:
        """Return what was answered about an outline (from 0)."""
        return self.said.get(outline, self.every or Answered())

    def with_said(self, outline: int, said: Answered) -> Self:
        """Return the drawing with something else said about an outline (from 0)."""
        return replace(self, said={**self.said, outline: said})


def with_answers(one: Waiting, outline: int, **values: str | tuple[str, ...]) -> Waiting:
    """Return the drawing with other answers about an outline. Raises BadInput for too long ones."""
    for name, value in values.items():
        if len(str(value)) > LONGEST:
            raise BadInput(where=name, what="the answer is too long", expected="a short one")
    said = one.about(outline)
    own = {k: v for k, v in values.items() if k in ("take", "replace")}
    rest = {k: v for k, v in values.items() if k not in own}
    answers = replace(said.answers, **rest)  # type: ignore[arg-type]
    new = replace(said, answers=answers, **own)  # type: ignore[arg-type]
    return one.with_said(outline, new)


def size_shown(one: Waiting, sizes: Sequence[str]) -> str:
    """Return the size that is shown: the one chosen, or one in the middle; "" of a single one."""
    if one.size in sizes:
        return one.size
    return sizes[len(sizes) // 2] if sizes else ""


def shown_answers(said: Answered, candidate: Candidate) -> Answers:
    """Return the answers with an allowance to draw the piece by while none is answered."""
    if said.answers.allowance:
        return said.answers
    return replace(said.answers, allowance=DRAWN if candidate.stitching else NONE)


def whole_answers(said: Answered, candidate: Candidate) -> Answers:
    """Return the answers with the widths of single edges written into the allowance.

    They stay as they are where none is answered and the file says which line is the stitching line.
    """
    if candidate.stitching_said and not said.answers.allowance:
        return said.answers
    base = shown_answers(said, candidate)
    own = [f"{edge}={width}" for edge, width in said.widths.items() if width.strip()]
    if not own or base.allowance == DRAWN:
        return base
    if base.allowance == NONE:
        return replace(base, add=", ".join((base.add or "0 mm", *own)))
    return replace(base, allowance=", ".join((base.allowance, *own)))
