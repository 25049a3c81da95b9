"""The shapes of SVG as lines: path, rect, circle, ellipse, line, polyline, polygon."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple
from xml.etree import ElementTree as ET

from clothwright.geometry.arcs import ellipse_arc
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.path_data import DataLine, lines_from_text, numbers_from_text
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.vec import Vec
from clothwright.picture.frames import PageSize, inner_length


class Lengths(NamedTuple):
    """An element and the page its percents refer to."""

    element: ET.Element
    box: PageSize

    def get(self, name: str, way: str = "") -> float:
        """Return a length in the drawing's units; 0 when it is not given. Raises ValueError."""
        return inner_length(self.element.get(name, "0"), self._whole(way or name))

    def given(self, name: str) -> float | None:
        """Return a length, or None when it is not given or "auto"."""
        text = self.element.get(name, "auto").strip()
        return None if text == "auto" else inner_length(text, self._whole(name))

    def _whole(self, name: str) -> float:
        if name in ("x", "width", "cx", "rx", "x1", "x2"):
            return self.box.wide
        if name in ("y", "height", "cy", "ry", "y1", "y2"):
            return self.box.tall
        return math.hypot(self.box.wide, self.box.tall) / math.sqrt(2)


def lines_of(tag: str, lengths: Lengths) -> tuple[DataLine, ...]:
    """Return the lines of a shape, y up. Raises ValueError in words."""
    return SHAPES[tag](lengths)


def _path(n: Lengths) -> tuple[DataLine, ...]:
    return lines_from_text(n.element.get("d", ""))


def _line(n: Lengths) -> tuple[DataLine, ...]:
    a, b = Vec(n.get("x1"), -n.get("y1")), Vec(n.get("x2"), -n.get("y2"))
    return (DataLine(Path((Line(a, b),)), False),)


def _points(n: Lengths) -> list[Vec]:
    numbers = numbers_from_text(n.element.get("points", ""))
    return [Vec(x, -y) for x, y in zip(numbers[::2], numbers[1::2], strict=False)]


def _polyline(n: Lengths) -> tuple[DataLine, ...]:
    points = _points(n)
    return (DataLine(polyline(points), False),) if len(points) > 1 else ()


def _polygon(n: Lengths) -> tuple[DataLine, ...]:
    points = _points(n)
    return (DataLine(polyline([*points, points[0]]), True),) if len(points) > 2 else ()


def _rect(n: Lengths) -> tuple[DataLine, ...]:
    x, y, wide, tall = n.get("x"), -n.get("y"), n.get("width"), n.get("height")
    if wide <= 0 or tall <= 0:
        return ()
    rx, ry = n.given("rx"), n.given("ry")
    rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
    rx, ry = min(max(rx, 0.0), wide / 2), min(max(ry, 0.0), tall / 2)
    if rx == 0 or ry == 0:
        corners = [(x, y), (x, y - tall), (x + wide, y - tall), (x + wide, y), (x, y)]
        return (DataLine(polyline(corners), True),)
    middles = [
        Vec(x + rx, y - ry),
        Vec(x + rx, y - tall + ry),
        Vec(x + wide - rx, y - tall + ry),
        Vec(x + wide - rx, y - ry),
    ]
    segments: list[Segment] = []
    for k, middle in enumerate(middles):
        arc = ellipse_arc(middle, (rx, ry), 0.0, math.pi / 2 * (k + 1), math.pi / 2)
        if segments:
            segments.append(Line(segments[-1].end, arc[0].start))
        segments.extend(arc)
    segments.append(Line(segments[-1].end, segments[0].start))
    return (DataLine(Path(tuple(segments)), True),)


def _round(centre: Vec, rx: float, ry: float) -> tuple[DataLine, ...]:
    if rx <= 0 or ry <= 0:
        return ()
    return (DataLine(Path(ellipse_arc(centre, (rx, ry), 0.0, 0.0, 2 * math.pi)), True),)


def _circle(n: Lengths) -> tuple[DataLine, ...]:
    r = n.get("r")
    return _round(Vec(n.get("cx"), -n.get("cy")), r, r)


def _ellipse(n: Lengths) -> tuple[DataLine, ...]:
    rx, ry = n.given("rx"), n.given("ry")
    rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
    return _round(Vec(n.get("cx"), -n.get("cy")), rx, ry)


SHAPES: dict[str, Callable[[Lengths], tuple[DataLine, ...]]] = {
    "path": _path,
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
}
