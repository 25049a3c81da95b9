"""What is drawn on the pages of a PDF file, before anything is made of it."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPen:
    """How a line is drawn. width, dash: mm on the page; colour: "#rrggbb".

    layer: the name of the innermost optional-content group, "" for none; shown: False when that
    layer is off in the file. filled: an area rather than a line.
    """

    width: float
    dash: tuple[float, ...]
    colour: str
    layer: str
    shown: bool
    filled: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PenLine:
    """One line on a page, mm from the lower left corner of the page as it is shown, y up."""

    path: Path
    closed: bool
    pen: DrawnPen


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPage:
    """One page. width, height: mm, as shown (turned, cropped). number: from 1."""

    number: int
    width: float
    height: float
    lines: tuple[PenLine, ...]
    texts: tuple[DrawnText, ...]

    @property
    def middle(self) -> Vec:
        """The middle of the page."""
        return Vec(self.width / 2, self.height / 2)
