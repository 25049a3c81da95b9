"""Lines in which a repeating design mirrors: the design laid over its own mirror image."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from clothwright.photo.arrays import Numbers
from clothwright.photo.evened import Colours, blurred
from clothwright.photo.repeat import top_between

LIKE = 0.86
"""Least likeness of a design to its mirror image."""
PLAIN = 1.0
"""L*a*b*: a design that changes less than this is plain."""


class Axis(NamedTuple):
    """A line across the way looked along. at: mm from the picture's start. likeness: 0 to 1."""

    at: float
    likeness: float


def axes_of(picture: Colours, px_per_mm: float, repeat: float) -> tuple[Axis, ...]:
    """Return the axes along x within one repeat (mm), in order; () when there is none.

    picture: as `evened.colours`. All repeats are laid over each other first, so that weave, light
    and noise go. With one axis there is always a second half a repeat on.
    """
    tile = _tile(picture, px_per_mm * repeat)
    if tile is None or float(tile.std(axis=1).max()) < PLAIN:
        return ()
    n = tile.shape[1]
    flat = tile - tile.mean(axis=1, keepdims=True)
    total = np.zeros(n)
    size = float((flat**2).sum())
    for c in range(flat.shape[2]):
        f = np.fft.fft(flat[:, :, c], axis=1)
        total += np.real(np.fft.ifft(f * f, axis=1)).sum(axis=0)
    like = total / max(size, 1e-9)  # [s]: likeness of x to s - x
    best = int(like.argmax())
    if float(like[best]) < LIKE:
        return ()
    at = (best + top_between(np.take(like, range(best - 1, best + 2), mode="wrap"))) / 2.0
    found = sorted(((at + k * n / 2.0) % n) * repeat / n for k in (0, 1))
    return tuple(Axis(a, float(like[best])) for a in found)


def _tile(picture: Colours, step: float) -> Numbers | None:
    """Return one repeat, the mean of all that are seen: (rows, steps, 3)."""
    soft = blurred(picture, 1.2).astype(np.float64)
    wide = soft.shape[1]
    count = int(wide / step)
    n = max(8, round(step))
    if count < 1:
        return None
    total = np.zeros((soft.shape[0], n, soft.shape[2]))
    for k in range(count):
        x = k * step + np.arange(n) * step / n
        low = np.clip(x.astype(int), 0, wide - 2)
        share = (x - low)[None, :, None]
        total += soft[:, low] * (1 - share) + soft[:, low + 1] * share
    return np.asarray(total / count)
