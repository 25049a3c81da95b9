"""What the notes hold: a piece while its lines are read, and what has become of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from clothwright.errors import BadInput, CannotDo, Mistakes
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.typed.checks import TAPE_MM, Checked
from clothwright.intake.typed.edges import TypedEdge
from clothwright.intake.typed.lines import LineSlip, Note, Unknown, found_in
from clothwright.intake.typed.points import PointGiven
from clothwright.pattern.piece import Cut, Dart, Edge, Grain, Level, Mark
from clothwright.units import Unit

MOST_SLIPS = 30
"""After so many no further line is read: they are mended first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedPiece:
    """A piece as far as its lines go. Lengths mm, y up; nothing here is guessed.

    edges: going round, on the line that was measured; () while the outline is not whole. paths:
    the lines of edges that can be drawn already. included: True when the measured line is the
    cutting line, None when the notes do not say; width: the allowance all round, None: not said.
    own: edges with an allowance of their own, mm. checks: every measured diagonal, compared.
    took: what was taken for granted. slips: what is wrong, in order of lines.
    """

    name: str
    line: int
    points: Mapping[str, Vec]
    paths: tuple[tuple[str, Path], ...]
    edges: tuple[Edge, ...]
    darts: tuple[Dart, ...]
    grain: Grain | None
    levels: tuple[Level, ...]
    marks: tuple[Mark, ...]
    cuts: tuple[Cut, ...]
    included: bool | None
    width: float | None
    own: Mapping[str, float]
    note: str
    checks: tuple[Checked, ...]
    took: tuple[str, ...]
    slips: tuple[LineSlip, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """Everything in the notes. slips: of all pieces, and of lines that belong to none."""

    pieces: tuple[TypedPiece, ...]
    slips: tuple[LineSlip, ...]

    def raise_slips(self, name: str) -> None:
        """Raise what is wrong, if anything is: BadInput or Mistakes."""
        found = [s.error.at(name) if name else s.error for s in self.slips]
        if len(found) == 1:
            raise found[0]
        if found:
            raise Mistakes(found)


@dataclass(slots=True)
class TypedSheet:
    """One piece while its lines are read."""

    head: Note
    name: str
    unit: Unit
    inward: str = ""
    within: float = TAPE_MM
    spots: dict[str, PointGiven] = field(default_factory=dict)
    at: dict[str, Vec] = field(default_factory=dict)
    edges: dict[str, TypedEdge] = field(default_factory=dict)
    later: list[Note] = field(default_factory=list)
    measured: list[Note] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)
    took: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    included: bool | None = None
    width: float | None = None
    allowance_line: int = 0
    slips: list[LineSlip] = field(default_factory=list)
    failed: dict[str, int] = field(default_factory=dict)

    def tried(self, note: Note, read: Callable[[], object]) -> bool:
        """Read something; keep what is wrong as a slip of the line. Return whether it was read."""
        try:
            read()
        except BadInput as error:
            self.slips.append(LineSlip(note.number, self._behind(note, error)))
            return False
        except CannotDo as error:
            self.slips.append(LineSlip(note.number, BadInput(where=note.where, what=str(error))))
            return False
        return True

    def _behind(self, note: Note, error: BadInput) -> BadInput:
        """Return the error, or that it comes of an earlier line: a point that was not read."""
        if not isinstance(error, Unknown) or error.kind != "point":
            return error
        name = found_in(self.failed, error.name)
        if not name:
            return error
        line = self.failed[name]
        return note.fault(
            f"it hangs on {name}, which line {line} does not give yet", f"line {line} mended"
        )
