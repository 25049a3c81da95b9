"""Paths as the text an SVG path is drawn by; y is turned down here, and here alone."""

from __future__ import annotations

from functools import lru_cache

from clothwright.geometry.path import Path, polyline, ring_path
from clothwright.geometry.region import thinned, thinned_ring
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec

COARSE_MM = 0.1
"""A rough line's points are told to this."""
MOST_KEPT = 4096
"""Lines remembered."""


def decimal(value: float, places: int = 2) -> str:
    """Return a number (mm, or whatever is written) with so many decimals at most; never "-0".

    >>> decimal(2.5), decimal(-0.001), decimal(12.0)
    ('2.5', '0', '12')
    """
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def matrix(move: Transform) -> str:
    """Return a move (y up) as SVG writes it (y down)."""
    a, b, c, d, e, f = move
    turned = ", ".join(f"{v:.6f}" for v in (a, -b, -c, d))
    return f"matrix({turned}, {decimal(e)}, {decimal(-f)})"


def path_data(path: Path, *, closed: bool = False, places: int = 2) -> str:
    """Return a path of mm as SVG writes it, y downward.

    places: decimals of a mm; 2 is finer than a screen can show. closed: lead it back to its start.
    """

    def xy(p: Vec) -> str:
        return f"{decimal(p.x, places)},{decimal(-p.y, places)}"

    parts = [f"M{xy(path.start)}"]
    for segment in _drawn(path, closed=closed):
        if isinstance(segment, Line):
            parts.append(f"L{xy(segment.p1)}")
        else:
            parts.append(f"C{xy(segment.p1)} {xy(segment.p2)} {xy(segment.p3)}")
    return "".join(parts) + ("Z" if closed else "")


@lru_cache(maxsize=MOST_KEPT)
def rough_path_data(path: Path, rough: float, *, closed: bool = False) -> str:
    """Return a path in steps from point to point, to COARSE_MM: half as long as `path_data`.

    Remembered, as a drawing is mostly sent again with a little of it changed.

    rough: mm that a line of many corners may stray. Each step leads from a rounded point to the
    next, so the rounding does not add up.
    """
    path = _fewer(path, rough)
    here = _whole(path.start)
    out = [f"M{_pair(here)}"]
    for segment in _drawn(path, closed=closed):
        ends = (segment.p1,) if isinstance(segment, Line) else segment.controls()[1:]
        points = [_whole(p) for p in ends]
        steps = " ".join(_pair((x - here[0], y - here[1])) for x, y in points)
        out.append(("l" if isinstance(segment, Line) else "c") + steps)
        here = points[-1]
    return "".join(out) + ("Z" if closed else "")


def _drawn(path: Path, *, closed: bool) -> tuple[Segment, ...]:
    """Return the segments to write: a straight one that only closes the ring is left out."""
    last = path.segments[-1]
    back = closed and len(path.segments) > 1 and isinstance(last, Line)
    return path.segments[:-1] if back and last.end == path.start else path.segments


def _fewer(path: Path, rough: float) -> Path:
    """Return a line of many corners with those alone that it needs; curves as they are."""
    if len(path.segments) < 3 or not all(isinstance(s, Line) for s in path.segments):
        return path
    corners = [(path.start.x, path.start.y), *((s.end.x, s.end.y) for s in path.segments)]
    if corners[0] == corners[-1]:
        ring = thinned_ring(corners[:-1], rough)
        return ring_path(ring)
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
