"""Lines that are drawn once for all sizes: whatever their pen, they belong to every size."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.geometry.box import Box, box_of_all
from clothwright.intake.chains import JOIN_MM
from clothwright.intake.pen import PenLine

SMALL_MM = 60.0
"""mm: a closed line that is no larger is a mark, no piece."""
GROWN_MM = 80.0
"""mm: as far lie the same lines of two sizes apart at most."""


def drawn_once(lines: Sequence[PenLine], sizes: Sequence[str | None]) -> list[int]:
    """Return the lines that belong to every size, though their pen is one size's: by number.

    A grain line that is drawn once has some pen, often that of the first size. It is a line that
    touches no other of its size, that no other size has the like of, and that lies within what
    every size draws.
    """
    boxes = [line.path.bounds() for line in lines]
    of: dict[str, list[int]] = {}
    for k, size in enumerate(sizes):
        if size:
            of.setdefault(size, []).append(k)
    ends = {
        size: [(e, k) for k in own if not lines[k].closed for e in lines[k].path.ends]
        for size, own in of.items()
    }
    whole = {size: box_of_all(boxes[k] for k in own) for size, own in of.items()}

    def lone(k: int, size: str) -> bool:
        if boxes[k].size.norm > SMALL_MM and lines[k].closed:
            return False
        return all(
            q == k or e.distance(p) > JOIN_MM for e in lines[k].path.ends for p, q in ends[size]
        )

    def elsewhere(k: int, size: str) -> bool:
        inside = whole[size].holds(boxes[k])
        return inside and not any(alike_boxes(boxes[k], boxes[q]) for q in of[size])

    return [
        k
        for size, own in of.items()
        for k in own
        if lone(k, size) and all(elsewhere(k, other) for other in of if other != size)
    ]


def alike_boxes(one: Box, other: Box) -> bool:
    """Tell whether two lines, by their boxes, may be the same one in two sizes."""
    grown, away = one.size - other.size, one.middle - other.middle
    size = max(one.size.norm, other.size.norm)
    return grown.norm <= 3.0 + 0.3 * size and away.norm <= GROWN_MM
