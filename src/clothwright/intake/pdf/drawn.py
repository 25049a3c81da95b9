"""What is drawn on the pages of a PDF file, before anything is made of it."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.box import Box
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText
from clothwright.intake.pen import PenLine


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPage:
    """One page. width, height: mm, as shown (turned, cropped). number: from 1."""

    number: int
    width: float
    height: float
    lines: tuple[PenLine, ...]
    texts: tuple[DrawnText, ...]

    @property
    def paper(self) -> Box:
        """The page itself, from its lower left corner."""
        return Box(Vec(0.0, 0.0), Vec(self.width, self.height))
