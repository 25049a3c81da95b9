"""Lines that were cut at the joints of pages, joined again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.pen import PenLine, alike

NEAR_MM = 0.6
"""mm: ends nearer than this at a joint are one line's."""
TURN_DEG = 12.0


class Ends(NamedTuple):
    """Lines joined at the joints of pages. miss: mm by which the worst two missed, there at `at`.

    loose: how many ends at the joints found nothing that runs on.
    """

    lines: list[PenLine]
    miss: float
    at: Vec | None
    loose: int


def joined_ends(
    lines: Sequence[PenLine], seams: tuple[tuple[float, ...], tuple[float, ...]]
) -> Ends:
    """Join lines that were cut at the joints of pages (distances in mm)."""
    done = [x for x in lines if x.closed]
    left = [x for x in lines if not x.closed]
    worst: tuple[float, Vec | None] = (0.0, None)
    while left:
        line = left.pop(0)
        grown = True
        while grown and not line.closed:
            grown = False
            for forward in (True, False):
                here = line if forward else replace(line, path=line.path.reversed())
                if not _on_seam(here.path.end, seams):
                    continue
                if (
                    here.path.end.distance(here.path.start) <= NEAR_MM
                    and len(here.path.segments) > 2
                ):
                    worst = _worse(worst, here.path.end, here.path.start)
                    line = replace(here, path=here.path.with_ends(end=here.path.start), closed=True)
                    break
                k = _next(here, left)
                if k is not None:
                    other = left.pop(k)
                    path = other.path
                    if here.path.end.distance(path.end) < here.path.end.distance(path.start):
                        path = path.reversed()
                    worst = _worse(worst, here.path.end, path.start)
                    line = replace(here, path=here.path.joined(path.with_ends(start=here.path.end)))
                    grown = True
                    break
        done.append(line)
    ends = (p for x in done if not x.closed for p in (x.path.start, x.path.end))
    return Ends(done, *worst, sum(_on_seam(p, seams) for p in ends))


def _worse(known: tuple[float, Vec | None], a: Vec, b: Vec) -> tuple[float, Vec | None]:
    """Return the worst miss so far, and where."""
    away = a.distance(b)
    return (away, a.lerp(b, 0.5)) if away > known[0] else known


def _on_seam(p: Vec, seams: tuple[tuple[float, ...], tuple[float, ...]]) -> bool:
    return any(abs(p.x - x) < 0.1 for x in seams[0]) or any(abs(p.y - y) < 0.1 for y in seams[1])


def _next(line: PenLine, others: Sequence[PenLine]) -> int | None:
    """Return the number of the line that goes on where this one ends, straight on."""
    best: tuple[float, int] | None = None
    end, way = line.path.end, line.path.end_tangent
    for k, other in enumerate(others):
        if not alike(line.pen, other.pen):
            continue
        for p, onward in (
            (other.path.start, other.path.start_tangent),
            (other.path.end, other.path.end_tangent * -1.0),
        ):
            away = end.distance(p)
            if (
                away <= NEAR_MM
                and abs(turn_between_deg(way, onward)) <= TURN_DEG
                and (best is None or away < best[0])
            ):
                best = (away, k)
    return best[1] if best else None
