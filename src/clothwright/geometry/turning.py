"""How far paths turn, and whether a section keeps going one way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Line, Segment
from clothwright.geometry.vec import Vec, turn_between_deg

_PLACES = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
"""Where the direction of a curve is looked at, as shares of its parameter."""


class TurningSpans(NamedTuple):
    """For every segment the least and the greatest direction of its control legs, degrees.

    Directions are counted on without jumps of a full turn along the chain.
    """

    low: tuple[float, ...]
    high: tuple[float, ...]

    def widest(self, first: int, last: int) -> float:
        """Return the angle in degrees that holds all directions from segment first to last."""
        return max(self.high[first : last + 1]) - min(self.low[first : last + 1])


def turning_spans(segments: Sequence[Segment]) -> TurningSpans:
    """Return the span of directions of each segment of a chain, counted on along the chain."""
    lows, highs = [], []
    before: Vec | None = None
    running = 0.0
    for segment in segments:
        low, high = math.inf, -math.inf
        points = segment.controls()
        for p, q in pairwise(points):
            leg = Vec(q[0] - p[0], q[1] - p[1])
            if abs(leg.x) + abs(leg.y) < 1e-12:
                continue
            if before is not None:
                running += turn_between_deg(before, leg)
            before = leg
            low, high = min(low, running), max(high, running)
        lows.append(low if low < math.inf else running)
        highs.append(high if high > -math.inf else running)
    return TurningSpans(tuple(lows), tuple(highs))


def goes_one_way(segments: Sequence[Segment]) -> bool:
    """Tell whether all directions lie within a half turn, so that the chain cannot cross itself."""
    return turning_spans(segments).widest(0, len(segments) - 1) < 179.9


def waves_deg(before: Path, after: Path) -> float:
    """Return how much more a path turns to and fro than another that it replaces, degrees.

    Of its turns to the left and its turns to the right, the lesser gain counts: a fair curve that
    bends more one way, and less the other, gains nothing.
    """
    old, new = _turns(before), _turns(after)
    return max(0.0, min(new[0] - old[0], new[1] - old[1]))


def _turns(path: Path) -> tuple[float, float]:
    """How far a path turns to the left, and to the right, in all, degrees."""
    ways = [
        s.tangent(t)
        for s in path.segments
        for t in ((0.0, 1.0) if isinstance(s, Line) else _PLACES)
    ]
    turns = [turn_between_deg(u, v) for u, v in pairwise(ways)]
    return sum(t for t in turns if t > 0), sum(-t for t in turns if t < 0)


def tightest(path: Path) -> float:
    """Return the most a path bends anywhere, 1 / radius in 1/mm; 0 for straight lines.

    Looked at in six places of each curve.
    """
    found = [0.0]
    for curve in path.segments:
        if not isinstance(curve, Line):
            for t in _PLACES:
                d, dd = curve.derivative(t), curve.second_derivative(t)
                found.append(abs(d.cross(dd)) / d.norm**3 if d.norm > 1e-9 else 0.0)
    return max(found)
