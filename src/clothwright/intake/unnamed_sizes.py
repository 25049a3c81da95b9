"""Sizes that nothing names: outlines in several pens, in one another as sizes are drawn."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from itertools import pairwise

from clothwright.geometry.box import Box, box_of_all
from clothwright.geometry.vec import Vec
from clothwright.intake.chains import hanging_together
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.in_sizes import over
from clothwright.intake.pen import PenLine

LARGE_MM = 240.0
"""mm: what an outline measures from corner to corner at least."""
ALIKE = 0.6
"""Share of the length of the longest outline that the same one has in another size."""
SAME_MM = 0.5
"""mm: sides of outlines that are no farther apart are one and the same."""
RUNS_ON_MM = 15.0
"""mm: a smaller size may stand out over a larger one by as much."""


def unnamed_sizes(lines: Sequence[PenLine], keys: Sequence[Hashable]) -> list[Hashable]:
    """Return the keys whose lines may be the sizes of one piece, the smallest first; [] if none.

    keys: what each line is drawn with. It is three pens or more that draw a line about as long,
    each in the next larger; or two whose lines have two sides or more in common, for one that lies
    all inside another may be its stitching line.
    """
    longest = {key: _longest(lines, keys, key) for key in dict.fromkeys(keys)}
    most = max((length for length, _ in longest.values()), default=0.0)
    large = [
        (box, key)
        for key, (length, box) in longest.items()
        if length >= ALIKE * most and box.size.norm >= LARGE_MM
    ]
    large.sort(key=lambda found: found[0].size.norm)
    pairs = [(a, b) for (a, _), (b, _) in pairwise(large)]
    if not pairs or not all(_next_larger(a, b) for a, b in pairs):
        return []
    if len(pairs) == 1 and sum(abs(gap) <= SAME_MM for gap in _gaps(*pairs[0])) < 2:
        return []
    return [key for _, key in large]


def _longest(
    lines: Sequence[PenLine], keys: Sequence[Hashable], key: Hashable
) -> tuple[float, Box]:
    """Return the length of the longest line a pen draws, parts that meet joined, and its box."""
    own = [x for x, k in zip(lines, keys, strict=True) if k == key and not x.pen.filled]
    drawn = [DrawnLine(path=x.path, closed=False) for x in own if not x.closed]
    groups = [[x.path for x in g] for g in hanging_together(drawn)]
    groups += [[x.path] for x in own if x.closed]
    best = max(groups, key=lambda g: sum(p.length for p in g), default=[])
    if not best:
        return 0.0, Box(Vec(0.0, 0.0), Vec(0.0, 0.0))
    return sum(p.length for p in best), box_of_all(p.bounds() for p in best)


def _next_larger(a: Box, b: Box) -> bool:
    """Tell whether a box may be that of the next larger size than another's."""
    grown = b.size - a.size
    larger = min(grown) >= -SAME_MM and max(grown) > SAME_MM
    return larger and over(a, b) and all(gap >= -RUNS_ON_MM for gap in _gaps(a, b))


def _gaps(a: Box, b: Box) -> tuple[float, ...]:
    """Return how far each side of a box lies inside that of another, mm."""
    return (*(a.low - b.low), *(b.high - a.high))
