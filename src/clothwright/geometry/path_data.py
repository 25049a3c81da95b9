"""SVG path data, read and written with every digit (y downward, as in SVG)."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from clothwright.geometry.arcs import arc_between
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.vec import Vec

FARTHEST = 1e6
"""mm: a coordinate beyond this lies on no table."""
_TOKEN = re.compile(r"([a-zA-Z])|([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)|([^\s,])")


def number_text(value: float) -> str:
    """Return the shortest text that is read back as the same float, in the same unit.

    >>> number_text(12.0), number_text(-0.0), number_text(0.1)
    ('12', '0', '0.1')
    """
    return repr(value + 0.0).removesuffix(".0")


def path_text(path: Path) -> str:
    """Return path data of M, L and C; y points up in the path and down in the text.

    >>> from clothwright.geometry.path import polyline
    >>> path_text(polyline([(0, 0), (10, 2.5)]))
    'M 0 0 L 10 -2.5'
    """
    words = [f"M {point_text(path.start)}"]
    for segment in path.segments:
        letter = "L" if isinstance(segment, Line) else "C"
        words.append(f"{letter} {' '.join(point_text(p) for p in segment.controls()[1:])}")
    return " ".join(words)


def point_text(p: Vec) -> str:
    """Return "x y" with y downward."""
    return f"{number_text(float(p.x))} {number_text(float(-p.y))}"


def path_from_text(text: str) -> Path:
    """Read path data of one open line, with every command of SVG but Z; y is turned up.

    Quadratic curves become the same curves as cubics. Raises ValueError in words.
    """
    found = lines_from_text(text)
    if not found:
        raise ValueError("the path data draws nothing")
    if len(found) > 1:
        raise ValueError("the path data starts a second line")
    if found[0].closed:
        raise ValueError("the path data closes its line")
    return found[0].path


def lines_from_text(text: str) -> tuple[DataLine, ...]:
    """Read path data of any number of lines. Raises ValueError in words."""
    return tuple(_Reading(text).run())


def numbers_from_text(text: str) -> list[float]:
    """Read a list of numbers (user units), as of a polygon's points. Raises ValueError."""
    found = tokens(text)
    numbers = [t for t in found if isinstance(t, float)]
    if len(numbers) != len(found):
        raise ValueError("there is a letter among the points")
    if not all(math.isfinite(v) and abs(v) < FARTHEST for v in numbers):
        raise ValueError("a point lies nowhere on a table")
    return numbers


class DataLine(NamedTuple):
    """One line of path data; closed when it ends with Z."""

    path: Path
    closed: bool


class _Reading:
    """One run over path data; `at` is where the pen stands, `handle` the last control point."""

    def __init__(self, text: str) -> None:
        self.tokens = tokens(text)
        self.i = 0
        self.letter = ""
        self.at = self.begun = Vec(0.0, 0.0)
        self.handle: tuple[str, Vec] | None = None

    def run(self) -> Iterator[DataLine]:
        """Yield the lines one by one."""
        made: list[Segment] = []
        while self.i < len(self.tokens):
            token = self.tokens[self.i]
            if isinstance(token, str):
                self.letter = token
                self.i += 1
            elif not self.letter or self.letter in "Zz":
                raise ValueError("the path data has a number where a command should be")
            kind = self.letter.upper()
            if kind in "MZ":
                if kind == "Z":
                    yield from self._closed(made)
                elif made:
                    yield DataLine(Path(tuple(made)), False)
                made = []
                self._moved(kind)
            else:
                if not self.i > 1:
                    raise ValueError("the path data does not start with M")
                made.extend(self._step(kind))
        if made:
            yield DataLine(Path(tuple(made)), False)

    def _closed(self, made: list[Segment]) -> Iterator[DataLine]:
        if not made:
            return
        if self.at != self.begun:
            made = [*made, Line(self.at, self.begun)]
        yield DataLine(Path(tuple(made)), True)

    def _moved(self, kind: str) -> None:
        if kind == "M":
            (self.begun,) = self._points(1)
            self.letter = "L" if self.letter == "M" else "l"
        self.at, self.handle = self.begun, None

    def _numbers(self, count: int) -> list[float]:
        found = [t for t in self.tokens[self.i : self.i + count] if isinstance(t, float)]
        if len(found) != count:
            raise ValueError(f"the command {self.letter} in the path data lacks numbers")
        if not all(math.isfinite(v) and abs(v) < FARTHEST for v in found):
            raise ValueError("a point of the path data lies nowhere on a table")
        self.i += count
        return found

    def _points(self, count: int) -> list[Vec]:
        n = self._numbers(2 * count)
        back = self.at if self.letter.islower() else Vec(0.0, 0.0)
        return [Vec(back.x + n[k], back.y - n[k + 1]) for k in range(0, 2 * count, 2)]

    def _step(self, kind: str) -> Iterable[Segment]:
        if kind in "LHV":
            return [self._line(kind)]
        if kind in "CS":
            return [self._cubic(kind)]
        if kind in "QT":
            return [self._quadratic(kind)]
        if kind == "A":
            return self._arc()
        raise ValueError(f'the path data has "{self.letter}" in it, which is no command')

    def _line(self, kind: str) -> Segment:
        start, relative = self.at, self.letter.islower()
        if kind == "L":
            (to,) = self._points(1)
        else:
            (v,) = self._numbers(1)
            x, y = (start.x, start.y) if relative else (0.0, 0.0)
            to = Vec(x + v, start.y) if kind == "H" else Vec(start.x, y - v)
        self.at, self.handle = to, None
        return Line(start, to)

    def _mirrored_handle(self, kinds: str) -> Vec:
        if self.handle is None or self.handle[0] not in kinds:
            return self.at
        return self.at * 2 - self.handle[1]

    def _cubic(self, kind: str) -> Segment:
        start = self.at
        p1 = self._mirrored_handle("CS") if kind == "S" else None
        points = self._points(2 if kind == "S" else 3)
        p1, p2, p3 = (p1, *points) if p1 is not None else points
        self.at, self.handle = p3, (kind, p2)
        return Cubic(start, p1, p2, p3)

    def _quadratic(self, kind: str) -> Segment:
        start = self.at
        control = self._mirrored_handle("QT") if kind == "T" else None
        points = self._points(1 if kind == "T" else 2)
        control, end = (control, *points) if control is not None else points
        self.at, self.handle = end, (kind, control)
        return Cubic(start, start.lerp(control, 2 / 3), end.lerp(control, 2 / 3), end)

    def _arc(self) -> Iterable[Segment]:
        start = self.at
        self._split_flags()
        rx, ry, turn, large, sweep = self._numbers(5)
        if large not in (0.0, 1.0) or sweep not in (0.0, 1.0):
            raise ValueError("an arc of the path data has a flag that is neither 0 nor 1")
        (end,) = self._points(1)
        self.at, self.handle = end, None
        if rx == 0 or ry == 0:
            return [Line(start, end)]
        return arc_between(start, end, (rx, ry), -turn, large=large == 1.0, left=sweep == 0.0)

    def _split_flags(self) -> None:
        """Flags may stand without spaces: "a1 1 0 0110 10" means flags 0 and 1, then 10 10."""
        for place in (self.i + 3, self.i + 4):
            raw = self.tokens.raw[place] if place < len(self.tokens) else ""
            if len(raw) > 1 and raw[0] in "01":
                rest = tokens(raw[1:])
                self.tokens.put(place, float(raw[0]), raw[0], rest)


class Tokens(list[str | float]):
    """Commands and numbers in order; `raw` keeps how each was written."""

    raw: list[str]

    def put(self, place: int, first: float, raw: str, rest: Tokens) -> None:
        """Put a number (no unit) and what was written close behind it in place of one token."""
        self[place : place + 1] = [first, *rest]
        self.raw[place : place + 1] = [raw, *rest.raw]


MOST_NUMBERS = 400_000
"""Numbers and commands of one line: more is no pattern, and would be read for minutes."""


def tokens(text: str) -> Tokens:
    """Cut path data into commands and numbers. Raises ValueError in words."""
    out = Tokens()
    raw: list[str] = []
    for found in _TOKEN.finditer(text):
        letter, number, odd = found.groups()
        if odd:
            raise ValueError(f'the path data has "{odd}" in it, which is no number and no command')
        if len(raw) >= MOST_NUMBERS:
            raise ValueError(f"one line has more than {MOST_NUMBERS:,} numbers")
        out.append(letter or float(number))
        raw.append(found[0])
    out.raw = raw
    return out
