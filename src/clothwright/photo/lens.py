"""The camera as a formula: a pinhole with a lens that bends lines, looking at a flat table.

A point is seen along (x, y) = (X, Y)/Z before the camera, at f times
(x, y)(1 + k1 r² + k2 r⁴) + (2 p1 x y + p2 (r² + 2 x²), p1 (r² + 2 y²) + 2 p2 x y)
from the middle of the picture, r² = x² + y² (D. C. Brown, Close-range camera calibration,
Photogrammetric Engineering 37 (1971), 855-866, with its decentring terms; signs as in OpenCV's
documentation of calib3d). Table: mm, x right, y up, z = 0.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from clothwright.photo.arrays import Numbers

STEEPEST = 0.26
"""Table seen flatter than this is not used (cosine of the angle from straight down: 75°)."""


class Lens(NamedTuple):
    """focal: in pixels. k1, k2: bending. middle: where the lens looks, pixels from the left top.

    p1, p2: bending of a lens that does not sit quite straight.
    """

    focal: float
    k1: float
    k2: float
    middle: tuple[float, float]
    p1: float = 0.0
    p2: float = 0.0


class Pose(NamedTuple):
    """How the table lies before a camera: camera = turn (3, 3) @ table + shift (3,).

    Camera axes: x right, y down, z ahead, mm.
    """

    turn: Numbers
    shift: Numbers


def turn_of(vector: Numbers) -> Numbers:
    """Return the turn (3, 3) about a vector by its length in radians (Rodrigues)."""
    angle = float(np.sqrt(vector @ vector))
    if angle < 1e-12:
        return np.eye(3)
    x, y, z = vector / angle
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    whole: Numbers = np.eye(3) + np.sin(angle) * cross + (1.0 - np.cos(angle)) * (cross @ cross)
    return whole


def bent(lens: Lens, rays: Numbers) -> Numbers:
    """Return pixels (..., 2) of rays (x/z, y/z) (..., 2)."""
    r2 = (rays**2).sum(axis=-1, keepdims=True)
    out = rays * (1.0 + r2 * (lens.k1 + r2 * lens.k2)) + _aslant(lens, rays)
    return np.asarray(lens.focal * out + np.array(lens.middle), dtype=np.float64)


def _aslant(lens: Lens, rays: Numbers) -> Numbers:
    """What a lens that sits aslant adds to rays."""
    x, y = rays[..., 0], rays[..., 1]
    r2, both = x * x + y * y, 2.0 * x * y
    return np.stack(
        [
            lens.p1 * both + lens.p2 * (r2 + 2.0 * x * x),
            lens.p1 * (r2 + 2.0 * y * y) + lens.p2 * both,
        ],
        axis=-1,
    )


SLANT_ROUNDS = 6


def straightened(lens: Lens, pixels: Numbers) -> Numbers:
    """Return rays (x/z, y/z) of pixels (..., 2): the bending undone by Newton's steps.

    What a lens that sits aslant adds is small: it is taken off again and again.
    """
    far = (pixels - np.array(lens.middle)) / lens.focal
    rays = _unbent(lens, far)
    for _ in range(SLANT_ROUNDS if lens.p1 or lens.p2 else 0):
        rays = _unbent(lens, far - _aslant(lens, rays))
    return rays


def _unbent(lens: Lens, far: Numbers) -> Numbers:
    """Rays of places in the picture, k1 and k2 undone."""
    seen = np.sqrt((far**2).sum(axis=-1, keepdims=True))
    r = seen.copy()
    for _ in range(8):
        r2 = r * r
        value = r * (1.0 + r2 * (lens.k1 + r2 * lens.k2)) - seen
        slope = np.maximum(1.0 + r2 * (3.0 * lens.k1 + 5.0 * r2 * lens.k2), 0.2)
        r = np.clip(r - value / slope, 0.0, 3.0)
    safe = np.where(seen > 1e-12, seen, 1.0)
    return np.asarray(far * np.where(seen > 1e-12, r / safe, 1.0), dtype=np.float64)


def seen_at(lens: Lens, pose: Pose, table: Numbers) -> Numbers:
    """Return the pixels (n, 2) where points of the table (n, 2), mm, are seen; nan when behind."""
    before = table @ pose.turn[:, :2].T + pose.shift
    ahead = before[:, 2:]
    rays = before[:, :2] / np.where(ahead > 1.0, ahead, np.nan)
    return bent(lens, rays)


def on_table(lens: Lens, pose: Pose, pixels: Numbers) -> Numbers:
    """Return the table points (n, 2), mm, seen at pixels (n, 2); nan where they look too flat."""
    rays = straightened(lens, pixels)
    whole = np.concatenate([rays, np.ones((len(rays), 1))], axis=1)
    down = whole @ pose.turn
    place = -pose.turn.T @ pose.shift
    length = np.sqrt((whole**2).sum(axis=1))
    toward = down[:, 2] * -np.sign(place[2])
    usable = toward > STEEPEST * length
    far = np.where(usable, abs(place[2]) / np.where(usable, toward, 1.0), np.nan)
    return place[:2] + down[:, :2] * far[:, None]


def view_slopes(pose: Pose, table: Numbers) -> Numbers:
    """Return how a point 1 mm above the table seems shifted on it, mm per mm (n, 2)."""
    place = -pose.turn.T @ pose.shift
    return np.asarray((table - place[:2]) / max(abs(float(place[2])), 1.0), dtype=np.float64)


def view_slope(pose: Pose, table: Numbers) -> Numbers:
    """Return how far a point 1 mm above the table seems shifted on it, mm per mm (n,)."""
    return np.asarray(np.hypot(*view_slopes(pose, table).T), dtype=np.float64)
