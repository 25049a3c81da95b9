"""Fitting cubics to many points by least squares.

Source: P. J. Schneider, An algorithm for automatically fitting digitized curves, in Graphics
Gems (ed. A. S. Glassner, Academic Press 1990), 612-626. Departures: directions come from a
parabola through the neighbouring points; after the first round only the distance across the curve
is lessened, which converges faster; and a stretch that is too long for one cubic is shortened
as its error foretells instead of being cut at its worst point, which needs fewer cubics. A cubic
that passes every point but doubles back between two of them is none that anybody would draw.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec

Array = NDArray[np.float64]

_WINDOW = 5
"""Points on each side that have a say in the direction at a point."""

_ROUNDS = 12
"""Rounds of new parameters for one cubic at most."""


def fitted_cubics(
    points: list[Vec], tol: float, first: Vec | None, last: Vec | None
) -> tuple[Cubic, ...]:
    """Return cubics through the first and last point that pass all others within `tol` mm.

    points: at least two, neighbours apart; first, last: unit directions of travel at the ends,
    or None to take them from the points.
    """
    spots = np.array(points, dtype=np.float64)
    start = np.array(first) if first is not None else _direction(spots, 0)
    end = np.array(last) if last is not None else _direction(spots, len(spots) - 1)
    return tuple(_fitted(spots, tol, start, end))


def _direction(spots: Array, i: int) -> Array:
    """Unit direction of travel at point i: slope of the parabola through its neighbours."""
    low, high = max(0, i - _WINDOW), min(len(spots), i + _WINDOW + 1)
    near = spots[low:high]
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(near, axis=0).T))])
    along -= along[i - low]
    powers = np.vander(along, min(3, len(near)), increasing=True)
    slope = np.linalg.lstsq(powers, near, rcond=None)[0][1]
    size = float(np.hypot(*slope))
    if size < 1e-9:
        slope, size = near[-1] - near[0], float(np.hypot(*(near[-1] - near[0]))) or 1.0
    unit: Array = slope / size
    return unit


def _fitted(spots: Array, tol: float, start: Array, end: Array) -> list[Cubic]:
    """Cubics one after the other, each as long as the tolerance allows.

    A cubic's error grows with about the fifth power of its length, which tells how much shorter
    to try when one is too long.
    """
    found: list[Cubic] = []
    begin, last = 0, len(spots) - 1
    while begin < last:
        size, leave = last - begin, start
        while True:
            stop = begin + size
            arrive = end if stop == last else _direction(spots, stop)
            cubic, error = _one(spots[begin : stop + 1], tol, leave, arrive)
            if error <= tol or size == 1:
                break
            shorter = min(0.92, max(0.1, 0.97 * (tol / error) ** 0.2))
            size = max(1, min(size - 1, int(size * shorter)))
        found.append(cubic)
        begin, start = stop, arrive
    return found


def _one(spots: Array, tol: float, start: Array, end: Array) -> tuple[Cubic, float]:
    """Best single cubic with the largest distance of a point from it, mm."""
    u = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(spots, axis=0).T))])
    u /= u[-1]
    controls = _handles(spots, u, start, end)
    best, least, since = controls, np.inf, 0
    for _ in range(_ROUNDS):
        for _ in range(3):
            u = _reparametrised(controls, u, spots)
        error = float(np.hypot(*(_at(controls, u) - spots).T).max())
        if error <= tol and _doubles_back(controls, u, spots, tol):
            error = np.inf
        since = 0 if error < 0.95 * least else since + 1
        if error < least:
            best, least = controls, error
        if error <= tol or since > 3:
            break
        controls = _nudged(controls, u, spots, start, end)
    return Cubic(*(Vec(float(x), float(y)) for x, y in best)), least


def _nudged(controls: Array, u: Array, spots: Array, start: Array, end: Array) -> Array:
    """Handle lengths that lessen the distances across the curve (one Gauss-Newton step)."""
    v = 1 - u
    d = np.diff(controls, axis=0)
    along = (v * v)[:, None] * d[0] + (2 * u * v)[:, None] * d[1] + (u * u)[:, None] * d[2]
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    across /= np.maximum(np.hypot(*across.T), 1e-12)[:, None]
    off = ((_at(controls, u) - spots) * across).sum(axis=1)
    slopes = np.stack([3 * u * v**2 * (across @ start), -3 * u**2 * v * (across @ end)], axis=1)
    more = np.linalg.lstsq(slopes, -off, rcond=1e-6)[0]
    p, q = controls[0], controls[3]
    first, last = float((controls[1] - p) @ start), float((q - controls[2]) @ end)
    bound = 0.3 * min(first, last)
    more *= min(1.0, bound / max(float(np.abs(more).max()), 1e-300))
    first, last = first + float(more[0]), last + float(more[1])
    return np.array([p, p + first * start, q - last * end, q])


def _handles(spots: Array, u: Array, start: Array, end: Array) -> Array:
    """Control points with the given end directions, handle lengths by least squares."""
    v = 1 - u
    b0, b1, b2, b3 = v**3, 3 * u * v**2, 3 * u**2 * v, u**3
    p, q = spots[0], spots[-1]
    chord = float(np.hypot(*(q - p)))
    left, right = b1[:, None] * start, b2[:, None] * -end
    rest = spots - (b0 + b1)[:, None] * p - (b2 + b3)[:, None] * q
    m00, m01, m11 = float((left * left).sum()), float((left * right).sum()), float((right**2).sum())
    r0, r1 = float((left * rest).sum()), float((right * rest).sum())
    under = m00 * m11 - m01 * m01
    first = last = 0.0
    if under > 1e-12 * max(m00 * m11, 1e-300):
        first, last = (r0 * m11 - r1 * m01) / under, (r1 * m00 - r0 * m01) / under
    if min(first, last) < 1e-3 * chord:
        first = last = chord / 3
    return np.array([p, p + first * start, q - last * end, q])


def _doubles_back(controls: Array, u: Array, spots: Array, tol: float) -> bool:
    """Does the curve go back by more than `tol` mm anywhere between two neighbouring points?"""
    fine = u[:-1, None] + np.diff(u)[:, None] * np.linspace(0.0, 1.0, 9)
    ways = np.diff(_at(controls, fine.ravel()).reshape(*fine.shape, 2), axis=1)
    chords = np.diff(spots, axis=0)
    ahead = (ways * (chords / np.hypot(*chords.T)[:, None])[:, None, :]).sum(axis=2)
    return bool((np.minimum(ahead, 0.0).sum(axis=1) < -tol).any())


def _at(controls: Array, u: Array) -> Array:
    v = 1 - u
    weights = np.stack([v**3, 3 * u * v**2, 3 * u**2 * v, u**3], axis=1)
    points: Array = weights @ controls
    return points


def _reparametrised(controls: Array, u: Array, spots: Array) -> Array:
    """One Newton step of every parameter towards the foot of its point on the curve."""
    v = (1 - u)[:, None]
    t = u[:, None]
    d = np.diff(controls, axis=0)
    first = 3 * (v * v * d[0] + 2 * v * t * d[1] + t * t * d[2])
    second = 6 * (v * (d[1] - d[0]) + t * (d[2] - d[1]))
    gap = _at(controls, u) - spots
    slope = (first * first).sum(axis=1) + (gap * second).sum(axis=1)
    step = np.where(slope > 0, (gap * first).sum(axis=1) / np.where(slope > 0, slope, 1.0), 0.0)
    moved: Array = np.clip(u - step, 0.0, 1.0)
    moved[0], moved[-1] = 0.0, 1.0
    return moved
