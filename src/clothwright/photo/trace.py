"""Follow an outline below a pixel: middle of the drawn line, or edge of the paper; corners; fit."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from clothwright.geometry.fit import fit_curve
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.segment import Line
from clothwright.geometry.vec import Vec
from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.extra import library
from clothwright.photo.markers import bilinear
from clothwright.photo.shades import Shades

STEP_MM = 0.5
"""Points of the outline lie about this far apart."""
INSIDE_MM, OUTSIDE_MM, FINE_MM = 2.0, 3.2, 0.1
"""How far across the first, rough line the true one is looked for."""
ARM_MM, CORNER_DEG, APART_MM = 6.0, 22.0, 9.0
"""A corner is a turn of so much between arms of 6 mm; two corners are at least so far apart."""
TRIM_MM = 2.2
"""So near to a corner the profile across the line is spoilt by the other line."""
WINDOW_MM = 6.0
OFF_MM = 0.3
FIT_MM = 0.15
REACH_MM = 9.0


class Traced(NamedTuple):
    """An outline below a pixel.

    points: (n, 2), mm, y up, counter-clockwise, closed. strength: of the line at each. good: which
    are trusted.
    """

    points: Numbers
    strength: Numbers
    good: Mask


def rough_outline(mask: Mask) -> Numbers:
    """Return the outer outline of an area as pixels (n, 2), closed."""
    cv2 = library("cv2")
    found, _ = cv2.findContours(mask.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    return np.asarray(max(found, key=len), dtype=np.float64).reshape(-1, 2)


def even_steps(points: Numbers, step: float) -> Numbers:
    """Return points at even steps (px) along a closed line."""
    ring = np.vstack([points, points[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))])
    count = max(8, round(along[-1] / step))
    at = np.linspace(0.0, along[-1], count, endpoint=False)
    return np.stack([np.interp(at, along, ring[:, k]) for k in (0, 1)], axis=1)


def smoothed(points: Numbers, width: float) -> Numbers:
    """Return a closed line, each point averaged over its neighbours (Gauss, a number of points)."""
    reach = max(1, int(3 * width))
    bell = library("scipy.ndimage").gaussian_filter1d
    return np.asarray(bell(points, width, axis=0, mode="wrap", radius=reach))


def outward(points: Numbers) -> Numbers:
    """Return unit directions to the right of travel: outside a counter-clockwise line."""
    along = np.roll(points, -2, axis=0) - np.roll(points, 2, axis=0)
    size = np.maximum(np.hypot(*along.T), 1e-9)[:, None]
    along = along / size
    return np.stack([along[:, 1], -along[:, 0]], axis=1)


def profiles(
    shades: Shades, points: Numbers, across: Numbers, steps: Numbers, *, dark: bool = False
) -> Numbers:
    """Return the shades (n, steps) along `across` at points, both in mm with y up."""
    at = points[:, None, :] + steps[None, :, None] * across[:, None, :]
    flat = at.reshape(-1, 2)
    rows = shades.grey.shape[0]
    pixels = np.stack(
        [flat[:, 0] * shades.px_per_mm - 0.5, rows - flat[:, 1] * shades.px_per_mm - 0.5], axis=1
    )
    values = bilinear(shades.dark if dark else shades.grey, pixels)
    return values.reshape(len(points), len(steps))


def traced(shades: Shades, mask: Mask, *, by_line: bool) -> Traced:
    """Return the outline of an area brought to the middle of its line or the edge of its paper."""
    rows = mask.shape[0]
    rough = rough_outline(mask)
    points = np.stack(
        [(rough[:, 0] + 0.5) / shades.px_per_mm, (rows - rough[:, 1] - 0.5) / shades.px_per_mm],
        axis=1,
    )
    x, y = points.T
    if float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) < 0:
        points = points[::-1]
    points = smoothed(even_steps(points, STEP_MM), 1.2 / STEP_MM)
    inside, outside = INSIDE_MM, OUTSIDE_MM
    strength, good = np.ones(len(points)), np.ones(len(points), dtype=bool)
    for turn in range(3):
        across = outward(smoothed(points, 1.0 / STEP_MM))
        steps = np.arange(-inside, outside + FINE_MM / 2, FINE_MM)
        grey = profiles(shades, points, across, steps)
        offset, strength = (line_at if by_line else edge_at)(grey, steps)
        good = strength > (0.35 if by_line else 0.25) * float(np.median(strength))
        offset = np.where(good, offset, 0.0)
        points = points + offset[:, None] * across
        if turn < 2:
            points = even_steps(smoothed(_mended(points, good), 0.8 / STEP_MM), STEP_MM)
        inside = outside = 1.2
    return Traced(points, strength, good)


SIDES_MM, ALIKE = (0.9, 3.0), 0.82
"""How far to both sides of a line its paper is looked at, and how alike (the darker over the
lighter) it is when it is one paper."""


def paper_both_sides(shades: Shades, trace: Traced) -> float:
    """Return along which part (0 to 1) of an outline one paper lies on both sides, to 3 mm."""
    across = outward(smoothed(trace.points, 1.0 / STEP_MM))
    steps = np.arange(-SIDES_MM[1], SIDES_MM[1] + FINE_MM, 2 * FINE_MM)
    grey = profiles(shades, trace.points, across, steps)
    inner, outer = (
        np.quantile(grey[:, side], 0.8, axis=1)
        for side in (steps <= -SIDES_MM[0], steps >= SIDES_MM[0])
    )
    alike = np.minimum(inner, outer) > ALIKE * np.maximum(inner, outer)
    return float(alike.mean())


def _mended(points: Numbers, good: Mask) -> Numbers:
    """Points that are not trusted are put straight between those that are."""
    if good.all() or good.sum() < 8:
        return points
    n = len(points)
    at = np.flatnonzero(good)
    wide = np.concatenate([at - n, at, at + n])
    return np.stack(
        [np.interp(np.arange(n), wide, np.tile(points[at, k], 3)) for k in (0, 1)], axis=1
    )


def line_at(grey: Numbers, steps: Numbers) -> tuple[Numbers, Numbers]:
    """Return the middle of the dark line across each profile, mm, and how dark it is by the paper.

    grey: (n, steps) as `profiles` returns it.
    """
    count = len(steps)
    side = max(2, count // 8)
    before, after = grey[:, :side].max(axis=1), grey[:, -side:].max(axis=1)
    ramp = np.linspace(0.0, 1.0, count)
    paper = before[:, None] * (1 - ramp) + after[:, None] * ramp
    dark = np.maximum(paper - grey, 0.0) / np.maximum(paper, 20.0)
    dark = (np.roll(dark, 1, axis=1) + dark + np.roll(dark, -1, axis=1)) / 3
    dark[:, [0, -1]] = 0.0
    peak = dark.argmax(axis=1)
    height = dark.max(axis=1)
    near = np.abs(np.arange(count)[None, :] - peak[:, None]) <= round(1.0 / FINE_MM)
    weight = np.where(near, np.maximum(dark - 0.4 * height[:, None], 0.0), 0.0)
    total = np.maximum(weight.sum(axis=1), 1e-9)
    return (weight * steps).sum(axis=1) / total, height


def edge_at(grey: Numbers, steps: Numbers) -> tuple[Numbers, Numbers]:
    """Return where paper and table part across each profile, mm, and how much they differ there.

    grey: (n, steps) as `profiles` returns it.
    """
    blurred = grey.copy()
    for _ in range(3):
        blurred = (np.roll(blurred, 1, axis=1) + blurred + np.roll(blurred, -1, axis=1)) / 3
    change = np.abs(np.gradient(blurred, axis=1))
    change[:, :3] = change[:, -3:] = 0.0
    peak, height = change.argmax(axis=1), change.max(axis=1)
    near = np.abs(np.arange(len(steps))[None, :] - peak[:, None]) <= round(0.8 / FINE_MM)
    weight = np.where(near, np.maximum(change - 0.3 * height[:, None], 0.0), 0.0)
    total = np.maximum(weight.sum(axis=1), 1e-9)
    return (weight * steps).sum(axis=1) / total, height


# --- corners and curves --------------------------------------------------------------------------


def corners_of(points: Numbers) -> list[int]:
    """Return the indices of the corners of a closed line at even steps, in order."""
    arm = round(ARM_MM / STEP_MM)
    smooth = smoothed(points, 0.6 / STEP_MM)
    back, ahead = smooth - np.roll(smooth, arm, axis=0), np.roll(smooth, -arm, axis=0) - smooth
    turn = np.abs(
        np.degrees(
            np.arctan2(
                back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0], (back * ahead).sum(axis=1)
            )
        )
    )
    found: list[int] = []
    apart = round(APART_MM / STEP_MM)
    for k in np.argsort(-turn):
        if turn[k] < CORNER_DEG:
            break
        if all(min(abs(k - f), len(points) - abs(k - f)) >= apart for f in found):
            found.append(int(k))
    return sorted(found)


class Fitted(NamedTuple):
    """Curves through a traced outline.

    path: closed, counter-clockwise, mm. off: how far trusted points lie from the line of their
    neighbours (n,), 0 for others. jumps: points that do not follow their neighbours (n,).
    corners: indices of the traced points.
    """

    path: Path
    off: Numbers
    jumps: Mask
    corners: tuple[int, ...]


def fitted(trace: Traced) -> Fitted:
    """Return the closed path through a traced outline: corners kept, few curves between them."""
    points, n = trace.points, len(trace.points)
    corners = corners_of(_mended(points, trace.good))
    off, jumps = np.zeros(n), np.zeros(n, dtype=bool)
    starts = corners or [0]
    stretches = []
    for k, first in enumerate(starts):
        last = starts[(k + 1) % len(starts)]
        count = (last - first) % n or n
        where = (first + np.arange(count + 1)) % n
        trim = round(TRIM_MM / STEP_MM) if corners else 0
        trim = min(trim, max(0, (len(where) - 5) // 2))
        inner = where[trim : len(where) - trim]
        smooth, keep, away = _followed(points[inner], trace.good[inner])
        off[inner], jumps[inner] = away, trace.good[inner] & ~keep
        stretches.append(smooth)
    if not corners:
        ring = np.vstack([stretches[0], stretches[0][:1]])
        return Fitted(_closed(ring), off, jumps, ())
    ends = [
        _meeting(stretches[k - 1], stretches[k], points[corner]) for k, corner in enumerate(starts)
    ]
    paths = []
    for k, smooth in enumerate(stretches):
        whole = np.vstack([ends[k], smooth, ends[(k + 1) % len(ends)]])
        paths.append(_stretch(whole))
    return Fitted(join_all(paths), off, jumps, tuple(corners))


def _closed(ring: Numbers) -> Path:
    tangent = ring[1] - ring[-2]
    along = (float(tangent[0]), float(tangent[1]))
    knots = [(float(x), float(y)) for x, y in ring]
    return fit_curve(knots, FIT_MM, start_tangent=along, end_tangent=along)


def _stretch(points: Numbers) -> Path:
    knots = [(float(x), float(y)) for x, y in points]
    first, last = Vec(*knots[0]), Vec(*knots[-1])
    if first.distance(last) < 0.01:
        last = last + Vec(0.02, 0.0)
    chord = (last - first).unit
    if max(abs(chord.cross(Vec(*p) - first)) for p in knots) <= 1.5 * FIT_MM:
        return Path((Line(first, last),))
    return fit_curve(knots, FIT_MM).with_ends(first, last)


def _followed(points: Numbers, good: Mask) -> tuple[Numbers, Mask, Numbers]:
    """Smooth an open stretch: each point on the parabola of its trusted neighbours.

    Points that lie off it are left out, twice; then the parabolas are drawn again.
    """
    keep = good.copy()
    if keep.sum() < 6:
        return points, np.ones(len(points), dtype=bool), np.zeros(len(points))
    smooth = points
    for _ in range(3):
        smooth = _parabolas(points, keep)
        away = np.hypot(*(points - smooth).T)
        limit = max(OFF_MM, 4.0 * float(np.median(away[keep])))
        now = good & (away <= limit)
        if now.sum() < 6 or bool((now == keep).all()):
            break
        keep = now
    return smooth, keep, np.where(good, np.hypot(*(points - smooth).T), 0.0)


def _parabolas(points: Numbers, keep: Mask) -> Numbers:
    """Local quadratic regression at every point, over the trusted points within the window."""
    half = round(WINDOW_MM / STEP_MM)
    offsets = np.arange(-half, half + 1)
    n = len(points)
    where = np.arange(n)[:, None] + offsets[None, :]
    inside = (where >= 0) & (where < n)
    where = np.clip(where, 0, n - 1)
    weight = inside * keep[where] * (1.0 - (np.abs(offsets) / (half + 1)) ** 3)[None, :]
    u = offsets / half
    powers = np.stack([np.ones_like(u), u, u * u], axis=1)
    normal = np.einsum("nk,ki,kj->nij", weight, powers, powers) + 1e-4 * np.diag([1e-3, 1.0, 1.0])
    right = np.einsum("nk,ki,nkd->nid", weight, powers, points[where])
    enough = weight.sum(axis=1) > 3.0
    solved = np.linalg.solve(normal, right)[:, 0, :]
    plain = _open_mended(points, keep)
    return np.where(enough[:, None], solved, plain)


def _open_mended(points: Numbers, keep: Mask) -> Numbers:
    at = np.flatnonzero(keep)
    index = np.arange(len(points))
    return np.stack([np.interp(index, at, points[at, k]) for k in (0, 1)], axis=1)


def _meeting(before: Numbers, after: Numbers, seen: Numbers) -> Numbers:
    """Where two stretches, carried on as they run, meet; the corner as seen when they do not."""
    ahead, back = _carried_on(before), _carried_on(after[::-1])
    best, at = np.inf, seen
    a0, a1, b0, b1 = ahead[:-1], ahead[1:], back[:-1], back[1:]
    da, db = a1 - a0, b1 - b0
    under = da[:, None, 0] * db[None, :, 1] - da[:, None, 1] * db[None, :, 0]
    gap = b0[None, :, :] - a0[:, None, :]
    safe = np.where(np.abs(under) > 1e-12, under, np.nan)
    t = (gap[..., 0] * db[None, :, 1] - gap[..., 1] * db[None, :, 0]) / safe
    u = (gap[..., 0] * da[:, None, 1] - gap[..., 1] * da[:, None, 0]) / safe
    for i, j in zip(*np.nonzero((t >= 0) & (t <= 1) & (u >= 0) & (u <= 1)), strict=True):
        spot = a0[i] + t[i, j] * da[i]
        away = float(np.hypot(*(spot - seen)))
        if away < best:
            best, at = away, spot
    return at if best < REACH_MM else seen


def _carried_on(points: Numbers) -> Numbers:
    """The last part of a stretch and where it would run on, as a line of short chords.

    Points that lie on each other (a stretch whose end is not seen) count once.
    """
    apart = np.hypot(*np.diff(points, axis=0).T) > 1e-6
    last = points[np.concatenate([[True], apart])][-round(12.0 / STEP_MM) :]
    if len(last) < 2:
        return np.repeat(last, 2, axis=0)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(last, axis=0).T))])
    along -= along[-1]
    degree = 2 if len(last) >= 12 else 1
    at = np.arange(-4.0, REACH_MM, 0.25)
    return np.stack([np.polyval(np.polyfit(along, last[:, k], degree), at) for k in (0, 1)], axis=1)
