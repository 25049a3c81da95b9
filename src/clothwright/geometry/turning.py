"""How far paths turn, and whether a section keeps going one way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from clothwright.geometry.segment import Segment
from clothwright.geometry.vec import Vec, turn_between_deg


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
