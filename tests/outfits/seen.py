"""How the print meets along a seam, found by looking at the painted cloth on both sides of it.

The words are those of docs/garment.md: at a place of the seam the cloth of side b is turned so that
both stitching lines run alike. For each motion that leaves the painting as it is (`painted`), the
angle between both cloths and how far the painting would have to be moved are taken by trying every
copy; what is said of the place follows from them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border
from tests.outfits.painted import Painting, band_painting, ground_painting, in_band
from tests.outfits.sewn import Sewn

Points = NDArray[np.float64]
STEP = 0.25
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
            rows = np.stack([out[:, axis] + k * period for k in _steps(out[:, axis], period)])
            out[:, axis] = np.take_along_axis(rows, np.abs(rows).argmin(axis=0)[None], axis=0)[0]
    return out


def _steps(values: Points, period: float) -> range:
    """Return every number of periods that could bring one of the values nearest to zero."""
    most = int(np.ceil(np.abs(values).max() / period)) + 1
    return range(-most, most + 1)


@dataclass(frozen=True)
class Seen:
    """A seam looked at: what is seen at each place, kind by kind, mm apart.

    at: mm along side a. kind: "runs on", "mirrored", "level", "upright", "apart", "turned",
    "stops" or "plain" at each. within: whether what crosses the seam meets there; height, side: mm
    apart in height and to the side, nan where the print says nothing.
    """

    at: Points
    kind: NDArray[np.str_]
    within: NDArray[np.bool_]
    height: Points
    side: Points
    crossing: Points

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


def seen(join: Sewn, cloth: Cloth, tolerance: float = 2.0) -> Seen:
    """Look at a whole seam."""
    at = np.linspace(0.0, join.a.length, max(2, int(np.ceil(join.a.length / STEP)) + 1))
    a, b = join.a.places(at), join.b.places(join.beside(at))
    out = _Judged(len(at), a[1], a[2], tolerance)
    ground = ground_painting(cloth.print)
    if ground is not None:
        out.fill(np.ones(len(at), bool), look(ground, (a[0], a[1]), (b[0], b[1])))
    for border in cloth.print.borders:
        _on_border(out, border, cloth, a, b)
    return Seen(at, out.kind, out.within, out.height, out.side, out.crossing)


Places = tuple[Points, Points, Points]


def _on_border(out: _Judged, border: Border, cloth: Cloth, a: Places, b: Places) -> None:
    on_a, on_b = (in_band(border, cloth.width, p[0]) for p in (a, b))
    painting = band_painting(border, cloth.print, cloth.width)
    looked = look(painting, (a[0], a[1]), (b[0], b[1]))
    either = np.r_[False, on_a | on_b, False]
    turns = np.flatnonzero(either[1:] != either[:-1])
    for low, high in zip(turns[::2], turns[1::2], strict=True):
        mine = np.zeros(len(on_a), bool)
        mine[low:high] = True
        if on_a[mine].any() and on_b[mine].any():
            out.fill(mine, looked)
        else:
            out.stop(mine)


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

    def fill(self, where: NDArray[np.bool_], looked: Look) -> None:
        """Say of places what is seen there, the best kind that any motion shows."""
        n = np.arange(len(self.kind))
        meets: dict[str, NDArray[np.bool_]] = {
            k: np.zeros(len(n), bool) for k in ("runs on", "mirrored", "level", "upright", "near")
        }
        least = [np.full(len(n), np.inf) for _ in range(2)]
        both = np.full(len(n), np.inf)
        for angle, apart, alone, mirrors in zip(
            looked.angle, looked.apart, looked.alone, looked.mirrors, strict=True
        ):
            whole = np.nanmax(np.abs(apart), axis=1)
            small, wide = np.abs(angle) <= SMALL_DEG, np.abs(angle) <= WIDE_DEG
            meets["mirrored" if mirrors else "runs on"] |= small & (whole <= self.tolerance)
            meets["near"] |= wide
            for k, axis in enumerate((self.up, 1 - self.up)):
                mm = np.where(wide, np.abs(alone[n, axis]), np.inf)
                least[k] = np.fmin(least[k], mm)
                key = "level" if k == 0 else "upright"
                meets[key] |= wide & (np.nan_to_num(mm, nan=np.inf) <= self.tolerance) & ~self.bias
            both = np.fmin(both, np.where(wide, whole, np.inf))
        self._tell(where, meets, [np.where(np.isinf(v), np.nan, v) for v in least], both)

    def _tell(
        self,
        where: NDArray[np.bool_],
        meets: dict[str, NDArray[np.bool_]],
        least: list[Points],
        both: Points,
    ) -> None:
        kind = np.select(
            [meets[k] for k in ("runs on", "mirrored", "level", "upright", "near")],
            ["runs on", "mirrored", "level", "upright", "apart"],
            "turned",
        )
        crossing = np.where(self.rises, least[0], least[1])
        crossing = np.where(np.isnan(crossing), np.where(self.rises, least[1], least[0]), crossing)
        crossing = np.where(self.bias, both, crossing)
        for mine, new in (
            (self.kind, kind),
            (self.height, least[0]),
            (self.side, least[1]),
            (self.crossing, crossing),
            (self.within, np.nan_to_num(crossing, nan=np.inf) <= self.tolerance),
        ):
            mine[where] = new[where]
