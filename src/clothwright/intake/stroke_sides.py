"""The two sides of a stroke that was drawn as the one area it covers, told by its ends."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.area import polygon_area

Points = NDArray[np.float64]
CAP_DEG = (150.0, 205.0)
"""The end of a stroke turns about so much."""
UNSURE_DEG = 5.0
LIKE = (0.6, 2.0)
"""Shares of its area that a stroke's length and the width of its ends come to."""
MOST_ENDS = 10
ROUND = (4, 40)
"""Steps into which half a circle is cut that is the end of a stroke."""
SQUARE = 0.3
"""Cosine of the turn at a straight end: about a right angle, or more."""


def sides_of(ring: Points, hint: float) -> Iterator[tuple[Points, Points]]:
    """Yield what may be the two sides of a stroke, as both run round its area: about as long.

    ring: points (mm) of the area, counter-clockwise. hint: how wide the pen is, mm; 0 unknown.
    """
    at = np.concatenate([[0.0], np.hypot(*np.diff(ring, axis=0).T).cumsum()])
    whole = at[-1] + np.hypot(*(ring[0] - ring[-1]))
    area = abs(polygon_area(ring.tolist()))
    for (a, b), (c, d) in combinations(_ends(ring, hint), 2):
        first, second = (at[c] - at[b]) % whole, (at[a] - at[d]) % whole
        wide = (np.hypot(*(ring[a] - ring[b])) + np.hypot(*(ring[c] - ring[d]))) / 2
        like = LIKE[0] * area <= wide * (first + second) / 2 <= LIKE[1] * area
        if len({a, b, c, d}) == 4 and like and min(first, second) >= 0.5 * max(first, second):
            yield _stretch(ring, b, c), _stretch(ring, d, a)


def wide_by_area(ring: Points) -> float:
    """Return how wide a straight bar is that has the area of a ring, and as long a way round, mm.

    What is as compact as a square or a disc is as wide as a square with that way round.
    """
    round_ = float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum())
    spare = round_ * round_ - 16 * abs(polygon_area(ring.tolist()))
    return (round_ - math.sqrt(max(spare, 0.0))) / 4


def between_caps(ring: Points, width: float, near: float) -> Iterator[tuple[Points, Points]]:
    """Yield the two sides between ends that are as wide as the pen, within near (mm), or round."""
    n = len(ring)
    for (a, b), (c, d) in combinations(_caps(ring, width, near), 2):
        if b < c and d - n < a:
            yield _stretch(ring, b, c), _stretch(ring, d % n, a)


def _caps(ring: Points, width: float, near: float) -> list[tuple[int, int]]:
    """Return from where to where an area is cut off square, or runs half round, as a pen ends."""
    step = np.roll(ring, -1, axis=0) - ring
    long = np.hypot(*step.T)
    before = np.roll(step, 1, axis=0)
    square = (before * step).sum(axis=1) < SQUARE * np.roll(long, 1) * long
    flat = (np.abs(long - width) < near) & square & np.roll(square, -1)
    found = [(0.0, i, i + 1) for i in np.flatnonzero(flat).tolist()]
    for over in range(ROUND[0], min(ROUND[1], len(ring) - 2)):
        across = np.hypot(*(np.roll(ring, -over, axis=0) - ring).T)
        for i in np.flatnonzero(np.abs(across - width) < near).tolist():
            arc = ring[np.arange(i, i + over + 1) % len(ring)]
            off = np.abs(np.hypot(*(arc - (arc[0] + arc[-1]) / 2).T) - width / 2).max()
            if off < near:
                found.append((float(off), i, i + over))
    return sorted((a, b) for _, a, b in sorted(found)[:MOST_ENDS])


def _stretch(ring: Points, a: int, b: int) -> Points:
    return ring[a : b + 1] if a <= b else np.vstack([ring[a:], ring[: b + 1]])


def _ends(ring: Points, hint: float) -> list[tuple[int, int]]:
    """Return where an area turns back within the width of a pen: from one corner to another."""
    step = np.diff(np.vstack([ring, ring[:1]]), axis=0)
    long = np.hypot(*step.T)
    way = np.degrees(np.arctan2(step[:, 1], step[:, 0]))
    turn = (way - np.roll(way, 1) + 180.0) % 360.0 - 180.0
    reach = 2.5 * (hint or wide_by_area(ring))
    turns, longs = turn.tolist(), long.tolist()
    n, found = len(ring), list[tuple[float, float, int, int]]()
    for i in map(int, np.flatnonzero(turn > 1.0)):
        turned, far, j = 0.0, 0.0, i
        while far <= reach and turned < CAP_DEG[1] and turns[j] > -1.0:
            turned += turns[j]
            if CAP_DEG[0] <= turned <= CAP_DEG[1]:
                found.append((abs(turned - 180.0), far, i, j))
            far, j = far + longs[j], (j + 1) % n
            if j == i:
                break
    out: list[tuple[float, int, int, set[int]]] = []
    for off, _, i, j in sorted(found):
        own = {(i + k) % n for k in range((j - i) % n + 1)}
        if all(off < before + UNSURE_DEG for before, *_, other in out if own & other):
            out.append((off, i, j, own))
    return [(i, j) for _, i, j, _ in out[:MOST_ENDS]]
