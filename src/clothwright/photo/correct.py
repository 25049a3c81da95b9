"""An outline corrected by hand: places of it are put elsewhere, held, or taken out of it.

A correction belongs to a place on the outline as it was found, so that corrections may come in any
order, be moved again, and be taken back one by one. Away from them the outline stays as found.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import NamedTuple

from clothwright.geometry.fit import smooth_through
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.vec import Vec, turn_between_deg

REACH_MM = 25.0
"""A point that is moved bends the outline so far to both sides, twice as far as it moved if more,
and never past the next corner or the next point put by hand."""
CORNER_MM = 3.0
"""A place this near to a corner means the corner."""
CORNER_DEG = 20.0
SAME_MM = 0.5
"""Two corrections nearer than this along the outline are the same; the later one counts."""
STEP_MM = 6.0
"""Distance of the points that a bent stretch is drawn through."""
EVERY_MM = 90.0
"""Points to take hold of lie no farther apart than this."""


class Correction(NamedTuple):
    """at: a place on the found outline, mm. to: where it should be; None takes it out."""

    at: Vec
    to: Vec | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A point of a corrected outline to take hold of.

    at: its place on the found outline, by which it is named. now: where it is. corner: the outline
    turns there. by_hand: it was put by hand (moved or added).
    """

    at: Vec
    now: Vec
    corner: bool
    by_hand: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """A corrected outline. farthest_mm: how far it lies from the found one at most.

    taken: places that were taken out, on the found outline.
    """

    path: Path
    farthest_mm: float
    holds: tuple[Hold, ...]
    taken: tuple[Vec, ...]


class _Knot(NamedTuple):
    """A place that is held: s mm along the found outline, moved by `off` to `to`."""

    s: float
    off: Vec
    to: Vec
    corner: bool
    by_hand: bool


def mended(path: Path, corrections: Sequence[Correction], more: Sequence[Vec] = ()) -> Mended:
    """Return a closed path corrected, with its points to take hold of, in order along it.

    It passes exactly through every `to`.
    more: further places at which one should lie (doubts), where they are on the outline.
    """
    work = _Work(path, corrections)
    after = work.path()
    return Mended(
        path=after,
        farthest_mm=work.farthest(after),
        holds=work.holds(after, more),
        taken=tuple(path.point_at(s) for s in work.out),
    )


def corners_along(path: Path) -> list[float]:
    """Return the distances along a closed path at which it turns by more than 20 degrees."""
    segments = path.segments
    along = accumulate((s.length for s in segments[:-1]), initial=0.0)
    joints = zip(along, (segments[-1], *segments), segments, strict=False)
    return [
        at
        for at, before, after in joints
        if abs(turn_between_deg(before.tangent(1.0), after.tangent(0.0))) > CORNER_DEG
    ]


class _Work:
    """The found outline turned to begin at a knot, its knots and what was taken out."""

    def __init__(self, path: Path, corrections: Sequence[Correction]) -> None:
        self.found, self.length = path, path.length
        corners = corners_along(path)
        moved: dict[float, Correction] = {}
        for correction in corrections:
            s = self._near_corner(path.nearest(correction.at)[0], corners)
            moved = {k: c for k, c in moved.items() if self._gap(k, s) > SAME_MM}
            moved[s] = correction
        self.out = sorted(s for s, c in moved.items() if c.to is None)
        knots = [
            _Knot(s, c.to - path.point_at(s), c.to, s in corners, True)
            for s, c in moved.items()
            if c.to is not None
        ]
        knots += [self._still(s, corner=True) for s in corners if s not in moved]
        self.knots = sorted(knots)
        self.touched = bool(moved)

    def _still(self, s: float, *, corner: bool) -> _Knot:
        """A knot where the found outline stays."""
        return _Knot(s, Vec(0.0, 0.0), self.found.point_at(s), corner, False)

    def _gap(self, a: float, b: float) -> float:
        """The shorter way round between two places."""
        way = abs(a - b) % self.length
        return min(way, self.length - way)

    def _near_corner(self, s: float, corners: Sequence[float]) -> float:
        s %= self.length
        near = min(corners, key=lambda c: self._gap(c, s), default=s)
        return near if self._gap(near, s) <= CORNER_MM else s

    def path(self) -> Path:
        """The corrected outline."""
        if not self.touched:
            return self.found
        if not self.knots:
            self.knots = [self._still(self._far_from_out(), corner=False)]
        first = self.knots[0].s
        self.turned = self.found.onward(first, first)
        ring = [k._replace(s=k.s - first) for k in self.knots]
        ring.append(ring[0]._replace(s=self.length))
        parts = [p for a, b in pairwise(ring) for p in self._between(a, b)]
        return _closed(join_all(_bridged(parts, self._gaps(first, ring))))

    def _far_from_out(self) -> float:
        """A place to begin at when nothing is held: half-way round from what was taken out."""
        return (self.out[0] + self.length / 2) % self.length if self.out else 0.0

    def _between(self, a: _Knot, b: _Knot) -> list[tuple[float, float, Path]]:
        """The outline between two knots, in pieces with their places along the found one."""
        gap = b.s - a.s
        here, there = _reach(a.off), _reach(b.off)
        if gap < 1e-6:
            return []
        if here and there and gap <= here + there:
            return [self._bent(a, b)]
        low, high = a.s + min(here, gap), b.s - min(there, gap)
        out = []
        if here:
            out.append(self._bent(a, self._plain(low) if low < b.s - 1e-6 else b))
        if high - low > 1e-6:
            out.append((low, high, self.turned.between(low, high)))
        if there:
            out.append(self._bent(self._plain(high) if high > a.s + 1e-6 else a, b))
        return out

    def _plain(self, s: float) -> _Knot:
        """A place of the turned outline where it is as found."""
        return _Knot(s, Vec(0.0, 0.0), self.turned.point_at(s), False, False)

    def _bent(self, a: _Knot, b: _Knot) -> tuple[float, float, Path]:
        """The stretch between two places that were moved, softly in between."""
        low, high, off0, off1 = a.s, b.s, a.off, b.off
        base = self.turned.between(low, high)
        count = max(2, math.ceil(base.length / STEP_MM))
        points = []
        for k in range(count + 1):
            share = k / count
            soft = share * share * (3.0 - 2.0 * share)
            points.append(base.point_at(share * base.length) + off0 * (1.0 - soft) + off1 * soft)
        inside = [p for p in points[1:-1] if min(p.distance(a.to), p.distance(b.to)) > 0.5]
        points = [a.to, *(p for p, q in pairwise((*inside, b.to)) if p.distance(q) > 0.05), b.to]
        return low, high, smooth_through(points, base.start_tangent, base.end_tangent)

    def _gaps(self, first: float, ring: Sequence[_Knot]) -> list[tuple[float, float]]:
        """The stretches that run fair over what was taken out, joined where they overlap."""
        held = [k.s for k in ring]
        gaps: list[tuple[float, float]] = []
        for s in sorted((s - first) % self.length for s in self.out):
            k = bisect.bisect_right(held, s)
            low, high = (
                max(s - REACH_MM, held[k - 1]),
                min(s + REACH_MM, held[min(k, len(held) - 1)]),
            )
            if gaps and low <= gaps[-1][1] and held[k - 1] < gaps[-1][1]:
                low = gaps.pop()[0]
            gaps.append((low, high))
        return gaps

    def holds(self, after: Path, more: Sequence[Vec]) -> tuple[Hold, ...]:
        """Points to take hold of: the knots, places of doubt, and others between them."""
        places = {k.s: k for k in self.knots if k.by_hand or k.corner}
        for at in more:
            s = self.found.nearest(at)[0] % self.length
            if all(self._gap(s, k) > 2 * CORNER_MM for k in (*places, *self.out)):
                places[s] = self._still(s, corner=False)
        stops = sorted(places)
        begin = 1 if stops else 0
        stops = stops or [0.0]
        for a, b in pairwise((*stops, stops[0] + self.length)):
            count = math.ceil((b - a) / EVERY_MM)
            for k in range(begin, count):
                s = (a + (b - a) * k / count) % self.length
                if all(self._gap(s, o) > REACH_MM for o in self.out):
                    places[s] = self._still(s, corner=False)
        out = []
        for s in sorted(places):
            knot = places[s]
            at = self.found.point_at(s)
            fixed = knot.by_hand or knot.corner
            now = knot.to if fixed else after.point_at(after.nearest(at)[0])
            out.append(Hold(at=at, now=now, corner=knot.corner, by_hand=knot.by_hand))
        return tuple(out)

    def farthest(self, after: Path) -> float:
        """How far the corrected outline lies from the found one at most."""
        most = max((k.off.norm for k in self.knots), default=0.0)
        for s in self.out:
            for k in range(-12, 13):
                at = self.found.point_at((s + k * REACH_MM / 12) % self.length)
                most = max(most, after.nearest(at)[1])
        return most


def _reach(off: Vec) -> float:
    """How far a point that moved by `off` bends the outline; 0 when it did not move."""
    return max(REACH_MM, 2.0 * off.norm) if off.norm > 1e-9 else 0.0


def _bridged(
    parts: Sequence[tuple[float, float, Path]], gaps: Sequence[tuple[float, float]]
) -> list[Path]:
    """The pieces, with a fair curve in the place of each stretch."""
    cut = [p for part in parts for p in _cut_at(part, [g for gap in gaps for g in gap])]
    for low, high in gaps:
        inside = [p for a, b, p in cut if a >= low - 1e-6 and b <= high + 1e-6]
        if inside and inside[0].start.distance(inside[-1].end) > 0.05:
            fair = smooth_through(
                [inside[0].start, inside[-1].end], inside[0].start_tangent, inside[-1].end_tangent
            )
            at = next(k for k, c in enumerate(cut) if c[2] is inside[0])
            cut[at : at + len(inside)] = [(low, high, fair)]
    joined: list[Path] = []
    for _, _, piece in cut:
        joined.append(piece.with_ends(start=joined[-1].end) if joined else piece)
    return joined


def _cut_at(
    part: tuple[float, float, Path], places: Sequence[float]
) -> list[tuple[float, float, Path]]:
    """A piece cut where a stretch begins or ends in it."""
    low, high, path = part
    inside = sorted({s for s in places if low + 1e-6 < s < high - 1e-6})
    if not inside:
        return [part]
    ratio = path.length / (high - low)
    stops = [low, *inside, high]
    return [(a, b, path.between((a - low) * ratio, (b - low) * ratio)) for a, b in pairwise(stops)]


def _closed(path: Path) -> Path:
    return path.with_ends(end=path.start)
