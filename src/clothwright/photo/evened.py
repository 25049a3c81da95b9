"""A straightened photo as colours to compare: its light evened out, lightness and two colours."""

from __future__ import annotations

from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from clothwright.photo.arrays import Numbers
from clothwright.photo.extra import library
from clothwright.photo.read import Pixels

Colours = NDArray[np.float32]
"""(height, width, 3): L* a* b* of CIE 1976 (100 = white), row 0 on top."""
GRID = 40
_LINEAR = (np.arange(256) / 255.0) ** 2.2
"""Light of each of the 256 steps of a pixel, 1 = white."""


def evened(image: Pixels) -> Pixels:
    """Return a picture as if it were lit the same all over.

    A smooth sheet of light (of second degree, in both ways) is fitted to the brightness of small
    patches; patches that stand out, such as those of a border, count little.
    """
    return _pixels(_linear(image) / _light(image)[:, :, None])


def colours(image: Pixels) -> Colours:
    """Return a picture as L* a* b*."""
    cv2 = library("cv2")
    return cast(Colours, cv2.cvtColor(image.astype(np.float32) / 255.0, cv2.COLOR_RGB2Lab))


def blurred(picture: Colours, sigma_px: float) -> Colours:
    """Return a picture softened by a bell of this size (px), to quieten weave and noise."""
    cv2 = library("cv2")
    return cast(Colours, cv2.GaussianBlur(picture, (0, 0), max(sigma_px, 0.3)))


def shrunk(picture: Any, factor: float) -> Any:
    """Return a picture made smaller by a factor of 1 or more."""
    if factor <= 1.0:
        return picture
    cv2 = library("cv2")
    h, w = (max(1, round(n / factor)) for n in picture.shape[:2])
    return cv2.resize(picture, (w, h), interpolation=cv2.INTER_AREA)


def _linear(image: Pixels) -> Numbers:
    return np.asarray(_LINEAR[image])


def _pixels(linear: Numbers) -> Pixels:
    return (np.clip(linear, 0.0, 1.0) ** (1.0 / 2.2) * 255.0 + 0.5).astype(np.uint8)


def _light(image: Pixels) -> Numbers:
    """Return the light on each pixel, 1 where it is as bright as on the median patch."""
    h, w = image.shape[:2]
    factor = max(1.0, min(h, w) / GRID)
    small = np.log(shrunk(_linear(image), factor).mean(axis=2) + 0.01)
    gh, gw = small.shape
    terms = _terms(gh, gw).reshape(-1, 6)
    wanted, weight = small.ravel(), np.ones(small.size)
    found = np.zeros(6)
    for _ in range(12):
        weighed = (terms * weight[:, None]).T
        found = np.linalg.solve(weighed @ terms, weighed @ wanted)
        off = wanted - terms @ found
        spread = 1.4826 * float(np.median(np.abs(off))) + 1e-3
        weight = 1.0 / (1.0 + (off / (1.5 * spread)) ** 2) ** 2
    sheet = terms @ found
    x, y = _middles(w), _middles(h)[:, None]
    a, b, c, d, e, f = found
    light = (a + b * x + d * x * x - float(np.median(sheet))) + y * (c + e * x + f * y)
    return np.asarray(np.exp(np.clip(light, -1.5, 1.5)))


def _middles(count: int) -> Numbers:
    """Return the middles of so many patches side by side, from -0.5 to 0.5."""
    return np.asarray((np.arange(count) + 0.5) / count - 0.5)


def _terms(h: int, w: int) -> Numbers:
    y, x = np.meshgrid(_middles(h), _middles(w), indexing="ij")
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=2)
