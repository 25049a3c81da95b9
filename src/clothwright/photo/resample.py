"""Draw the table straight from above out of photos whose lens and pose are known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.extra import library
from clothwright.photo.lens import Lens, Pose, seen_at
from clothwright.photo.read import Photo, Pixels

STEP = 16
"""Every so many pixels the exact place in the photo is computed; between them it runs straight."""
STRIP = 32
"""Steps of rows drawn at once, so that large pictures need little memory."""
RIM = 0.04
"""Part of a photo along its rim where it gives way to others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatFrame:
    """Where the flat picture lies on the table.

    turn: radians the table is turned by; scale: mm on paper for 1 mm as printed; low: its lower
    left corner after both; size: mm.
    """

    turn: float
    scale: float
    low: tuple[float, float]
    size: tuple[float, float]
    px_per_mm: float

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns of the picture."""
        wide, tall = self.size
        return max(1, math.ceil(tall * self.px_per_mm)), max(1, math.ceil(wide * self.px_per_mm))

    def to_flat(self, table: Numbers) -> Numbers:
        """Return points (n, 2) of the table, mm as printed, as mm of the flat picture."""
        c, s = math.cos(self.turn), math.sin(self.turn)
        moved: Numbers = self.scale * table @ np.array([[c, s], [-s, c]]) - np.array(self.low)
        return moved

    def to_table(self, flat: Numbers) -> Numbers:
        """Return the points of the table, mm as printed: the way back."""
        c, s = math.cos(self.turn), math.sin(self.turn)
        back: Numbers = (flat + np.array(self.low)) @ np.array([[c, -s], [s, c]]) / self.scale
        return back

    def to_pixels(self, flat: Numbers) -> Numbers:
        """Return pixels (column, row) of points in mm of the flat picture."""
        x, y = flat[:, 0], flat[:, 1]
        rows = self.shape[0]
        return np.stack([x * self.px_per_mm - 0.5, rows - y * self.px_per_mm - 0.5], axis=1)

    def to_mm(self, pixels: Numbers) -> Numbers:
        """Return mm of the flat picture for pixels (column, row)."""
        x, y = pixels[:, 0], pixels[:, 1]
        rows = self.shape[0]
        return np.stack([(x + 0.5) / self.px_per_mm, (rows - y - 0.5) / self.px_per_mm], axis=1)


def resampled(
    photos: Sequence[Photo], lenses: Sequence[Lens], poses: Sequence[Pose], ground: FlatFrame
) -> tuple[Pixels, Mask]:
    """Return the flat picture (h, w, 3) and what of it some photo shows (h, w).

    Where photos overlap, the one that sees a place sharpest counts most.
    """
    cv2 = library("cv2")
    height, width = ground.shape
    image = np.zeros((height, width, 3), np.uint8)
    seen = np.zeros((height, width), np.bool_)
    coarse = [
        _coarse(p, lens, pose, ground) for p, lens, pose in zip(photos, lenses, poses, strict=True)
    ]
    for top in range(0, math.ceil(height / STEP), STRIP):
        rows = slice(top * STEP, min(height, (top + STRIP) * STEP))
        blended, weight = _strip(cv2, photos, coarse, top, (rows.stop - rows.start, width))
        image[rows], seen[rows] = blended, weight > 0
    return image, seen


def _coarse(photo: Photo, lens: Lens, pose: Pose, ground: FlatFrame) -> NDArray[np.float32]:
    """Column, row and weight in the photo at the middles of blocks, one block more all round."""
    height, width = ground.shape
    x, y = np.meshgrid(
        *((np.arange(-1, math.ceil(n / STEP) + 1) + 0.5) * STEP - 0.5 for n in (width, height))
    )
    flat = ground.to_mm(np.stack([x.ravel(), y.ravel()], axis=1))
    at = seen_at(lens, pose, ground.to_table(flat)).reshape(*x.shape, 2)
    at = np.nan_to_num(at, nan=-1e5)
    size = np.array([photo.width, photo.height])
    inward = np.minimum(at, size - 1 - at).min(axis=2) / (RIM * size.min())
    right, down = np.gradient(at, axis=1), np.gradient(at, axis=0)
    fine = np.abs(right[..., 0] * down[..., 1] - right[..., 1] * down[..., 0]) / STEP**2
    weight = np.clip(inward, 0.0, 1.0) ** 2 * np.minimum(fine, 4.0) ** 3
    weight = np.where((inward > 0.0) & (fine > 0.01), np.maximum(weight, 1e-6), 0.0)
    return np.dstack([at, weight]).astype(np.float32)


def _strip(
    cv2: Any,
    photos: Sequence[Photo],
    coarse: Sequence[NDArray[np.float32]],
    top: int,
    shape: tuple[int, int],
) -> tuple[Pixels, NDArray[np.float32]]:
    """One strip of the picture, beginning at block row `top`, and the weights behind it."""
    parts = []
    for photo, grid in zip(photos, coarse, strict=True):
        rows = grid[top : top + STRIP + 2]
        fine = cv2.resize(rows, (rows.shape[1] * STEP, rows.shape[0] * STEP))
        fine = fine[STEP : STEP + shape[0], STEP : STEP + shape[1]]
        weight = np.ascontiguousarray(fine[..., 2])
        if float(weight.max()) <= 0.0:
            continue
        maps = (np.ascontiguousarray(fine[..., k]) for k in (0, 1))
        parts.append((cv2.remap(photo.pixels, *maps, cv2.INTER_LINEAR), weight))
    if not parts:
        return np.zeros((*shape, 3), np.uint8), np.zeros(shape, np.float32)
    if len(parts) == 1:
        only, weight = parts[0]
        only[weight <= 0] = 0
        return only, weight
    total: NDArray[np.float32] = np.sum([w for _, w in parts], axis=0, dtype=np.float32)
    safe = np.where(total > 0, total, 1.0)[..., None]
    mixed = np.zeros((*shape, 3), np.float32)
    for pixels, weight in parts:
        mixed += pixels * (weight[..., None] / safe)
    return np.asarray(mixed + 0.5, dtype=np.uint8), total
