"""Shapes as they may lie, and where one may not lie because of another.

A *kind* is one outline at one turn and side; shapes that are copies of one piece share their kinds.
For two kinds, `Forbidden` holds the positions of the second, measured from the first, at which they
would overlap or come nearer than the gap: a list of convex polygons, each the Minkowski sum of one
convex part of the first with the mirrored part of the second (Bennell and Oliveira 2008, "The
geometry of nesting problems: a tutorial", sections on the no-fit polygon).

Every polygon is kept as half-planes `nx * x + ny * y <= h`, so that for a given y the forbidden x
form one open interval, found without any division at search time.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from shapely.geometry import Polygon

from clothwright.lay.convex import convex_parts, simplify_outward
from clothwright.lay.problem import Point, Ring

TOUCH = 1e-6
"""Shapes may share a line: forbidden positions are open by this much (mm)."""
BULGE = 0.5
Parts = tuple[tuple[Point, ...], ...]
"""Convex parts of a shape, of one to three corners each (`lay.problem.KeepWhole`)."""
_LEVEL = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One outline at one turn and side, its reference point at the origin.

    ring: the true outline; low, high: its bounds; points: the named points, moved alike.
    normals, heights: per convex part, its half-planes; corners: its corners. All are padded by
    repeating, so that they stack: (parts, K, 2), (parts, K), (parts, V, 2).
    """

    index: int
    turn_deg: float
    flipped: bool
    ring: np.ndarray
    low: tuple[float, float]
    high: tuple[float, float]
    area: float
    normals: np.ndarray
    heights: np.ndarray
    corners: np.ndarray


@dataclass(frozen=True, slots=True, kw_only=True)
class Forbidden:
    """Forbidden positions of one kind relative to another: convex polygons as half-planes.

    near, far: per axis, (parts, K, 2) lines `value = a + b * other` that bound the axis from below
    and above; low, high: per axis, (parts,) bounds.
    """

    normals: np.ndarray
    heights: np.ndarray
    near: tuple[np.ndarray, np.ndarray]
    far: tuple[np.ndarray, np.ndarray]
    low: tuple[np.ndarray, np.ndarray]
    high: tuple[np.ndarray, np.ndarray]


@dataclass(slots=True, kw_only=True)
class Atlas:
    """All kinds met so far and the pairs between them; filled on demand."""

    gap: float
    kinds: list[Kind] = field(default_factory=list)
    parts: dict[int, tuple[np.ndarray, ...]] = field(default_factory=dict)
    rings: dict[Ring, int] = field(default_factory=dict)
    known: dict[tuple[int, float, bool], Kind] = field(default_factory=dict)
    pairs: dict[tuple[int, int], Forbidden] = field(default_factory=dict)
    shuns: dict[tuple[Parts, float, int], Forbidden] = field(default_factory=dict)

    def kind(self, outline: Ring, turn_deg: float, flipped: bool) -> Kind:
        """The kind for an outline as it lies (mm)."""
        number = self.rings.setdefault(outline, len(self.rings))
        key = (number, round(turn_deg % 360.0, 9), flipped)
        if key not in self.known:
            if number not in self.parts:
                self.parts[number] = _parts_of(outline)
            moved = [turned(part, turn_deg, flipped) for part in self.parts[number]]
            ring = turned(np.asarray(outline, dtype=float), turn_deg, flipped)
            self.known[key] = self._add(ring, moved, turn_deg, flipped)
        return self.known[key]

    def fixed(self, parts: tuple[np.ndarray, ...]) -> Kind:
        """A kind for something that does not move: a flaw, the outside of a remnant."""
        ring = np.concatenate(parts)
        return self._add(ring, list(parts), 0.0, False)

    def _add(
        self, ring: np.ndarray, parts: list[np.ndarray], turn_deg: float, flipped: bool
    ) -> Kind:
        if flipped:
            parts = [part[::-1] for part in parts]
        normals, heights, corners = _stack(parts)
        low, high = ring.min(axis=0), ring.max(axis=0)
        kind = Kind(
            index=len(self.kinds),
            turn_deg=turn_deg,
            flipped=flipped,
            ring=ring,
            low=(float(low[0]), float(low[1])),
            high=(float(high[0]), float(high[1])),
            area=Polygon(ring).area,
            normals=normals,
            heights=heights,
            corners=corners,
        )
        self.kinds.append(kind)
        return kind

    def pair(self, fixed: Kind, moving: Kind, *, gap: bool = True) -> Forbidden:
        """Where `moving` may not lie because of `fixed`."""
        key = (fixed.index, moving.index)
        if key not in self.pairs:
            self.pairs[key] = _pair(fixed, moving, self.gap if gap else 0.0)
        return self.pairs[key]

    def shunned(self, parts: Parts, radius: float, kind: Kind) -> Forbidden:
        """Where a kind may not lie so that its parts keep off a disc (mm) about the origin."""
        key = (parts, radius, kind.index)
        if key not in self.shuns:
            moved = [turned(np.asarray(p, dtype=float), kind.turn_deg, kind.flipped) for p in parts]
            self.shuns[key] = around(moved, radius)
        return self.shuns[key]


def turned(points: np.ndarray, turn_deg: float, flipped: bool) -> np.ndarray:
    """Points (mm) mirrored across the grain when flipped, then turned about the origin."""
    angle = math.radians(turn_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    if turn_deg % 90.0 == 0.0:
        cos, sin = float(round(cos)), float(round(sin))
    x = points[:, 0]
    y = -points[:, 1] if flipped else points[:, 1]
    out: np.ndarray = np.column_stack((cos * x - sin * y, sin * x + cos * y))
    return out


def turned_points(points: Mapping[str, Point], turn_deg: float, flipped: bool) -> dict[str, Point]:
    """Named points (mm) mirrored and turned (degrees) like their shape."""
    return dict(zip(points, _moved(tuple(points.values()), turn_deg, flipped), strict=True))


@lru_cache(maxsize=1024)
def _moved(points: tuple[Point, ...], turn_deg: float, flipped: bool) -> tuple[Point, ...]:
    moved = turned(np.asarray(points, dtype=float).reshape(-1, 2), turn_deg, flipped)
    return tuple((float(x), float(y)) for x, y in moved)


def _parts_of(outline: Ring) -> tuple[np.ndarray, ...]:
    lean = simplify_outward(np.asarray(outline, dtype=float))
    return convex_parts(Polygon(lean), bulge=BULGE)


def _stack(parts: list[np.ndarray]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Half-planes and corners of convex parts, padded by repeating the last."""
    most = max(len(part) for part in parts)
    corners = np.stack([part[np.minimum(np.arange(most), len(part) - 1)] for part in parts])
    normals = np.empty((len(parts), most, 2))
    for row, part in enumerate(parts):
        step = np.roll(part, -1, axis=0) - part
        out = np.column_stack((step[:, 1], -step[:, 0])) / np.hypot(step[:, 0], step[:, 1])[:, None]
        normals[row] = out[np.minimum(np.arange(most), len(part) - 1)]
    heights = np.einsum("pkc,pvc->pkv", normals, corners).max(axis=2)
    return normals, heights, corners


_ROUND = np.array([(math.cos(k * math.pi / 4), math.sin(k * math.pi / 4)) for k in range(8)])
_ROUND = np.where(np.abs(_ROUND) < 1e-12, 0.0, _ROUND)


def _support(corners: np.ndarray, directions: np.ndarray) -> np.ndarray:
    """How far convex parts reach in given directions: (parts, directions)."""
    out: np.ndarray = np.einsum("pvc,kc->pkv", corners, directions).max(axis=2)
    return out


def _pair(fixed: Kind, moving: Kind, gap: float) -> Forbidden:
    """The Minkowski sums part by part, grown by the gap (corners cut to an octagon)."""
    a, b = len(fixed.corners), len(moving.corners)
    own = np.einsum("pkc,qvc->pqkv", fixed.normals, moving.corners).min(axis=3)
    first = fixed.heights[:, None, :] - own
    other = np.einsum("qkc,pvc->pqkv", -moving.normals, fixed.corners).max(axis=3)
    second = other + moving.heights[None, :, :]
    round_a, round_b = _support(fixed.corners, _ROUND), _support(moving.corners, -_ROUND)
    third = round_a[:, None, :] + round_b[None, :, :]
    if gap == 0.0:
        third = third + np.where(np.arange(8) % 2 == 0, 0.0, 1e9)
    normals = np.concatenate(
        [
            np.broadcast_to(fixed.normals[:, None], (a, b, *fixed.normals.shape[1:])),
            np.broadcast_to(-moving.normals[None], (a, b, *moving.normals.shape[1:])),
            np.broadcast_to(_ROUND, (a, b, 8, 2)),
        ],
        axis=2,
    ).reshape(a * b, -1, 2)
    heights = np.concatenate([first, second, third], axis=2).reshape(a * b, -1) + gap
    return half_planes(normals, heights - TOUCH)


def half_planes(normals: np.ndarray, heights: np.ndarray) -> Forbidden:
    """A pair from half-planes whose last eight are the octagon's directions."""
    near_x, far_x = _lines(normals, heights, 0)
    near_y, far_y = _lines(normals, heights, 1)
    # Directions 0, 2, 4, 6 of the octagon are the bounds along the axes.
    right, over, left, under = (heights[:, k - 8] for k in (0, 2, 4, 6))
    return Forbidden(
        normals=normals,
        heights=heights,
        near=(near_x, near_y),
        far=(far_x, far_y),
        low=(-left, -under),
        high=(right, over),
    )


SIDES = 96
"""So many sides stand for a circle, round it."""
_SIDES = np.column_stack([f(np.arange(SIDES) * (2.0 * math.pi / SIDES)) for f in (np.cos, np.sin)])


def around(parts: Sequence[np.ndarray], radius: float) -> Forbidden:
    """Where the reference point may not lie so that parts keep off a disc about the origin.

    parts: convex, of one to three corners each (mm, from the reference point). radius: of the disc,
    mm, taken as `SIDES` sides around it.
    """
    corners = -np.stack([part[np.minimum(np.arange(3), len(part) - 1)] for part in parts])
    step = np.roll(corners, -1, axis=1) - corners
    out = np.stack((step[..., 1], -step[..., 0]), axis=-1)
    long = np.hypot(out[..., 0], out[..., 1])[..., None]
    own = np.where(long > 0.0, out / np.where(long > 0.0, long, 1.0), _SIDES[0])
    every = np.concatenate([_SIDES, _ROUND])
    many = np.broadcast_to(every, (len(parts), *every.shape))
    normals = np.concatenate([own, -own, many], axis=1)
    reach = np.einsum("pkc,pvc->pkv", normals, corners).max(axis=2)
    return half_planes(normals, reach + radius - TOUCH)


def slab(axis: int, low: float, high: float, touch: float = TOUCH) -> Forbidden:
    """A forbidden open band between two values (mm) of an axis, without end the other way."""
    none = math.inf
    right, over, left, under = (high, none, -low, none) if axis == 0 else (none, high, none, -low)
    heights = np.array([[right, none, over, none, left, none, under, none]])
    return half_planes(_ROUND[None], heights - touch)


def _lines(normals: np.ndarray, heights: np.ndarray, axis: int) -> tuple[np.ndarray, np.ndarray]:
    mine, other = normals[..., axis], normals[..., 1 - axis]
    slanted = np.abs(mine) > _LEVEL
    safe = np.where(slanted, mine, 1.0)
    lines = np.stack([heights / safe, -other / safe], axis=-1)
    none = np.array((-np.inf, 0.0))
    near = np.where((slanted & (mine < 0.0))[..., None], lines, none)
    far = np.where((slanted & (mine > 0.0))[..., None], lines, -none)
    return _packed(near), _packed(far)


def _packed(lines: np.ndarray) -> np.ndarray:
    """Real lines moved to the front of each row, the empty tail cut off."""
    real = np.isfinite(lines[..., 0])
    order = np.argsort(~real, axis=1, kind="stable")
    most = max(1, int(real.sum(axis=1).max(initial=1)))
    taken: np.ndarray = np.take_along_axis(lines, order[..., None], axis=1)[:, :most]
    return taken
