"""The middle line of a stroke that was drawn as the area it covers.

A program that turns strokes into areas draws both sides of a line, half the pen's width away from
it. So the line is one side, moved in by half the width, its corners run on until they meet: the
side that turns inwards keeps its corner, and what joins the other (a mitre, an arc, a cut) goes.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.area import polygon_area
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.region import distances
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.intake.fewer import with_fewer_curves
from clothwright.intake.stroke_sides import LIKE, Points, between_caps, sides_of, wide_by_area

WIDEST_MM = 3.0
"""mm: a pen is no wider."""
THIN = 0.0025
"""Share of the way round an area that a pen is wide at most, where mm are not known."""
SAGITTA_MM = 0.002
STEADY = 0.03
"""Share of its width by which a stroke's may vary."""
STEADY_MM = 0.005
"""And by so much besides, mm: coordinates are rounded."""
SPARE = 0.3
"""Share of a side that may not run at half the width from the middle: joints."""
JOIN = 0.5
"""A short stretch that is half itself in the middle, or less, is a joint of its side: a corner cut
off has cos a / (1 + cos a) of it left there, which is never more (a: half of the turn)."""
RUNS_ON = 0.2
"""Tangent of the turn up to which one step runs on from another."""
MITRE = 12.0
"""Widths of the pen that a corner may stand out."""
MOST_POINTS = 20_000


class Middle(NamedTuple):
    """The line that a pen drew, and how wide the pen is (mm)."""

    path: Path
    width: float


def widest(area: Path, *, scale_known: bool) -> float:
    """Return how wide the pen may be that drew an area (mm, or the drawing's own units)."""
    return WIDEST_MM if scale_known else max(WIDEST_MM, THIN * area.length)


def of_ring(outer: Path, inner: Path, most: float) -> Middle | None:
    """Return the closed line between two closed ones; None when they run at no steady distance.

    most: how wide the pen may be, mm.
    """
    one, other = _points(outer), _points(inner)
    if max(len(one), len(other)) > MOST_POINTS:
        return None
    width = _apart(one, other)
    made = _moved_in(one, other[::-1], width, closed=True) if width < most else None
    return None if made is None else Middle(_as_path(made, closed=True), width)


def of_area(area: Path, most: float, hint: float = 0.0) -> Middle | None:
    """Return the open line that an area covers; None when it is none that a pen drew.

    most: how wide the pen may be, mm. hint: how wide it was before, which tells the ends of a short
    dash from its sides.
    """
    if all(isinstance(s, Line) for s in area.segments) and len(area.segments) == 4:
        return _of_four(area, most, hint)
    ring = _points(area)
    if not 5 <= len(ring) <= MOST_POINTS or (not hint and wide_by_area(ring[:-1]) > 2 * most):
        return None
    best: tuple[float, float, Points] | None = None
    for one, other in sides_of(ring[:-1], hint):
        width = _apart(one, other)
        fits = abs(width - hint) < 0.04 * hint + 0.01 if hint else _length(one) > width
        made = _moved_in(one, other, width, closed=False) if fits and width < most else None
        if made is not None and not _is_crooked(made, width):
            made[0], made[-1] = (one[0] + other[-1]) / 2, (one[-1] + other[0]) / 2
            astray = sum(_astray(*sides, width) for sides in ((one, other), (other, one)))
            if best is None or astray < best[0] - 0.25 * width:
                best = astray, width, made
    if hint and (best is None or _stands_out(ring, best[2], hint)):
        made = _between_caps(ring[:-1], hint)
        best = best if made is None else (0.0, hint, made)
    return None if best is None else Middle(_as_path(best[2], closed=False), best[1])


def _stands_out(ring: Points, made: Points, width: float) -> bool:
    """Tell whether an area and the stroke of a line are not the same, as beyond a corner."""
    far = max(distances(ring, made).max(), distances(made, ring).max())
    return bool(far > width / 2 + 2 * (STEADY * width + STEADY_MM))


def _between_caps(ring: Points, width: float) -> Points | None:
    """Return the middle of a stroke of known width between two straight ends, as points, or None.

    Beyond a corner a dash may end within the pen's width. There its inner side is no guide; the
    outer one is, as long as all of the inner lies within the stroke of the line it gives.
    """
    near = STEADY * width + STEADY_MM
    long = abs(polygon_area(ring.tolist())) / width
    found: list[Points] = []
    for one, other in between_caps(ring, width, near):
        caps = (one[0] + other[-1]) / 2, (one[-1] + other[0]) / 2
        for side, back, ends in ((one, other, caps), (other, one, caps[::-1])):
            made = _shifted(side, np.full(len(side) - 1, True), width, closed=False)
            if made is None or np.hypot(*(made[[0, -1]] - np.array(ends)).T).max() > near:
                continue
            like = near < _length(made) < LIKE[1] * long
            if like and distances(back, made).max() < width / 2 + near:
                found.append(made)
    return min(found, key=lambda made: abs(_length(made) - long), default=None)


def _of_four(area: Path, most: float, hint: float) -> Middle | None:
    """Return the middle of a rectangle, between the ends that are the pen's width or shorter."""
    a, b, c, d = (s.start for s in area.segments)
    ways = [
        Middle(Path((Line((p + q) / 2, (r + s) / 2),)), p.distance(q))
        for p, q, r, s in ((a, b, c, d), (b, c, d, a))
    ]
    off = max(abs(a.distance(b) - c.distance(d)), abs(b.distance(c) - d.distance(a)))
    off = max(off, abs((b - a).unit.dot((c - b).unit)) * min(w.width for w in ways))
    best = min(ways, key=lambda w: abs(w.width - hint) if hint else w.width)
    fits = abs(best.width - hint) < 0.04 * hint + 0.01 if hint else True
    good = fits and 0.02 < best.width < most and best.path.length > 1e-6
    return best if good and off < STEADY * best.width + STEADY_MM else None


def _points(path: Path) -> Points:
    """Return a closed line as points, counter-clockwise, the last where the first is."""
    flat = path.flatten(SAGITTA_MM)
    points = np.array(flat if polygon_area(flat) > 0 else flat[::-1])
    apart = np.hypot(*np.diff(points, axis=0).T) > 1e-5
    points = points[np.concatenate([[True], apart])]
    return np.vstack([points, points[:1]]) if np.hypot(*(points[0] - points[-1])) > 1e-5 else points


def _length(points: Points) -> float:
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def _apart(one: Points, other: Points) -> float:
    """Return how far two lines are apart along most of their way.

    Some programs let one side run in to the middle at a corner, which is then too near.
    """
    out = []
    for side, back in ((one, other), (other, one)):
        long = np.hypot(*np.diff(side, axis=0).T)
        away = distances((side[:-1] + side[1:]) / 2, back)
        order = np.argsort(away)
        whole = np.cumsum(long[order])
        out.append(float(away[order][np.searchsorted(whole, whole[-1] / 2)]))
    return max(out)


def _astray(side: Points, other: Points, width: float) -> float:
    """Return along how much of a side the middle does not lie half a width to its left, mm."""
    long = np.hypot(*np.diff(side, axis=0).T)
    return float(long[~_runs_along(side, other, width)].sum())


def _is_crooked(points: Points, width: float) -> bool:
    """Tell whether a line turns off twice within its pen's width, as nobody draws."""
    step = np.diff(points, axis=0)
    long = np.hypot(*step.T)
    turns = (step[:-1] * step[1:]).sum(axis=1) < 0.7 * long[:-1] * long[1:]
    short = (long[1:-1] > 0.1 * width) & (long[1:-1] < 0.6 * width)
    return bool((turns[:-1] & turns[1:] & short).any())


def _runs_along(side: Points, other: Points, width: float) -> NDArray[np.bool_]:
    """Tell of each step of a side whether the middle there is as far from the other side."""
    a, step = side[:-1], np.diff(side, axis=0)
    shift = _left(step) * (width / 2)
    ats = np.array([0.1, 0.5, 0.9])[:, None, None]
    places = (a + ats * step + shift).reshape(-1, 2)
    off = np.abs(distances(places, other) - width / 2).reshape(3, -1)
    return np.asarray((off <= STEADY * width + STEADY_MM).any(axis=0))


def _run_on(kept: NDArray[np.bool_], step: Points, *, closed: bool) -> NDArray[np.bool_]:
    """Add the steps that run on from those kept.

    Some programs draw the corners of the other side through the middle, which is too near there.
    """
    u, v = step, np.roll(step, -1, axis=0)
    smooth = np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) < RUNS_ON * (u * v).sum(axis=1)
    smooth[-1] &= closed
    while True:
        more = kept | np.roll(kept & smooth, 1) | (np.roll(kept, -1) & smooth)
        if (more == kept).all():
            return kept
        kept = more


def _left(step: Points) -> Points:
    out: Points = np.stack([-step[:, 1], step[:, 0]], axis=1) / np.hypot(*step.T)[:, None]
    return out


def _moved_in(side: Points, other: Points, width: float, *, closed: bool) -> Points | None:
    """Return a side moved half a width to the left, its joints gone; None when it is no stroke's.

    side: points; of a closed one the last is the first.
    """
    step = np.diff(side, axis=0)
    if width < 0.02 or any(
        _astray(*both, width) > SPARE * _length(both[0]) for both in ((side, other), (other, side))
    ):
        return None
    kept = _run_on(_runs_along(side, other, width), step, closed=closed)
    return _shifted(side, kept, width, closed=closed)


def _shifted(side: Points, kept: NDArray[np.bool_], width: float, *, closed: bool) -> Points | None:
    """Return those steps of a side half a width to the left, run on to meet, without joints.

    The first and the last step of an open one end at caps: they are no joints.
    """
    step = np.diff(side, axis=0)
    long = np.hypot(*step.T)
    shift = _left(step) * (width / 2)
    while True:
        own = np.flatnonzero(kept)
        if len(own) < (3 if closed else 1):
            return None
        ends = _met(side[own] + shift[own], side[own + 1] + shift[own], width, closed=closed)
        along = ((ends[:, 1] - ends[:, 0]) * step[own]).sum(axis=1) / long[own]
        joint = (along <= JOIN * long[own]) & (long[own] < 4 * width)
        if not closed:
            joint[[0, -1]] = (along[[0, -1]] <= 0.0) & ~joint[1:-1].any()
        if not joint.any():
            break
        kept[own[joint]] = False
    near = STEADY * width + STEADY_MM
    return _without_flat(ends.reshape(-1, 2), near, closed=closed)


def _without_flat(points: Points, near: float, *, closed: bool) -> Points:
    """Leave out points that stand twice, and those on the way straight from one to the next."""
    apart = np.hypot(*np.diff(points, axis=0).T) > near
    points = points[np.concatenate([[True], apart])]
    points = np.vstack([points[:-1], points[:1]]) if closed else points
    step = np.diff(points, axis=0)
    step /= np.hypot(*step.T)[:, None]
    bent = np.abs(step[:-1, 0] * step[1:, 1] - step[:-1, 1] * step[1:, 0]) > 1e-4
    bent |= (step[:-1] * step[1:]).sum(axis=1) < 0
    kept: Points = points[np.concatenate([[True], bent, [True]])]
    return kept


def _met(a: Points, b: Points, width: float, *, closed: bool) -> Points:
    """Return the ends (n x 2 x 2) of steps from a to b, run on until neighbours meet."""
    ends = np.stack([a, b], axis=1)
    u = b - a
    before, after = np.arange(len(a)), np.roll(np.arange(len(a)), -1)
    if not closed:
        before, after = before[:-1], after[:-1]
    gap = a[after] - b[before]
    across = u[before, 0] * u[after, 1] - u[before, 1] * u[after, 0]
    size = np.hypot(*u[before].T) * np.hypot(*u[after].T)
    flat = np.abs(across) < 1e-4 * size
    safe = np.where(flat, 1.0, across)
    ahead = (gap[:, 0] * u[after, 1] - gap[:, 1] * u[after, 0]) / safe
    back = (gap[:, 0] * u[before, 1] - gap[:, 1] * u[before, 0]) / safe
    meet = b[before] + u[before] * ahead[:, None]
    reach = MITRE * width + 2 * np.hypot(*gap.T)
    near = np.hypot(*(meet - b[before]).T) <= reach
    near &= np.hypot(*(meet - a[after]).T) <= reach
    spare = (STEADY * width + STEADY_MM) / np.hypot(*u.T)
    ordered = (ahead > -1.0 - spare[before]) & (back < 1.0 + spare[after])
    meet = np.where(flat[:, None], b[before] + gap / 2, meet)
    good = np.where(flat, np.hypot(*gap.T) < width, near & ordered)
    ends[before[good], 1] = meet[good]
    ends[after[good], 0] = meet[good]
    return ends


def _as_path(points: Points, *, closed: bool) -> Path:
    """Return points as lines and curves; a closed line begins at its sharpest corner."""
    if closed:
        own = points[:-1]
        step = np.diff(points, axis=0)
        way = np.arctan2(step[:, 1], step[:, 0])
        turn = np.abs((way - np.roll(way, 1) + np.pi) % (2 * np.pi) - np.pi)
        own = np.roll(own, -int(turn.argmax()), axis=0)
        points = np.vstack([own, own[:1]])
    path = polyline([Vec(*map(float, p)) for p in points])
    return with_fewer_curves(path, closed=closed)
