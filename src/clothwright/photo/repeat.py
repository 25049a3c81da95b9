"""How often the print comes again: a picture laid over itself, moved on, compared.

The likeness at a move is the correlation of what then lies over each other (1 = the same). A repeat
is a move at which the likeness stands out; of several, the smallest that is as like as the best, so
neither a multiple nor a part of the true repeat is taken. Then it is measured at full size on the
farthest multiple that can be seen.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from clothwright.photo.arrays import Numbers
from clothwright.photo.evened import Colours, blurred, shrunk
from clothwright.photo.extra import library

COARSE_SIDE = 800
"""Pixels of the longer side of the picture in which a repeat is first looked for."""
FINE_SIDE = 700
"""Pixels of the side of the middle part in which a small repeat is looked for."""
LEAST_MM = 5.0
"""A smaller repeat is a texture: nothing is matched to it."""
MOST_SHARE = 0.62
"""The largest repeat looked for, as a share of the picture: 1.6 of it must be seen."""
LIKE, STANDS_OUT = 0.5, 0.2
"""Least likeness of a repeat, and how far it must stand out between its neighbours."""
AS_GOOD, SLACK = 1.35, 0.004
"""A smaller move is as good as the best when its unlikeness is at most AS_GOOD times and SLACK
more than that of the best."""
SOFT_MM = 0.7
DRIFT = 0.02
"""How far across a move along may drift, as a share of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A length found in a photo, mm, give or take. likeness: 0 to 1, how sure it is."""

    mm: float
    give: float
    likeness: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeat:
    """A repeat found. seen: how often it can be seen."""

    size: Measured
    seen: float


def repeat_of(
    picture: Colours, px_per_mm: float, *, across: bool, share: float = 0.0
) -> Repeat | None:
    """Return the smallest true repeat along (x) or across (y); None when there is none.

    picture: as `evened.colours`. share: how far its scale may be wrong. A design that runs on
    without change (stripes along their length) has no repeat that way.
    """
    turned = np.ascontiguousarray(picture.transpose(1, 0, 2)) if across else picture
    found = _roughly(turned, px_per_mm)
    return None if found is None else _measured(turned, px_per_mm, found, share)


def _roughly(picture: Colours, px_per_mm: float) -> float | None:
    """Return about how many pixels the repeat has: in a small picture, and in its middle.

    A repeat of few pixels is only seen where a multiple of it falls on whole pixels of the small
    picture; so the middle at full size is asked too, and believed when the other is a multiple.
    """
    factor = max(1.0, max(picture.shape[:2]) / COARSE_SIDE)
    small = _best(shrunk(picture, factor), px_per_mm / factor)
    if factor == 1.0:
        return small
    coarse = None if small is None else small * factor
    h, w = picture.shape[:2]
    top, left = max(0, (h - FINE_SIDE) // 2), max(0, (w - FINE_SIDE) // 2)
    fine = _best(picture[top : top + FINE_SIDE, left : left + FINE_SIDE], px_per_mm)
    if fine is None or coarse is None:
        return fine or coarse
    times = round(coarse / fine)
    off = abs(coarse - times * fine)
    return fine if times >= 1 and off <= max(2.0 * factor, 0.01 * coarse) + 0.5 * times else coarse


def likeness(picture: Colours) -> Numbers:
    """Return how like a picture is to itself at each move: [dy, dx], dx from 0.

    dy: as far up and down as the farthest move may drift (`DRIFT`), 0 in the middle.
    """
    fft = library("scipy.fft")
    h, w = picture.shape[:2]
    flat = picture - _mean(picture)
    cols = np.arange(0, int(MOST_SHARE * w) + 1)
    most = min(h // 2, _drift(len(cols) - 1))
    rows = np.arange(-most, most + 1)
    tall, wide = (fft.next_fast_len(n, real=True) for n in (h + most, w + len(cols)))
    power = np.zeros((tall, wide // 2 + 1), dtype=np.float32)
    for c in range(flat.shape[2]):
        f = fft.rfft2(flat[:, :, c], (tall, wide))
        power += f.real**2 + f.imag**2
    raw = fft.irfft2(power, (tall, wide))[np.ix_(rows % tall, cols)]
    energy = np.zeros((h + 1, w + 1))
    planes = [flat[:, :, c].astype(float) for c in range(flat.shape[2])]
    energy[1:, 1:] = sum(p * p for p in planes).cumsum(axis=0).cumsum(axis=1)
    first = _box(energy, np.maximum(0, -rows), h - np.maximum(0, rows), 0 * cols, w - cols)
    other = _box(energy, np.maximum(0, rows), h - np.maximum(0, -rows), cols, w + 0 * cols)
    return np.asarray(raw / np.sqrt(np.maximum(first * other, 1e-9)))


def _mean(picture: Colours) -> Colours:
    """Return the mean colour (3,); numpy is far slower over two axes of three."""
    mean, _ = library("cv2").meanStdDev(picture)
    return np.asarray(mean.ravel(), dtype=np.float32)


def _unrest(picture: Colours) -> float:
    """Return the standard deviation of the colour that changes most."""
    _, spread = library("cv2").meanStdDev(picture)
    return float(spread.max())


def _box(energy: Numbers, top: Any, bottom: Any, left: Any, right: Any) -> Numbers:
    return np.asarray(
        energy[np.ix_(bottom, right)]
        - energy[np.ix_(top, right)]
        - energy[np.ix_(bottom, left)]
        + energy[np.ix_(top, left)]
    )


def _drift(move: int) -> int:
    """Return how far a move along may go up or down, pixels: cloth never lies quite straight."""
    return 1 + round(DRIFT * move)


def _best(picture: Colours, px_per_mm: float) -> float | None:
    """Return the smallest true repeat along x in pixels, to the pixel; None without one."""
    if min(picture.shape[:2]) < 16 or _unrest(picture) < 0.3:
        return None
    soft = blurred(picture, max(0.8, SOFT_MM * px_per_mm))
    row = _along(likeness(soft))
    start = _after_first_fall(row, LEAST_MM * px_per_mm)
    peaks, facts = library("scipy.signal").find_peaks(row, prominence=STANDS_OUT)
    good = [
        (int(p), _height(row[p - 1 : p + 2]))
        for p, up in zip(peaks, facts["prominences"], strict=True)
        if p >= start and row[p] >= LIKE and up >= STANDS_OUT
    ]
    if not good:
        return None
    unlike = 1.0 - max(r for _, r in good)
    return float(next(p for p, r in good if 1.0 - r <= AS_GOOD * unlike + SLACK))


def _along(whole: Numbers) -> Numbers:
    """Return the best likeness at each move along x, a slight drift across allowed."""
    zero = (whole.shape[0] - 1) // 2
    out = np.empty(whole.shape[1])
    for d in range(whole.shape[1]):
        most = min(zero, _drift(d))
        out[d] = whole[zero - most : zero + most + 1, d].max()
    return out


def _after_first_fall(row: Numbers, least: float) -> int:
    """Return the move at which the likeness of a place to its own surroundings is over."""
    d = 1
    while d < len(row) - 1 and row[d] > row[d + 1]:
        d += 1
    return max(d, math.ceil(least))


def _measured(picture: Colours, px_per_mm: float, rough: float, share: float) -> Repeat | None:
    """Return the repeat measured on its multiples at full size."""
    soft = blurred(picture, max(0.8, 0.5 * SOFT_MM * px_per_mm))
    flat = soft - _mean(soft)
    w = flat.shape[1]
    places: list[tuple[int, float, float, float]] = []
    guess = (rough, 0.0)
    for k in range(1, 40):
        if k * guess[0] > MOST_SHARE * w + 2:
            break
        reach = max(2, round(0.02 * rough) + 1) if k == 1 else 3
        spot = _peak(flat, k * guess[0], k * guess[1], reach if k > 1 else max(3, reach))
        if spot is None or (places and spot[2] < 0.75 * places[0][3]):
            break
        places.append((k, *spot))
        weights = sum(n * n for n, *_ in places)
        guess = (
            sum(n * x for n, x, _, _ in places) / weights,
            sum(n * y for n, _, y, _ in places) / weights,
        )
    if not places:
        return None
    size = guess[0]
    off = max((abs(x / n - size) for n, x, _, _ in places), default=0.0)
    give = math.hypot(max(off, 0.3 / places[-1][0]) / px_per_mm, share * size / px_per_mm)
    return Repeat(
        size=Measured(mm=size / px_per_mm, give=give, likeness=places[0][3]),
        seen=w / size,
    )


def _peak(flat: Colours, x: float, y: float, reach: int) -> tuple[float, float, float] | None:
    """Return where the likeness is greatest near a move: (x, y, likeness), below a pixel."""
    x0, y0 = round(x), round(y)
    for _ in range(6):
        table = _table(flat, x0, y0, reach)
        if table is None:
            return None
        iy, ix = np.unravel_index(int(table.argmax()), table.shape)
        inner = 0 < ix < 2 * reach and 0 < iy < table.shape[0] - 1
        if inner:
            fine_x = x0 + int(ix) - reach + top_between(table[iy, ix - 1 : ix + 2])
            fine_y = y0 + int(iy) - (table.shape[0] // 2) + top_between(table[iy - 1 : iy + 2, ix])
            return float(fine_x), float(fine_y), float(table[iy, ix])
        x0, y0 = x0 + int(ix) - reach, y0 + int(iy) - table.shape[0] // 2
    return None


def _table(flat: Colours, x0: int, y0: int, reach: int) -> Numbers | None:
    h, w = flat.shape[:2]
    step = max(1, round(math.sqrt(h * w / 400_000)))
    tall = 2
    if not reach < x0 < w - reach - 8 or abs(y0) + tall >= h // 2:
        return None
    out = np.empty((2 * tall + 1, 2 * reach + 1))
    rows = flat.reshape(h, -1)  # colour beside colour: numpy is far slower in three axes
    for i, dy in enumerate(range(y0 - tall, y0 + tall + 1)):
        low = rows[max(0, -dy) : h - max(0, dy) : step]
        high = rows[max(0, dy) : h - max(0, -dy) : step]
        of_low, of_high = (np.einsum("ij,ij->j", each, each) for each in (low, high))
        for j, dx in enumerate(range(x0 - reach, x0 + reach + 1)):
            till, past = 3 * (w - dx), 3 * dx
            met = float(np.einsum("ij,ij->", low[:, :till], high[:, past:]))
            size = math.sqrt(float(of_low[:till].sum()) * float(of_high[past:].sum()))
            out[i, j] = met / max(size, 1e-9)
    return out


def _height(three: Numbers) -> float:
    """Return how high the top of a parabola through three neighbours is."""
    a, b, c = (float(v) for v in three)
    bend = a - 2.0 * b + c
    return b if bend >= -1e-12 else b - (a - c) ** 2 / (8.0 * bend)


def top_between(three: Numbers) -> float:
    """Return where the top of a parabola through three neighbours lies, px from the middle one."""
    a, b, c = (float(v) for v in three)
    bend = a - 2.0 * b + c
    return 0.0 if bend >= -1e-12 else max(-0.5, min(0.5, 0.5 * (a - c) / bend))
