"""Fitting cubics to many points by least squares.

Source: P. J. Schneider, An algorithm for automatically fitting digitized curves, in Graphics
Gems (ed. A. S. Glassner, Academic Press 1990), 612-626. Departures: directions come from a
parabola through the neighbouring points; after the first round only the distance across the curve
is lessened, which converges faster; and a stretch that is too long for one cubic is shortened
as its error foretells instead of being cut at its worst point, which needs fewer cubics. A cubic
that passes every point but doubles back between two of them is none that anybody would draw.

Points are complex numbers here, x + iy: a curve is a polynomial of its parameter then.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.segment import Cubic
from clothwright.geometry.vec import Vec

Array = NDArray[np.float64]
Spots = NDArray[np.complexfloating[Any, Any]]

_WINDOW = 5
"""Points on each side that have a say in the direction at a point."""

_ROUNDS = 12
"""Rounds of new parameters for one cubic at most."""

_MORE = 3
"""So many times as long as the cubic before, or as the last try that was near enough, is tried."""


def fitted_cubics(
    points: list[Vec], tol: float, first: Vec | None, last: Vec | None
) -> tuple[Cubic, ...]:
    """Return cubics through the first and last point that pass all others within `tol` mm.

    points: at least two, neighbours apart; first, last: unit directions of travel at the ends,
    or None to take them from the points.
    """
    spots = np.array([complex(*p) for p in points])
    start = complex(*first) if first is not None else _direction(spots, 0)
    end = complex(*last) if last is not None else _direction(spots, len(spots) - 1)
    return tuple(_fitted(spots, tol, start, end))


def _direction(spots: Spots, i: int) -> complex:
    """Unit direction of travel at point i: slope of the parabola through its neighbours."""
    low, high = max(0, i - _WINDOW), min(len(spots), i + _WINDOW + 1)
    near = spots[low:high]
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(near)))])
    along -= along[i - low]
    powers = np.vander(along, min(3, len(near)), increasing=True)
    slope = complex(np.linalg.lstsq(powers, near, rcond=None)[0][1])
    if abs(slope) < 1e-9:
        slope = complex(near[-1] - near[0])
    return slope / (abs(slope) or 1.0)


def _fitted(spots: Spots, tol: float, start: complex, end: complex) -> list[Cubic]:
    """Cubics one after the other, each as long as the tolerance allows.

    A cubic's error grows with about the fifth power of its length, which tells how much shorter
    to try when one is too long; how long the one before was tells where to begin.
    """
    found: list[Cubic] = []
    begin, last, size = 0, len(spots) - 1, len(spots)
    while begin < last:
        size, held, failed = min(_MORE * size, last - begin), None, False
        while held is None or size > held[1]:
            stop = begin + size
            arrive = end if stop == last else _direction(spots, stop)
            cubic, error = _one(spots[begin : stop + 1], tol, start, arrive)
            if error <= tol or size == 1:
                held = cubic, size, arrive
                size = size if failed else min(_MORE * size, last - begin)
            else:
                failed = True
                shorter = min(0.92, max(0.1, 0.97 * (tol / error) ** 0.2))
                size = max(1, min(size - 1, int(size * shorter)))
        cubic, size, start = held
        found.append(cubic)
        begin += size
    return found


def _one(spots: Spots, tol: float, start: complex, end: complex) -> tuple[Cubic, float]:
    """Best single cubic with the largest distance of a point from it, mm."""
    u = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(spots)))])
    u /= u[-1]
    controls = _handles(spots, u, start, end)
    best, least, since = controls, np.inf, 0
    for _ in range(_ROUNDS):
        for _ in range(3):
            u = _reparametrised(controls, u, spots)
        error = float(np.abs(_at(controls, u) - spots).max())
        if error <= tol and _doubles_back(controls, u, spots, tol):
            error = np.inf
        since = 0 if error < 0.95 * least else since + 1
        if error < least:
            best, least = controls, error
        if error <= tol or since > 3:
            break
        controls = _nudged(controls, u, spots, start, end)
    return Cubic(*(Vec(c.real, c.imag) for c in best)), least


Controls = tuple[complex, complex, complex, complex]


def _nudged(controls: Controls, u: Array, spots: Spots, start: complex, end: complex) -> Controls:
    """Handle lengths that lessen the distances across the curve (one Gauss-Newton step)."""
    v = 1 - u
    _, b, c, d = _powers(controls)
    across = 1j * ((3 * d * u + 2 * c) * u + b)
    across /= np.maximum(np.abs(across), 1e-12)
    off = _dot(_at(controls, u) - spots, across)
    slopes = np.stack(
        [3 * u * v**2 * _dot(across, start), -3 * u**2 * v * _dot(across, end)], axis=1
    )
    more = np.linalg.lstsq(slopes, -off, rcond=1e-6)[0]
    p, q = controls[0], controls[3]
    first, last = _dot(controls[1] - p, start), _dot(q - controls[2], end)
    bound = 0.3 * min(first, last)
    more *= min(1.0, bound / max(float(np.abs(more).max()), 1e-300))
    first, last = first + float(more[0]), last + float(more[1])
    return p, p + first * start, q - last * end, q


def _handles(spots: Spots, u: Array, start: complex, end: complex) -> Controls:
    """Control points with the given end directions, handle lengths by least squares."""
    v = 1 - u
    b0, b1, b2, b3 = v**3, 3 * u * v**2, 3 * u**2 * v, u**3
    p, q = complex(spots[0]), complex(spots[-1])
    chord = abs(q - p)
    rest = spots - (b0 + b1) * p - (b2 + b3) * q
    m00, m01, m11 = float(b1 @ b1), -float(b1 @ b2) * _dot(start, end), float(b2 @ b2)
    r0, r1 = _dot(complex(b1 @ rest), start), -_dot(complex(b2 @ rest), end)
    under = m00 * m11 - m01 * m01
    first = last = 0.0
    if under > 1e-12 * max(m00 * m11, 1e-300):
        first, last = (r0 * m11 - r1 * m01) / under, (r1 * m00 - r0 * m01) / under
    if min(first, last) < 1e-3 * chord:
        first = last = chord / 3
    return p, p + first * start, q - last * end, q


def _doubles_back(controls: Controls, u: Array, spots: Spots, tol: float) -> bool:
    """Does the curve go back by more than `tol` mm anywhere between two neighbouring points?"""
    fine = u[:-1, None] + np.diff(u)[:, None] * np.linspace(0.0, 1.0, 9)
    chords = np.diff(spots)
    ahead = _dot(np.diff(_at(controls, fine), axis=1), (chords / np.abs(chords))[:, None])
    return bool((np.minimum(ahead, 0.0).sum(axis=1) < -tol).any())


def _powers(controls: Controls) -> Controls:
    """The curve as a polynomial of its parameter: the factors of 1, u, its square and cube."""
    p, q, r, s = controls
    return p, 3 * (q - p), 3 * (p - 2 * q + r), s - p + 3 * (q - r)


def _at(controls: Controls, u: Array) -> Spots:
    a, b, c, d = _powers(controls)
    points: Spots = ((d * u + c) * u + b) * u + a
    return points


def _dot(a: Any, b: Any) -> Any:
    """The dot product of two directions, or of many."""
    return a.real * b.real + a.imag * b.imag


def _reparametrised(controls: Controls, u: Array, spots: Spots) -> Array:
    """One Newton step of every parameter towards the foot of its point on the curve."""
    _, b, c, d = _powers(controls)
    first = (3 * d * u + 2 * c) * u + b
    gap = _at(controls, u) - spots
    slope = _dot(first, first) + _dot(gap, 6 * d * u + 2 * c)
    ahead = slope > 0
    moved: Array = u - np.where(ahead, _dot(gap, first), 0.0) / np.where(ahead, slope, 1.0)
    np.clip(moved, 0.0, 1.0, out=moved)
    moved[0], moved[-1] = 0.0, 1.0
    return moved
