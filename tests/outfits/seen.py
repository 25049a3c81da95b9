"""How the print meets along a seam, found by looking at the painted cloth on both sides of it.

The words are those of docs/garment.md: at a place of the seam the cloth of side b is turned so that
both stitching lines run alike. For each motion that leaves the painting as it is (`painted`), the
angle between both cloths and how far the painting would have to be moved are taken by trying every
copy; what is said of the place follows from them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwright.cloth.cloth import Cloth
from tests.outfits.painted import Painting, band_painting, ground_painting, in_band
from tests.outfits.sewn import Sewn

Points = NDArray[np.float64]
Pair = tuple[float, float]
STEP = 0.5
SMALL_DEG, WIDE_DEG = 10.0, 60.0
SLANT_DEG = 30.0
"""A top more than this from both ways of the cloth: the piece lies on the bias."""


@dataclass(frozen=True)
class Look:
    """What is seen at places of a seam (n of them). mm; nan where the print says nothing.

    angle: degrees left, per kind of motion; apart: (n, 2) along and across, from the nearest copy;
    alone: the same, each axis by itself. mirrors: whether that motion mirrors.
    """

    angle: tuple[Points, ...]
    apart: tuple[Points, ...]
    alone: tuple[Points, ...]
    mirrors: tuple[bool, ...]


def look(painting: Painting, a: tuple[Points, Points], b: tuple[Points, Points]) -> Look:
    """Compare places on the cloth. a, b: points and directions of travel, each (n, 2)."""
    (pa, ta), (pb, tb) = a, b
    motions = painting.motions()
    angles, parts, singles, mirrors = [], [], [], []
    for signs in dict.fromkeys(s for s, _ in motions):
        turned = tb * signs
        cross = ta[:, 0] * turned[:, 1] - ta[:, 1] * turned[:, 0]
        angles.append(-np.degrees(np.arctan2(cross, (ta * turned).sum(axis=1))))
        tried = np.stack(
            [_nearest(pa - (pb * signs + t), painting) for s, t in motions if s == signs]
        )
        best = np.argmin(np.nansum(tried**2, axis=2), axis=0)
        parts.append(tried[best, np.arange(len(pa))])
        one = np.argmin(np.abs(np.nan_to_num(tried)), axis=0)
        singles.append(np.take_along_axis(tried, one[None], axis=0)[0])
        mirrors.append(signs[0] != signs[1])
    return Look(tuple(angles), tuple(parts), tuple(singles), tuple(mirrors))


def _nearest(apart: Points, painting: Painting) -> Points:
    out = apart.copy()
    for axis, period in enumerate(painting.period):
        if period == 0:
            out[:, axis] = np.nan
        elif period is not None:
            out[:, axis] -= period * np.round(out[:, axis] / period)
    return out


@dataclass(frozen=True)
class Seen:
    """A seam looked at: what is seen at each place, kind by kind, mm apart.

    at: mm along side a. kind: "runs on", "mirrored", "level", "upright", "apart", "turned",
    "stops" or "plain" at each. within: whether what crosses the seam meets there. height, side: mm
    apart in height and to the side, nan where the print says nothing or the piece is on the bias.
    rises: where the seam runs up the body rather than round it; bias: where side a lies on it.
    """

    at: Points
    kind: NDArray[np.str_]
    within: NDArray[np.bool_]
    height: Points
    side: Points
    crossing: Points
    rises: NDArray[np.bool_]
    bias: NDArray[np.bool_]

    @property
    def says(self) -> NDArray[np.bool_]:
        """Where the print says anything."""
        return self.kind != "plain"

    def share(self, kind: str = "") -> float:
        """Return the share of what the print says anything of: of a kind, else within."""
        if not self.says.any():
            return 0.0
        mine = self.kind == kind if kind else self.within & self.says
        return float(mine.sum() / self.says.sum())


def seen(
    join: Sewn, cloth: Cloth, tolerance: float = 2.0, *, step: float = STEP, moved: Pair = (0, 0)
) -> Seen:
    """Look at a whole seam every `step` mm. moved: side b is moved on the cloth by that, mm."""
    at = np.linspace(0.0, join.a.length, max(2, int(np.ceil(join.a.length / step)) + 1))
    a, b = join.a.places(at), join.b.places(join.beside(at))
    b = (b[0] + np.asarray(moved), b[1], b[2])
    out = _Judged(len(at), a[1], a[2], tolerance)
    everywhere = np.ones(len(at), bool)
    ground = ground_painting(cloth.print)
    if ground is not None:
        out.fill(everywhere, look(ground, (a[0], a[1]), (b[0], b[1])))
    on_a, on_b = (_bands(cloth, places[0]) for places in (a, b))
    two = (on_a >= 0) & (on_b >= 0) & (on_a != on_b)
    for k, border in enumerate(cloth.print.borders):
        looked = look(band_painting(border, cloth.print, cloth.width), (a[0], a[1]), (b[0], b[1]))
        for mine in _stretches(((on_a == k) | (on_b == k)) & ~two):
            if np.ptp(at[mine]) < tolerance:
                continue
            if (on_a[mine] == k).any() and (on_b[mine] == k).any():
                out.fill(mine, looked)
            else:
                out.stop(mine)
    if two.any():
        out.fill(two, _by_height(cloth, a, b, on_a, on_b), whole=False)
    return Seen(at, out.kind, out.within, out.height, out.side, out.crossing, out.rises, out.bias)


Places = tuple[Points, Points, Points]


def _bands(cloth: Cloth, points: Points) -> NDArray[np.int_]:
    """Return on which border each point lies, -1 on none."""
    on = [in_band(border, cloth.width, points) for border in cloth.print.borders]
    return np.select(on, [*range(len(on))], -1) if on else np.full(len(points), -1)


def _stretches(flags: NDArray[np.bool_]) -> Iterator[NDArray[np.bool_]]:
    """Yield each unbroken stretch of places that are flagged."""
    edges = np.flatnonzero(np.diff(np.r_[False, flags, False].astype(int)))
    for low, high in zip(edges[::2], edges[1::2], strict=True):
        mine = np.zeros(len(flags), bool)
        mine[low:high] = True
        yield mine


def _by_height(
    cloth: Cloth, a: Places, b: Places, on_a: NDArray[np.int_], on_b: NDArray[np.int_]
) -> Look:
    """Compare places on two different borders by their heights over the base lines."""
    borders = cloth.print.borders

    def above(points: Points, on: NDArray[np.int_]) -> tuple[Points, Points]:
        low = np.array([x.side == "lower" for x in borders])[on]
        base = np.array([x.base for x in borders])[on]
        y = np.where(low, points[:, 1], cloth.width - points[:, 1]) - base
        return y, np.where(low, 1.0, -1.0)

    (ha, ia), (hb, ib) = above(a[0], on_a), above(b[0], on_b)
    turned = b[1] * (ia * ib)[:, None]
    cross = a[1][:, 0] * turned[:, 1] - a[1][:, 1] * turned[:, 0]
    angle = -np.degrees(np.arctan2(cross, (a[1] * turned).sum(axis=1)))
    apart = np.column_stack([np.full(len(ha), np.nan), ha - hb])
    return Look((angle,), (apart,), (apart,), (False,))


class _Judged:
    """What is said of each place, filled in for the ground and then for each border over it."""

    def __init__(self, count: int, ta: Points, up: Points, tolerance: float) -> None:
        self.tolerance = tolerance
        self.kind = np.full(count, "plain", dtype="<U9")
        self.within = np.zeros(count, bool)
        self.height, self.side, self.crossing = (np.full(count, np.nan) for _ in range(3))
        self.up = np.abs(up).argmax(axis=1)
        off = np.degrees(np.arctan2(np.abs(up).min(axis=1), np.abs(up).max(axis=1)))
        self.bias = off > SLANT_DEG
        self.rises = np.abs((ta * up).sum(axis=1)) >= np.cos(np.radians(45.0))

    def stop(self, where: NDArray[np.bool_]) -> None:
        """Say of places that a border is there on one side only."""
        self.kind[where], self.within[where] = "stops", False
        self.height[where] = self.side[where] = self.crossing[where] = np.nan

    def fill(self, where: NDArray[np.bool_], looked: Look, *, whole: bool = True) -> None:
        """Say of places what is seen there, the best kind that any motion shows.

        whole: False where nobody knows whether the figures are the same.
        """
        n, none = np.arange(len(self.kind)), np.zeros(len(self.kind), bool)
        meets = {k: none.copy() for k in ("runs on", "mirrored", "near")}
        least = [np.full(len(n), np.inf) for _ in range(3)]
        for angle, apart, alone, mirrors in zip(
            looked.angle, looked.apart, looked.alone, looked.mirrors, strict=True
        ):
            small, wide = np.abs(angle) <= SMALL_DEG, np.abs(angle) <= WIDE_DEG
            if whole:
                far = np.nanmax(np.abs(apart), axis=1)
                meets["mirrored" if mirrors else "runs on"] |= small & (far <= self.tolerance)
            meets["near"] |= wide
            mm = np.where(wide[:, None], np.abs(alone), np.inf)
            mm[np.isnan(alone)] = np.nan
            for k, rows in enumerate((mm[n, self.up], mm[n, 1 - self.up], np.nanmax(mm, axis=1))):
                least[k] = np.fmin(least[k], np.where(np.isnan(rows), np.inf, rows))
        self._tell(where, meets, least)

    def _tell(
        self, where: NDArray[np.bool_], meets: dict[str, NDArray[np.bool_]], least: list[Points]
    ) -> None:
        height, side, both = (np.where(np.isinf(v), np.nan, v) for v in least)
        height, side = (np.where(self.bias, np.nan, v) for v in (height, side))
        crossing = np.where(self.rises, height, side)
        crossing = np.where(np.isnan(crossing), np.where(self.rises, side, height), crossing)
        crossing = np.where(self.bias, both, crossing)
        level, upright, cross = (
            np.nan_to_num(v, nan=np.inf) <= self.tolerance for v in (height, side, crossing)
        )
        of_height = np.where(self.rises, ~np.isnan(height), np.isnan(side))
        kind = np.select(
            [
                meets["runs on"],
                meets["mirrored"],
                np.where(self.bias, cross, level & (of_height | ~upright)),
                upright,
                meets["near"],
            ],
            ["runs on", "mirrored", "level", "upright", "apart"],
            "turned",
        )
        for mine, new in (
            (self.kind, kind),
            (self.height, height),
            (self.side, side),
            (self.crossing, crossing),
            (self.within, cross),
        ):
            mine[where] = new[where]
