"""Straight lines drawn inside a piece: grain line, dart legs, fold marks."""

from __future__ import annotations

from typing import Any

import numpy as np

from clothwright.geometry.path import Path, polyline
from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.extra import library
from clothwright.photo.region import LINE_DARK
from clothwright.photo.shades import Shades, disc

LEAST_MM = 30.0
"""Shorter lines are taken for letters and marks."""
CLEAR_MM = 4.0
GAP_MM = 5.0
"""A line with a longer gap in it is two lines."""
MOST = 12


def inner_lines(dim: Shades, area: Mask) -> tuple[Path, ...]:
    """Return the straight lines of at least 30 mm inside an area, the longest first; mm, y up."""
    cv2 = library("cv2")
    rows, columns = np.nonzero(area)
    top, left = int(rows.min()), int(columns.min())
    part = (slice(top, int(rows.max()) + 1), slice(left, int(columns.max()) + 1))
    inside = cv2.erode(np.pad(area[part].astype(np.uint8), 1), disc(CLEAR_MM * dim.px_per_mm))
    line = (dim.dark[part] > LINE_DARK) & (inside[1:-1, 1:-1] > 0)
    spots = _spots(cv2, line, dim.px_per_mm)
    found: list[Numbers] = []
    for _ in range(MOST):
        ends = _longest(cv2, line.shape, spots, dim.px_per_mm)
        if ends is None:
            break
        found.append(ends)
        spots = spots[_off_line(spots, ends) > 1.2 * dim.px_per_mm]
    height = dim.grey.shape[0]
    paths = []
    for ends in sorted(found, key=lambda e: -float(np.hypot(*(e[1] - e[0])))):
        x = (ends[:, 0] + left + 0.5) / dim.px_per_mm
        y = (height - ends[:, 1] - top - 0.5) / dim.px_per_mm
        paths.append(polyline([(float(a), float(b)) for a, b in zip(x, y, strict=True)]))
    return tuple(paths)


def _spots(cv2: Any, line: Mask, px_per_mm: float) -> Numbers:
    """Pixels (column, row) of dark spots that are part of something long."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(line.astype(np.uint8))
    extent = np.hypot(stats[:, cv2.CC_STAT_WIDTH], stats[:, cv2.CC_STAT_HEIGHT])
    long = extent > 0.5 * LEAST_MM * px_per_mm
    long[0] = False
    rows, columns = np.nonzero(long[labels])
    return np.stack([columns, rows], axis=1).astype(np.float64) if count > 1 else np.zeros((0, 2))


def _longest(cv2: Any, shape: tuple[int, ...], spots: Numbers, px_per_mm: float) -> Numbers | None:
    """Ends (2, 2) of the longest straight line through the spots."""
    if len(spots) < LEAST_MM * px_per_mm:
        return None
    canvas = np.zeros(shape, np.uint8)
    canvas[spots[:, 1].astype(int), spots[:, 0].astype(int)] = 255
    least = LEAST_MM * px_per_mm
    runs = cv2.HoughLinesP(
        canvas, 1, np.pi / 720, int(0.6 * least), minLineLength=least, maxLineGap=4 * px_per_mm
    )
    if runs is None:
        return None
    ends = np.asarray(runs, dtype=np.float64).reshape(-1, 2, 2)
    best: Numbers = ends[np.argmax(np.hypot(*(ends[:, 1] - ends[:, 0]).T))]
    for _ in range(2):
        best = _refined(spots, best, px_per_mm)
    return best if np.hypot(*(best[1] - best[0])) >= least else None


def _refined(spots: Numbers, ends: Numbers, px_per_mm: float) -> Numbers:
    """The same line by least squares over all spots that lie on it, as far as it runs on."""
    middle = ends.mean(axis=0)
    along = (ends[1] - ends[0]) / max(float(np.hypot(*(ends[1] - ends[0]))), 1e-9)
    across = np.array([-along[1], along[0]])
    near = spots[np.abs((spots - middle) @ across) < 1.0 * px_per_mm]
    at = (near - middle) @ along
    order = np.argsort(at)
    near, at = near[order], at[order]
    runs = np.split(np.arange(len(at)), np.flatnonzero(np.diff(at) > GAP_MM * px_per_mm) + 1)
    run = min(runs, key=lambda r: max(float(at[r[0]]), -float(at[r[-1]])))
    mine = near[run]
    centre = mine.mean(axis=0)
    along = np.linalg.svd(mine - centre, full_matrices=False)[2][0]
    at = (mine - centre) @ along
    refined: Numbers = centre + np.array([[at.min()], [at.max()]]) * along
    return refined


def _off_line(spots: Numbers, ends: Numbers) -> Numbers:
    """Distance of spots from a line between two ends, pixels."""
    along = ends[1] - ends[0]
    size = max(float(np.hypot(*along)), 1e-9)
    t = np.clip(((spots - ends[0]) @ along) / size**2, 0.0, 1.0)
    off: Numbers = np.hypot(*(spots - ends[0] - t[:, None] * along).T)
    return off
