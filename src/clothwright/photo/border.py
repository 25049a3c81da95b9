"""Bands along the selvedges, found by what changes from row to row of a straightened picture."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.evened import Colours
from clothwright.photo.repeat import Measured

LEAST_MM = 8.0
"""mm: a narrower band is a line of the selvedge, not a border."""
MOST_SHARE = 0.45
"""A border is at most this much of what the picture shows across."""
STANDS_OUT = 4.0
"""How many times the unrest of the ground a row must differ from it."""
LEAST_DIFFERENCE = 3.0
"""L*a*b*: a difference that an eye sees at once is about 2 to 3 (from memory)."""
EDGE_MM = 4.0
RIM = 0.012
"""Share of the rows at the edges of a picture that say nothing: corners are put by hand."""
GAP_MM = 6.0
"""mm: plain rows within a band that do not end it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A band found. side: "lower" or "upper". base, height: as in `Border`, mm in the picture.

    base is measured from the picture's own lower or upper edge. top, bottom: its rows.
    """

    side: str
    base: Measured
    height: Measured
    top: int
    bottom: int


def bands_of(picture: Colours, px_per_mm: float, share: float = 0.0) -> tuple[Band, ...]:
    """Return the borders of a picture, the lower one first; () when no band stands out.

    picture: as `evened.colours`, its light as it was, the selvedge along x, row 0 on top.
    share: how far its scale may be wrong. A band in the middle, or several all over (stripes), are
    no borders.
    """
    rows = _rows(picture)
    away = np.sqrt(((rows - _ground(rows)) ** 2).sum(axis=1))
    hem = round(RIM * len(away))
    away[:hem], away[len(away) - hem :] = 0.0, 0.0
    calm = np.median(away[hem : len(away) - hem])
    least = max(LEAST_DIFFERENCE, STANDS_OUT * float(calm))
    runs = list(_runs(away > least, px_per_mm))
    tall = len(away)
    found = []
    for top, bottom in runs:
        if (bottom - top) < LEAST_MM * px_per_mm or (bottom - top) > MOST_SHARE * tall:
            continue
        middle = (top + bottom) / 2
        if tall * 0.4 < middle < tall * 0.6:
            continue
        first, last, sure = _band(rows[:, 3:6], away, least, (top, bottom), px_per_mm)
        low = middle > tall / 2
        base = (tall - last) / px_per_mm if low else first / px_per_mm
        height = (last - first) / px_per_mm
        give = 1.0 / px_per_mm
        found.append(
            Band(
                side="lower" if low else "upper",
                base=Measured(mm=base, give=give + share * base, likeness=sure),
                height=Measured(mm=height, give=2 * give + share * height, likeness=sure),
                top=top,
                bottom=bottom,
            )
        )
    sides = [b.side for b in found]
    if len(found) > 2 or len(set(sides)) < len(sides):
        return ()  # stripes: bands all over
    return tuple(sorted(found, key=lambda b: b.side))


def _rows(picture: Colours) -> Numbers:
    """Return what a row is like: its colours, and how much they change along it."""
    planes = picture.transpose(2, 0, 1).astype(np.float64, order="C")  # far slower beside another
    means, spreads = planes.mean(axis=2), planes.std(axis=2)
    return np.vstack([np.median(planes, axis=2), means, 1.5 * spreads]).T


def _ground(rows: Numbers) -> Numbers:
    """Return what each row would be like without a band: smooth from row to row.

    A parabola through the rows, those that stand out counting nothing; it begins from the rows
    that are most alike.
    """
    n = len(rows)
    t = np.linspace(-1.0, 1.0, n)
    terms = np.stack([np.ones(n), t, t * t], axis=1)
    off = np.sqrt(((rows - np.median(rows, axis=0)) ** 2).sum(axis=1))
    out = np.broadcast_to(np.median(rows, axis=0), rows.shape)
    for _ in range(15):
        spread = 2.5 * float(np.percentile(off, 40)) + 0.3
        weight = np.clip(1.0 - (off / (2.0 * spread)) ** 2, 0.0, 1.0) ** 2
        weighed = (terms * (weight + 1e-9)[:, None]).T
        found = np.linalg.solve(weighed @ terms, weighed @ rows)
        out = terms @ found
        off = np.sqrt(((rows - out) ** 2).sum(axis=1))
    return np.asarray(out)


def _runs(differs: Mask, px_per_mm: float) -> Iterator[tuple[int, int]]:
    """Yield (first row, row after the last) of stretches that differ, short gaps closed."""
    gap = max(1, round(GAP_MM * px_per_mm))
    start, last = -1, -1
    for k in np.flatnonzero(differs):
        if start >= 0 and k - last > gap:
            yield start, last + 1
            start = -1
        if start < 0:
            start = int(k)
        last = int(k)
    if start >= 0:
        yield start, last + 1


def _band(
    means: Numbers, away: Numbers, least: float, run: tuple[int, int], px_per_mm: float
) -> tuple[float, float, float]:
    """Return where a band begins and ends, in rows from the top edge, and how sure it is.

    means: the mean colour of each row.
    """
    top, bottom = run
    plain = np.ones(len(means), dtype=bool)
    plain[max(0, top - 8) : bottom + 8] = False
    near = plain & (np.abs(np.arange(len(means)) - (top + bottom) / 2) < 1.5 * (bottom - top))
    ground = np.median(means[near if near.any() else plain], axis=0)
    way = means[top:bottom].mean(axis=0) - ground
    along = (means - ground) @ way / max(float(way @ way), 1e-9)
    reach = max(3, round(EDGE_MM * px_per_mm))
    first = float(np.median(along[top + 1 : top + 1 + reach]))
    last = float(np.median(along[max(top, bottom - 1 - reach) : bottom - 1]))
    slack = max(2, round(2.0 * px_per_mm))
    edges = (
        _crossing(along, range(max(0, top - slack), top + slack), first / 2),
        _crossing(along, range(min(len(along), bottom + slack) - 1, bottom - slack, -1), last / 2),
    )
    sure = min(1.0, float(np.median(away[top:bottom])) / (3 * least))
    return edges[0] or float(top), edges[1] or float(bottom), sure


def _crossing(values: Numbers, rows: range, level: float) -> float | None:
    """Return where values first pass a level along rows, in rows from the top edge; else None."""
    order = list(rows)
    for a, b in pairwise(order):
        low, high = float(values[a]), float(values[b])
        if low < level <= high:
            return a + 0.5 + (b - a) * (level - low) / (high - low)
    return None
