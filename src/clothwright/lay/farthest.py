"""The place that lies farthest from every figure a shape keeps clear of, and what no place betters.

By branch and bound: what a place leaves changes by no more than the place moves, so that an oblong
can be left out when what its middle leaves, and half its diagonal, do not better what is found.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.lay.axis_rules import Span
from clothwright.lay.clearing import MOST_KEPT, Shadow
from clothwright.lay.problem import Point

Places = NDArray[np.float64]
NEAR = 0.01
"""mm: no place leaves so much more than the one that is found."""
MOST = 20_000
"""So many oblongs are looked at once at most; where they do not do, the bound says so."""
PARTS = 12
"""Into so many parts each way a room is cut first."""


class Farthest(NamedTuple):
    """A place, by how many mm it is clear (less than 0: too near), and what no place betters."""

    at: Point
    spare: float
    most: float


def farthest(
    rooms: tuple[Sequence[Span], Sequence[Span]], of: Sequence[Shadow], kept: Sequence[Shadow] = ()
) -> Farthest | None:
    """Return the place in one of the rooms, along and across (mm), that is clearest of figures.

    kept: what comes first, and is clear there. None where none is found at which it is. The plans
    that wishes are made into ask for the same places again and again: what is found is remembered.
    """
    along, across = (tuple(room) for room in rooms)
    return _farthest((along, across), *(tuple(s.unnamed for s in each) for each in (of, kept)))


@lru_cache(maxsize=MOST_KEPT)
def _farthest(
    rooms: tuple[Sequence[Span], Sequence[Span]], of: Sequence[Shadow], kept: Sequence[Shadow]
) -> Farthest | None:
    middles, halves = _cut(rooms)
    found: Farthest | None = None
    while len(middles):
        spare, first = _spare(of, middles), _spare(kept, middles)
        best = int(np.argmax(np.where(first >= 0.0, spare, -np.inf)))
        if first[best] >= 0.0 and (found is None or spare[best] > found.spare):
            at = (float(middles[best, 0]), float(middles[best, 1]))
            found = Farthest(at, float(spare[best]), np.inf)
        away = np.hypot(*halves.T)
        least = -np.inf if found is None else found.spare
        left = (spare + away > least + NEAR) & (first + away >= 0.0)
        if found is not None and found.spare >= min(s.enough for s in of):
            break
        if found is not None and left.sum() > MOST / 4:
            return found._replace(most=float((spare + away)[left].max()))
        if found is None and (left.sum() > MOST / 4 or away.max() < NEAR):
            break
        middles, halves = _quartered(middles[left], halves[left])
    return None if found is None else found._replace(most=found.spare + NEAR)


def _spare(shadows: Sequence[Shadow], places: Places) -> Places:
    """Return by how many mm each place (n, 2) is clear of all of them."""
    each = [s.spare(places) for s in shadows]
    return np.min(each, axis=0) if each else np.full(len(places), np.inf)


def _cut(rooms: tuple[Sequence[Span], Sequence[Span]]) -> tuple[Places, Places]:
    """Return the middles and half sizes (n, 2) of the oblongs that rooms are cut into."""
    middles, halves = [], []
    for low, high in itertools.product(*rooms):
        ends = np.array([low, high])
        size = ends[:, 1] - ends[:, 0]
        steps = [(np.arange(n) + 0.5) / n for n in np.where(size > 0.0, PARTS, 1)]
        grid = np.stack(np.meshgrid(*steps, indexing="ij"), axis=-1).reshape(-1, 2)
        middles.append(ends[:, 0] + grid * size)
        halves.append(np.broadcast_to(size / 2.0 / [len(s) for s in steps], grid.shape))
    return np.concatenate(middles), np.concatenate(halves)


def _quartered(middles: Places, halves: Places) -> tuple[Places, Places]:
    """Return oblongs cut in two each way that they have a size."""
    for axis in (0, 1):
        if not len(middles) or not halves[:, axis].any():
            continue
        halves = halves.copy()
        halves[:, axis] /= 2.0
        step = np.zeros_like(halves)
        step[:, axis] = halves[:, axis]
        middles, halves = np.concatenate([middles - step, middles + step]), np.tile(halves, (2, 1))
    return middles, halves
