"""Bounds on places and on their sums and differences, kept exact as one after another is added.

Every bound is "s * x + t * y is at most c" with s and t 1, -1 or 0. All that follows from them is
found by shortest paths over each place and its negative (the octagon domain: A. Miné, "The Octagon
Abstract Domain", Higher-Order and Symbolic Computation 19, 2006; for real numbers one strengthening
after the closure gives the tightest bounds).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Term = tuple[int, int]
"""A place by its number, and 1 or -1. A sum has one or two; the same place may stand twice."""
Sum = tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class Octagon:
    """All bounds that hold, closed. least[i, j]: V[j] - V[i] is at most that, mm.

    V holds each place and, next to it, its negative.
    """

    least: NDArray[np.float64]

    @classmethod
    def of(cls, places: int) -> Octagon:
        """Return so many places without any bound."""
        least = np.full((2 * places, 2 * places), np.inf)
        np.fill_diagonal(least, 0.0)
        return cls(least)

    def bounds(self, sum_: Sum) -> tuple[float, float]:
        """Return between what a sum lies, mm; infinite where nothing bounds it."""
        if not sum_:
            return 0.0, 0.0
        return -self._most(_turned(sum_)), self._most(sum_)

    def tied(self, sum_: Sum) -> bool:
        """Tell whether the two places of a sum are one, or anything ties them to each other."""
        (a, _), (b, _) = sum_[0], sum_[-1]
        ties = self.least[2 * a, 2 * b : 2 * b + 2]
        return len(sum_) > 1 and bool(np.isfinite(ties).any())

    def within(self, sum_: Sum, low: float, high: float) -> Octagon:
        """Return the octagon in which a sum also lies from low to high (mm), which it must can."""
        if not sum_:
            return self
        if low <= (known := self.bounds(sum_))[0] and known[1] <= high:
            return self
        least = self.least.copy()
        for terms, most in ((sum_, high), (_turned(sum_), -low)):
            for start, end, times in _edges(terms):
                size = times * most
                if size < least[start, end]:
                    np.minimum(least, least[:, [start]] + size + least[[end], :], out=least)
        half = least[np.arange(len(least)), np.arange(len(least)) ^ 1] / 2.0
        np.minimum(least, half[:, None] + half[np.arange(len(least)) ^ 1][None, :], out=least)
        return Octagon(least)

    def _most(self, terms: Sum) -> float:
        start, end, times = _edges(terms)[0]
        return float(self.least[start, end]) / times


MOST_KEPT = 4096
"""Sums whose bounds are kept as places in the matrix: the same ones are asked for many times."""


@lru_cache(MOST_KEPT)
def _turned(sum_: Sum) -> Sum:
    """Return the negative of a sum."""
    return tuple((n, -s) for n, s in sum_)


@lru_cache(MOST_KEPT)
def _edges(sum_: Sum) -> tuple[tuple[int, int, float], ...]:
    """Return a bound on a sum as (from, to, times) between places and negatives.

    "The sum is at most so many mm" bounds each by `times` as many.

    >>> _edges(((0, 1), (1, -1)))
    ((2, 0, 1.0), (1, 3, 1.0))
    """
    nodes = [(2 * n + (s < 0), 2 * n + (s > 0)) for n, s in sum_]
    if len(nodes) == 1:
        return ((nodes[0][1], nodes[0][0], 2.0),)
    (one, not_one), (two, not_two) = nodes
    if not_two == not_one:
        return ((not_two, one, 1.0),)
    return (not_two, one, 1.0), (not_one, two, 1.0)


def finite(bounds: tuple[float, float]) -> bool:
    """Tell whether both of two bounds (mm) are there."""
    return math.isfinite(bounds[0]) and math.isfinite(bounds[1])
