"""The best that the shape of a seam allows: how much of it could meet, if one piece lay elsewhere.

A shift of one piece on the cloth shifts what every place misses by the same amount. So the shifts
within one repeat are all there is to try.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from clothwright.lay.meeting.compare import (
    LEVEL_DEG,
    Flags,
    Missed,
    MustMeet,
    Patch,
    asked_in,
    from_period,
)
from clothwright.lay.meeting.values import BestMeeting
from clothwright.lay.sewn import Numbers

STEP_MM, COARSE_MM = 0.5, 2.0
"""mm between the shifts that are tried: where one axis has to meet, and where both at once."""
MOST = 400
"""Shifts tried on one axis, at most."""
EVERY = 4
"""One place in so many is looked at."""


def best_meeting(
    found: Sequence[Patch], wanted: MustMeet, pair: NDArray[np.intp], tolerance: float
) -> BestMeeting:
    """Return the best share over all shifts of one side.

    pair: (n,) which two pieces are sewn together at a place; each pair is shifted for itself.
    -1: two edges of one piece, which no shift brings nearer.
    """
    count, worst, places = 0.0, 0.0, 0
    for patch in found:
        places += len(patch.where)
        axes, pairs = asked_in(patch, wanted), pair[patch.where]
        for one in np.unique(pairs):
            for here in _together(axes, np.flatnonzero(pairs == one)):
                share, left = _best(patch, axes, here[::EVERY], tolerance, shifts=bool(one >= 0))
                count, worst = count + share * len(here), max(worst, left)
    return BestMeeting(share=count / places if places else 0.0, worst=worst)


def _together(axes: Flags, here: NDArray[np.intp]) -> Iterator[NDArray[np.intp]]:
    """Yield the places that a shift moves together: where no place asks both, axis by axis."""
    if axes[here].all(axis=1).any():
        yield here
        return
    for axis in (0, 1):
        if axes[here, axis].any():
            yield here[axes[here, axis]]


def _best(
    patch: Patch, axes: Flags, here: NDArray[np.intp], tolerance: float, *, shifts: bool
) -> tuple[float, float]:
    """Return the best share of some places of a patch, and the largest miss (mm) it leaves."""
    wanted = axes[here]
    tried = _grid(patch, here, wanted) if shifts else np.zeros((1, 2))
    gap = np.min([_missed_by(patch, m, here, wanted, tried) for m in patch.missed], axis=0)
    shares = np.mean(gap <= tolerance, axis=1)
    worst = np.max(np.where(np.isfinite(gap), gap, 0.0), axis=1)
    k = np.lexsort((worst, -shares))[0]
    return float(shares[k]), float(worst[k])


def _missed_by(
    patch: Patch, missed: Missed, here: NDArray[np.intp], wanted: Flags, tried: Numbers
) -> Numbers:
    """Return what one motion misses, mm: a row for every shift, a column for every place."""
    gap = np.zeros((len(tried), len(here)))
    for axis in np.flatnonzero(wanted.any(axis=0)):
        left = missed.alone[here, axis] - tried[:, axis, None] * missed.sign[axis]
        bars = np.abs(from_period(left, patch.periods[axis]))
        gap = np.maximum(gap, bars, out=gap, where=wanted[:, axis])
    gap[:, np.abs(missed.angle_deg[here]) > LEVEL_DEG] = np.inf
    return gap


def _grid(patch: Patch, here: NDArray[np.intp], wanted: Flags) -> Numbers:
    """Return the shifts of side b to try, (m, 2) mm: nothing on an axis that nothing asks of."""
    step = COARSE_MM if wanted.all(axis=1).any() else STEP_MM
    rows = [np.zeros(1), np.zeros(1)]
    for axis in (0, 1):
        if wanted[:, axis].any():
            apart = np.concatenate([m.alone[here, axis] * m.sign[axis] for m in patch.missed])
            period = patch.periods[axis]
            low, high = (0.0, period) if period else (float(apart.min()), float(apart.max()))
            rows[axis] = np.linspace(low, high, min(MOST, int((high - low) / step) + 2))
    return np.array(np.meshgrid(*rows)).reshape(2, -1).T
