"""Whether the paper lies flat along an outline: what photos from several sides say of its height.

Paper that stands off the table seems shifted away from the camera, in each photo another way. Where
one photo only sees it, nothing is known but what is usual (simple parallax, plane geometry).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.extra import library
from clothwright.photo.flatten import Flat
from clothwright.photo.lens import seen_at, view_slopes
from clothwright.photo.markers import bilinear
from clothwright.photo.trace import FINE_MM, STEP_MM, Traced, edge_at, line_at, outward, smoothed

EVERY = 4
"""Every so many points of the traced outline are looked at."""
FAR_MM = 3.0
OFF_SD_MM = 1.0
"""How far paper that was laid flat stands off, two times in three; 2 mm is not rare."""
SEEN_SD_MM = 0.12
"""How well one photo tells where a line is, beside another photo of it."""
ALONG = 9
"""Points over which one height holds."""
SURE = 3.0


class Heights(NamedTuple):
    """Along an outline, at `at` (n, 2) mm: how far it lies from where it would if all lay flat.

    off: found, signed outward (n,), mm. sd: how well that is known (n,), mm. known: at least two
    photos from different sides say so (n,).
    """

    at: Numbers
    off: Numbers
    sd: Numbers
    known: Mask

    @property
    def stands(self) -> Mask:
        """Where the paper surely does not lie flat, so that the outline is 0.4 mm off and more."""
        return self.known & (np.abs(self.off) > np.maximum(0.4, SURE * self.sd))

    @property
    def error_mm(self) -> float:
        """How far the outline may be off by paper that stands off, 19 times in 20, mm."""
        clear = ~self.stands
        if not clear.any():
            return 0.0
        whole = np.sqrt(self.off**2 * self.known + (2.0 * self.sd) ** 2)
        return float(np.quantile(whole[clear], 0.95))


def heights_along(flat: Flat, trace: Traced, *, by_line: bool) -> Heights:
    """Return how far an outline is off because its paper stands off the table."""
    across = outward(smoothed(trace.points, 2.0 / STEP_MM))[::EVERY]
    points, good = trace.points[::EVERY], trace.good[::EVERY]
    table = flat.ground.to_table(points)
    out = flat.ground.to_table(points + across) - table
    out /= np.hypot(*out.T)[:, None]
    offs, slopes, seen = [], [], []
    for k, pose in enumerate(flat.solved.poses):
        off, clear = _seen_in(flat, k, points, across, by_line=by_line)
        offs.append(off)
        slopes.append((view_slopes(pose, table) * out).sum(axis=1))
        seen.append(clear & good)
    return _solved(points, np.array(offs), np.array(slopes), np.array(seen, dtype=np.float64))


def _seen_in(
    flat: Flat, k: int, points: Numbers, across: Numbers, *, by_line: bool
) -> tuple[Numbers, Mask]:
    """Where one photo sees the outline, mm outward of the traced points, and where it does."""
    steps = np.arange(-FAR_MM, FAR_MM + FINE_MM / 2, FINE_MM)
    spots = points[:, None, :] + steps[None, :, None] * across[:, None, :]
    photo, lens, pose = flat.photos[k], flat.solved.lenses[k], flat.solved.poses[k]
    at = seen_at(lens, pose, flat.ground.to_table(spots.reshape(-1, 2)))
    size = np.array([photo.width, photo.height])
    inside = np.asarray(((at > 2.0) & (at < size - 3.0)).all(axis=1))
    grey = library("cv2").cvtColor(photo.pixels, library("cv2").COLOR_RGB2GRAY)
    shade = bilinear(grey, np.where(inside[:, None], at, 0.0)).reshape(len(points), -1)
    off, strength = (line_at if by_line else edge_at)(shade, steps)
    whole = np.asarray(inside.reshape(len(points), -1).all(axis=1))
    usual = float(np.median(strength[whole])) if whole.any() else 0.0
    clear = whole & (strength > 0.4 * usual) & (np.abs(off) < FAR_MM - 0.5)
    return _steady(np.where(clear, off, np.nan)), clear


def _steady(off: Numbers) -> Numbers:
    """The median over neighbours, so that one letter or crossing line counts for nothing."""
    half = ALONG // 2
    wide = np.concatenate([off[-half:], off, off[:half]])
    rows = np.lib.stride_tricks.sliding_window_view(wide, ALONG)
    few = np.isnan(rows).sum(axis=1) > half
    rows = np.where(few[:, None], 0.0, rows)
    return np.asarray(np.nanmedian(rows, axis=1))


def _solved(points: Numbers, offs: Numbers, slopes: Numbers, seen: Numbers) -> Heights:
    """One height and one true place a point from what the photos (k, n) say."""
    count = seen.sum(axis=0)
    many = np.maximum(count, 1.0)
    offs = np.where(seen > 0, np.nan_to_num(offs), 0.0)
    mean = offs.sum(axis=0) / many
    lean = np.where(count > 0, (slopes * seen).sum(axis=0) / many, slopes.mean(axis=0))
    apart = (slopes - lean) * seen
    weight = 1.0 / SEEN_SD_MM**2
    known = (apart**2).sum(axis=0) * weight
    precision = 1.0 / OFF_SD_MM**2 + known
    high = (apart * (offs - mean)).sum(axis=0) * weight / precision
    spread = np.sqrt(lean**2 / precision + SEEN_SD_MM**2 / np.maximum(many, 2.0) * (count > 1))
    sides = (count > 1) & (known > 1.0 / OFF_SD_MM**2)
    return Heights(points, np.where(sides, mean - high * lean, 0.0), spread, sides)
