"""Where the piece is: the area inside a drawn line, or the paper itself against the table."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.photo.extra import library
from clothwright.photo.shades import Shades, disc

Mask = NDArray[np.bool_]
Spots = NDArray[np.float64]

LINE_DARK = 0.13
"""A place this much darker than its surroundings may be a line."""
LEAST_MM2 = 2000.0
"""A smaller area is no piece (a cuff has about 200 cm², a patch pocket's flap 40)."""
BRIDGES_MM = (1.2, 2.5, 4.5)
"""Gaps of the line are closed with brushes of these radii until the area is closed."""
STROKE_MM = 2.0
"""Strokes of letters that reach into the area from its line and are narrower than twice this are
taken out of the outline."""


class Region(NamedTuple):
    """mask: the area (h, w), holes filled. by_line: found inside a drawn line, else by its edge.

    bridged: pixels (n, 2) where a gap was closed. strokes: middles of what touched the line.
    """

    mask: Mask
    by_line: bool
    bridged: Spots
    strokes: Spots


def inside_line(
    shades: Shades, at: tuple[float, float] | None = None, *, bridge: bool = True
) -> Region | None:
    """Return the area inside a drawn line, None when there is none.

    at: pixel (column, row) inside it, None for the largest. bridge: close gaps of the line.
    """
    cv2 = library("cv2")
    line = shades.dark > LINE_DARK
    for radius in (0.0, *BRIDGES_MM) if bridge else (0.0,):
        wall = line
        if radius:
            brush = disc(radius * shades.px_per_mm)
            wall = cv2.morphologyEx(line.astype(np.uint8), cv2.MORPH_CLOSE, brush) > 0
        area = _closed_area(cv2, shades, wall, at)
        if area is not None:
            whole = _filled(cv2, area)
            joints = _joints(cv2, wall & ~line, whole, shades.px_per_mm) if radius else _none()
            clean, strokes = _without_strokes(cv2, whole, shades.px_per_mm)
            return Region(clean, True, joints, strokes)
    return None


def _none() -> Spots:
    return np.zeros((0, 2))


def _closed_area(
    cv2: Any, shades: Shades, wall: Mask, at: tuple[float, float] | None
) -> Mask | None:
    """The chosen (or largest) area between lines that nowhere reaches the rim or a sheet."""
    free = (shades.usable & ~wall).astype(np.uint8)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(free, connectivity=4)
    least = LEAST_MM2 * shades.px_per_mm**2
    open_ones = _at_the_rim(labels, ~shades.usable)
    if at is not None:
        chosen = _label_near(labels, at, shades.px_per_mm)
        if chosen == 0 or chosen in open_ones or stats[chosen, cv2.CC_STAT_AREA] < least / 4:
            return None
        return np.asarray(labels == chosen)
    sizes = stats[:, cv2.CC_STAT_AREA].copy()
    sizes[0] = 0
    sizes[list(open_ones)] = 0
    if count < 2 or sizes.max() < least:
        return None
    return np.asarray(labels == int(sizes.argmax()))


def _at_the_rim(labels: NDArray[np.int32], outside: Mask) -> set[int]:
    rim = [labels[0], labels[-1], labels[:, 0], labels[:, -1]]
    cv2 = library("cv2")
    near = cv2.dilate(outside.astype(np.uint8), np.ones((3, 3), np.uint8)) > 0
    rim.append(labels[near])
    return {int(v) for part in rim for v in np.unique(part)} | {0}


def _label_near(labels: NDArray[np.int32], at: tuple[float, float], px_per_mm: float) -> int:
    """The area at a pixel, or, when a line lies there, the one most seen within 3 mm."""
    column, row = round(at[0]), round(at[1])
    if not (0 <= row < labels.shape[0] and 0 <= column < labels.shape[1]):
        return 0
    if labels[row, column]:
        return int(labels[row, column])
    reach = max(1, round(3 * px_per_mm))
    near = labels[max(0, row - reach) : row + reach, max(0, column - reach) : column + reach]
    counts = np.bincount(near.ravel())
    counts[0] = 0
    return int(counts.argmax()) if counts.max() else 0


def _filled(cv2: Any, area: Mask) -> Mask:
    """The area with its holes filled."""
    outlines, _ = cv2.findContours(
        area.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE
    )
    out = np.zeros(area.shape, np.uint8)
    cv2.drawContours(out, [max(outlines, key=cv2.contourArea)], -1, 1, cv2.FILLED)
    return out > 0


def _joints(cv2: Any, bridged: Mask, area: Mask, px_per_mm: float) -> Spots:
    """Middles of bridged gaps that lie on the rim of the area."""
    near = cv2.dilate(area.astype(np.uint8), disc(1.5 * px_per_mm)) > 0
    inner = cv2.erode(area.astype(np.uint8), disc(1.0 * px_per_mm)) > 0
    return _blobs(cv2, bridged & near & ~inner, (1.2 * px_per_mm) ** 2)


def _blobs(cv2: Any, mask: Mask, least: float) -> Spots:
    count, _, stats, middles = cv2.connectedComponentsWithStats(mask.astype(np.uint8))
    big = [k for k in range(1, count) if stats[k, cv2.CC_STAT_AREA] >= least]
    return np.asarray(middles[big], dtype=np.float64).reshape(-1, 2)


def _without_strokes(cv2: Any, area: Mask, px_per_mm: float) -> tuple[Mask, Spots]:
    """Close what letters cut into the area from its rim; tell where."""
    brush = disc(STROKE_MM * px_per_mm)
    pad = brush.shape[0]
    wide = np.pad(area.astype(np.uint8), pad)
    closed = cv2.morphologyEx(wide, cv2.MORPH_CLOSE, brush)[pad:-pad, pad:-pad] > 0
    deep = cv2.erode(closed.astype(np.uint8), disc(1.0 * px_per_mm)) > 0
    return closed, _blobs(cv2, deep & ~area, 1.0 * px_per_mm**2)


# --- by the edge of the paper --------------------------------------------------------------------

COARSE_PX_MM = 1.0
SURE = 0.25
"""Part of the step from table to paper on either side of the middle that is left to the edges."""


def paper(shades: Shades, at: tuple[float, float] | None = None) -> Region | None:
    """Return paper brighter (or darker) than the table, cut where the picture changes most.

    at: pixel (column, row) on it, None for the largest. None when nothing stands out.
    """
    cv2 = library("cv2")
    share = min(1.0, COARSE_PX_MM / shades.px_per_mm)
    size = (
        max(8, round(shades.grey.shape[1] * share)),
        max(8, round(shades.grey.shape[0] * share)),
    )
    grey = cv2.resize(shades.grey, size, interpolation=cv2.INTER_AREA)
    usable = cv2.resize(shades.usable.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST) > 0
    brush = disc(2.5 * COARSE_PX_MM)
    plain = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, brush)
    even = _evened(plain, usable)
    spot = None if at is None else (at[0] * share, at[1] * share)
    area = _by_step(cv2, plain, even, usable, spot)
    if area is None:
        return None
    back = (shades.grey.shape[1], shades.grey.shape[0])
    fine = cv2.resize(area.astype(np.float32), back, interpolation=cv2.INTER_LINEAR) > 0.5
    return Region(_filled(cv2, fine), False, _none(), _none())


def _evened(grey: NDArray[np.float32], usable: Mask) -> NDArray[np.float32]:
    """Take the slow change of light out by what the sheets show, all of one white."""
    sheet = (~usable) & (grey > 8)
    if sheet.sum() < 500:
        return grey
    rows, columns = np.nonzero(sheet)
    pick = np.random.default_rng(3).choice(len(rows), min(len(rows), 6000), replace=False)
    rows, columns = rows[pick], columns[pick]
    values = np.log(grey[rows, columns])
    y, x = rows / grey.shape[0] - 0.5, columns / grey.shape[1] - 0.5
    terms = np.stack([np.ones_like(x), x, y], axis=1)
    fit = np.zeros(3)
    for _ in range(6):
        fit = np.linalg.lstsq(terms, values, rcond=None)[0]
        above = values - terms @ fit > -0.1
        if above.sum() < 50:
            break
        terms, values = terms[above], values[above]
    yy, xx = np.mgrid[0 : grey.shape[0], 0 : grey.shape[1]].astype(np.float32)
    slope = fit[1] * (xx / grey.shape[1] - 0.5) + fit[2] * (yy / grey.shape[0] - 0.5)
    return np.asarray(grey / np.exp(slope), dtype=np.float32)


def _by_step(
    cv2: Any,
    grey: NDArray[np.float32],
    even: NDArray[np.float32],
    usable: Mask,
    at: tuple[float, float] | None,
) -> Mask | None:
    values = np.clip(even[usable], 0, 255).astype(np.uint8)
    if len(values) < 1000:
        return None
    step, _ = cv2.threshold(values[:, None], 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    low, high = float(np.median(values[values <= step])), float(np.median(values[values > step]))
    if high - low < 12:
        return None
    middle, room = (low + high) / 2, SURE * (high - low)
    bright, dim = usable & (even > middle + room), usable & (even < middle - room)
    if at is not None and _most_near(dim, at) > _most_near(bright, at):
        bright, dim = dim, bright
    bright = cv2.erode(bright.astype(np.uint8), disc(2.0)) > 0
    count, labels, stats, _ = cv2.connectedComponentsWithStats(bright.astype(np.uint8))
    sizes = stats[:, cv2.CC_STAT_AREA].copy()
    sizes[0] = 0
    chosen = _label_near(labels, at, 4.0) if at is not None else int(sizes.argmax())
    if count < 2 or chosen == 0 or sizes[chosen] < LEAST_MM2 * COARSE_PX_MM**2 / 2:
        return None
    seeds = np.zeros(grey.shape, np.int32)
    seeds[dim | ~usable] = 1
    seeds[bright] = 3
    seeds[labels == chosen] = 2
    picture = np.clip(cv2.GaussianBlur(grey, (0, 0), 0.8), 0, 255).astype(np.uint8)
    cv2.watershed(np.repeat(picture[:, :, None], 3, axis=2), seeds)
    area = seeds == 2
    rim = np.concatenate([area[1], area[-2], area[:, 1], area[:, -2]])
    return None if rim.any() else area


def _most_near(mask: Mask, at: tuple[float, float]) -> int:
    column, row = round(at[0]), round(at[1])
    return int(mask[max(0, row - 5) : row + 6, max(0, column - 5) : column + 6].sum())
