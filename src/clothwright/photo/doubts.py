"""What is doubtful about an outline found in a photo: told with its place, never swallowed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from clothwright.geometry.vec import Vec
from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.extra import library
from clothwright.photo.flatness import EVERY, Heights
from clothwright.photo.region import LINE_DARK, Area
from clothwright.photo.shades import Shades, disc
from clothwright.photo.trace import STEP_MM, Fitted, Traced, outward, profiles, smoothed

NEAR_MM, FAR_MM = 2.4, 14.0
"""Other lines within this of the outline are looked for."""
SECOND_MM = 25.0
"""A line that runs beside the outline for so long is another size's."""
DASH_MM = 12.0
"""Bits of a line that lie no farther apart than this are one line, dashed or hidden in between."""
ARM_MM, CURLS_DEG, SEEN_MM = 15.0, 45.0, 15.0
"""A corner may curl when the outline turns by so much outward between arms of 15 mm; photos from
two sides have to see something within 15 mm of it."""
APART_MM = 50.0
"""Along a stretch that is doubtful all the way, doubts stand no farther apart than this."""
GAP_MM = 1.5
DRAWN, PEN_MM = 0.5, 0.7
"""Lines inside paper that is followed by its edge are doubted from this part of its outline on."""
GONE = 0.2
"""A line is gone where it is no darker than this part of what it is elsewhere."""
FAINT_DARK = 0.03
RIPPLE = 9.0
"""A crease stands out so many times more than the ripples of the paper beside the line."""


class PhotoDoubt(NamedTuple):
    """One question about an outline.

    code: kebab-case. at: where, mm of the flat picture. words: what, for the maker. also: further
    places that the same question is about, such as along a second line.
    """

    code: str
    at: Vec
    words: str
    also: tuple[Vec, ...] = ()

    @property
    def places(self) -> tuple[Vec, ...]:
        """All places that it is about, mm."""
        return (self.at, *self.also)

    def about(self, places: Sequence[Vec]) -> PhotoDoubt:
        """Return the same question about other places (one at least)."""
        return self._replace(at=places[0], also=tuple(places[1:]))

    def away_from(self, spots: Sequence[Vec], reach_mm: float) -> tuple[Vec, ...]:
        """Return its places (mm) that none of these is nearer to than `reach_mm`."""
        return tuple(p for p in self.places if all(p.distance(s) >= reach_mm for s in spots))


Found = tuple[str, tuple[Vec, ...]]
"""A doubt's code and all its places, mm."""


WORDS = {
    "gap": "the line has a gap here; it was drawn straight across",
    "touch": "lettering or another line touches the line here",
    "second-line": "a second line, perhaps of another size, runs beside the line here",
    "crease": "a crease or faint line runs beside the line here",
    "faint": "the line is faint or hidden here",
    "edge": "the edge of the paper is hard to tell from the table or a shadow here",
    "drawn": "lines are drawn on the paper: is the outline one of them, and not the edge?",
    "lifted": "the paper does not lie flat here: photos from two sides see it at two places",
    "jump": "the line jumps here: a crease, a fold or lettering",
    "cut-off": "the outline comes to the rim of the photos or under a marker sheet here",
    "corner": "photos from one side do not show whether a corner curls up: did it lie flat here?",
}


def doubts_of(
    dim: Shades, region: Area, trace: Traced, fit: Fitted, heights: Heights, *, asked: bool
) -> tuple[PhotoDoubt, ...]:
    """Return the doubts about an outline, each once, in order along it.

    asked: it was said what the outline is, a line or an edge.
    """
    found: list[Found] = []
    for code, spots in (("gap", region.bridged), ("touch", region.strokes)):
        found += [(code, (Vec(*map(float, p)),)) for p in _mm(dim, spots)] if len(spots) else []
    weak = "faint" if region.by_line else "edge"
    away = _from_corners(len(trace.points), fit.corners, 3.0)
    found += _runs(weak, ~trace.good & away, trace.points, GAP_MM)
    if region.by_line:
        gone = trace.strength < GONE * float(np.median(trace.strength))
        found += _runs("gap", gone & away, trace.points, GAP_MM)
    found += _runs("jump", fit.jumps, trace.points, 1.0)
    found += _runs("lifted", np.repeat(heights.stands, EVERY)[: len(away)], trace.points, 8.0)
    if not (region.by_line or asked) and _ink_length(dim, region) > DRAWN * len(away) * STEP_MM:
        found += _runs("drawn", np.ones(len(away), dtype=bool), trace.points, 1.0)
    found += _beside(dim, trace, away, by_line=region.by_line)
    found += _corners(trace.points, fit.corners, heights)
    found += _runs("cut-off", _at_the_rim(dim, trace.points), trace.points, 1.0)
    return _once(found)


def _ink_length(dim: Shades, region: Area) -> float:
    """How much is drawn inside an area, as the length of a line of usual width, mm."""
    cv2 = library("cv2")
    inside = cv2.erode(region.mask.astype(np.uint8), disc(4.0 * dim.px_per_mm)) > 0
    ink = float(((dim.dark > LINE_DARK) & inside).sum())
    return ink / dim.px_per_mm**2 / PEN_MM


def _mm(dim: Shades, spots: Numbers) -> Numbers:
    """Pixels of the flat picture as mm, y up."""
    middle = (spots + 0.5) / dim.px_per_mm
    return np.stack([middle[:, 0], dim.grey.shape[0] / dim.px_per_mm - middle[:, 1]], axis=1)


def _corners(points: Numbers, corners: tuple[int, ...], heights: Heights) -> list[Found]:
    """Corners of paper that may curl and are not seen from two sides: one question about them all.

    Only what two photos see from different sides has a known height (`Heights.known`).
    """
    n, arm, reach = len(points), round(ARM_MM / STEP_MM), round(SEEN_MM / STEP_MM)
    known = np.repeat(heights.known, EVERY)[:n]
    spots = []
    for k in corners:
        back, ahead = points[k] - points[k - arm], points[(k + arm) % n] - points[k]
        turn = math.atan2(back[0] * ahead[1] - back[1] * ahead[0], back @ ahead)
        around = np.arange(k - reach, k + reach + 1) % n
        if math.degrees(turn) > CURLS_DEG and not known[around].any():
            spots.append(Vec(*map(float, points[k])))
    return [("corner", tuple(spots))] if spots else []


def _runs(code: str, which: Mask, points: Numbers, least_mm: float) -> list[Found]:
    """The middle of each run of points, closed round the end; of a long run, places along it."""
    n, found = len(points), []
    for middle, length in _lengths(which):
        if length * STEP_MM >= least_mm:
            count = math.ceil(length * STEP_MM / APART_MM)
            parts = [middle + round(length * ((k + 0.5) / count - 0.5)) for k in range(count)]
            found.append((code, tuple(Vec(*map(float, points[at % n])) for at in parts)))
    return found


def _together(found: list[Found]) -> list[Found]:
    """Doubts of one kind that have one answer as one: the runs of one line beside the outline."""
    places = {code: tuple(p for c, spots in found if c == code for p in spots) for code, _ in found}
    return list(places.items())


def _lengths(which: Mask, bridged: int = 3) -> list[tuple[int, int]]:
    """(middle, number of points) of each run in a closed line; gaps of so many are bridged."""
    n = len(which)
    if not which.any():
        return []
    if which.all():
        return [(0, n)]
    start = int(np.argmin(which))
    at = np.flatnonzero(np.roll(which, -start))
    groups = np.split(at, np.flatnonzero(np.diff(at) > bridged + 1) + 1)
    return [((int(g[len(g) // 2]) + start) % n, int(g[-1] - g[0] + 1)) for g in groups]


def _from_corners(n: int, corners: tuple[int, ...], clear_mm: float) -> Mask:
    """Which points are clear of all corners."""
    index = np.arange(n)
    away = np.full(n, float(n))
    for c in corners:
        gap = np.abs(index - c)
        away = np.minimum(away, np.minimum(gap, n - gap))
    return np.asarray(away * STEP_MM > clear_mm)


def _beside(dim: Shades, trace: Traced, away: Mask, *, by_line: bool) -> list[Found]:
    """Other lines beside the outline: dark (another size, touching) or faint (a crease).

    Beside the edge of cut paper only its inside counts; the rest is table. A line is one question,
    dashed or interrupted though it be.
    """
    points = trace.points
    across = outward(smoothed(points, 2.0 / STEP_MM))
    steps = np.arange(-FAR_MM, FAR_MM + 0.1 if by_line else 0.0, 0.25)
    dark = profiles(dim, points, across, steps, dark=True)
    mine = float(np.median(dark[:, np.abs(steps) < NEAR_MM].max(axis=1))) if by_line else 0.0
    level = max(LINE_DARK, 0.4 * mine)
    found: list[Found] = []
    taken = np.zeros(len(points), dtype=bool)
    for side in (steps > NEAR_MM, steps < -NEAR_MM):
        if not side.any():
            continue
        strong = (dark[:, side] > level).any(axis=1) & away
        second: list[Found] = []
        for middle, length in _lengths(strong, round(DASH_MM / STEP_MM)):
            if length * STEP_MM >= SECOND_MM:
                run = _around(len(points), middle, length)
                second += _runs("second-line", run, points, SECOND_MM)
                taken |= run
        found += _together(second)
        near = side & (np.abs(steps) < NEAR_MM + 1.2)
        close = (dark[:, near] > level).any(axis=1) & away & ~taken
        found += _runs("touch", close, points, 0.5)
    near = (np.abs(steps) > (1.6 if by_line else 3.0)) & (np.abs(steps) < 6.0)
    faint = _steady(dark[:, near], level)
    found += _runs("crease", faint & away & ~taken, points, 12.0)
    return found


def _steady(dark: Numbers, level: float) -> Mask:
    """Where a faint ridge runs along: dark at one distance over 8 mm of the outline."""
    width = 8.0 / STEP_MM
    along = smoothed(dark, width / 3)
    plain = np.median(along, axis=1, keepdims=True)
    ridge = (along - plain).max(axis=1)
    usual = float(np.median(ridge))
    spread = float(np.median(np.abs(ridge - usual)))
    faint = max(FAINT_DARK, usual + RIPPLE * spread)
    return np.asarray((ridge > faint) & (along.max(axis=1) < level))


def _around(n: int, middle: int, length: int) -> Mask:
    gap = np.abs(np.arange(n) - middle)
    return np.asarray(np.minimum(gap, n - gap) <= length / 2 + 3.0 / STEP_MM)


def _at_the_rim(dim: Shades, points: Numbers) -> Mask:
    """Which points lie where the photos show nothing, or a sheet lies."""
    rows, columns = dim.usable.shape
    column = np.clip((points[:, 0] * dim.px_per_mm).astype(int), 0, columns - 1)
    row = np.clip((rows - points[:, 1] * dim.px_per_mm).astype(int), 0, rows - 1)
    return np.asarray(~dim.usable[row, column])


ORDER = tuple(WORDS)
ONCE_MM = 12.0


def _once(found: list[Found]) -> tuple[PhotoDoubt, ...]:
    """Places nearer than 12 mm to one of the same or of a graver kind are asked about once."""
    kept: list[PhotoDoubt] = []
    taken: list[Vec] = []
    for code, places in sorted(found, key=lambda f: ORDER.index(f[0])):
        left: list[Vec] = []
        for at in places:
            if all(at.distance(p) > ONCE_MM for p in taken):
                left.append(at)
                taken.append(at)
        if left:
            kept.append(PhotoDoubt(code, left[0], WORDS[code], tuple(left[1:])))
    return tuple(kept)
