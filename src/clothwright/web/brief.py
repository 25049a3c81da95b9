"""Paths as short text: for drawings that are looked at, not cut by."""

from __future__ import annotations

import re
from functools import lru_cache

from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Line
from clothwright.geometry.thin import thinned, thinned_ring
from clothwright.geometry.vec import Vec
from clothwright.outputs.svg import path_data

COARSE_MM = 0.1
"""A rough line's points are told to this."""
MOST_KEPT = 4096
"""Lines remembered."""


def brief_path(path: Path, *, closed: bool = False) -> str:
    """Return a path as SVG writes it, to 0.01 mm: finer than a screen can show."""
    return re.sub(r"-?\d+\.\d+", lambda m: brief(float(m[0])), path_data(path, closed=closed))


def brief(value: float) -> str:
    """Return a number to 0.01 without idle zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@lru_cache(maxsize=MOST_KEPT)
def rough_path(path: Path, rough: float, *, closed: bool = False) -> str:
    """Return a path in steps from point to point, to COARSE_MM: half as long as `brief_path`.

    Remembered, as a drawing is mostly sent again with a little of it changed.

    rough: mm that a line of many corners may stray. Each step leads from a rounded point to the
    next, so the rounding does not add up.
    """
    path = _fewer(path, rough)
    here = _whole(path.start)
    out = [f"M{_pair(here)}"]
    segments = path.segments
    if closed and len(segments) > 1 and isinstance(segments[-1], Line):
        segments = segments if segments[-1].end.distance(path.start) > 0 else segments[:-1]
    for segment in segments:
        ends = (segment.p1,) if isinstance(segment, Line) else segment.controls()[1:]
        points = [_whole(p) for p in ends]
        steps = " ".join(_pair((x - here[0], y - here[1])) for x, y in points)
        out.append(("l" if isinstance(segment, Line) else "c") + steps)
        here = points[-1]
    return "".join(out) + ("Z" if closed else "")


def _fewer(path: Path, rough: float) -> Path:
    """Return a line of many corners with those alone that it needs; curves as they are."""
    if len(path.segments) < 3 or not all(isinstance(s, Line) for s in path.segments):
        return path
    corners = [(path.start.x, path.start.y), *((s.end.x, s.end.y) for s in path.segments)]
    if corners[0] == corners[-1]:
        ring = thinned_ring(corners[:-1], rough)
        return polyline((*ring, ring[0]))
    return polyline(thinned(corners, rough))


def _whole(p: Vec) -> tuple[int, int]:
    return round(p.x / COARSE_MM), round(-p.y / COARSE_MM)


def _pair(tenths: tuple[int, int]) -> str:
    x, y = (_tenth(v) for v in tenths)
    return x + (y if y.startswith("-") else f",{y}")


def _tenth(n: int) -> str:
    text = f"{abs(n) // 10}.{abs(n) % 10}".removesuffix(".0")
    text = text.removeprefix("0") if text.startswith("0.") else text
    return f"-{text}" if n < 0 else text
