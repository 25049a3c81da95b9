"""The test square of a printed pattern: it checks that the file is true to size.

Its side is written in it or beside it ("10 cm", "4 in", '2" x 2"', "100 mm"). It may be drawn as
one line or as four.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from clothwright.errors import BadInput
from clothwright.geometry.area import polygon_area
from clothwright.geometry.box import Box
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.intake.drawing import DrawnText, Square
from clothwright.intake.pen import PenLine
from clothwright.units import Unit, parse_length
from clothwright.words import show_fraction

_LENGTH = re.compile(
    r"(\d+(?:[.,]\d+)?(?:\s+\d/\d)?|\d/\d)\s*(mm|cm|inches|inch|in\b|\"|″|”)", re.IGNORECASE
)
_ONLY = re.compile(r"[\sx×*/=()-]*")
_CALLED = re.compile(r"test|square|check|control|scale|measure", re.IGNORECASE)
NEAR_MM = 25.0
"""mm: how far outside the square its length may be written."""
OFF = 0.004
"""Share by which a square may differ from what is written."""
LIKE = (0.6, 1.6)
"""Share of a length written beside it that a square measures; any, where it is written inside."""
SIDE_MM = (10.0, 260.0)
MEET_MM = 0.5
OPEN = 0.05
"""Share of a square's side by which it may be open and is still seen as one."""
MOST_SIDES = 120


class Scale(NamedTuple):
    """agrees: no test square says otherwise. of_square: the numbers of its lines.

    square: what is written and what it measures; None without a test square.
    """

    agrees: bool
    notes: tuple[str, ...]
    of_square: frozenset[int]
    square: Square | None = None


class _Found(NamedTuple):
    """A square: the numbers of its lines, and the box they make."""

    lines: tuple[int, ...]
    box: Box


def checked(lines: Sequence[PenLine], texts: Sequence[DrawnText]) -> Scale:
    """Check the size of a drawing by its test squares, if it has any with a length written."""
    said: list[tuple[Square, _Found]] = []
    for found in (*_squares(lines), *_of_four(lines)):
        side = found.box.size.x
        written = _written(found, texts)
        if written:
            length, text = min(written, key=lambda w: abs(w[0] - side))
            said.append((Square(length, side, text), found))
    if not said:
        words = (
            "no test square with its length was found: measure a known length on the first print"
        )
        return Scale(True, (words,), frozenset())
    of_square = frozenset(k for _, found in said for k in found.lines)
    off = [s for s, _ in said if not s.agrees(OFF)]
    if off:
        square = off[0]
        way = "more" if square.side > square.written else "less"
        words = (
            f"a test square measures {show_fraction(abs(square.side / square.written - 1))} {way} "
            "than is written beside it: the file is not true to size"
        )
        return Scale(False, (words,), of_square, square)
    words = "a test square was checked: it is as large as it says"
    return Scale(True, (words,), of_square, said[0][0])


def _squares(lines: Sequence[PenLine]) -> Iterator[_Found]:
    """Yield the squares drawn as one line, closed, open at a corner or at one side."""
    for k, line in enumerate(lines):
        segments = line.path.segments
        if not 3 <= len(segments) <= 8 or not all(isinstance(s, Line) for s in segments):
            continue
        box = line.path.bounds()
        wide, tall = box.size
        if not SIDE_MM[0] <= wide <= SIDE_MM[1] or abs(wide - tall) > 0.01 * wide:
            continue
        points = [segments[0].start, *(s.end for s in segments)]
        gap = points[0].distance(points[-1])
        shut = line.closed or gap <= max(MEET_MM, OPEN * wide) or len(segments) == 3
        if shut and abs(abs(polygon_area(points)) - wide * tall) < 0.02 * wide * tall:
            yield _Found((k,), box)


def _of_four(lines: Sequence[PenLine]) -> Iterator[_Found]:
    """Yield the squares drawn as four lines, across and up, whose ends meet within a pen's width.

    Ends may run on beyond a corner: what counts is how far the lines are apart.
    """
    level: list[tuple[int, Box]] = []
    upright: list[tuple[int, Box]] = []
    for k, line in enumerate(lines):
        box = line.path.bounds()
        wide, tall = box.size
        if len(line.path.segments) == 1 and SIDE_MM[0] <= max(wide, tall) <= SIDE_MM[1]:
            if tall < 0.01 * wide:
                level.append((k, box))
            elif wide < 0.01 * tall:
                upright.append((k, box))
    for a, (low, right) in level[:MOST_SIDES]:
        side = right.x - low.x
        near = max(MEET_MM, 0.01 * side) + lines[a].pen.width
        top, end = low + Vec(0.0, side), right + Vec(0.0, side)
        b = next((k for k, box in level if box.is_near(Box(top, end), near)), None)
        c = next((k for k, box in upright if box.is_near(Box(low, top), near)), None)
        d = next((k for k, box in upright if box.is_near(Box(right, end), near)), None)
        if b is not None and c is not None and d is not None:
            x, y = (lines[k].path.start for k in (c, a))
            corner = Vec(lines[d].path.start.x, lines[b].path.start.y)
            yield _Found((a, b, c, d), Box(Vec(x.x, y.y), corner))


def _written(found: _Found, texts: Sequence[DrawnText]) -> list[tuple[float, str]]:
    """Return the lengths (mm, and as they are written) in a square or beside it."""
    out: list[tuple[float, str]] = []
    side = found.box.size.x
    for text in texts:
        if not found.box.holds(text.at, NEAR_MM):
            continue
        sure = found.box.holds(text.at) and (
            _CALLED.search(text.words) or _ONLY.fullmatch(_LENGTH.sub("", text.words))
        )
        for number, unit in _LENGTH.findall(text.words):
            plain = "in" if unit.lower() not in ("mm", "cm") else unit.lower()
            try:
                length = parse_length(words := f"{number} {plain}", unit=Unit.mm)
            except BadInput:
                continue
            if length > 0.0 and (sure or LIKE[0] <= side / length <= LIKE[1]):
                out.append((length, words))
    return out
