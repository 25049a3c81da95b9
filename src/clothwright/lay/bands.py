"""What a cloth leaves a shape on one axis: between its margins, off the bands it keeps off."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from clothwright.geometry.vec import turn_apart
from clothwright.lay.problem import KeepOff, Region, Rule, Upright

EPS = 1e-7
"""mm: what is left is widened by this much, less than the slack at the margins."""
FAR = 1e7
"""mm: farther than any cloth."""
TURN = 1e-6
"""Degrees that make no difference."""
Span = tuple[float, float]


def usable(region: Region, axis: int) -> Span:
    """Return from where to where a cloth may be used, mm: along (axis 0), across (1)."""
    if axis == 1:
        return region.margin_lower, region.width - region.margin_upper
    ends = [] if region.length is None else [region.length - region.margin_end]
    if region.outline is not None:
        cut = 0.0 if region.length is not None else region.margin_end
        ends.append(max(x for x, _ in region.outline) - cut)
    return region.margin_start, min(ends, default=math.inf)


def stands(rule: Upright, turn_deg: float) -> bool:
    """Tell whether the print stands upright on a shape turned by so many degrees."""
    return turn_apart(turn_deg, rule.up_deg) <= rule.within_deg + TURN


def bands(rules: Iterable[Rule], region: str, turn_deg: float) -> Iterator[Span]:
    """Yield what a shape turned so keeps off on a cloth: from and to, mm across."""
    for rule in rules:
        if not isinstance(rule, KeepOff | Upright) or rule.region != region:
            continue
        if isinstance(rule, KeepOff) or not stands(rule, turn_deg):
            yield (
                -FAR if rule.low is None else rule.low,
                FAR if rule.high is None else rule.high,
            )


def left_in(room: Span, extent: Span = (0.0, 0.0), shut: Iterable[Span] = ()) -> list[Span]:
    """Return where a point may be for what reaches so far from it to lie in a room, off bands (mm).

    >>> left_in((0.0, 10.0), (0.0, 1.0), [(3.0, 4.0), (8.0, 12.0)])
    [(0.0, 2.0), (4.0, 7.0)]
    """
    below, above = extent
    rest = [(room[0] - below, room[1] - above)]
    for start, end in shut:
        low, high = start - above, end - below
        rest = [s for a, b in rest for s in ((a, min(b, low)), (max(a, high), b))]
        rest = [(a, b) for a, b in rest if b >= a - EPS]
    return [(a, b) for a, b in rest if b >= a - EPS]
