"""What stands on every tile of a printed pattern: its frame, crosses at its corners, its name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import combinations

from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.clip import Window
from clothwright.intake.pdf.drawn import DrawnPage, PenLine
from clothwright.intake.pdf.halves import is_half_at, windows_of

SAME_MM = 0.5
"""mm: furniture stands at the same place of every page within this."""
CROSS_MM = (3.0, 30.0)
"""mm: length of the two strokes of a joining cross."""
LEAST_SHARE = 0.4
"""A frame holds at least this much of the page each way."""
_NAMES = (
    re.compile(r"([A-Z])\s*-?\s*(\d{1,2})"),
    re.compile(r"(\d{1,2})\s*[-/x,]\s*(\d{1,2})"),
    re.compile(r"row\s*(\d{1,2})\D{1,12}col\w*\s*(\d{1,2})", re.IGNORECASE),
)


def frame_of(pages: Sequence[DrawnPage]) -> tuple[Window, str] | None:
    """Return the window that every page shows of the drawing, and what marks it; None without.

    A drawn rectangle at the same place of every page, crosses at the corners of one, or half
    diamonds on its sides.
    """
    rectangles = _common([list(_rectangles(p)) for p in pages])
    if rectangles:
        return max(rectangles, key=_area), "page frames"
    crosses = [list(_crosses(p)) for p in pages]
    corners = _common([list(_windows(c, p)) for c, p in zip(crosses, pages, strict=True)])
    if corners:
        return max(corners, key=_area), "joining crosses"
    halves = _common([list(windows_of(p)) for p in pages])
    if halves:
        return max(halves, key=_area), "half diamonds"
    return None


def is_furniture(line: PenLine, window: Window) -> bool:
    """Tell whether a line is the frame itself or one of its crosses."""
    if is_half_at(line, window):
        return True
    low, high = line.path.bounds()
    if line.path.is_straight and line.path.length <= CROSS_MM[1]:
        middle = (low + high) / 2
        corners = (
            window.low,
            window.high,
            Vec(window.low.x, window.high.y),
            Vec(window.high.x, window.low.y),
        )
        return any(middle.distance(c) < SAME_MM for c in corners)
    if low.distance(window.low) < SAME_MM and high.distance(window.high) < SAME_MM:
        return True
    straight = line.path.is_straight
    return straight and (
        (
            abs(high.x - low.x) < SAME_MM
            and _near(low.x, window.low.x, window.high.x)
            and high.y - low.y > 0.95 * window.size.y
        )
        or (
            abs(high.y - low.y) < SAME_MM
            and _near(low.y, window.low.y, window.high.y)
            and high.x - low.x > 0.95 * window.size.x
        )
    )


def name_of(page: DrawnPage) -> tuple[int, int] | None:
    """Return the two numbers of a page's name: "B3" is 2, 3; "2/3"; "row 2 column 3"."""
    found = []
    for text in page.texts:
        words = text.words.strip()
        for pattern in _NAMES:
            match = pattern.fullmatch(words) or (
                pattern.search(words) if "row" in words.lower() else None
            )
            if match:
                first = ord(match[1]) - 64 if match[1].isalpha() else int(match[1])
                found.append((first, int(match[2])))
                break
    return found[0] if len(set(found)) == 1 else None


def _near(value: float, *places: float) -> bool:
    return any(abs(value - p) < SAME_MM for p in places)


def _area(window: Window) -> float:
    return window.size.x * window.size.y


def _common(each: Sequence[Sequence[Window]]) -> list[Window]:
    """Return the windows that every page has, at one place and of one size."""
    return [
        w
        for w in (each[0] if each else ())
        if all(any(_same(w, v) for v in others) for others in each[1:])
    ]


def _same(a: Window, b: Window) -> bool:
    return a.low.distance(b.low) < SAME_MM and a.high.distance(b.high) < SAME_MM


def _rectangles(page: DrawnPage) -> Iterator[Window]:
    least = Vec(page.width * LEAST_SHARE, page.height * LEAST_SHARE)
    level: list[tuple[Vec, Vec]] = []
    upright: list[tuple[Vec, Vec]] = []
    for line in page.lines:
        low, high = line.path.bounds()
        wide, tall = high.x - low.x, high.y - low.y
        if line.closed and len(line.path.segments) == 4 and wide > least.x and tall > least.y:
            perimeter = 2 * (wide + tall)
            if abs(line.path.length - perimeter) < 0.001 * perimeter:
                yield Window(low, high)
        elif line.path.is_straight and tall < SAME_MM and wide > least.x:
            level.append((low, high))
        elif line.path.is_straight and wide < SAME_MM and tall > least.y:
            upright.append((low, high))
    for one, other in combinations(level[:40], 2):
        sides = [u for u in upright[:40] if _closes(one, other, u)]
        if len(sides) >= 2:
            points = [p for pair in (one, other) for p in pair]
            low = Vec(min(p.x for p in points), min(p.y for p in points))
            yield Window(low, Vec(max(p.x for p in points), max(p.y for p in points)))


def _closes(one: tuple[Vec, Vec], other: tuple[Vec, Vec], side: tuple[Vec, Vec]) -> bool:
    low, high = sorted((one[0].y, other[0].y))
    return (
        abs(one[0].x - other[0].x) < SAME_MM
        and abs(one[1].x - other[1].x) < SAME_MM
        and abs(side[0].y - low) < SAME_MM
        and abs(side[1].y - high) < SAME_MM
        and _near(side[0].x, one[0].x, one[1].x)
    )


def _crosses(page: DrawnPage) -> Iterator[Vec]:
    """Yield the middles of two short strokes that cross at right angles in both their middles."""
    strokes = [
        x.path
        for x in page.lines
        if len(x.path.segments) == 1
        and x.path.is_straight
        and CROSS_MM[0] <= x.path.length <= CROSS_MM[1]
    ]
    middles = [((p.start + p.end) / 2, p.start_tangent) for p in strokes[:400]]
    for (a, u), (b, v) in combinations(middles, 2):
        if a.distance(b) < 0.2 and abs(u.dot(v)) < 0.01:
            yield (a + b) / 2


def _windows(crosses: Sequence[Vec], page: DrawnPage) -> Iterator[Window]:
    """Yield the rectangles with a cross at each corner."""
    points = list(crosses)[:60]
    for low in points:
        for high in points:
            if (
                high.x - low.x < page.width * LEAST_SHARE
                or high.y - low.y < page.height * LEAST_SHARE
            ):
                continue
            others = (Vec(low.x, high.y), Vec(high.x, low.y))
            if all(any(p.distance(q) < SAME_MM for q in points) for p in others):
                yield Window(low, high)
