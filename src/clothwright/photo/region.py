"""Where the piece is: the area inside a drawn line, or the paper itself against the table."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.photo.arrays import Mask, Numbers
from clothwright.photo.extra import library
from clothwright.photo.shades import Shades, disc

LINE_DARK = 0.13
"""A place this much darker than its surroundings may be a line."""
LEAST_MM2 = 2000.0
"""A smaller area is no piece (a cuff has about 200 cm², a patch pocket's flap 40)."""
BRIDGES_MM = (1.2, 2.5, 5.0)
"""Half the widest gap of the line that is closed, tried in turn until the area is closed."""
STROKE_MM = 2.0
"""Strokes of letters that reach into the area from its line and are narrower than twice this are
taken out of the outline."""


class Area(NamedTuple):
    """mask: the area (h, w), holes filled. by_line: found inside a drawn line, else by its edge.

    bridged: pixels (n, 2) where a gap was closed. strokes: middles of what touched the line.
    mended: gaps had to be closed to find it.
    """

    mask: Mask
    by_line: bool
    bridged: Numbers
    strokes: Numbers
    mended: bool = False


def inside_line(
    shades: Shades, at: tuple[float, float] | None = None, *, bridge: bool = True
) -> Area | None:
    """Return the area (px) inside a drawn line, None when there is none.

    at: pixel (column, row) inside it, None for the largest. bridge: close gaps of the line.
    """
    cv2 = library("cv2")
    line = shades.dark > LINE_DARK
    for radius in (0.0, *BRIDGES_MM) if bridge else (0.0,):
        brush = disc(radius * shades.px_per_mm)
        wall = cv2.dilate(line.astype(np.uint8), brush) > 0 if radius else line
        area = _closed_area(cv2, shades, wall, at)
        if area is None:
            continue
        if radius:
            area = (cv2.dilate(area.astype(np.uint8), brush) > 0) & ~line
        whole = _filled(cv2, area)
        reach = (1.0 + 0.5 * radius) * shades.px_per_mm
        joints = _joints(cv2, line, whole, reach) if radius else _none()
        clean, strokes = _without_strokes(cv2, whole, shades.px_per_mm)
        return Area(clean, True, joints, strokes, radius > 0)
    return None


def _none() -> Numbers:
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


def _joints(cv2: Any, line: Mask, area: Mask, reach: float) -> Numbers:
    """Middles of the stretches of an area's rim where no line is within `reach` pixels."""
    whole = area.astype(np.uint8)
    rim = area & ~(cv2.erode(whole, np.ones((3, 3), np.uint8)) > 0)
    near = cv2.dilate(line.astype(np.uint8), disc(reach)) > 0
    return _blobs(cv2, rim & ~near, 1.0)


def _blobs(cv2: Any, mask: Mask, least: float) -> Numbers:
    count, _, stats, middles = cv2.connectedComponentsWithStats(mask.astype(np.uint8))
    big = [k for k in range(1, count) if stats[k, cv2.CC_STAT_AREA] >= least]
    return np.asarray(middles[big], dtype=np.float64).reshape(-1, 2)


def _without_strokes(cv2: Any, area: Mask, px_per_mm: float) -> tuple[Mask, Numbers]:
    """Close what letters cut into the area from its rim; tell where."""
    brush = disc(STROKE_MM * px_per_mm)
    pad = brush.shape[0]
    wide = np.pad(area.astype(np.uint8), pad)
    closed = cv2.morphologyEx(wide, cv2.MORPH_CLOSE, brush)[pad:-pad, pad:-pad] > 0
    deep = cv2.erode(closed.astype(np.uint8), disc(1.0 * px_per_mm)) > 0
    return closed, _blobs(cv2, deep & ~area, 1.0 * px_per_mm**2)


# --- by the edge of the paper --------------------------------------------------------------------

COARSE_PX_MM = 1.0
OTHER_MM2 = 2500.0
SURE = 0.25
"""Part of the step from table to paper on either side of the middle that is left to the edges."""


def paper(shades: Shades, at: tuple[float, float] | None = None) -> Area | None:
    """Return paper (px) brighter or darker than the table, cut where the picture changes most.

    at: pixel (column, row) on it, None for the largest. None when nothing stands out.
    """
    cv2 = library("cv2")
    share = min(1.0, COARSE_PX_MM / shades.px_per_mm)
    size = (
        max(8, round(shades.grey.shape[1] * share)),
        max(8, round(shades.grey.shape[0] * share)),
    )
    grey = cv2.resize(shades.grey, size, interpolation=cv2.INTER_AREA)
    usable, sheets = (
        cv2.resize(m.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST) > 0
        for m in (shades.usable, shades.sheets)
    )
    brush = disc(2.5 * COARSE_PX_MM)
    plain = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, brush)
    even = _evened(plain, usable, sheets)
    spot = None if at is None else (at[0] * share, at[1] * share)
    area = _by_step(cv2, even, usable, spot)
    if area is None:
        return None
    back = (shades.grey.shape[1], shades.grey.shape[0])
    fine = cv2.resize(area.astype(np.float32), back, interpolation=cv2.INTER_LINEAR) > 0.5
    return Area(_filled(cv2, fine), False, _none(), _none())


def _evened(grey: NDArray[np.float32], usable: Mask, sheets: Mask) -> NDArray[np.float32]:
    """Take light and shadow out: what is left is how white each place is.

    Light is a smooth surface (a polynomial of its logarithm). Sheets are of one white; all else is
    table or paper, which is told apart and the light found anew, in turns.
    """
    rows, columns = np.nonzero((grey > 6) & (usable | sheets))
    if len(rows) < 1000:
        return grey
    rng = np.random.default_rng(3)
    pick = rng.choice(len(rows), min(len(rows), 10_000), replace=False)
    rows, columns = rows[pick], columns[pick]
    sheet = sheets[rows, columns]
    values = np.log(grey[rows, columns].astype(np.float64))
    terms = _terms(rows / grey.shape[0] - 0.5, columns / grey.shape[1] - 0.5)
    few = LIGHT_TERMS[0]
    use = sheet if sheet.sum() > 300 else np.ones(len(rows), dtype=bool)
    light: Numbers = np.zeros(terms.shape[1])
    light[:few] = _upper_fit(terms[use][:, :few], values[use])
    for count in LIGHT_TERMS:
        for _ in range(4):
            white = values - terms @ light
            level = _levels(white, sheet)
            light[:] = 0.0
            near = np.abs(white - level) < 0.25
            fit = np.linalg.lstsq(terms[near][:, :count], (values - level)[near], rcond=None)[0]
            light[:count] = fit
    light[0] = 0.0
    return np.asarray(grey / np.exp(_surface(light, *grey.shape)), dtype=np.float32)


LIGHT_TERMS = (3, 6, 10, 15)
"""Terms of a surface of degree 1, 2, 3, 4."""
POWERS = tuple((d - k, k) for d in range(5) for k in range(d + 1))
"""Powers of x and of y in each term."""


def _terms(y: NDArray[np.floating], x: NDArray[np.floating]) -> Numbers:
    """Powers of x and y up to the fourth, lowest first."""
    powers = [(2 * x) ** a * (2 * y) ** b for a, b in POWERS]
    return np.asarray(np.stack(powers, axis=1), dtype=np.float64)


def _surface(light: NDArray[np.float64], tall: int, wide: int) -> NDArray[np.float64]:
    """The surface with these factors of `_terms` at every pixel of a picture."""
    factors = np.zeros((5, 5))
    for (a, b), factor in zip(POWERS, light, strict=True):
        factors[b, a] = factor
    y, x = (np.vander(2 * (np.arange(n) / n - 0.5), 5, increasing=True) for n in (tall, wide))
    return np.asarray(y @ factors @ x.T, dtype=np.float64)


def _upper_fit(terms: Numbers, values: Numbers) -> Numbers:
    """The surface through the lighter of the values (a sheet's white, not its markers)."""
    fit: NDArray[np.floating] = np.zeros(terms.shape[1])
    for _ in range(6):
        fit = np.linalg.lstsq(terms, values, rcond=None)[0]
        above = values - terms @ fit > -0.1
        if above.sum() < 50:
            break
        terms, values = terms[above], values[above]
    return np.asarray(fit, dtype=np.float64)


def _levels(white: NDArray[np.floating], sheet: Mask) -> Numbers:
    """What each place would be in even light: sheet, or the nearer of table and paper."""
    rest = white[~sheet]
    low, high = np.quantile(rest, [0.05, 0.95])
    for _ in range(8):
        upper = rest > (low + high) / 2
        if upper.all() or not upper.any():
            break
        low, high = float(np.median(rest[~upper])), float(np.median(rest[upper]))
    level = np.where(white > (low + high) / 2, high, low)
    if sheet.any():
        level[sheet] = np.quantile(white[sheet], 0.7)
    return np.asarray(level, dtype=np.float64)


def _by_step(
    cv2: Any,
    even: NDArray[np.float32],
    usable: Mask,
    at: tuple[float, float] | None,
) -> Mask | None:
    if usable.sum() < 1000:
        return None
    even = even * (200.0 / max(float(np.quantile(even[usable], 0.98)), 1.0))
    values = np.clip(even[usable], 0, 255).astype(np.uint8)
    step, _ = cv2.threshold(values[:, None], 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    low, high = float(np.median(values[values <= step])), float(np.median(values[values > step]))
    if high - low < 12:
        return None
    middle, room = (low + high) / 2, SURE * (high - low)
    calm = cv2.GaussianBlur(even, (0, 0), 2.0)
    bright, dim = usable & (calm > middle + room), usable & (calm < middle - room)
    if at is not None and _most_near(dim, at) > _most_near(bright, at):
        bright, dim = dim, bright
    bright = cv2.erode(bright.astype(np.uint8), disc(2.0)) > 0
    count, labels, stats, _ = cv2.connectedComponentsWithStats(bright.astype(np.uint8))
    sizes = stats[:, cv2.CC_STAT_AREA].copy()
    sizes[0] = 0
    chosen = _label_near(labels, at, 4.0) if at is not None else int(sizes.argmax())
    if count < 2 or chosen == 0 or sizes[chosen] < LEAST_MM2 * COARSE_PX_MM**2 / 2:
        return None
    seeds = np.zeros(even.shape, np.int32)
    seeds[_large(cv2, dim | ~usable, OTHER_MM2)] = 1
    seeds[_large(cv2, bright, OTHER_MM2)] = 3
    seeds[labels == chosen] = 2
    picture = np.clip(cv2.GaussianBlur(even, (0, 0), 0.8), 0, 255).astype(np.uint8)
    cv2.watershed(np.repeat(picture[:, :, None], 3, axis=2), seeds)
    area = seeds == 2
    rim = np.concatenate([area[1], area[-2], area[:, 1], area[:, -2]])
    return None if rim.any() else area


def _large(cv2: Any, mask: Mask, least: float) -> Mask:
    """Only the parts of an area that are large: blotches of tissue are no table."""
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8))
    big = stats[:, cv2.CC_STAT_AREA] >= least * COARSE_PX_MM**2
    big[0] = False
    return np.asarray(big[labels])


def _most_near(mask: Mask, at: tuple[float, float]) -> int:
    column, row = round(at[0]), round(at[1])
    return int(mask[max(0, row - 5) : row + 6, max(0, column - 5) : column + 6].sum())
