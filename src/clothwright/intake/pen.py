"""Lines with what they are drawn with, before anything is made of them."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.path import Path

WHITE = "#ffffff"


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPen:
    """How a line is drawn. width, dash: mm on the page; colour: "#rrggbb".

    layer: the name of the innermost layer (of a PDF: optional-content group), "" for none; shown:
    False when that layer is off in the file. filled: an area rather than a line.
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
