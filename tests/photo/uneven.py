"""A second, harsher world for photos of paper pieces: nothing lies flat, nothing is lit evenly.

It shares nothing with `simulator.py` but the layout of the marker sheets. Every pixel sends a ray
through a lens with tangential terms (k1, k2, p1, p2, k3 as OpenCV's documentation of `calib3d`
writes them) at paper that may stand off the table, curl at a corner or lie elsewhere in the next
photo. What is drawn on paper is worked out from the distance to its lines; a lamp lights it by its
slope, is mirrored in glossy places and throws shadows; then the photo is blurred, gets noise, is
sharpened as phones do and kept as JPEG of quality 80. Light is linear until the last step.
"""

from __future__ import annotations

import io
import math
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import cv2
import numpy as np
import shapely
from PIL import Image

from clothwright.geometry.path import Path, polyline
from clothwright.photo import sheet as sheets
from clothwright.photo.read import Photo

BAND_MM, GRID_MM = 12.0, 0.5
"""The distance to an outline is known this far from it, on a grid so fine."""
STEP_PX = 8
ART_PX = 6


@dataclass(frozen=True, kw_only=True)
class Lift:
    """How paper stands off: bumps (x, y, height, width) and curls (x, y, direction deg, radius).

    A curl begins on a line through (x, y) across the direction; beyond it the paper is bent up.
    """

    bumps: tuple[tuple[float, float, float, float], ...] = ()
    curls: tuple[tuple[float, float, float, float], ...] = ()

    def place(self, flat: np.ndarray) -> np.ndarray:
        """Where points of the flat paper (..., 2) are in the room (..., 3), mm."""
        out = np.concatenate([flat, np.zeros((*flat.shape[:-1], 1))], axis=-1)
        for x, y, high, wide in self.bumps:
            away = ((flat - (x, y)) ** 2).sum(axis=-1)
            out[..., 2] += high * np.exp(-away / (2 * wide * wide))
        for x, y, degrees, radius in self.curls:
            way = np.array([math.cos(math.radians(degrees)), math.sin(math.radians(degrees))])
            beyond = np.clip((flat - (x, y)) @ way, 0.0, radius * 1.4)
            out[..., :2] += (radius * np.sin(beyond / radius) - beyond)[..., None] * way
            out[..., 2] += radius * (1 - np.cos(beyond / radius))
        return out


@dataclass(frozen=True, kw_only=True)
class Marked:
    """A marker sheet: number, its middle, turn, how it lies off, and where it lies from photo 2."""

    number: int
    at: tuple[float, float]
    turn_deg: float
    lift: Lift = Lift()
    moved: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True, kw_only=True)
class World:
    """A table with a piece.

    points: the true outline (n, 2), closed, counter-clockwise. paper: its paper's own outline, the
    same when it is cut out. pen_mm: 0 for none. sizes: further lines, mm outside (negative:
    inside) the outline. dash_mm: 0, or the length of their dashes. ruled_mm: printed rules so far
    apart, 0 for none. through: how much of the table is seen through the paper. table: how light
    it is (of 1). gloss: how it mirrors, and how the paper does.
    """

    points: np.ndarray
    paper: np.ndarray
    pen_mm: float = 0.0
    ink: float = 0.03
    sizes: tuple[float, ...] = ()
    dash_mm: float = 0.0
    ruled_mm: float = 0.0
    through: float = 0.0
    table: float = 0.05
    white: float = 0.78
    lift: Lift = Lift()
    marked: tuple[Marked, ...] = ()
    printed: float = 1.0
    lamp: tuple[float, float, float] = (900.0, 1300.0, 2200.0)
    ambient: float = 0.55
    gloss: tuple[float, float] = (0.0, 0.0)
    gloss_width: float = 0.002
    seed: int = 1
    fields: dict[str, np.ndarray] = field(default_factory=dict, compare=False)

    @cached_property
    def outline(self) -> Path:
        """The true outline."""
        return polyline(
            [(float(x), float(y)) for x, y in np.vstack([self.points, self.points[:1]])]
        )


@dataclass(frozen=True, kw_only=True)
class Camera:
    """Where it stands and looks (mm), its lens (focal length in long sides), its faults."""

    eye: tuple[float, float, float]
    at: tuple[float, float] = (0.0, 0.0)
    spin_deg: float = 0.0
    size: tuple[int, int] = (2400, 1800)
    focal: float = 0.74
    k: tuple[float, float, float] = (0.05, -0.08, 0.03)
    p: tuple[float, float] = (0.0015, -0.001)
    middle: tuple[float, float] = (0.0, 0.0)
    blur_px: float = 0.7
    noise: float = 0.012
    sharpen: float = 0.5
    quality: int = 80
    seed: int = 1


# --- the camera ----------------------------------------------------------------------------------


def _axes(cam: Camera) -> np.ndarray:
    """Rows: right, down, ahead, in the room's axes (x right, y up the table, z off the table)."""
    ahead = np.array([*cam.at, 0.0]) - np.array(cam.eye)
    ahead /= np.linalg.norm(ahead)
    down = np.array([0.0, -1.0, 0.0])
    down -= ahead * (down @ ahead)
    down /= np.linalg.norm(down)
    right = np.cross(down, ahead)
    c, s = math.cos(math.radians(cam.spin_deg)), math.sin(math.radians(cam.spin_deg))
    return np.stack([c * right + s * down, c * down - s * right, ahead])


def bend(cam: Camera, x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Ideal to bent picture coordinates, as OpenCV's documentation writes it."""
    (k1, k2, k3), (p1, p2) = cam.k, cam.p
    r = x * x + y * y
    radial = 1 + r * (k1 + r * (k2 + r * k3))
    return (
        x * radial + 2 * p1 * x * y + p2 * (r + 2 * x * x),
        y * radial + p1 * (r + 2 * y * y) + 2 * p2 * x * y,
    )


def rays_of(cam: Camera, u: np.ndarray, v: np.ndarray) -> np.ndarray:
    """Return directions (..., 3) in the room of pixels."""
    wide, tall = cam.size
    f = cam.focal * max(cam.size)
    goal = (
        (u - (wide - 1) / 2 - cam.middle[0] * wide) / f,
        (v - (tall - 1) / 2 - cam.middle[1] * wide) / f,
    )
    x, y = goal[0].copy(), goal[1].copy()
    for _ in range(60):
        r = np.maximum(np.hypot(x, y), 1e-9)
        bx, by = bend(cam, x, y)
        grown = np.clip(np.hypot(bx, by) / r, 0.7, 1.4)
        x, y = x + (goal[0] - bx) / grown, y + (goal[1] - by) / grown
    return np.stack([x, y, np.ones_like(x)], axis=-1) @ _axes(cam)


def pixel_of(cam: Camera, room: np.ndarray) -> np.ndarray:
    """Pixels (n, 2) of points in the room (n, 3)."""
    seen = (room - np.array(cam.eye)) @ _axes(cam).T
    bx, by = bend(cam, seen[:, 0] / seen[:, 2], seen[:, 1] / seen[:, 2])
    wide, tall = cam.size
    f = cam.focal * max(cam.size)
    return np.stack(
        [
            bx * f + (wide - 1) / 2 + cam.middle[0] * wide,
            by * f + (tall - 1) / 2 + cam.middle[1] * wide,
        ],
        axis=1,
    )


def _met(cam: Camera, rays: np.ndarray, lift: Lift) -> np.ndarray:
    """The flat paper's own coordinates (..., 2) that each ray meets."""
    eye = np.array(cam.eye)
    flat = (eye + rays * (-eye[2] / rays[..., 2:]))[..., :2]
    if not lift.bumps and not lift.curls:
        return flat
    for _ in range(25):
        room = lift.place(flat)
        there = eye + rays * ((room[..., 2:] - eye[2]) / rays[..., 2:])
        flat = flat + (there - room)[..., :2]
    return flat


class _Grid:
    """Values at every eighth pixel brought to all pixels, straight in between."""

    def __init__(self, low: tuple[int, int], high: tuple[int, int]) -> None:
        self.low, self.high = low, high
        nodes = [
            np.arange(a, b + STEP_PX, STEP_PX, dtype=float) for a, b in zip(low, high, strict=True)
        ]
        self.u, self.v = np.meshgrid(*nodes)
        wide, tall = (b - a for a, b in zip(low, high, strict=True))
        at = np.meshgrid(np.arange(wide) / STEP_PX, np.arange(tall) / STEP_PX)
        self.at = tuple(a.astype(np.float32) for a in at)

    def fine(self, coarse: np.ndarray) -> np.ndarray:
        return cv2.remap(coarse.astype(np.float32), *self.at, cv2.INTER_LINEAR)


# --- what is drawn -------------------------------------------------------------------------------


class _Away:
    """Signed distance to a closed line, negative inside, and the way along it, on a grid."""

    def __init__(self, points: np.ndarray, band: float) -> None:
        ring = np.vstack([points, points[:1]])
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))])
        at = np.unique(np.concatenate([np.arange(0.0, along[-1], 10.0), along]))
        dense = np.stack([np.interp(at, along, ring[:, k]) for k in (0, 1)], axis=1)
        self.low = points.min(axis=0) - band - 4
        shape = np.ceil((points.max(axis=0) + band + 4 - self.low) / GRID_MM).astype(int) + 1
        x, y = (self.low[k] + np.arange(shape[k]) * GRID_MM for k in (0, 1))
        self.signed = np.full((len(y), len(x)), band, np.float32)
        self.way = np.zeros(self.signed.shape, np.float32)
        for start, a, b in zip(at, dense, dense[1:], strict=False):
            self._near(start, a, b, (x, y), band)
        spots = np.stack(np.meshgrid(x, y), axis=-1)
        self.signed[self._inside(points, spots, self.signed < 1.0)] *= -1

    def _near(
        self,
        start: float,
        a: np.ndarray,
        b: np.ndarray,
        grid: tuple[np.ndarray, np.ndarray],
        band: float,
    ) -> None:
        """Lay the distance to one straight bit, and the way along it, over the grid round it."""
        low = np.floor((np.minimum(a, b) - band - self.low) / GRID_MM).astype(int)
        high = np.ceil((np.maximum(a, b) + band - self.low) / GRID_MM).astype(int) + 1
        box = (slice(low[1], high[1]), slice(low[0], high[0]))
        size = float(np.hypot(*(b - a)))
        along = (b - a) / size
        x, y = grid[0][None, box[1]] - a[0], grid[1][box[0], None] - a[1]
        way = np.clip(x * along[0] + y * along[1], 0.0, size)
        away = np.hypot(x - way * along[0], y - way * along[1])
        closer = away < self.signed[box]
        self.signed[box][closer] = away[closer]
        self.way[box][closer] = start + way[closer]

    def _inside(self, points: np.ndarray, spots: np.ndarray, close: np.ndarray) -> np.ndarray:
        """Which spots of the grid lie inside; those close to the line are looked at one by one."""
        drawn = np.zeros(close.shape, np.uint8)
        corners = np.round((points - self.low) / GRID_MM).astype(np.int32)
        cv2.fillPoly(drawn, [corners], 1)
        area = shapely.polygons(points)
        shapely.prepare(area)
        inside = drawn > 0
        inside[close] = shapely.contains_xy(area, spots[close])
        return inside

    def at(self, flat: np.ndarray, what: str = "signed") -> np.ndarray:
        spots = ((flat - self.low) / GRID_MM).astype(np.float32)
        kind = cv2.INTER_LINEAR if what == "signed" else cv2.INTER_NEAREST
        return cv2.remap(
            getattr(self, what), spots[..., 0], spots[..., 1], kind, borderValue=BAND_MM
        )


def _cover(inside_mm: np.ndarray, mm_px: float) -> np.ndarray:
    """How much of a pixel lies inside, by its middle's depth (mm)."""
    return np.clip(0.5 + inside_mm / mm_px, 0.0, 1.0)


@lru_cache(maxsize=3)
def _noise(seed: int) -> np.ndarray:
    """A tile of soft texture, 1,024 pixels a side, that joins itself."""
    rng = np.random.default_rng(seed)
    spectrum = np.fft.rfft2(rng.standard_normal((1024, 1024)))
    fy, fx = np.fft.fftfreq(1024)[:, None], np.fft.rfftfreq(1024)[None, :]
    tile = np.fft.irfft2(spectrum / (0.01 + np.hypot(fx, fy)))
    return (tile / tile.std()).astype(np.float32)


def _texture(seed: int, flat: np.ndarray, px_mm: float) -> np.ndarray:
    at = np.mod(flat * px_mm, 1023).astype(np.float32)
    return cv2.remap(_noise(seed), at[..., 0], at[..., 1], cv2.INTER_LINEAR)


@lru_cache(maxsize=32)
def _art(number: int, soft_px: int) -> np.ndarray:
    """A sheet's print as reflectance, A4 round it, row 0 its upper end; softened."""
    rim = 12
    wide, tall = (round((n + 2 * rim) * ART_PX) for n in (sheets.WIDTH_MM, sheets.HEIGHT_MM))
    art = np.full((tall, wide), 0.8, np.float32)
    side = round(sheets.MARKER_MM * ART_PX)
    for k in range(sheets.MARKERS):
        known = sheets.marker_corners(number * sheets.MARKERS + k)
        assert known is not None
        bits = sheets.marker_bits(number * sheets.MARKERS + k)
        x = round((known.at[0].x + rim) * ART_PX)
        y = round((sheets.HEIGHT_MM + rim - known.at[0].y) * ART_PX)
        big = np.kron(bits, np.ones((side // sheets.CELLS,) * 2)) > 0
        art[y : y + side, x : x + side][big] = 0.035
    return cv2.GaussianBlur(art, (0, 0), max(0.5, soft_px / 10))


def _lines(world: World, away: _Away, flat: np.ndarray, mm_px: float) -> np.ndarray:
    """How much ink lies on each pixel of the piece's paper."""
    d = away.at(flat)
    ink = np.zeros(d.shape, np.float32)
    if world.pen_mm:
        ink = np.maximum(ink, _line(np.abs(d), world.pen_mm, mm_px))
    for off in world.sizes:
        line = _line(np.abs(d - off), 0.5, mm_px)
        if world.dash_mm:
            line = line * (np.mod(away.at(flat, "way"), 2 * world.dash_mm) < world.dash_mm)
        ink = np.maximum(ink, line)
    if world.ruled_mm:
        half = world.ruled_mm / 2
        for k in (0, 1):
            rule = np.abs(np.mod(flat[..., k] + 13.0, world.ruled_mm) - half)
            ink = np.maximum(ink, 0.7 * _line(rule, 0.35, mm_px))
    grain = np.hypot(flat[..., 1] - 20.0, np.maximum(np.abs(flat[..., 0]) - 110.0, 0.0))
    return np.maximum(ink, _line(grain, 0.6, mm_px))


def _line(away: np.ndarray, wide: float, mm_px: float) -> np.ndarray:
    """Ink of a line, by how far a pixel's middle is from it."""
    return np.clip((wide / 2 - away) / mm_px + 0.5, 0.0, 1.0) * min(1.0, wide / mm_px + 0.3)


# --- light ---------------------------------------------------------------------------------------


def _lit(
    world: World, cam: Camera, room: np.ndarray, gloss: float
) -> tuple[np.ndarray, np.ndarray]:
    """Light on points of a surface (rows, columns, 3), and what is mirrored there."""
    down, right = (np.gradient(room, axis=k) for k in (0, 1))
    normal = np.cross(down, right)
    normal /= np.maximum(np.linalg.norm(normal, axis=-1, keepdims=True), 1e-9)
    normal *= np.sign(normal[..., 2:]) + (normal[..., 2:] == 0)
    to = np.array(world.lamp) - room
    far = np.linalg.norm(to, axis=-1)
    to /= far[..., None]
    reach = np.linalg.norm(world.lamp)
    light = world.ambient + (1 - world.ambient) * np.clip((normal * to).sum(-1), 0, None) * (
        reach / far
    ) ** 2 / (world.lamp[2] / reach)
    back = np.array(cam.eye) - room
    back /= np.linalg.norm(back, axis=-1, keepdims=True)
    half = to + back
    half /= np.linalg.norm(half, axis=-1, keepdims=True)
    mirrored = gloss * np.exp(-(1 - np.clip((half * normal).sum(-1), 0, 1)) / world.gloss_width)
    return light, mirrored


def _shadow(
    world: World, rim: _Away, table: np.ndarray, mm_px: float, fine: Callable[..., np.ndarray]
) -> np.ndarray:
    """What is left of the lamp's light on the table beside paper that stands off it.

    table: places on it at every eighth pixel. fine: brings such values to all pixels.
    """
    room = world.lift.place(table)
    high = room[..., 2]
    to = np.array(world.lamp)[:2] - table
    way = to / world.lamp[2]
    start = table - (room[..., :2] - table)
    under = start + way * (high[..., None] + 0.25)
    soft = fine(mm_px + 0.5 + 0.25 * high[..., None])[..., 0]
    return 1 - (1 - world.ambient) * np.clip(0.5 - rim.at(fine(under)) / soft, 0, 1)


# --- the photo -----------------------------------------------------------------------------------


def rendered(world: World, cam: Camera, *, later: bool = False) -> np.ndarray:
    """Return a photo (h, w, 3). later: sheets that were moved lie where they were moved to."""
    wide, tall = cam.size
    rng = np.random.default_rng(cam.seed)
    grid = _Grid((0, 0), (wide, tall))
    rays = rays_of(cam, grid.u, grid.v)
    mm_px = math.dist(cam.eye, (0, 0, 0)) / (cam.focal * max(cam.size))
    cut = world.paper is world.points
    rim = _field(world, "paper")
    away = rim if cut else _field(world, "points")

    def fine(coarse: np.ndarray) -> np.ndarray:
        return np.stack([grid.fine(coarse[..., k]) for k in range(coarse.shape[-1])], axis=-1)

    bare = _met(cam, rays, Lift())
    light, mirrored = _lit(world, cam, Lift().place(bare), world.gloss[0])
    table = fine(bare)
    wood = world.table * (1 + 0.12 * _texture(world.seed, table * (0.25, 2.0), 2.0))
    seen = wood * grid.fine(light) * _shadow(world, rim, bare, mm_px, fine) + grid.fine(mirrored)
    del table, wood
    own = _met(cam, rays, world.lift)
    light, mirrored = _lit(world, cam, world.lift.place(own), world.gloss[1])
    flat = fine(own)
    cover = _cover(-rim.at(flat), mm_px)
    white = world.white * (1 + 0.008 * _texture(world.seed + 1, flat, 1.0))
    ink = _lines(world, away, flat, mm_px)
    paper = white * (1 - ink) + world.ink * ink
    if world.through:
        paper *= 1 - world.through * (1 - 0.06 * _texture(world.seed + 2, flat, 0.35))
        paper += world.through * world.table * 0.8
    seen += cover * (paper * grid.fine(light) + grid.fine(mirrored) - seen)
    del flat, white, ink, paper
    for marked in world.marked:
        _lay(seen, world, cam, marked, mm_px, later=later)
    return _developed(seen, cam, rng)


def _field(world: World, name: str) -> _Away:
    if name not in world.fields:
        world.fields[name] = _Away(getattr(world, name), BAND_MM)
    return world.fields[name]


def _lay(
    seen: np.ndarray, world: World, cam: Camera, marked: Marked, mm_px: float, *, later: bool
) -> None:
    """Put a marker sheet into the picture."""
    move = marked.moved if later else (0.0, 0.0, 0.0)
    turn = math.radians(marked.turn_deg + move[2])
    c, s = math.cos(turn), math.sin(turn)
    spin = np.array([[c, s], [-s, c]])
    middle = np.array(marked.at) + move[:2]
    half = np.array([sheets.WIDTH_MM / 2 + 12, sheets.HEIGHT_MM / 2 + 12])
    corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * (half + 8)
    at = pixel_of(cam, np.c_[corners @ spin + middle, np.zeros(4)])
    low = np.clip(np.floor(at.min(axis=0)) - 8, 0, cam.size).astype(int)
    high = np.clip(np.ceil(at.max(axis=0)) + 8, 0, cam.size).astype(int)
    if (high - low < 4).any():
        return
    grid = _Grid((int(low[0]), int(low[1])), (int(high[0]), int(high[1])))
    rays = rays_of(cam, grid.u, grid.v)
    own = _turned_met(cam, rays, marked.lift, spin, middle)
    room = marked.lift.place(own)
    room[..., :2] = room[..., :2] @ spin + middle
    light, _ = _lit(world, cam, room, 0.0)
    x, y = (grid.fine(own[..., k] / world.printed) for k in (0, 1))
    art = _art(marked.number, round(3.5 * mm_px * ART_PX))
    columns = (x + half[0]) * ART_PX - 0.5
    rows = (half[1] - y) * ART_PX - 0.5
    at_art = (m.astype(np.float32) for m in (columns, rows))
    print_ = cv2.remap(art, *at_art, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    cover = _cover(np.minimum(half[0] - np.abs(x), half[1] - np.abs(y)), mm_px)
    part = seen[low[1] : high[1], low[0] : high[0]]
    part += cover * (print_ * grid.fine(light) - part)


def _turned_met(
    cam: Camera, rays: np.ndarray, lift: Lift, spin: np.ndarray, middle: np.ndarray
) -> np.ndarray:
    """As `_met`, in the own coordinates of a sheet that lies turned."""
    eye = np.array(cam.eye)
    goal = eye + rays * (-eye[2] / rays[..., 2:])
    own = (goal[..., :2] - middle) @ spin.T
    for _ in range(25 if lift.bumps or lift.curls else 0):
        room = lift.place(own)
        there = eye + rays * ((room[..., 2:] - eye[2]) / rays[..., 2:])
        own = own + ((there[..., :2] - middle) @ spin.T - room[..., :2])
    return own


def _developed(seen: np.ndarray, cam: Camera, rng: np.random.Generator) -> np.ndarray:
    """Light to a JPEG's pixels."""
    seen = cv2.GaussianBlur(seen.astype(np.float32), (0, 0), cam.blur_px)
    seen += (
        rng.standard_normal(seen.shape, dtype=np.float32)
        * cam.noise
        * np.sqrt(np.maximum(seen, 0.01))
    )
    tone = np.clip(seen, 0.0, 1.0) ** (1 / 2.2)
    tone += cam.sharpen * (tone - cv2.GaussianBlur(tone, (0, 0), 1.4))
    colour = np.clip(tone[..., None] * np.array([1.0, 0.98, 0.93], np.float32), 0, 1)
    out = io.BytesIO()
    Image.fromarray((colour * 255 + 0.5).astype(np.uint8)).save(
        out, "JPEG", quality=cam.quality, subsampling=2
    )
    return np.array(Image.open(out))


def photographs(world: World, cameras: tuple[Camera, ...]) -> tuple[Photo, ...]:
    """Return the photos; sheets that were moved lie elsewhere from the second on."""
    return tuple(
        Photo(pixels=rendered(world, cam, later=k > 1), focal_px=None, name=f"photo {k}.jpg")
        for k, cam in enumerate(cameras, start=1)
    )


# --- scenes from a seed --------------------------------------------------------------------------

MEDIA = (
    "white cut",
    "cut on wood",
    "pen",
    "tissue sizes",
    "tissue ruled",
    "tissue cut",
    "pen at cut",
)
FAULTS = ("none", "stands off", "corner curled", "glare", "sheet moved", "sheet curled")


@dataclass(frozen=True, kw_only=True)
class Staged:
    """A scene: world, cameras, the bar as read, what it is."""

    world: World
    cameras: tuple[Camera, ...]
    bar_mm: float
    medium: str
    fault: str


def staged(
    seed: int,
    *,
    size: tuple[int, int] = (2400, 1800),
    medium: str = "",
    fault: str = "",
    count: int = 0,
) -> Staged:
    """Return a scene from a seed; what is given is so, the rest is drawn."""
    rng = np.random.default_rng(50_000 + seed)
    medium = medium or MEDIA[seed % len(MEDIA)]
    fault = fault or FAULTS[(seed // len(MEDIA) + seed) % len(FAULTS)]
    count = count or (
        int(rng.integers(2, 4)) if fault == "sheet moved" else int(rng.integers(1, 4))
    )
    points = _shape(rng)
    cut = medium in ("white cut", "cut on wood", "tissue cut")
    margin = 3.0 if medium == "pen at cut" else 24.0
    paper = points if cut else _round(points, margin)
    wide, tall = points.max(axis=0)
    spot = points[int(rng.integers(len(points)))]
    lamp = (
        float(rng.uniform(-900, 900)),
        float(rng.uniform(-900, 900)),
        float(rng.uniform(1500, 2600)),
    )
    room = 0.0 if cut else 22.0
    marked = _marked(rng, float(tall) + room, fault)
    cameras = _cameras(rng, count, size, float(wide), float(tall) + room)
    gloss = (0.0, 0.0)
    if fault == "glare":
        eye = np.array(cameras[0].eye)
        way = np.array([*(spot - eye[:2]), eye[2]])
        lamp = tuple(
            float(v) for v in np.array([*spot, 0.0]) + way / way[2] * rng.uniform(1300, 2000)
        )
        gloss = (float(rng.uniform(0.7, 2.0)), float(rng.uniform(0.3, 2.0)))
    tissue = medium.startswith("tissue")
    world = World(
        points=points,
        paper=paper,
        pen_mm=0.0 if cut else float(rng.uniform(0.5, 1.1)),
        ink=float(rng.uniform(0.02, 0.1)),
        sizes=(5.0, 10.0, -5.5) if medium == "tissue sizes" else (),
        dash_mm=float(rng.choice([0.0, 6.0])),
        ruled_mm=50.0 if medium == "tissue ruled" else 0.0,
        through=float(rng.uniform(0.15, 0.4)) if tissue else 0.0,
        table=float(rng.uniform(0.15, 0.28))
        if medium == "cut on wood"
        else float(rng.uniform(0.02, 0.07)),
        lift=_lift(rng, fault, points, spot),
        marked=marked,
        printed=float(1 + rng.normal(0, 0.003)),
        lamp=lamp,
        ambient=float(rng.uniform(0.4, 0.75)),
        gloss=gloss,
        gloss_width=float(rng.uniform(0.0004, 0.0015)),
        seed=seed,
    )
    bar = round((200 * world.printed + rng.normal(0, 0.12)) * 4) / 4
    return Staged(world=world, cameras=cameras, bar_mm=bar, medium=medium, fault=fault)


def _bezier(a: tuple, b: tuple, c: tuple, d: tuple) -> np.ndarray:
    t = np.linspace(0, 1, 80)[:-1, None]
    return (
        (1 - t) ** 3 * np.array(a)
        + 3 * t * (1 - t) ** 2 * np.array(b)
        + 3 * t * t * (1 - t) * np.array(c)
        + t**3 * np.array(d)
    )


def _shape(rng: np.random.Generator) -> np.ndarray:
    """The outline of a bodice half, a sleeve or a skirt panel of our own, about 600 mm long."""
    j = lambda a, b: float(rng.uniform(a, b))  # noqa: E731
    kind = int(rng.integers(3))
    if kind == 0:  # bodice half: hem, side, armhole, shoulder, neck, middle
        h, w = j(520, 600), j(230, 290)
        arm, neck = j(180, 220), j(60, 90)
        corners = [
            (0, 0),
            (w, 12),
            (w + 6, h - arm - 20),
            (w - 80, h - 40),
            (neck, h),
            (0, h - neck * 1.2),
        ]
        parts = [
            _bezier(corners[0], (w / 3, 0), (2 * w / 3, 4), corners[1]),
            _bezier(corners[1], (w - 14, h * 0.2), (w - 6, h * 0.4), corners[2]),
            _bezier(corners[2], (w - 66, h - arm), (w - 84, h - arm + 60), corners[3]),
            _bezier(corners[3], (w - 110, h - 26), (neck + 40, h - 12), corners[4]),
            _bezier(corners[4], (neck - 4, h - neck), (neck / 2, h - neck * 1.2), corners[5]),
            _bezier(corners[5], (0, h * 0.6), (0, h * 0.3), corners[0]),
        ]
    elif kind == 1:  # sleeve
        h, w, cap = j(540, 610), j(170, 200), j(120, 150)
        c = h - cap
        parts = [
            _bezier((-w * 0.7, 0), (-w * 0.2, -6), (w * 0.2, -6), (w * 0.7, 0)),
            _bezier((w * 0.7, 0), (w * 0.75, c * 0.4), (w * 0.9, c * 0.7), (w, c)),
            _bezier((w, c), (w * 0.55, c + 10), (w * 0.45, h), (0, h)),
            _bezier((0, h), (-w * 0.5, h), (-w * 0.55, c + 4), (-w, c)),
            _bezier((-w, c), (-w * 0.9, c * 0.7), (-w * 0.75, c * 0.4), (-w * 0.7, 0)),
        ]
    else:  # skirt panel
        h, w = j(520, 600), j(170, 220)
        parts = [
            _bezier((0, 0), (w * 0.5, -2), (w, 4), (w * 1.4, 22)),
            _bezier((w * 1.4, 22), (w * 1.25, h * 0.4), (w * 1.15, h * 0.6), (w * 1.08, h * 0.72)),
            _bezier(
                (w * 1.08, h * 0.72), (w * 1.02, h * 0.86), (w * 0.98, h * 0.94), (w * 0.92, h)
            ),
            _bezier((w * 0.92, h), (w * 0.6, h - 10), (w * 0.3, h - 16), (0, h - 16)),
            _bezier((0, h - 16), (0, h * 0.7), (0, h * 0.3), (0, 0)),
        ]
    points = np.vstack(parts).astype(float)
    points -= (points.min(axis=0) + points.max(axis=0)) / 2
    turn = math.radians(90 + j(-8, 8))
    c, s = math.cos(turn), math.sin(turn)
    return points @ np.array([[c, s], [-s, c]])


def _round(points: np.ndarray, margin: float) -> np.ndarray:
    """Paper cut roughly round a line."""
    hull = shapely.Polygon(points)
    around = hull.buffer(margin) if margin < 10 else hull.convex_hull.buffer(margin, join_style=2)
    return np.array(shapely.geometry.polygon.orient(around).exterior.coords)[:-1]


def _marked(rng: np.random.Generator, tall: float, fault: str) -> tuple[Marked, ...]:
    out = []
    for side in (1, -1):
        for x in (-170.0, 170.0):
            out.append(
                Marked(
                    number=len(out),
                    at=(
                        x + float(rng.normal(0, 12)),
                        side * (tall + 142 + float(rng.uniform(0, 15))),
                    ),
                    turn_deg=90.0 + float(rng.normal(0, 4)),
                )
            )
    if fault == "sheet moved":
        k = int(rng.integers(4))
        move = (
            float(rng.uniform(2, 7) * rng.choice([-1, 1])),
            float(rng.uniform(-4, 4)),
            float(rng.normal(0, 0.6)),
        )
        out[k] = Marked(number=k, at=out[k].at, turn_deg=out[k].turn_deg, moved=move)
    if fault == "sheet curled":
        k = int(rng.integers(4))
        lift = Lift(curls=((0.0, float(rng.uniform(20, 60)), 90.0, float(rng.uniform(350, 900))),))
        out[k] = Marked(number=k, at=out[k].at, turn_deg=out[k].turn_deg, lift=lift)
    return tuple(out)


def _lift(rng: np.random.Generator, fault: str, points: np.ndarray, spot: np.ndarray) -> Lift:
    if fault == "stands off":
        other = points[int(rng.integers(len(points)))]
        return Lift(
            bumps=(
                (*map(float, spot), float(rng.uniform(2, 3)), float(rng.uniform(50, 110))),
                (*map(float, other), float(rng.uniform(1, 3)), float(rng.uniform(50, 110))),
            )
        )
    if fault == "corner curled":
        tip = points[int(np.argmax(points @ rng.choice([-1.0, 1.0], 2)))]
        way = math.atan2(tip[1], tip[0])
        back = float(rng.uniform(25, 55))
        at = tip - back * np.array([math.cos(way), math.sin(way)])
        return Lift(curls=((*map(float, at), math.degrees(way), float(rng.uniform(60, 160))),))
    return Lift(bumps=((*map(float, spot), float(rng.uniform(0, 0.4)), 90.0),))


def _cameras(
    rng: np.random.Generator, count: int, size: tuple[int, int], wide: float, tall: float
) -> tuple[Camera, ...]:
    focal = float(rng.uniform(0.64, 0.85))
    lens = {
        "size": size,
        "focal": focal,
        "k": tuple(
            float(rng.uniform(a, b)) for a, b in ((-0.05, 0.08), (-0.06, 0.04), (-0.01, 0.015))
        ),
        "p": (float(rng.normal(0, 0.0012)), float(rng.normal(0, 0.0012))),
        "middle": (float(rng.normal(0, 0.002)), float(rng.normal(0, 0.002))),
        "blur_px": float(rng.uniform(0.5, 0.9)),
        "noise": float(rng.uniform(0.006, 0.016)),
        "sharpen": float(rng.uniform(0.2, 0.7)),
    }
    need = max((2 * max(wide, 290) + 110) * focal, (2 * tall + 560) * focal / 0.75)
    out: list[Camera] = []
    start = float(rng.uniform(0, 2 * math.pi))
    for k in range(count):
        high = need * float(rng.uniform(1.08, 1.2))
        lean = math.radians(float(rng.uniform(6, 20)))
        to = start + 2 * math.pi * k / count + float(rng.normal(0, 0.3))
        eye = (
            high * math.sin(lean) * math.cos(to),
            high * math.sin(lean) * math.sin(to),
            high * math.cos(lean),
        )
        out.append(
            Camera(
                eye=eye,
                at=(float(rng.normal(0, 15)), float(rng.normal(0, 15))),
                spin_deg=float(rng.normal(0, 4)),
                seed=10 * k + 1,
                **lens,
            )
        )
    return tuple(out)
