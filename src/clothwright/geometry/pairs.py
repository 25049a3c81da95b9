"""Where two single segments meet, as pairs of parameters. Paths are the business of `intersect`."""

from __future__ import annotations

import math

from clothwright.geometry.roots import bernstein_roots, quadratic_roots
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.vec import Vec

Pair = tuple[float, float]
"""Parameters (t on the first segment, u on the second)."""

Points = tuple[Vec, Vec, Vec, Vec]

_BUDGET = 600
"""Boxes looked at before two curves are suspected of running along each other."""


def segment_pairs(a: Segment, b: Segment, tol: float) -> list[Pair]:
    """Return the parameters where two segments come within `tol` mm of each other.

    Segments that run along each other give the ends of the common stretch (and perhaps points
    between them, which `intersect` clears away).
    """
    if isinstance(a, Line):
        if isinstance(b, Line):
            return _line_line(a, b, tol)
        return _line_cubic(a, b, tol)
    if isinstance(b, Line):
        return [(t, u) for u, t in _line_cubic(b, a, tol)]
    return _cubic_cubic(a, b, tol)


def boxes_apart(a: Segment, b: Segment, tol: float) -> bool:
    """Tell whether the boxes around the control points are more than `tol` mm apart."""
    ax0, ay0, ax1, ay1 = box(a)
    bx0, by0, bx1, by1 = box(b)
    return ax0 > bx1 + tol or bx0 > ax1 + tol or ay0 > by1 + tol or by0 > ay1 + tol


def box(segment: Segment) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of the box around the control points, mm."""
    points = segment.controls()
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def loop_of(curve: Cubic) -> Pair | None:
    """Return the two parameters where a cubic crosses itself, or None when it does not.

    B(s) = B(t) with s ≠ t leaves one linear equation for s + t and one for s t.
    """
    c = (curve.p1 - curve.p0) * 3
    b = (curve.p2 - curve.p1 * 2 + curve.p0) * 3
    a = curve.p3 - curve.p2 * 3 + curve.p1 * 3 - curve.p0
    across = b.cross(a)
    if abs(across) <= 1e-12 * max(a.dot(a), b.dot(b), 1e-30):
        return None
    total = -c.cross(a) / across
    product = total * total + (b * total + c).dot(a) / a.dot(a)
    under = total * total - 4 * product
    if under <= 0.0:
        return None
    root = math.sqrt(under)
    s, t = (total - root) / 2, (total + root) / 2
    return (s, t) if s >= 0.0 and t <= 1.0 else None


def _line_line(a: Line, b: Line, tol: float) -> list[Pair]:
    u, v, w = a.p1 - a.p0, b.p1 - b.p0, b.p0 - a.p0
    turn, size = u.cross(v), u.norm * v.norm
    if abs(turn) <= 1e-10 * size or size == 0.0:
        return _ends_on_each_other(a, b, tol)
    t, k = w.cross(v) / turn, w.cross(u) / turn
    t, k = min(1.0, max(0.0, t)), min(1.0, max(0.0, k))
    return [(t, k)] if a.point(t).distance(b.point(k)) <= tol else []


def _ends_on_each_other(a: Segment, b: Segment, tol: float) -> list[Pair]:
    found: list[Pair] = []
    for end, t in ((a.start, 0.0), (a.end, 1.0)):
        u = nearest_t(b, end)
        if b.point(u).distance(end) <= tol:
            found.append((t, u))
    for end, u in ((b.start, 0.0), (b.end, 1.0)):
        t = nearest_t(a, end)
        if a.point(t).distance(end) <= tol:
            found.append((t, u))
    return found


def _line_cubic(line: Line, curve: Cubic, tol: float) -> list[Pair]:
    length = line.length
    if length == 0.0:
        return []
    axis, origin = (line.p1 - line.p0).unit, line.p0
    heights = _heights(origin, axis, (curve.p0, curve.p1, curve.p2, curve.p3))
    if max(abs(h) for h in heights) <= tol:
        return _ends_on_each_other(line, curve, tol)
    found = []
    for u in bernstein_roots(heights, tol):
        along = axis.dot(curve.point(u) - origin)
        t = min(1.0, max(0.0, along / length))
        if abs(t * length - along) <= tol:
            found.append((t, u))
    return found


def _heights(origin: Vec, axis: Vec, points: Points) -> tuple[float, float, float, float]:
    """Distances of the control points to the left of a line."""
    a, b, c, d = (axis.cross(p - origin) for p in points)
    return a, b, c, d


def _cubic_cubic(a: Cubic, b: Cubic, tol: float) -> list[Pair]:
    """Halve both curves wherever their boxes and fat lines overlap; finish by Newton's steps.

    Fat line: the strip along a chord that holds the curve (Sederberg and Nishita, Curve
    intersection using Bezier clipping, Computer-Aided Design 22, 1990).
    """
    found: list[Pair] = []
    stack = [((a.p0, a.p1, a.p2, a.p3), 0.0, 1.0, (b.p0, b.p1, b.p2, b.p3), 0.0, 1.0)]
    looked = 0
    while stack:
        p, t0, t1, q, u0, u1 = stack.pop()
        if _apart(p, q, tol):
            continue
        looked += 1
        if looked > _BUDGET:
            ends = _ends_on_each_other(a, b, tol)
            return ends if _is_shared(a, b, ends, tol) else found + ends
        tiny = _is_tiny(p, tol) and _is_tiny(q, tol)
        if tiny and any(t0 <= t <= t1 or u0 <= u <= u1 for t, u in found):
            continue
        if tiny or _cross_once(p, q):
            pair = _refined(a, b, (t0 + t1) / 2, (u0 + u1) / 2)
            if a.point(pair[0]).distance(b.point(pair[1])) <= tol:
                found.append(pair)
                continue
            if tiny:
                continue
        halves_p = _halved(p, t0, t1)
        stack.extend((*hp, *hq) for hp in halves_p for hq in _halved(q, u0, u1))
    return found


def _is_shared(a: Cubic, b: Cubic, ends: list[Pair], tol: float) -> bool:
    """True when both curves run together between the outermost common ends."""
    if len(ends) < 2:
        return False
    first, last = min(ends)[0], max(ends)[0]
    middle = a.point((first + last) / 2)
    return last > first and b.point(nearest_t(b, middle)).distance(middle) <= tol


def _apart(p: Points, q: Points, tol: float) -> bool:
    for k in (0, 1):
        if min(v[k] for v in p) > max(v[k] for v in q) + tol:
            return True
        if min(v[k] for v in q) > max(v[k] for v in p) + tol:
            return True
    return _beside(p, q, tol) or _beside(q, p, tol)


def _beside(p: Points, q: Points, tol: float) -> bool:
    """True when q lies wholly outside the strip along p's chord that holds p."""
    axis = p[3] - p[0]
    if axis.x == 0.0 and axis.y == 0.0:
        return False
    axis = axis.unit
    own, other = _heights(p[0], axis, p), _heights(p[0], axis, q)
    return min(other) > max(own) + tol or max(other) < min(own) - tol


def _is_tiny(p: Points, tol: float) -> bool:
    return p[0].distance(p[1]) + p[1].distance(p[2]) + p[2].distance(p[3]) < tol


def _cross_once(p: Points, q: Points) -> bool:
    """True when no direction of one is a direction of the other: at most one crossing."""
    u, v = p[3] - p[0], q[3] - q[0]
    angle = abs(math.atan2(u.cross(v), u.dot(v)))
    return _spread(p, u) + _spread(q, v) < min(angle, math.pi - angle)


def _spread(p: Points, chord: Vec) -> float:
    """Greatest angle between the chord and a leg of the control polygon, radians."""
    widest = 0.0
    for i in (0, 1, 2):
        leg = p[i + 1] - p[i]
        widest = max(widest, abs(math.atan2(chord.cross(leg), chord.dot(leg))))
    return widest


def _halved(p: Points, t0: float, t1: float) -> tuple[tuple[Points, float, float], ...]:
    a, b, c = p[0].lerp(p[1], 0.5), p[1].lerp(p[2], 0.5), p[2].lerp(p[3], 0.5)
    d, e = a.lerp(b, 0.5), b.lerp(c, 0.5)
    m, t = d.lerp(e, 0.5), (t0 + t1) / 2
    return ((p[0], a, d, m), t0, t), ((m, e, c, p[3]), t, t1)


def _refined(a: Cubic, b: Cubic, t: float, u: float) -> Pair:
    """Newton's steps towards the common point, kept on both curves."""
    for _ in range(12):
        gap = b.point(u) - a.point(t)
        da, db = a.derivative(t), b.derivative(u)
        turn = da.cross(db)
        if turn == 0.0:
            break
        dt, du = gap.cross(db) / turn, gap.cross(da) / turn
        t, u = min(1.0, max(0.0, t + dt)), min(1.0, max(0.0, u + du))
        if abs(dt) < 1e-14 and abs(du) < 1e-14:
            break
    return t, u


def extreme_ts(segment: Segment) -> tuple[float, ...]:
    """Return the parameters inside (0, 1), no unit, where the segment turns back in x or y."""
    if isinstance(segment, Line):
        return ()
    found: list[float] = []
    for k in (0, 1):
        p = [v[k] for v in segment.controls()]
        a, b, c = p[1] - p[0], p[2] - p[1], p[3] - p[2]
        found.extend(t for t in quadratic_roots(a - 2 * b + c, 2 * (b - a), a) if 0.0 < t < 1.0)
    return tuple(found)


def nearest_t(segment: Segment, p: tuple[float, float]) -> float:
    """Return the parameter (0 to 1) of the segment's point nearest to p."""
    if isinstance(segment, Line):
        d = segment.p1 - segment.p0
        size = d.dot(d)
        return min(1.0, max(0.0, (Vec(*p) - segment.p0).dot(d) / size)) if size > 0 else 0.0
    slope = _approach(segment, p)
    candidates = [0.0, 1.0, *_rises(slope)]
    return min(candidates, key=lambda t: segment.point(t).distance(p))


def _rises(f: tuple[float, ...]) -> list[float]:
    """Every place between 0 and 1 at which a polynomial goes from negative to not negative.

    Between two zeros of its slope it is monotone, so none is missed; the slope's own are found in
    the same way, degree by degree.
    """
    return [t for t, rising in _crossings(f) if rising]


def _crossings(f: tuple[float, ...]) -> list[tuple[float, bool]]:
    """All sign changes of a polynomial between 0 and 1, in order; True where it rises."""
    if len(f) <= 2:
        if len(f) < 2 or f[0] == 0.0 or not 0.0 < -f[1] / f[0] < 1.0:
            return []
        return [(-f[1] / f[0], f[0] > 0.0)]
    slope = tuple(k * (len(f) - 1 - i) for i, k in enumerate(f[:-1]))
    found = []
    low, before = 0.0, _horner(f, 0.0)
    for high in (*(t for t, _ in _crossings(slope)), 1.0):
        here = _horner(f, high)
        if before < 0.0 <= here:
            found.append((_rising_root(f, low, high), True))
        elif before >= 0.0 > here:
            found.append((_rising_root(tuple(-k for k in f), low, high), False))
        low, before = high, here
    return found


def _approach(curve: Cubic, p: tuple[float, float]) -> tuple[float, ...]:
    """Coefficients, highest first, of (B - p) . B': negative while the curve comes nearer."""
    total = [0.0] * 6
    for k in (0, 1):
        q0, q1, q2, q3 = curve.p0[k], curve.p1[k], curve.p2[k], curve.p3[k]
        a, b, c, d = q3 - 3 * q2 + 3 * q1 - q0, 3 * (q2 - 2 * q1 + q0), 3 * (q1 - q0), q0 - p[k]
        total[0] += 3 * a * a
        total[1] += 5 * a * b
        total[2] += 4 * a * c + 2 * b * b
        total[3] += 3 * a * d + 3 * b * c
        total[4] += 2 * b * d + c * c
        total[5] += c * d
    return tuple(total)


def _horner(coefficients: tuple[float, ...], t: float) -> float:
    value = 0.0
    for k in coefficients:
        value = value * t + k
    return value


def _rising_root(f: tuple[float, ...], low: float, high: float) -> float:
    """The zero of a polynomial between a place where it is negative and one where it is not."""
    slope = tuple(k * (len(f) - 1 - i) for i, k in enumerate(f[:-1]))
    t = (low + high) / 2
    for _ in range(60):
        value = _horner(f, t)
        if value < 0.0:
            low = t
        else:
            high = t
        rise = _horner(slope, t)
        step = t - value / rise if rise != 0.0 else low
        nearer = step if low < step < high else (low + high) / 2
        if abs(nearer - t) < 1e-14:
            return nearer
        t = nearer
    return t
