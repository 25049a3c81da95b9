"""The camera as a formula: a pinhole with a lens that bends lines, looking at a flat table.

A point (x, y, z) before the camera is seen at f (x, y)/z (1 + k1 r² + k2 r⁴) from the middle of
the picture, r = |(x, y)|/z (D. C. Brown, Close-range camera calibration, Photogrammetric
Engineering 37 (1971), 855-866, without its decentring terms). Table: mm, x right, y up, z = 0.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from clothwright.photo.arrays import Numbers

STEEPEST = 0.26
"""Table seen flatter than this is not used (cosine of the angle from straight down: 75°)."""


class Lens(NamedTuple):
    """focal: in pixels. k1, k2: bending. middle: where the lens looks, pixels from the left top."""

    focal: float
    k1: float
    k2: float
    middle: tuple[float, float]


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
    out = lens.focal * rays * (1.0 + r2 * (lens.k1 + r2 * lens.k2)) + np.array(lens.middle)
    return np.asarray(out, dtype=np.float64)


def straightened(lens: Lens, pixels: Numbers) -> Numbers:
    """Return rays (x/z, y/z) of pixels (..., 2): the bending undone by Newton's steps."""
    far = (pixels - np.array(lens.middle)) / lens.focal
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


def view_slope(pose: Pose, table: Numbers) -> Numbers:
    """Return how far a point 1 mm above the table seems shifted on it, mm per mm (n,)."""
    place = -pose.turn.T @ pose.shift
    away: Numbers = np.hypot(*(table - place[:2]).T) / max(abs(float(place[2])), 1.0)
    return away
