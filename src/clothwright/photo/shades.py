"""Light and dark of a flat picture: how dark each place is beside what surrounds it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwright.photo.arrays import Mask
from clothwright.photo.extra import library
from clothwright.photo.flatten import Flat
from clothwright.photo.sheet import HEIGHT_MM, WIDTH_MM

Shade = NDArray[np.float32]

LINE_KERNEL_MM = 3.2
"""Lines narrower than about this are told from the paper round them (pens draw 0.3 to 1.5 mm)."""
SHEET_RIM_MM = (13.0, 21.0)
"""Blank paper at the sides and at the ends of a marker sheet, A4 and Letter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shades:
    """Shades of a flat picture, all (h, w).

    grey: 0 to 255. dark: how much light a narrow dark line takes away, 0 on plain paper, 0.6 on a
    black line. sheets: where marker sheets lie. usable: what is seen and no sheet covers.
    """

    grey: Shade
    dark: Shade
    sheets: Mask
    usable: Mask
    px_per_mm: float


def shades(flat: Flat) -> Shades:
    """Return the shades of a flat picture. Raises BadInput without the extra "photo"."""
    cv2 = library("cv2")
    plain = cv2.cvtColor(flat.image, cv2.COLOR_RGB2GRAY)
    usable = flat.seen.copy()
    if not usable.all():
        plain = np.where(usable, plain, np.uint8(np.median(plain[usable]))).astype(np.uint8)
    side = max(3, 2 * round(LINE_KERNEL_MM * flat.px_per_mm / 2) + 1)
    kernel = cv2.getStructuringElement(cv2.MORPH_RECT, (side, side))
    around = cv2.morphologyEx(plain, cv2.MORPH_CLOSE, kernel)
    grey = plain.astype(np.float32)
    dark = 1.0 - (grey + 1.0) / (around.astype(np.float32) + 1.0)
    sheets = _covered(flat) & usable
    return Shades(
        grey=grey,
        dark=dark,
        sheets=sheets,
        usable=usable & ~sheets,
        px_per_mm=flat.px_per_mm,
    )


def _covered(flat: Flat) -> Mask:
    """Where marker sheets lie."""
    cv2 = library("cv2")
    out = np.zeros(flat.seen.shape, np.uint8)
    for corners in flat.sheets.values():
        middle = corners.mean(axis=0)
        right = (corners[1] - corners[0]) / WIDTH_MM
        up = (corners[3] - corners[0]) / HEIGHT_MM
        wide, tall = WIDTH_MM / 2 + SHEET_RIM_MM[0], HEIGHT_MM / 2 + SHEET_RIM_MM[1]
        box = np.array([middle + sx * wide * right + sy * tall * up for sx, sy in _CORNERS])
        cv2.fillPoly(out, [np.round(flat.ground.to_pixels(box)).astype(np.int32)], 1)
    return out.astype(np.bool_)


_CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))


def disc(radius_px: float) -> NDArray[np.uint8]:
    """Return a round brush (at least 3 px across) for widening and narrowing areas."""
    side = 2 * max(1, round(radius_px)) + 1
    brush: NDArray[np.uint8] = library("cv2").getStructuringElement(
        library("cv2").MORPH_ELLIPSE, (side, side)
    )
    return brush
