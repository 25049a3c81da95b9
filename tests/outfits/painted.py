"""A cloth painted point by point from what its print says, and what can be seen of it.

Nothing here knows how the program reckons with prints: spots are painted wherever the words of
docs/file-format.md put them (repeat, drop, mirror lines, half turn), and which motions leave the
painting as it is is found out by looking at it.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print

Points = NDArray[np.float64]
Pair = tuple[float, float]
Move = Callable[[Points], Points]
SPOTS = ((0.13, 0.29), (0.31, 0.42), (0.39, 0.07))
"""Shares of a tile: three spots, no two alike, in no straight line and no symmetry of their own."""
STRENGTH = (1.0, 0.7, 0.45)


@dataclass(frozen=True)
class Painting:
    """Spots (n, 3: x, y, which of SPOTS), coming again after `period` mm; `blur` is their radius.

    A period of None: the painting comes once that way; of 0: it does not change that way.
    """

    spots: Points
    period: tuple[float | None, float | None]
    blur: float

    def colour(self, points: Points) -> Points:
        """Return the colour at points (n, 2)."""
        apart = np.asarray(points, float)[:, None, :] - self.spots[None, :, :2]
        for axis, period in enumerate(self.period):
            if period == 0:
                apart[..., axis] = 0.0
            elif period is not None:
                apart[..., axis] -= period * np.round(apart[..., axis] / period)
        strength = np.asarray(STRENGTH)[self.spots[:, 2].astype(int)]
        shade: Points = (strength * np.exp(-(apart**2).sum(axis=2) / self.blur**2)).sum(axis=1)
        return shade

    def motions(self) -> tuple[tuple[Pair, Pair], ...]:
        """Return every motion p -> (sx x + tx, sy y + ty) that leaves the painting as it is.

        Found by laying one spot on each of its kind and looking whether all else falls on itself;
        within one period.
        """
        rng = np.random.default_rng(1)
        first = self.spots[self.spots[:, 2] == 0]
        size = [p or 400.0 for p in self.period]
        middle = self.spots[:, :2].mean(axis=0)
        seen = middle + (rng.random((160, 2)) - 0.5) * np.asarray(size)
        was = self.colour(seen)
        found: list[tuple[Pair, Pair]] = []
        for signs in itertools.product((1.0, -1.0), repeat=2):
            for x, y, _ in first:
                shift = np.array([x, y]) - np.asarray(signs) * first[0, :2]
                shift[[p == 0 for p in self.period]] = 0.0
                if np.abs(self.colour(seen * signs + shift) - was).max() < 1e-6:
                    found.append(((signs[0], signs[1]), (float(shift[0]), float(shift[1]))))
        return tuple(found)


def ground_painting(design: Print) -> Painting | None:
    """Return the painting of what repeats all over a cloth; None where nothing does."""
    wide, high = design.repeat_along or 0.0, design.repeat_across or 0.0
    if not wide and not high:
        return None
    size = np.array([wide or 50.0, high or 50.0])
    origin = np.array([design.origin_along, design.origin_across])
    moves, period = _moves(design)
    seeds = [origin + size * s for s in SPOTS]
    blur = 0.06 * min(v for v in (wide, high) if v)
    return Painting(_closed(seeds, moves, period), period, blur)


def _moves(design: Print) -> tuple[list[Move], tuple[float, float]]:
    """Return the moves that the words of a print name, and after how many mm all comes again."""
    wide, high = design.repeat_along or 0.0, design.repeat_across or 0.0
    brick, drop = design.drop == "brick", design.drop == "half-drop"
    moves = [_moved(wide, high / 2 * brick), _moved(wide / 2 * drop, high)]
    moves += [_mirrored(0, design.origin_along + at) for at in design.axes_along]
    moves += [_mirrored(1, design.origin_across + at) for at in design.axes_across]
    if design.half_turn is not None:
        middle = np.array([design.origin_along, design.origin_across]) + design.half_turn
        moves.append(lambda p: 2 * middle - p)
    return moves, (wide * (1 + brick), high * (1 + drop))


def band_painting(border: Border, design: Print, width: float) -> Painting:
    """Return the painting of a border: its spots at their heights above its base line, once.

    With a repeat it mirrors in the first line that the print names.
    """
    wide = border.repeat or design.repeat_along or 0.0
    base, inward = (border.base, 1.0) if border.side == "lower" else (width - border.base, -1.0)
    seeds = [
        np.array([design.origin_along + (wide or 50.0) * x, base + inward * border.height * y])
        for x, y in SPOTS
    ]
    moves = [_moved(wide, 0.0)]
    moves += [_mirrored(0, design.origin_along + at) for at in design.axes_along[:1]]
    spots = _closed(seeds, moves if wide else [], (wide, None))
    return Painting(spots, (wide, None), 0.06 * min(wide or 1e9, border.height))


def _moved(along: float, across: float) -> Move:
    """Return the move of a point by mm along and across."""
    return lambda p: np.array([p[0] + along, p[1] + across])


def _mirrored(axis: int, at: float) -> Move:
    """Return the mirror image of a point: 0 in a line across the cloth, 1 in one along it."""
    if axis == 0:
        return lambda p: np.array([2 * at - p[0], p[1]])
    return lambda p: np.array([p[0], 2 * at - p[1]])


def places_of(point: Pair, cloth: Cloth, low: Pair, high: Pair) -> tuple[tuple[float, float], ...]:
    """Return every place from `low` to `high` where what is printed at a point is printed again.

    On a border it comes again along it alone, with its repeat or the ground's.
    """
    design, width = cloth.print, cloth.width
    on = [b for b in design.borders if in_band(b, width, np.array([point]))[0]]
    moves, period = _moves(design)
    if on:
        wide = on[0].repeat or design.repeat_along or 0.0
        axes = design.axes_along if wide else ()
        moves = [_mirrored(0, design.origin_along + at) for at in axes]
        period = (wide, 0.0)
    if not any(period):
        moves = []
    seeds = _closed([np.asarray(point, float)], moves, period)
    out = []
    for x, y, _ in seeds:
        rows = [_repeated(v, *w) for v, *w in zip((x, y), period, low, high, strict=True)]
        out += [(a, b) for a in rows[0] for b in rows[1]]
    return tuple(out)


def _repeated(value: float, period: float, low: float, high: float) -> list[float]:
    if not period:
        return [value] if low <= value <= high else []
    first = int(np.ceil((low - value) / period))
    last = int(np.floor((high - value) / period))
    return [value + k * period for k in range(first, last + 1)]


def in_band(border: Border, width: float, points: Points) -> NDArray[np.bool_]:
    """Tell which points lie on a border."""
    y = points[:, 1]
    above = y - border.base if border.side == "lower" else width - border.base - y
    inside: NDArray[np.bool_] = (above >= 0.0) & (above <= border.height)
    return inside


def _closed(
    seeds: Iterable[Points],
    moves: Iterable[Move],
    period: tuple[float | None, float | None],
) -> Points:
    """Return the spots and wherever the moves bring them, each once, within one period."""
    out: list[tuple[float, float, float]] = []

    def add(p: Points, kind: float) -> None:
        q = [v % size if size else v for v, size in zip(p, period, strict=True)]
        for old in out:
            apart = np.array([q[0] - old[0], q[1] - old[1]])
            apart -= [
                size * round(d / size) if size else 0.0
                for d, size in zip(apart, period, strict=True)
            ]
            if old[2] == kind and np.hypot(*apart) < 0.01:
                return
        out.append((q[0], q[1], kind))

    for kind, seed in enumerate(seeds):
        add(seed, float(kind))
    moves = tuple(moves)
    for x, y, kind in out:
        for move in moves:
            add(move(np.array([x, y])), kind)
        if len(out) > 600:
            raise AssertionError("the print's words do not close")
    return np.array(out)
