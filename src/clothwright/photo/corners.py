"""A photo of cloth made straight and true to scale: by four corners, or as a flat scan."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

import numpy as np
from numpy.typing import NDArray

from clothwright.errors import BadInput
from clothwright.photo.extra import library
from clothwright.photo.read import Photo, Pixels
from clothwright.words import AtLeast, AtMost

Spot = tuple[float, float]
MOST_SIDE = 2400
"""Pixels of the longer side of a straightened picture."""
CORNER_PX = 1.5
"""How far a corner is put beside its true place, in pixels of the photo as it was shown (from
memory of such work; the page shows the corner enlarged)."""
SHOWN_SIDE = 1200.0
"""Pixels of the longer side of the photo while its corners are put in place."""
TYPED_MM = 1.0
"""How well a length is read from a tape along cloth."""
LENS = 0.02
"""What a phone's own correction leaves of the lens's barrel: k1 of r (1 + k1 r²), r in focal
lengths. From memory; a lens that is not corrected has 0.05 to 0.06."""
LEAST_MM, MOST_MM = 20.0, 5000.0
LEAST_DPI, MOST_DPI = 50.0, 2400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothPhoto:
    """A piece of cloth seen straight from above, right side up, the selvedge along x.

    image: (height, width, 3) uint8 red, green, blue, row 0 on top. error_share: how far lengths
    in it may be wrong, as a share (0.005 = 5 mm in a metre). doubts: sentences.
    """

    image: Pixels
    px_per_mm: float
    error_share: float
    doubts: tuple[str, ...] = ()

    @property
    def width(self) -> float:
        """What it shows along the selvedge, mm."""
        return float(self.image.shape[1]) / self.px_per_mm

    @property
    def height(self) -> float:
        """What it shows across, mm."""
        return float(self.image.shape[0]) / self.px_per_mm


def by_corners(photo: Photo, corners: Sequence[Spot], width: float, height: float) -> ClothPhoto:
    """Return what lies within four marked corners of a rectangle measured on the cloth.

    corners: pixels (x right, y down) of the photo, in the order lower left, lower right, upper
    right, upper left as it shall lie. width, height: mm between them, by the tape. What the lens
    bends is not known from one photo; error_share says how much it may be. Raises BadInput.
    """
    _size("width", width)
    _size("height", height)
    source = _corners(photo, corners)
    sides = [math.dist(source[a], source[b]) for a, b in ((0, 1), (3, 2), (1, 2), (0, 3))]
    own = max(sum(sides[:2]) / 2.0 / width, sum(sides[2:]) / 2.0 / height)
    scale = min(own, MOST_SIDE / max(width, height))
    w, h = max(1, round(width * scale)), max(1, round(height * scale))
    target = np.array([(0, h), (w, h), (w, 0), (0, 0)], dtype=np.float32) - 0.5
    cv2 = library("cv2")
    matrix = cv2.getPerspectiveTransform(source.astype(np.float32), target)
    flags = cv2.INTER_AREA if scale < own else cv2.INTER_LINEAR
    sharp = _smaller(photo.pixels, own / scale)
    if sharp is not photo.pixels:
        down = sharp.shape[1] / photo.width
        back = np.array([[down, 0, (down - 1) / 2], [0, down, (down - 1) / 2], [0, 0, 1]])
        matrix = matrix @ np.linalg.inv(back)
    image = cast(Pixels, cv2.warpPerspective(sharp, matrix, (w, h), flags=flags))
    px_per_mm = (w / width + h / height) / 2.0
    share = _error_share(photo, source, width, height)
    return ClothPhoto(
        image=image, px_per_mm=px_per_mm, error_share=share, doubts=_doubts(source, own, share)
    )


def by_scan(photo: Photo, dpi: float) -> ClothPhoto:
    """Return a flat scan of cloth, true to scale by its dots an inch (px/in). Raises BadInput."""
    if not math.isfinite(dpi) or not LEAST_DPI <= dpi <= MOST_DPI:
        raise BadInput(
            where="dots an inch",
            what=f"found {dpi:g}",
            expected=f"{LEAST_DPI:g} to {MOST_DPI:g}, as the scanner was set",
        )
    px_per_mm = dpi / 25.4
    image = _smaller(photo.pixels, max(photo.pixels.shape[:2]) / MOST_SIDE)
    return ClothPhoto(
        image=image, px_per_mm=px_per_mm * image.shape[1] / photo.width, error_share=0.003
    )


def _smaller(pixels: Pixels, factor: float) -> Pixels:
    """Return a picture made smaller by a factor, each pixel the mean of those it stands for."""
    if factor <= 1.0:
        return pixels
    h, w = (max(1, round(n / factor)) for n in pixels.shape[:2])
    cv2 = library("cv2")
    return cast(Pixels, cv2.resize(pixels, (w, h), interpolation=cv2.INTER_AREA))


def _size(name: str, mm: float) -> None:
    if not math.isfinite(mm) or not LEAST_MM <= mm <= MOST_MM:
        raise BadInput(
            where=f"{name} between the corners",
            what=("found ", mm) if math.isfinite(mm) else "no number was found",
            expected=(AtLeast(LEAST_MM), " to ", AtMost(MOST_MM), ", measured on the cloth"),
        )


def _corners(photo: Photo, corners: Sequence[Spot]) -> NDArray[np.float64]:
    """Return the corners as an array; they must go round once, within the photo."""
    spots = np.array(corners, dtype=np.float64)
    if spots.shape != (4, 2) or not np.isfinite(spots).all():
        raise BadInput(where="corners", what="not four places", expected="four corners")
    slack = 0.02 * max(photo.width, photo.height)
    low, high = -slack, np.array([photo.width + slack, photo.height + slack])
    turns = [
        _cross(spots[(k + 1) % 4] - spots[k], spots[(k + 2) % 4] - spots[(k + 1) % 4])
        for k in range(4)
    ]
    least = 0.02 * min(photo.width, photo.height)
    short = min(math.dist(spots[k], spots[(k + 1) % 4]) for k in range(4)) < max(least, 20.0)
    if (spots < low).any() or (spots > high).any() or short or not all(t < 0 for t in turns):
        raise BadInput(
            where="corners",
            what="they lie crossed, turned over, too near each other or beside the photo",
            expected="lower left, lower right, upper right and upper left of a rectangle",
        )
    return spots


def _cross(a: NDArray[np.float64], b: NDArray[np.float64]) -> float:
    return float(a[0] * b[1] - a[1] * b[0])


def _error_share(photo: Photo, source: NDArray[np.float64], width: float, height: float) -> float:
    """Return how far lengths may be wrong: corner, tape and lens, as a share."""
    shown = max(photo.width, photo.height) / SHOWN_SIDE
    shortest = min(math.dist(source[k], source[(k + 1) % 4]) for k in range(4))
    corner = CORNER_PX * max(shown, 1.0) * math.sqrt(2.0) / shortest
    tape = TYPED_MM / min(width, height)
    middle = np.array([photo.width / 2.0, photo.height / 2.0])
    focal = photo.focal_px or 0.75 * math.hypot(photo.width, photo.height)
    reach = float(np.hypot(*(source - middle).T).max()) / focal
    return math.hypot(corner, tape, 0.5 * LENS * reach**2)


def _doubts(source: NDArray[np.float64], own: float, share: float) -> tuple[str, ...]:
    out = [
        "What the lens bends cannot be told from four corners: lengths may be wrong by "
        f"{100 * share:.1f} %, with an old or very wide lens by three times that."
    ]
    sides = [math.dist(source[k], source[(k + 1) % 4]) for k in range(4)]
    lean = max(
        max(sides[0], sides[2]) / min(sides[0], sides[2]), max(sides[1::2]) / min(sides[1::2])
    )
    if lean > 1.6:
        out.append("The photo was taken at a slant; from straight above it would be more exact.")
    if own < 1.0:
        out.append("The photo shows the cloth coarsely; go nearer for a fine print.")
    return tuple(out)
