"""What stands on every tile of a printed pattern: its frame, crosses at its corners, marks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple

from clothwright.geometry.box import Box, box_of_all, box_round
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage
from clothwright.intake.pdf.halves import is_half_at, windows_of
from clothwright.intake.pen import PenLine

SAME_MM = 0.5
"""mm: furniture stands at the same place of every page within this."""
CROSS_MM = (3.0, 30.0)
"""mm: length of the two strokes of a joining cross."""
LEAST_SHARE = 0.4
"""A frame holds at least this much of the page each way."""
THIN_MM = 1.5
"""mm: an area no wider is a stroke that a program drew as one."""
MOSTLY = 0.6
"""What stands at one place of this share of the pages belongs to the pages, not to the drawing."""
MOST_FRAMES = 3


class Frame(NamedTuple):
    """The window that pages show of the drawing, what marks it, and which pages have it."""

    window: Box
    marks: str
    on: tuple[int, ...]


def frames_of(pages: Sequence[DrawnPage]) -> list[Frame]:
    """Return the frames that most pages have, the largest first; () without.

    A drawn rectangle at the same place of the pages, else crosses at the corners of one, else half
    diamonds on its sides. on: the places of these pages in the list.
    """
    found = _common([list(_rectangles(p)) for p in pages], "page frames")
    if not found:
        crosses = [list(_crosses(p)) for p in pages]
        each = [list(_windows(c, p)) for c, p in zip(crosses, pages, strict=True)]
        found = _common(each, "joining crosses")
    return found or _common([list(windows_of(p)) for p in pages], "half diamonds")


def is_furniture(line: PenLine, window: Box) -> bool:
    """Tell whether a line is the frame itself or one of its crosses."""
    if is_half_at(line, window):
        return True
    box = line.path.bounds()
    if line.path.is_straight and line.path.length <= CROSS_MM[1]:
        return any(box.middle.distance(c) < SAME_MM for c in window.corners)
    if box.is_near(window, SAME_MM):
        return _is_rim(line) or line.closed
    strokes = list(_straights(line))
    count = len(line.path.segments)
    return len(strokes) in (1, count) and all(_is_side(*s, window) for s in strokes)


def _is_side(a: Vec, b: Vec, window: Box) -> bool:
    """Tell whether a stroke is a whole side of a window."""
    upright = abs(b.x - a.x) < SAME_MM and _near(a.x, window.low.x, window.high.x)
    level = abs(b.y - a.y) < SAME_MM and _near(a.y, window.low.y, window.high.y)
    return (upright and b.y - a.y > 0.95 * window.size.y) or (
        level and b.x - a.x > 0.95 * window.size.x
    )


def _near(value: float, *places: float) -> bool:
    return any(abs(value - p) < SAME_MM for p in places)


def _common(each: Sequence[Sequence[Box]], marks: str) -> list[Frame]:
    """Return the windows that most pages have, at one place and of one size."""
    found: list[Frame] = []
    for own in each:
        for window in own:
            if any(window.is_near(f.window, SAME_MM) for f in found):
                continue
            on = tuple(
                k
                for k, others in enumerate(each)
                if any(window.is_near(v, SAME_MM) for v in others)
            )
            if len(on) >= max(2, MOSTLY * len(each)):
                found.append(Frame(window, marks, on))
    return sorted(found, key=lambda f: -f.window.size.x * f.window.size.y)[:MOST_FRAMES]


def _rectangles(page: DrawnPage) -> Iterator[Box]:
    least = Vec(page.width * LEAST_SHARE, page.height * LEAST_SHARE)
    level: list[Box] = []
    upright: list[Box] = []
    for line in page.lines:
        box = line.path.bounds()
        if box.size.x > least.x and box.size.y > least.y and _is_rim(line):
            yield box
            continue
        for stroke in _straights(line):
            wide, tall = stroke.size
            if tall < SAME_MM and wide > least.x:
                level.append(stroke)
            elif wide < SAME_MM and tall > least.y:
                upright.append(stroke)
    for one, other in combinations(level[:40], 2):
        sides = [u for u in upright[:40] if _closes(one, other, u)]
        if len(sides) >= 2:
            yield box_of_all((one, other))


def _is_rim(line: PenLine) -> bool:
    """Tell whether a line runs once round its box, however many strokes it is made of."""
    if any(not isinstance(s, Line) for s in line.path.segments):
        return False
    box = line.path.bounds()
    round_it = 2 * sum(box.size)
    if abs(line.path.length - round_it) > 0.001 * round_it + SAME_MM:
        return False
    return all(_on_rim(s.end, box) for s in line.path.segments)


def _on_rim(p: Vec, window: Box) -> bool:
    return _near(p.x, window.low.x, window.high.x) or _near(p.y, window.low.y, window.high.y)


def _straights(line: PenLine) -> Iterator[Box]:
    """Yield the level and upright strokes of a line, low end first; of a thin area its middle."""
    low, high = box = line.path.bounds()
    wide, tall = box.size
    if line.pen.filled and min(wide, tall) < THIN_MM:
        off = Vec(0.0, tall / 2) if tall < wide else Vec(wide / 2, 0.0)
        yield Box(low + off, high - off)
        return
    for s in line.path.segments:
        a, b = s.start, s.end
        if isinstance(s, Line) and min(abs(a.x - b.x), abs(a.y - b.y)) < SAME_MM:
            yield box_round((a, b))


def _closes(one: Box, other: Box, side: Box) -> bool:
    low, high = sorted((one.low.y, other.low.y))
    return (
        abs(one.low.x - other.low.x) < SAME_MM
        and abs(one.high.x - other.high.x) < SAME_MM
        and abs(side.low.y - low) < SAME_MM
        and abs(side.high.y - high) < SAME_MM
        and _near(side.low.x, one.low.x, one.high.x)
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


def _windows(crosses: Sequence[Vec], page: DrawnPage) -> Iterator[Box]:
    """Yield the rectangles with a cross at each corner."""
    points = list(crosses)[:60]
    for low in points:
        for high in points:
            if (
                high.x - low.x < page.width * LEAST_SHARE
                or high.y - low.y < page.height * LEAST_SHARE
            ):
                continue
            box = Box(low, high)
            if all(any(p.distance(q) < SAME_MM for q in points) for p in box.corners):
                yield box


def without_still(pages: Sequence[DrawnPage]) -> list[DrawnPage]:
    """Return pages without what stands at one place of most of them, and is no stroke run on.

    A long straight line is kept: a hem that runs through a row of pages stands so too.
    """
    found: dict[tuple[int, int], list[tuple[int, PenLine]]] = defaultdict(list)
    for k, page in enumerate(pages):
        for line in page.lines:
            if not (line.path.is_straight and line.path.length > CROSS_MM[1]):
                found[_place(line.path.bounds().low)].append((k, line))
    least = max(3, MOSTLY * len(pages))
    still: set[int] = set()
    for x, y in list(found):
        here = found[x, y]
        near = [f for i in (-1, 0, 1) for j in (-1, 0, 1) for f in found.get((x + i, y + j), ())]
        if len({k for k, _ in near}) < least:
            continue
        for _, line in here:
            on = {k for k, other in near if _stands_with(line, other)}
            if len(on) >= least:
                still.add(id(line))
    return [replace(p, lines=tuple(x for x in p.lines if id(x) not in still)) for p in pages]


def _place(p: Vec) -> tuple[int, int]:
    return round(p.x), round(p.y)


def _stands_with(a: PenLine, b: PenLine) -> bool:
    apart = abs(a.path.length - b.path.length)
    return apart < SAME_MM and a.path.bounds().is_near(b.path.bounds(), SAME_MM)
