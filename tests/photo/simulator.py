"""A table with a paper piece and marker sheets, and a camera that looks at it: own, seeded.

The table is drawn flat at TABLE_PX pixels a mm (x to the right, y up, mm), then seen through a
pinhole with a lens (k1, k2 of the usual radial polynomial), its middle a little off, with uneven
light, a soft shadow, blur and noise. Nothing here is taken from the code under test but the
layout of the sheets.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import lru_cache

import cv2
import numpy as np

from clothwright.geometry.path import Path
from clothwright.photo import sheet as sheets

TABLE_PX = 4.0


@dataclass(frozen=True, kw_only=True)
class Laid:
    """A sheet on the table: number, the middle of it, turned counter-clockwise."""

    sheet: int
    at: tuple[float, float]
    turn_deg: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Scene:
    """What lies on the table.

    half: the table is seen from -half to half, mm. print_scale: of the printer. lift_mm: how far
    the piece's paper stands above the table (sheets lie on it). pen_mm: 0 draws no line, the paper
    is cut along the outline. inner: lines drawn inside. second: lines of a second size.
    """

    outline: Path
    inner: tuple[Path, ...] = ()
    second: tuple[Path, ...] = ()
    words: tuple[tuple[str, float, float, float], ...] = ()
    sheets: tuple[Laid, ...] = ()
    half: tuple[float, float] = (600.0, 500.0)
    print_scale: float = 1.0
    paper: str = "white"
    pen_mm: float = 1.0
    pen_grey: float = 60.0
    gap_at: tuple[float, float] | None = None
    crease: tuple[tuple[float, float], tuple[float, float]] | None = None
    seed: int = 1


@dataclass(frozen=True, kw_only=True)
class Shot:
    """A camera: where it stands and looks (mm; height above the table), its lens and its faults."""

    over: tuple[float, float] = (0.0, 0.0)
    height: float = 1100.0
    tilt_deg: float = 12.0
    tilt_to_deg: float = 90.0
    roll_deg: float = 0.0
    size: tuple[int, int] = (4000, 3000)
    focal: float = 0.72
    k1: float = 0.06
    k2: float = -0.02
    centre_off: tuple[float, float] = (0.0, 0.0)
    blur_px: float = 0.8
    noise: float = 4.0
    fall_off: float = 0.35
    shadow: float = 0.25
    seed: int = 1


@dataclass(kw_only=True)
class Table:
    """The drawn table: grey picture, its left upper corner at (-half x, half y)."""

    grey: np.ndarray
    half: tuple[float, float]
    tint: np.ndarray = field(default_factory=lambda: np.array([1.0, 0.97, 0.92]))


def px(points: np.ndarray, half: tuple[float, float]) -> np.ndarray:
    """Table mm to pixels of the table's picture (pixel middles at whole numbers)."""
    points = np.asarray(points, dtype=float)
    return np.stack(
        [(points[:, 0] + half[0]) * TABLE_PX - 0.5, (half[1] - points[:, 1]) * TABLE_PX - 0.5],
        axis=1,
    )


def draw_table(scene: Scene) -> Table:
    """Return the table seen straight from above, without light."""
    grey = _without_sheets(replace(scene, sheets=())).copy()
    for laid in scene.sheets:
        _lay_sheet(grey, laid, scene)
    return Table(grey=np.clip(grey, 0, 255, out=grey), half=scene.half)


@lru_cache(maxsize=1)
def _without_sheets(scene: Scene) -> np.ndarray:
    """The last table drawn, before sheets are laid: several tests lay others on the same."""
    rng = np.random.default_rng(scene.seed)
    half = scene.half
    shape = (int(2 * half[1] * TABLE_PX), int(2 * half[0] * TABLE_PX))
    grey = _wood(rng, shape)
    _lay_paper(scene, grey, rng)
    return grey


def _wood(rng: np.random.Generator, shape: tuple[int, int]) -> np.ndarray:
    """A table with grain along it."""
    coarse = rng.normal(0, 1, (shape[0] // 6 + 1, shape[1] // 160 + 2)).astype(np.float32)
    streaks = cv2.resize(coarse, (shape[1], shape[0]), interpolation=cv2.INTER_CUBIC)
    fine = rng.normal(0, 1, (shape[0] // 2 + 1, shape[1] // 30 + 2)).astype(np.float32)
    fine = cv2.resize(fine, (shape[1], shape[0]), interpolation=cv2.INTER_LINEAR)
    streaks *= 9.0
    streaks += 118.0
    fine *= 4.0
    streaks += fine
    return streaks


def _flat(path: Path, sagitta: float = 0.01) -> np.ndarray:
    return np.array([(p.x, p.y) for p in path.flatten(sagitta)])


def _line(
    grey: np.ndarray, points: np.ndarray, half: tuple[float, float], width: float, ink: float
) -> None:
    """Ink a line `width` mm wide, with smooth sides."""
    at = px(points, half)
    low = np.floor(at.min(axis=0) - 4 * width * TABLE_PX - 8).astype(int).clip(0)
    high = np.ceil(at.max(axis=0) + 4 * width * TABLE_PX + 8).astype(int)
    part = grey[low[1] : high[1], low[0] : high[0]]
    mask = np.zeros(part.shape, np.uint8)
    fixed = np.round((at - low) * 256).astype(np.int32)
    cv2.polylines(mask, [fixed], False, 255, max(1, round(width * TABLE_PX)), cv2.LINE_AA, 8)
    share = mask.astype(np.float32) / 255
    part += (ink - part) * share


def _lay_paper(scene: Scene, grey: np.ndarray, rng: np.random.Generator) -> None:
    points = _flat(scene.outline)
    mask = np.zeros(grey.shape, np.uint8)
    if scene.pen_mm > 0:
        low, high = points.min(axis=0) - 45, points.max(axis=0) + 45
        ring = np.array([low, (high[0], low[1]), high, (low[0], high[1])])
        ring += rng.uniform(-15, 15, ring.shape)
    else:
        ring = points
    _fill(mask, px(ring, scene.half))
    share = cv2.GaussianBlur(mask, (0, 0), 0.7)
    where = _box(share)
    rough = rng.standard_normal(grey.shape)[where].astype(np.float32)
    white = 222.0 + 1.5 * rough
    cover = 0.72 if scene.paper == "tissue" else 1.0
    if scene.paper == "tissue":
        white += _wrinkles(rng, grey.shape)[where] - 12.0
    part = grey[where]
    part += (white - part) * (share[where].astype(np.float32) / 255) * cover
    _draw_piece(scene, grey, points)


def _box(mask: np.ndarray) -> tuple[slice, slice]:
    """Return the rows and columns that hold all of a mask that is not 0."""
    x, y, wide, tall = cv2.boundingRect(mask)
    return slice(y, y + tall), slice(x, x + wide)


def _fill(mask: np.ndarray, at: np.ndarray, finer: int = 4) -> None:
    """Fill a polygon by how much of each pixel it covers (OpenCV's fill is half a pixel fat)."""
    low = np.floor(at.min(axis=0)).astype(int).clip(0) - 1
    high = np.ceil(at.max(axis=0)).astype(int) + 2
    big = np.zeros(((high[1] - low[1]) * finer, (high[0] - low[0]) * finer), np.uint8)
    spots = (at - low + 0.5) * finer - 0.5
    cv2.fillPoly(big, [np.round(spots * 256).astype(np.int32)], 255, cv2.LINE_8, 8)
    size = (big.shape[1] // finer, big.shape[0] // finer)
    small = cv2.resize(big, size, interpolation=cv2.INTER_AREA)
    part = mask[low[1] : high[1], low[0] : high[0]]
    part[:] = small[: part.shape[0], : part.shape[1]]


def _wrinkles(rng: np.random.Generator, shape: tuple[int, int]) -> np.ndarray:
    """Soft waves of tissue."""
    coarse = rng.normal(0, 1, (shape[0] // 60 + 2, shape[1] // 60 + 2)).astype(np.float32)
    return 5.0 * cv2.resize(coarse, (shape[1], shape[0]), interpolation=cv2.INTER_CUBIC)


def _draw_piece(scene: Scene, grey: np.ndarray, points: np.ndarray) -> None:
    half, pen, ink = scene.half, scene.pen_mm or 0.8, scene.pen_grey
    if scene.pen_mm > 0:
        if scene.gap_at is not None:
            points = _without_gap(points, scene.gap_at)
        _line(grey, points, half, pen, ink)
    for path in scene.inner:
        _line(grey, _flat(path), half, 0.7, ink)
    for path in scene.second:
        _line(grey, _flat(path), half, pen, ink)
    for words, x, y, size in scene.words:
        at = px(np.array([(x, y)]), half)[0]
        layer = np.zeros(grey.shape, np.uint8)
        scale = size * TABLE_PX / 22.0
        spot = (int(at[0]), int(at[1]))
        cv2.putText(layer, words, spot, cv2.FONT_HERSHEY_SIMPLEX, scale, 255, 3, cv2.LINE_AA)
        where = _box(layer)
        part = grey[where]
        part += (ink - part) * (layer[where].astype(np.float32) / 255)
    if scene.crease is not None:
        dark = np.array(scene.crease, dtype=float)
        _line(grey, dark, half, 0.6, 140.0)


def _without_gap(points: np.ndarray, at: tuple[float, float], half: float = 3.0) -> np.ndarray:
    """A closed line with a gap of 6 mm at a place."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    steps = np.arange(0.0, along[-1], 0.25)
    fine = np.stack([np.interp(steps, along, points[:, k]) for k in (0, 1)], axis=1)
    away = np.hypot(*(fine - np.array(at)).T)
    fine = np.roll(fine, -int(np.argmin(away)), axis=0)
    return fine[np.hypot(*(fine - np.array(at)).T) > half]


def _lay_sheet(grey: np.ndarray, laid: Laid, scene: Scene) -> None:
    """Draw a sheet crisp and put it on the table, turned; its paper is A4."""
    fine, rim = 8.0, 12.0
    wide, tall = sheets.WIDTH_MM + 2 * rim, sheets.HEIGHT_MM + 2 * rim
    art = np.full((int(tall * fine), int(wide * fine)), 228.0, np.float32)
    cell = int(sheets.MARKER_MM / sheets.CELLS * fine)
    for k in range(sheets.MARKERS):
        number = laid.sheet * sheets.MARKERS + k
        place = sheets.marker_corners(number)
        upper_left = place.at[0]
        bits = np.kron(sheets.marker_bits(number), np.ones((cell, cell)))
        x, y = int((upper_left.x + rim) * fine), int((tall - rim - upper_left.y) * fine)
        art[y : y + bits.shape[0], x : x + bits.shape[1]] = np.where(bits, 45.0, 228.0)
    art = cv2.GaussianBlur(art, (0, 0), 1.0)
    # art pixel -> sheet mm from its middle -> table mm -> table pixel
    s, c = math.sin(math.radians(laid.turn_deg)), math.cos(math.radians(laid.turn_deg))
    to_mm = np.array(
        [[1 / fine, 0, 0.5 / fine - wide / 2], [0, -1 / fine, tall / 2 - 0.5 / fine], [0, 0, 1]]
    )
    k = scene.print_scale
    place = np.array([[c * k, -s * k, laid.at[0]], [s * k, c * k, laid.at[1]], [0, 0, 1]])
    half = scene.half
    to_px = np.array(
        [
            [TABLE_PX, 0, half[0] * TABLE_PX - 0.5],
            [0, -TABLE_PX, half[1] * TABLE_PX - 0.5],
            [0, 0, 1],
        ]
    )
    whole = to_px @ place @ to_mm
    tall_px, wide_px = art.shape
    corners = [(0, 0, 1), (wide_px, 0, 1), (0, tall_px, 1), (wide_px, tall_px, 1)]
    rims = whole @ np.array(corners).T
    low = np.floor(rims[:2].min(axis=1) - 2).astype(int).clip(0)
    high = np.ceil(rims[:2].max(axis=1) + 3).astype(int)
    part = grey[low[1] : high[1], low[0] : high[0]]
    here = np.array([[1, 0, -low[0]], [0, 1, -low[1]], [0, 0, 1]]) @ whole
    size = (part.shape[1], part.shape[0])
    seen, cover = (
        cv2.warpAffine(each, here[:2], size, flags=cv2.INTER_LINEAR, borderValue=0.0)
        for each in (art, np.ones_like(art))
    )
    part += np.where(cover > 0, seen - part * cover, 0.0)


def camera(shot: Shot) -> tuple[np.ndarray, np.ndarray]:
    """Return the camera's turn (rows: right, down, ahead, in table axes) and its place."""
    tilt, to, roll = (math.radians(a) for a in (shot.tilt_deg, shot.tilt_to_deg, shot.roll_deg))
    ahead = np.array(
        [math.sin(tilt) * math.cos(to), math.sin(tilt) * math.sin(to), -math.cos(tilt)]
    )
    right = np.cross(ahead, [0.0, 1.0, 0.0])
    right /= np.linalg.norm(right)
    down = np.cross(ahead, right)
    x = math.cos(roll) * right + math.sin(roll) * down
    place = np.array([*shot.over, 0.0]) - ahead / -ahead[2] * shot.height
    return np.stack([x, np.cross(ahead, x), ahead]), place


def look(table: Table, shot: Shot) -> np.ndarray:
    """Return the photo, (height, width, 3) red, green, blue."""
    rng = np.random.default_rng(shot.seed)
    width, height = shot.size
    step, more = 10, 1
    # resize puts coarse value j at pixel (j + 1/2) step - 1/2
    columns, rows = (
        (np.arange(-more, math.ceil(n / step) + more) + 0.5) * step - 0.5 for n in shot.size
    )
    u, v = np.meshgrid(columns, rows)
    where = _on_table(u, v, shot)
    at = px(where.reshape(-1, 2), table.half).reshape(*where.shape)
    maps = [_finer(at[..., k], step, more, (height, width)) for k in (0, 1)]
    seen = cv2.remap(table.grey.astype(np.float32), *maps, cv2.INTER_LINEAR, borderValue=118.0)
    seen *= _light(shot, rng, (height, width))
    if shot.blur_px > 0:
        seen = cv2.GaussianBlur(seen, (0, 0), shot.blur_px)
    colour = seen[..., None] * table.tint.astype(np.float32)
    colour += rng.standard_normal(seen.shape, dtype=np.float32)[..., None] * shot.noise * 0.8
    colour += rng.standard_normal(colour.shape, dtype=np.float32) * shot.noise * 0.6
    return np.clip(colour, 0, 255).astype(np.uint8)


def _on_table(u: np.ndarray, v: np.ndarray, shot: Shot) -> np.ndarray:
    """Table mm seen at pixels."""
    width, height = shot.size
    focal = shot.focal * max(shot.size)
    x = (u - (width - 1) / 2 - shot.centre_off[0] * width) / focal
    y = (v - (height - 1) / 2 - shot.centre_off[1] * width) / focal
    xu, yu = x.copy(), y.copy()
    for _ in range(30):
        r2 = xu * xu + yu * yu
        bent = 1 + shot.k1 * r2 + shot.k2 * r2 * r2
        xu, yu = x / bent, y / bent
    turn, place = camera(shot)
    rays = np.stack([xu, yu, np.ones_like(xu)], axis=-1) @ turn
    far = -place[2] / np.minimum(rays[..., 2], -0.05)
    return (place + rays * far[..., None])[..., :2]


def _finer(coarse: np.ndarray, step: int, more: int, shape: tuple[int, int]) -> np.ndarray:
    """Values given at the middles of blocks of `step` pixels, for every pixel.

    Linear: OpenCV's cubic does not keep a straight line straight.
    """
    size = (coarse.shape[1] * step, coarse.shape[0] * step)
    fine = cv2.resize(coarse.astype(np.float32), size, interpolation=cv2.INTER_LINEAR)
    start = more * step
    return np.ascontiguousarray(fine[start : start + shape[0], start : start + shape[1]])


def _light(shot: Shot, rng: np.random.Generator, shape: tuple[int, int]) -> np.ndarray:
    """Light that falls off to one side, and the soft shadow of whoever holds the camera."""
    height, width = shape
    small = (height // 16 + 1, width // 16 + 1)
    y, x = np.mgrid[0 : small[0], 0 : small[1]].astype(np.float32)
    x, y = x / small[1] - 0.5, y / small[0] - 0.5
    turn = rng.uniform(0, 2 * math.pi)
    light = 1.0 - shot.fall_off * (0.5 + (x * math.cos(turn) + y * math.sin(turn)) / 1.4)
    edge = x * math.sin(turn) - y * math.cos(turn) - rng.uniform(-0.25, 0.25)
    light *= 1.0 - shot.shadow / (1.0 + np.exp(-edge * 30.0))
    return cv2.resize(light, (width, height), interpolation=cv2.INTER_LINEAR)
