"""What was answered about a drawing that waits, outline by outline, as it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from typing import ClassVar, Self

from clothwright.errors import BadInput
from clothwright.intake.answers import Answers

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

    scale, size: the answers about the whole drawing, "" while there are none. how: those by which
    the file is read (tiles, shift, moved, layers). said: by outline, from 0.
    """

    FORMAT: ClassVar[str] = "clothwright-inbox/1"
    file: str
    came: str
    scale: str
    size: str = ""
    how: Answers = Answers()  # noqa: RUF009
    said: Mapping[int, Answered]


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting(Sitting):
    """A drawing in the inbox, with what has been answered. id: its own folder there."""

    id: str
    stored: FilePath
    scale: str = ""
    said: Mapping[int, Answered] = field(default_factory=dict)

    def about(self, outline: int) -> Answered:
        """Return what was answered about an outline (from 0)."""
        return self.said.get(outline, Answered())

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
