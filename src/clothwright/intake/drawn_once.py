"""Lines that are drawn once for all sizes: whatever their pen, they belong to every size."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.geometry.vec import Vec
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
        size: [(e, k) for k in own if not lines[k].closed for e in _ends(lines[k])]
        for size, own in of.items()
    }
    whole = {size: around([boxes[k] for k in own]) for size, own in of.items()}

    def lone(k: int, size: str) -> bool:
        low, high = boxes[k]
        if (high - low).norm > SMALL_MM and lines[k].closed:
            return False
        return all(
            q == k or e.distance(p) > JOIN_MM for e in _ends(lines[k]) for p, q in ends[size]
        )

    def elsewhere(k: int, size: str) -> bool:
        low, high = boxes[k]
        least, most = whole[size]
        inside = least.x <= low.x and least.y <= low.y and high.x <= most.x and high.y <= most.y
        return inside and not any(alike_boxes(boxes[k], boxes[q]) for q in of[size])

    return [
        k
        for size, own in of.items()
        for k in own
        if lone(k, size) and all(elsewhere(k, other) for other in of if other != size)
    ]


def _ends(line: PenLine) -> tuple[Vec, Vec]:
    return line.path.start, line.path.end


def around(boxes: Sequence[tuple[Vec, Vec]]) -> tuple[Vec, Vec]:
    """Return the box round boxes, mm."""
    return (
        Vec(min(a.x for a, _ in boxes), min(a.y for a, _ in boxes)),
        Vec(max(b.x for _, b in boxes), max(b.y for _, b in boxes)),
    )


def alike_boxes(one: tuple[Vec, Vec], other: tuple[Vec, Vec]) -> bool:
    """Tell whether two lines, by their boxes, may be the same one in two sizes."""
    grown = (one[1] - one[0]) - (other[1] - other[0])
    away = ((one[0] + one[1]) - (other[0] + other[1])) / 2
    size = max((one[1] - one[0]).norm, (other[1] - other[0]).norm)
    return grown.norm <= 3.0 + 0.3 * size and away.norm <= GROWN_MM
