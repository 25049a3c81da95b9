"""SVG path data of one open line, read and written with every digit (y downward, as in SVG)."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.vec import Vec

FARTHEST = 1e6
"""mm: a coordinate beyond this lies on no table."""
_TOKEN = re.compile(r"([a-zA-Z])|([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)|([^\s,])")
Take = Callable[[int], list[float]]


def number_text(value: float) -> str:
    """Return the shortest text that is read back as the same float.

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
    """Read path data of one open line: M, L, H, V, C, S, Q, T, absolute or relative; y turned up.

    Quadratic curves become the same curves as cubics. Raises ValueError in words.
    """
    segments = _Reading(text).segments()
    if not segments:
        raise ValueError("the path data draws nothing")
    return Path(tuple(segments))


class _Reading:
    """One run over path data; `at` is where the pen stands, `handle` the last control point."""

    def __init__(self, text: str) -> None:
        self.tokens = [m.groups() for m in _TOKEN.finditer(text)]
        odd = next((bad for _, _, bad in self.tokens if bad), None)
        if odd:
            raise ValueError(f'the path data has "{odd}" in it, which is no number and no command')
        self.i = 0
        self.letter = ""
        self.at = Vec(0.0, 0.0)
        self.handle: tuple[str, Vec] | None = None

    def segments(self) -> list[Segment]:
        """Return all segments of the one line."""
        made: list[Segment] = []
        while self.i < len(self.tokens):
            if self.tokens[self.i][0]:
                self.letter = self.tokens[self.i][0]
                self.i += 1
            elif not self.letter:
                raise ValueError("the path data starts with a number")
            made.extend(self._step(first=not made))
        return made

    def _numbers(self, count: int) -> list[float]:
        found = [float(v) for _, v, _ in self.tokens[self.i : self.i + count] if v]
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

    def _step(self, *, first: bool) -> list[Segment]:
        kind = self.letter.upper()
        if kind == "M":
            (to,) = self._points(1)
            if not first and to != self.at:
                raise ValueError("the path data starts a second line")
            self.at, self.handle = to, None
            self.letter = "L" if self.letter == "M" else "l"
            return []
        if kind in "LHV":
            return [self._line(kind)]
        if kind in "CS":
            return [self._cubic(kind)]
        if kind in "QT":
            return [self._quadratic(kind)]
        raise ValueError(f"the command {self.letter} in the path data is not read here")

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
