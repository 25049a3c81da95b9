"""Half diamonds and triangles at the edges of a tile: two pages make one of two halves.

Their base lies on the joining line; opposite bases of every page name the window that it shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import NamedTuple

from clothwright.geometry.box import Box
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pen import PenLine

BASE_MM = (3.0, 40.0)
LEAST_SHARE = 0.4
"""A window holds at least this much of the page each way."""
STRAIGHT_MM = 0.05


class JoinMark(NamedTuple):
    """A mark on a joining line: the middle of its base, and where its tip points to."""

    at: Vec
    way: Vec


def half_of(line: PenLine) -> JoinMark | None:
    """Return the half diamond or triangle that a line is, None when it is none.

    Two or three straight sides with a level or upright base, equal legs.
    """
    path = line.path
    if len(path.segments) not in (2, 3) or not all(isinstance(s, Line) for s in path.segments):
        return None
    corners = [path.start, *(s.end for s in path.segments)]
    if len(path.segments) == 3:
        if path.start.distance(path.end) > STRAIGHT_MM:
            return None
        corners = corners[:3]
    return next((h for k in range(3) if (h := _with_tip(corners, k)) is not None), None)


def _with_tip(corners: Sequence[Vec], k: int) -> JoinMark | None:
    tip, a, b = corners[k], corners[(k + 1) % 3], corners[(k + 2) % 3]
    base = b - a
    if not BASE_MM[0] <= base.norm <= BASE_MM[1] or min(abs(base.x), abs(base.y)) > STRAIGHT_MM:
        return None
    middle = (a + b) / 2
    high = tip - middle
    if abs(high.dot(base.unit)) > STRAIGHT_MM or not 1.0 <= high.norm <= BASE_MM[1]:
        return None
    return JoinMark(middle, high.unit)


def windows_of(page: DrawnPage) -> Iterator[Box]:
    """Yield the windows that a page's halves name, each side by a half that points into it."""
    halves = [h for line in page.lines if (h := half_of(line)) is not None][:60]
    side = {
        way: sorted({round(h.at.dot(axis), 2) for h in halves if h.way.dot(axis) * sign > 0.99})
        for way, axis, sign in (
            ("left", Vec(1.0, 0.0), 1.0),
            ("right", Vec(1.0, 0.0), -1.0),
            ("low", Vec(0.0, 1.0), 1.0),
            ("high", Vec(0.0, 1.0), -1.0),
        )
    }
    if not all(0 < len(places) <= 4 for places in side.values()):
        return
    for left, right, low, high in product(side["left"], side["right"], side["low"], side["high"]):
        if right - left > page.width * LEAST_SHARE and high - low > page.height * LEAST_SHARE:
            yield Box(Vec(left, low), Vec(right, high))


def is_half_at(line: PenLine, window: Box) -> bool:
    """Tell whether a line is a mark on one of the window's sides."""
    half = half_of(line)
    if half is None:
        return False
    sides = (
        abs(half.at.x - window.low.x),
        abs(half.at.x - window.high.x),
        abs(half.at.y - window.low.y),
        abs(half.at.y - window.high.y),
    )
    return min(sides) < 0.5
