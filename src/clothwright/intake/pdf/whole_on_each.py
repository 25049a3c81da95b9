"""Pages that each draw the whole drawing, moved, and show a part of it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence

from clothwright.geometry.vec import Vec
from clothwright.intake.pdf.drawn import DrawnPage, PenLine

ROUND_MM = 0.05
SHARE = 0.5
"""Of the length of all lines, how much must come again on the other page."""
LONG_MM = 35.0
"""mm: shorter lines (marks, crosses) say nothing about where a page lies."""
CURVE_MM = 60.0


def shifts_of(pages: Sequence[DrawnPage]) -> list[Vec | None] | None:
    """Return by how much each page's lines are to be moved onto the first page's; None if not so.

    A page that shows something else has None.
    """
    if len(pages) < 2:
        return None
    first = _by_shape(pages[0])
    found: list[Vec | None] = [Vec(0.0, 0.0), *(_shift(first, page) for page in pages[1:])]
    same = [s for s in found[1:] if s is not None]
    if len(same) < max(1, (len(pages) - 1) // 2):
        return _from_the_next(pages)
    return found if any(s.norm > 1.0 for s in same) else None


def _from_the_next(pages: Sequence[DrawnPage]) -> list[Vec | None] | None:
    """Try again without the first page: it may be a cover."""
    rest = shifts_of(pages[1:]) if len(pages) > 2 else None
    return None if rest is None else [None, *rest]


Shape = tuple[int, int, int, int]


def _shape(line: PenLine) -> Shape:
    low, high = line.path.bounds()
    box = high - low
    return (
        len(line.path.segments),
        round(box.x / 0.5),
        round(box.y / 0.5),
        round(line.path.length),
    )


def _by_shape(page: DrawnPage) -> dict[Shape, list[PenLine]]:
    out: dict[Shape, list[PenLine]] = defaultdict(list)
    for line in page.lines:
        if line.path.length >= LONG_MM:
            out[_shape(line)].append(line)
    return out


def _shift(first: dict[Shape, list[PenLine]], page: DrawnPage) -> Vec | None:
    votes: Counter[tuple[int, int]] = Counter()
    exact: dict[tuple[int, int], list[Vec]] = defaultdict(list)
    shapes: dict[tuple[int, int], set[Shape]] = defaultdict(set)
    curved: set[tuple[int, int]] = set()
    total = 0.0
    for line in page.lines:
        if line.path.length < LONG_MM:
            continue
        total += line.path.length
        seen: set[tuple[int, int]] = set()
        for other in first.get(_shape(line), ())[:20]:
            by = other.path.start - line.path.start
            if other.path.end.distance(line.path.end + by) > ROUND_MM:
                continue
            key = (round(by.x), round(by.y))
            for near in [(key[0] + i, key[1] + j) for i in (-1, 0, 1) for j in (-1, 0, 1)]:
                if near in votes:
                    key = near
            if key not in seen:
                seen.add(key)
                votes[key] += round(1000 * line.path.length)
                exact[key].append(by)
                shapes[key].add(_shape(line))
                if line.path.length > CURVE_MM and not line.path.is_straight:
                    curved.add(key)
    moving = [(n, k) for k, n in votes.items() if Vec(*map(float, k)).norm > 1.5]
    if not moving or total == 0.0:
        return None
    length, key = max(moving)
    if length / 1000 < SHARE * total or not (key in curved or len(shapes[key]) > 2):
        return None
    xs, ys = sorted(v.x for v in exact[key]), sorted(v.y for v in exact[key])
    return Vec(xs[len(xs) // 2], ys[len(ys) // 2])
