"""Photos with marker sheets in them, made into one flat picture with a known scale and error."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.errors import BadInput
from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.bundle import Bundle, laid, laid_onto, sheet_names, solve
from clothwright.photo.lens import Lens, Pose, on_table, seen_at, view_slope
from clothwright.photo.markers import BLURRED_PX, MarkersFound, find_markers
from clothwright.photo.read import Photo, Pixels
from clothwright.photo.resample import FlatFrame, resampled
from clothwright.photo.sheet import BAR_MM, HEIGHT_MM, MARKERS, WIDTH_MM

MOST_PHOTOS = 12
BAR_LEAST_MM, BAR_MOST_MM = 180.0, 220.0
BAR_READING_MM = 0.3
"""How well a ruler is read at both ends of the bar together, 19 times in 20."""
LIFT_MM = 0.4
"""How far paper that looks flat stands off the table here and there; it then seems shifted
away from the camera by this times the slope of the view."""
FINEST_PX_MM = 3.0
MOST_FLAT_PIXELS = 24_000_000
MARGIN_MM, FEW_MARGIN_MM = 200.0, 700.0
"""How far beyond the sheets the flat picture goes; with one or two sheets, farther."""
UNEVEN_TIMES, UNEVEN_PX = 2.5, 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Flat:
    """The table seen straight from above.

    image: (h, w, 3) red, green, blue; what no photo shows is (0, 0, 0) and False in `seen` (h, w).
    A point of the table (x, y), mm from the lower left of the picture, y up, is at column
    x px_per_mm - 1/2, row h - y px_per_mm - 1/2. error_mm: 19 times in 20, no line between the
    sheets lies farther than this from its true place, after the best shift and turn of the whole.
    doubts: what may be wrong, in words. sheets: corners (4, 2) of each sheet's printed part, mm.
    """

    image: Pixels
    seen: Mask
    px_per_mm: float
    error_mm: float
    doubts: tuple[str, ...]
    sheets: dict[int, Numbers]
    solved: Bundle
    ground: FlatFrame
    photos: tuple[Photo, ...]

    def error_over(self, points: Numbers, lift_mm: float | None = None) -> float:
        """Return the error, mm, as `error_mm` but over these points (n, 2), mm.

        lift_mm: the part of it of paper that stands off the table, when that is known better.
        """
        back = self.ground.to_table(points)
        return _error(self.solved, back, self.ground.scale, lift_mm)


def flatten(photos: Sequence[Photo], *, bar_mm: float = BAR_MM) -> Flat:
    """Return the table flat from one to twelve photos of it with marker sheets on it.

    bar_mm: what a ruler says of the 200 mm bar of the printed sheets. Raises BadInput: no sheet,
    mirrored, photos that no sheet ties together, sheets moved, a bar that cannot be right; or the
    extra "photo" is not installed.
    """
    _check(photos, bar_mm)
    found = [find_markers(p) for p in photos]
    solved = solve(photos, [f.markers for f in found])
    ground = _ground(photos, solved, bar_mm / BAR_MM)
    image, seen = resampled(photos, solved.lenses, solved.poses, ground)
    sheets = {s: ground.to_flat(_sheet_corners(at)) for s, at in solved.sheets.items()}
    between = ground.to_table(_grid_over(np.concatenate(list(sheets.values()))))
    return Flat(
        image=image,
        seen=seen,
        px_per_mm=ground.px_per_mm,
        error_mm=_error(solved, between, ground.scale),
        doubts=_doubts(photos, found, solved),
        sheets=sheets,
        solved=solved,
        ground=ground,
        photos=tuple(photos),
    )


def _check(photos: Sequence[Photo], bar_mm: float) -> None:
    if not 1 <= len(photos) <= MOST_PHOTOS:
        raise BadInput(what=f"{len(photos)} photos", expected=f"1 to {MOST_PHOTOS} photos")
    check_bar(bar_mm)


def check_bar(bar_mm: float) -> None:
    """Raise BadInput for what cannot be the length of the bar of a printed sheet, mm."""
    if not BAR_LEAST_MM <= bar_mm <= BAR_MOST_MM:
        raise BadInput(
            where="bar",
            what=("a bar of ", bar_mm, " is too far from the ", BAR_MM, " it was printed for"),
            expected="what a ruler says of the bar on the printed sheet",
            try_="printing the sheets at 100 %",
        )


def _sheet_corners(at: tuple[float, float, float]) -> Numbers:
    """Corners of what is printed on a sheet, on the table, mm as printed."""
    box = np.array([(0.0, 0.0), (WIDTH_MM, 0.0), (WIDTH_MM, HEIGHT_MM), (0.0, HEIGHT_MM)])
    return laid(box, np.array(at))


def _ground(photos: Sequence[Photo], solved: Bundle, scale: float) -> FlatFrame:
    """Lay the flat picture: upright as the sheet with the lowest number, round all sheets."""
    first = min(solved.sheets)
    turn = -solved.sheets[first][2]
    draft = FlatFrame(turn=turn, scale=scale, low=(0.0, 0.0), size=(1.0, 1.0), px_per_mm=1.0)
    sheets = draft.to_flat(np.concatenate([_sheet_corners(at) for at in solved.sheets.values()]))
    shown = np.concatenate(
        [draft.to_flat(_footprint(p, lens, pose)) for p, lens, pose in _cameras(photos, solved)]
    )
    margin = MARGIN_MM if len(solved.sheets) > 2 else FEW_MARGIN_MM
    low = np.maximum(sheets.min(axis=0) - margin, np.nanmin(shown, axis=0))
    high = np.minimum(sheets.max(axis=0) + margin, np.nanmax(shown, axis=0))
    size = high - low
    finest = min(FINEST_PX_MM, 1.2 * _sharpest(solved, sheets.mean(axis=0), draft))
    fine = min(finest, math.sqrt(MOST_FLAT_PIXELS / float(size[0] * size[1])))
    return FlatFrame(
        turn=turn,
        scale=scale,
        low=(float(low[0]), float(low[1])),
        size=(float(size[0]), float(size[1])),
        px_per_mm=fine,
    )


def _cameras(photos: Sequence[Photo], solved: Bundle) -> list[tuple[Photo, Lens, Pose]]:
    return list(zip(photos, solved.lenses, solved.poses, strict=True))


def _footprint(photo: Photo, lens: Lens, pose: Pose) -> Numbers:
    """What a photo shows of the table: points along its rim and across it, nan where too flat."""
    x, y = np.meshgrid(np.linspace(0, photo.width - 1, 9), np.linspace(0, photo.height - 1, 9))
    return on_table(lens, pose, np.stack([x.ravel(), y.ravel()], axis=1))


def _sharpest(solved: Bundle, middle: Numbers, draft: FlatFrame) -> float:
    """Pixels of the best photo for 1 mm in the middle of the sheets."""
    best = 0.0
    pair = draft.to_table(middle + np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]))
    for lens, pose in zip(solved.lenses, solved.poses, strict=True):
        at = seen_at(lens, pose, pair)
        if not np.isnan(at).any():
            best = max(best, math.sqrt(abs(float(np.linalg.det(at[1:] - at[0])))))
    return best or 1.0


# --- the error -----------------------------------------------------------------------------------


class _Parts(NamedTuple):
    """95 % bounds of the parts of the error, mm."""

    solution: float
    bar: float
    lift: float


def _error(solved: Bundle, table: Numbers, scale: float, lift_mm: float | None = None) -> float:
    parts = _error_parts(solved, table, scale)
    if lift_mm is not None:
        parts = parts._replace(lift=lift_mm)
    return math.sqrt(sum(p * p for p in parts))


def _error_parts(solved: Bundle, table: Numbers, scale: float) -> _Parts:
    """What the solution leaves open, what the ruler leaves open, what paper off the table does."""
    reach = float(np.hypot(*(table - table.mean(axis=0)).T).max()) * scale
    worst = [float(np.hypot(*d.T).max()) * scale for d in _drift_fields(solved, table)]
    slopes = np.min([view_slope(pose, table) for pose in solved.poses], axis=0)
    return _Parts(
        solution=float(np.quantile(worst, 0.95)),
        bar=BAR_READING_MM / BAR_MM * reach,
        lift=LIFT_MM * float(np.quantile(slopes, 0.9)),
    )


def _drift_fields(solved: Bundle, table: Numbers) -> list[Numbers]:
    """For each drift: how points move on the table (n, 2), mm, shift and turn taken out."""
    best = _best_photo(solved, table)
    pixels = np.zeros_like(table)
    for k, (lens, pose) in enumerate(zip(solved.lenses, solved.poses, strict=True)):
        pixels[best == k] = seen_at(lens, pose, table[best == k])
    fields = []
    for lenses, poses in solved.drifts:
        there = np.zeros_like(table)
        for k, (lens, pose) in enumerate(zip(lenses, poses, strict=True)):
            there[best == k] = on_table(lens, pose, pixels[best == k])
        fields.append(_fitted_off(table, there))
    return fields


def _best_photo(solved: Bundle, table: Numbers) -> NDArray[np.intp]:
    """The photo that sees each point most from above."""
    best: NDArray[np.intp] = np.argmin([view_slope(pose, table) for pose in solved.poses], axis=0)
    return best


def _fitted_off(here: Numbers, there: Numbers) -> Numbers:
    """How far points are off after the best shift and turn; points that are not seen: 0."""
    good = ~np.isnan(there).any(axis=1)
    if good.sum() < 3:
        return np.zeros_like(here)
    return laid(there[good], laid_onto(there[good], here[good])) - here[good]


def _grid_over(points: Numbers) -> Numbers:
    """Points all over the box of others, 9 by 9."""
    low, high = points.min(axis=0), points.max(axis=0)
    x, y = np.meshgrid(np.linspace(low[0], high[0], 9), np.linspace(low[1], high[1], 9))
    return np.stack([x.ravel(), y.ravel()], axis=1)


# --- the doubts ----------------------------------------------------------------------------------


def _doubts(
    photos: Sequence[Photo], found: Sequence[MarkersFound], solved: Bundle
) -> tuple[str, ...]:
    said = [
        f"{photo.name} is blurred: hold the camera still, or give it more light"
        for photo, f in zip(photos, found, strict=True)
        if f.edge_px > BLURRED_PX
    ]
    if len(solved.sheets) == 1:
        said.append(
            "only one marker sheet is seen: far from it the picture may be stretched; "
            "lay sheets on all sides of the piece"
        )
    elif len(photos) == 1 and len(solved.sheets) == 2:
        said.append("only two marker sheets are seen: four, on both sides, measure better")
    middle = float(np.median(list(solved.sheet_px.values())))
    uneven = [
        s for s, off in solved.sheet_px.items() if off > max(UNEVEN_PX, UNEVEN_TIMES * middle)
    ]
    if not uneven and solved.rms_px > UNEVEN_PX:
        uneven = [max(solved.sheet_px, key=lambda s: solved.sheet_px[s])]
    if uneven:
        said.append(f"sheet {sheet_names(uneven)} may not lie flat, or was moved between photos")
    if solved.dropped:
        said.append(f"{solved.dropped} of the markers did not agree and were left out")
    few = [s for s in solved.sheets if _count(found, s) < MARKERS // 2]
    if few:
        said.append(f"of sheet {sheet_names(few)} hardly any markers are seen whole")
    return tuple(said)


def _count(found: Sequence[MarkersFound], sheet: int) -> int:
    return len({m.number for f in found for m in f.markers if m.sheet == sheet})
