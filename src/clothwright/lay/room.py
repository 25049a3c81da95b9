"""How much of a print's repeat a shape may lie at so that no figure is cut, before any search."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

import shapely
import shapely.affinity
from shapely.geometry.base import BaseGeometry

from clothwright.lay.clearing import core_of
from clothwright.lay.problem import KeepWhole

NONE = 1e-6
"""A share of the repeat that is no room but rounding."""
MOST_KEPT = 256
"""Answers remembered: a plan is looked at many times while its other rules change."""


@lru_cache(maxsize=MOST_KEPT)
def room_left(rules: tuple[KeepWhole, ...], turn_deg: float, *, flipped: bool) -> float:
    """Return the share of all places in the repeat, 0 to 1, that cut no figure.

    rules: of one shape, on figures that come again after the same repeats. 1.0 where they do not
    come again both ways: beside the figure there is always room.
    """
    along, across = rules[0].repeat_along, rules[0].repeat_across
    if along is None or across is None:
        return 1.0
    whole = shapely.box(0.0, 0.0, along, across)
    shut = [
        copy.intersection(whole)
        for rule in rules
        for copy in _wrapped(_shut(rule, turn_deg, flipped), along, across)
    ]
    left = 1.0 - float(shapely.union_all(shut).area) / float(whole.area)
    return left if left > NONE else 0.0


def _shut(rule: KeepWhole, turn_deg: float, flipped: bool) -> BaseGeometry:
    """Where the reference point may not be because of one copy of the figure."""
    return core_of(rule.parts, rule.centre, turn_deg, flipped).buffer(rule.radius)


def _wrapped(area: BaseGeometry, along: float, across: float) -> Iterator[BaseGeometry]:
    """Yield an area moved by whole repeats, wherever it reaches into the first one."""
    left, low, right, high = area.bounds
    for i in range(math.floor(left / along), math.floor(right / along) + 1):
        for j in range(math.floor(low / across), math.floor(high / across) + 1):
            yield shapely.affinity.translate(area, -i * along, -j * across)
