"""Where the bars and borders of a print lie, from the words of docs/file-format.md."""

from __future__ import annotations

import numpy as np
import shapely
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border


def bar_lines(cloth: Cloth, bounds: tuple[float, float, float, float]) -> BaseGeometry:
    """Return the edges of the ground's tiles within a box, stepped in half-drop and brick."""
    p, (x0, y0, x1, y1) = cloth.print, bounds
    wide, high = p.repeat_along, p.repeat_across
    lines: list[LineString] = []
    columns = _numbers(p.origin_across, high, y0, y1)
    rows = _numbers(p.origin_along, wide, x0, x1)
    for k in columns if high else ():
        y = p.origin_across + k * high
        if p.drop != "brick" or not wide:
            lines.append(LineString([(x0, y), (x1, y)]))
            continue
        for j in rows:
            x, up = p.origin_along + j * wide, y + (j % 2) * high / 2
            lines.append(LineString([(x, up), (x + wide, up)]))
    for j in rows if wide else ():
        x = p.origin_along + j * wide
        if p.drop != "half-drop" or not high:
            lines.append(LineString([(x, y0), (x, y1)]))
            continue
        for k in columns:
            y, on = p.origin_across + k * high, x + (k % 2) * wide / 2
            lines.append(LineString([(on, y), (on, y + high)]))
    found = shapely.union_all([MultiLineString(lines)])
    bands = [shapely.box(x0 - 1, *span(b, cloth.width, x1 + 1)) for b in p.borders]
    return found.difference(shapely.union_all(bands)) if bands else found


def span(border: Border, width: float, right: float) -> tuple[float, float, float]:
    """Return the lower edge of a border, `right`, and its upper edge, mm: the rest of a box."""
    low = border.base if border.side == "lower" else width - border.base - border.height
    return low, right, low + border.height


def _numbers(origin: float, step: float | None, low: float, high: float) -> range:
    """Return the numbers of all steps that may be seen between two places, and one to each side."""
    if not step:
        return range(0)
    return range(int(np.floor((low - origin) / step)) - 2, int(np.ceil((high - origin) / step)) + 2)
