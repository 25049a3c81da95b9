"""Lines with what they are drawn with, before anything is made of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from clothwright.geometry.path import Path

WHITE = "#ffffff"
COLOUR_STEPS = 2
_RGB = re.compile("#[0-9a-fA-F]{6}")


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


def rgb(colour: str) -> tuple[Any, ...]:
    """Return red, green and blue, 0 to 255, of "#rrggbb"; of what is called otherwise its name."""
    if not _RGB.fullmatch(colour):
        return (colour,)
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def same_colour(a: str, b: str) -> bool:
    """Tell whether two colours look the same: programs round them to different sides."""
    one, other = rgb(a), rgb(b)
    if len(one) != 3 or len(other) != 3:
        return a == b
    return all(abs(p - q) <= COLOUR_STEPS for p, q in zip(one, other, strict=True))


ALIKE_DASHES = 0.3
"""Share by which the same dashes may differ: programs stretch them until they fill an edge."""


def dashes_apart(a: Sequence[float], b: Sequence[float]) -> float:
    """Return how much two kinds of dashes differ, as a share of the longer; 1 where not alike."""
    if len(a) != len(b) or not a:
        return float(bool(a or b))
    return max(abs(p - q) / (max(p, q, 1.0)) for p, q in zip(a, b, strict=True))


class LineRead(NamedTuple):
    """A line that was drawn, and the number of that (the first) which it was read from."""

    line: PenLine
    number: int


def alike(a: DrawnPen, b: DrawnPen) -> bool:
    """Tell whether two lines are drawn alike: layer, colour, about the same dashes and width."""
    return (
        (a.layer, len(a.dash), a.filled) == (b.layer, len(b.dash), b.filled)
        and same_colour(a.colour, b.colour)
        and abs(a.width - b.width) < 0.1
        and all(abs(p - q) < 0.5 for p, q in zip(a.dash, b.dash, strict=True))
    )
