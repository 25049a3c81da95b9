"""Find the markers of our sheets in a photo, and how sharp the photo is."""

from __future__ import annotations

from collections import Counter
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.errors import BadInput
from clothwright.photo.arrays import Numbers
from clothwright.photo.extra import library
from clothwright.photo.read import Photo
from clothwright.photo.sheet import CELLS, DICTIONARY, MARKERS, marker_corners, sheet_words

Grey = NDArray[np.uint8]

BLURRED_PX = 5.0
"""An edge that takes more pixels than this from black to white is called blurred (a sharp photo
of a phone needs 2 to 3)."""
SIDE_POINTS = 6


class MarkerSeen(NamedTuple):
    """A marker seen: its number, its corners (4, 2) in pixels (upper left of the sheet first)."""

    number: int
    corners: Numbers

    @property
    def sheet(self) -> int:
        """The sheet it is printed on, from 0."""
        return self.number // MARKERS


class MarkersFound(NamedTuple):
    """What one photo shows. edge_px: pixels from black to white across the markers' edges."""

    markers: tuple[MarkerSeen, ...]
    edge_px: float


def find_markers(photo: Photo) -> MarkersFound:
    """Return the markers of a photo.

    Raises BadInput: no marker, a mirrored photo, two sheets of the same number.
    """
    cv2 = library("cv2")
    grey = cv2.cvtColor(photo.pixels, cv2.COLOR_RGB2GRAY)
    markers = _detected(cv2, grey)
    if not markers:
        raise _nothing_seen(cv2, grey, photo.name)
    often = Counter(m.number for m in markers)
    number, count = often.most_common(1)[0]
    if count > 1:
        raise BadInput(
            where=photo.name,
            what=f"sheet {sheet_words(number // MARKERS)} is seen {count} times",
            expected="every sheet with a number of its own",
            try_="laying sheets of different numbers",
        )
    return MarkersFound(markers, _edge_width(grey, markers))


def _detected(cv2: Any, grey: Grey) -> tuple[MarkerSeen, ...]:
    settings = cv2.aruco.DetectorParameters()
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    settings.cornerRefinementWinSize = 8
    settings.cornerRefinementMaxIterations = 60
    settings.cornerRefinementMinAccuracy = 0.005
    settings.minMarkerPerimeterRate = 0.02
    dictionary = cv2.aruco.getPredefinedDictionary(getattr(cv2.aruco, DICTIONARY))
    corners, numbers, _ = cv2.aruco.ArucoDetector(dictionary, settings).detectMarkers(grey)
    if numbers is None or len(corners) == 0:
        return ()
    return tuple(
        MarkerSeen(int(number), np.asarray(at, dtype=np.float64).reshape(4, 2))
        for number, at in sorted(
            zip(np.ravel(numbers), corners, strict=True), key=lambda pair: int(pair[0])
        )
        if marker_corners(int(number)) is not None
    )


def _nothing_seen(cv2: Any, grey: Grey, name: str) -> BadInput:
    if _detected(cv2, np.ascontiguousarray(grey[:, ::-1])):
        return BadInput(
            where=name,
            what="the photo is mirrored: the markers are seen the wrong way round",
            expected="the photo as it was taken",
            try_="turning off the mirroring of the front camera, or using the back camera",
        )
    return BadInput(
        where=name,
        what="no marker sheet is seen",
        expected="at least one marker sheet, flat and sharp, beside the piece",
        try_="printing sheets with: clothwright sheets",
    )


def _edge_width(grey: Grey, markers: tuple[MarkerSeen, ...]) -> float:
    """Pixels from 10 % to 90 % of the step across the outer edges, the median of all markers."""
    widths = [w for m in markers for w in _widths(grey, m.corners)]
    return float(np.median(widths)) if widths else 0.0


def _widths(grey: Grey, corners: Numbers) -> list[float]:
    middle = corners.mean(axis=0)
    found = []
    for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        side = float(np.hypot(*(b - a)))
        across = np.array([a[1] - b[1], b[0] - a[0]]) / max(side, 1.0)
        if across @ (middle - a) > 0:
            across = -across
        reach = 0.7 * side / CELLS
        steps = np.linspace(-reach, reach, 41)
        shares = np.linspace(0.2, 0.8, SIDE_POINTS)
        base = a + shares[:, None] * (b - a)
        at = base[:, None, :] + steps[None, :, None] * across
        profile = bilinear(grey, at.reshape(-1, 2)).reshape(SIDE_POINTS, -1).mean(axis=0)
        dark, light = float(profile[:6].mean()), float(profile[-6:].mean())
        if light - dark > 25.0:
            rising = np.maximum.accumulate(profile)
            low, high = np.interp(
                [dark + 0.1 * (light - dark), dark + 0.9 * (light - dark)], rising, steps
            )
            found.append(float(high - low))
    return found


def bilinear(grey: NDArray[np.uint8] | NDArray[np.float32], at: Numbers) -> Numbers:
    """Return the values of a picture at pixels (n, 2), between its pixels by a straight line."""
    x = np.clip(at[:, 0], 0.0, grey.shape[1] - 1.001)
    y = np.clip(at[:, 1], 0.0, grey.shape[0] - 1.001)
    column, row = x.astype(np.intp), y.astype(np.intp)
    fx, fy = x - column, y - row
    upper = grey[row, column] * (1 - fx) + grey[row, column + 1] * fx
    lower = grey[row + 1, column] * (1 - fx) + grey[row + 1, column + 1] * fx
    between: Numbers = upper * (1 - fy) + lower * fy
    return between
