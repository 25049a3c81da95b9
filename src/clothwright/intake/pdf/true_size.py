"""The test square of a printed pattern: it checks that the file is true to size.

Its side is written in it or beside it ("10 cm", "4 in", '2" x 2"', "100 mm").
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from clothwright.errors import BadInput
from clothwright.geometry.area import polygon_area
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText
from clothwright.intake.pdf.drawn import PenLine
from clothwright.units import Unit, parse_length
from clothwright.words import show_fraction

_LENGTH = re.compile(
    r"(\d+(?:[.,]\d+)?(?:\s+\d/\d)?|\d/\d)\s*(mm|cm|inches|inch|in\b|\"|″|”)", re.IGNORECASE
)
NEAR_MM = 25.0
"""mm: how far outside the square its length may be written."""
OFF = 0.004
"""Share by which a square may differ from what is written."""
LARGEST_MM = 260.0


class Scale(NamedTuple):
    """agrees: no test square says otherwise. of_square: the numbers of its lines."""

    agrees: bool
    notes: tuple[str, ...]
    of_square: frozenset[int]


def checked(lines: Sequence[PenLine], texts: Sequence[DrawnText]) -> Scale:
    """Check the size of a drawing by its test squares, if it has any with a length written."""
    said: list[tuple[float, float, int]] = []
    for k, low, high in _squares(lines):
        written, side = _written(low, high, texts), (high - low).x
        if written:
            near = sorted((abs(w - side), w) for w in written)
            said.append((near[0][1], side, k))
    if not said:
        words = (
            "no test square with its length was found: measure a known length on the first print"
        )
        return Scale(True, (words,), frozenset())
    of_square = frozenset(k for _, _, k in said)
    off = [(w, s) for w, s, _ in said if abs(s - w) > OFF * w + 0.05]
    if off:
        wrong, side = off[0]
        way = "more" if side > wrong else "less"
        words = (
            f"a test square measures {show_fraction(abs(side / wrong - 1))} {way} than is written "
            "beside it: the file is not true to size"
        )
        return Scale(False, (words,), of_square)
    return Scale(True, ("a test square was checked: it is as large as it says",), of_square)


def _squares(lines: Sequence[PenLine]) -> Iterator[tuple[int, Vec, Vec]]:
    for k, line in enumerate(lines):
        if not line.closed or len(line.path.segments) != 4:
            continue
        low, high = line.path.bounds()
        wide, tall = high.x - low.x, high.y - low.y
        if not 10.0 <= wide <= LARGEST_MM or abs(wide - tall) > 0.01 * wide:
            continue
        points = [(s.start.x, s.start.y) for s in line.path.segments]
        if abs(abs(polygon_area(points)) - wide * tall) < 0.001 * wide * tall:
            yield k, low, high


def _written(low: Vec, high: Vec, texts: Sequence[DrawnText]) -> list[float]:
    """Return the lengths written in a square or beside it, in mm."""
    found: list[float] = []
    for text in texts:
        inside = (
            low.x - NEAR_MM <= text.at.x <= high.x + NEAR_MM
            and low.y - NEAR_MM <= text.at.y <= high.y + NEAR_MM
        )
        if not inside:
            continue
        for number, unit in _LENGTH.findall(text.words):
            plain = "in" if unit.lower() not in ("mm", "cm") else unit.lower()
            try:
                found.append(parse_length(f"{number} {plain}", unit=Unit.mm))
            except BadInput:
                continue
    return found
