"""Where a cubic in Bernstein form is zero: the one equation behind line and curve crossings."""

from __future__ import annotations

import math


def quadratic_roots(a: float, b: float, c: float) -> tuple[float, ...]:
    """Return the real roots of a t^2 + b t + c = 0 (no unit), in order; none if constant.

    >>> quadratic_roots(1, -3, 2)
    (1.0, 2.0)
    """
    size = max(abs(a), abs(b), abs(c))
    if size == 0.0 or max(abs(a), abs(b)) <= 1e-15 * size:
        return ()
    if abs(a) <= 1e-14 * size:
        return (-c / b,) if b != 0.0 else ()
    under = b * b - 4 * a * c
    if under < 0.0:
        return ()
    q = -(b + math.copysign(math.sqrt(under), b)) / 2
    return tuple(sorted((q / a, c / q))) if q != 0.0 else (0.0,)


def bernstein_roots(f: tuple[float, float, float, float], tol: float) -> tuple[float, ...]:
    """Return the t in [0, 1] (no unit) where the cubic of Bernstein coefficients f is zero.

    A turning point or an end that comes within `tol` of zero without reaching it counts as well
    (a touch); the zero polynomial has no roots worth naming and gives none.

    >>> bernstein_roots((-1, -1, 1, 1), 1e-9)
    (0.5,)
    """
    if max(f) < -tol or min(f) > tol or max(abs(v) for v in f) == 0.0:
        return ()
    a, b, c = f[1] - f[0], f[2] - f[1], f[3] - f[2]
    turns = [t for t in quadratic_roots(a - 2 * b + c, 2 * (b - a), a) if 0.0 < t < 1.0]
    knots = [0.0, *turns, 1.0]
    values = [value_at(f, t) for t in knots]
    found: list[float] = []
    explained = [False] * len(knots)
    for i in range(len(knots) - 1):
        if values[i] * values[i + 1] < 0.0:
            found.append(_between(f, knots[i], knots[i + 1], values[i]))
            explained[i] = explained[i + 1] = True
    found.extend(
        t
        for t, value, done in zip(knots, values, explained, strict=True)
        if abs(value) <= tol and not done
    )
    return tuple(sorted(found))


def value_at(f: tuple[float, float, float, float], t: float) -> float:
    """Return the value at t (0 to 1) of the cubic with Bernstein coefficients f, in f's unit."""
    s = 1.0 - t
    return s * s * (s * f[0] + 3 * t * f[1]) + t * t * (3 * s * f[2] + t * f[3])


def _between(f: tuple[float, float, float, float], low: float, high: float, at_low: float) -> float:
    """Return the one root between two parameters where f changes sign (Newton, kept inside)."""
    t = (low + high) / 2
    for _ in range(80):
        value = value_at(f, t)
        if value == 0.0 or high - low < 1e-16:
            break
        if (value > 0) == (at_low > 0):
            low = t
        else:
            high = t
        s = 1.0 - t
        slope = 3 * (s * s * (f[1] - f[0]) + 2 * s * t * (f[2] - f[1]) + t * t * (f[3] - f[2]))
        step = t - value / slope if slope != 0.0 else low
        nearer = step if low < step < high else (low + high) / 2
        if abs(nearer - t) < 1e-15:
            return nearer
        t = nearer
    return t
