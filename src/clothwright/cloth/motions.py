"""A print as a group of motions: every way to move it so that its figures fall on themselves.

Half-drop and brick in the words of `Print.drop`. That a plane pattern is known by its lattice, its
mirrors and its half turns is the classification of the plane groups (International Tables for
Crystallography, volume A); those with thirds, quarters and slanting mirrors are left out.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from clothwright.cloth.prints import Border, Figure, Print

Points = NDArray[np.float64]
Pair = tuple[float, float]
AXES = ("along", "across")
SAME_MM = 0.05
"""mm: places nearer than this are one place of the print."""
NEAR_MM = 2.0
"""mm: so near a maker measures a print; what fits the repeat as nearly as that fits it."""


@dataclass(frozen=True, slots=True)
class Motion:
    """One motion of the print onto itself but for the repeat: p -> (sx * x + tx, sy * y + ty).

    signs: 1 or -1 on each axis; shift: mm. Both 1: the print as it is. One -1: mirrored on that
    axis. Both -1: a half turn.
    """

    signs: tuple[int, int]
    shift: Pair = (0.0, 0.0)

    @property
    def mirrors(self) -> bool:
        """True when the figures come out as in a mirror."""
        return self.signs[0] != self.signs[1]

    def of(self, points: Points) -> Points:
        """Return points (..., 2), mm, as they lie after the motion."""
        moved: Points = points * np.asarray(self.signs) + np.asarray(self.shift)
        return moved

    def turned(self, deg: float) -> float:
        """Return a direction, degrees, as it runs after the motion.

        >>> [Motion(signs).turned(30.0) for signs in ((-1, 1), (1, -1), (-1, -1))]
        [150.0, -30.0, 210.0]
        """
        round_ = 180.0 if self.signs[0] < 0 else 0.0
        return round_ - deg if self.mirrors else round_ + deg

    def after(self, first: Motion) -> Motion:
        """Return the motion that does `first` and then this one."""
        signs = (self.signs[0] * first.signs[0], self.signs[1] * first.signs[1])
        x, y = self.of(np.asarray(first.shift))
        return Motion(signs, (float(x), float(y)))


AS_IT_IS = Motion((1, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Motions:
    """The motions of a print.

    period: mm along and across after which all of it comes again in a rectangle; None on an axis
    where it does not. shifts: the places within that rectangle where it comes again too (half-drop
    and brick have two). operations: the print as it is first, then mirrors and the half turn, one
    of each kind. says: whether the design says anything on each axis.
    """

    period: tuple[float | None, float | None]
    shifts: tuple[Pair, ...] = ((0.0, 0.0),)
    operations: tuple[Motion, ...] = (AS_IT_IS,)
    says: tuple[bool, bool] = (True, True)

    def images(self, point: Pair) -> tuple[Pair, ...]:
        """Return where what lies at a point comes again, once within the period, mm."""
        return tuple(_place(each, point) for each in self.unlike(point))

    def copies(self, point: Pair, low: Pair, high: Pair) -> Iterator[Pair]:
        """Yield every place from `low` to `high` (mm) where what lies at a point comes again."""
        return (_place(each, point) for each in self.moves(point, low, high))

    def moves(self, point: Pair, low: Pair, high: Pair) -> Iterator[Motion]:
        """Yield the motion to every place from `low` to `high` (mm) where a point comes again.

        Each place once: by the print as it is, where that leads there.
        """
        for each in self.unlike(point):
            at = _place(each, point)
            rows = [steps(*row) for row in zip(at, self.period, low, high, strict=True)]
            for x, y in itertools.product(*rows):
                moved = (each.shift[0] + x - at[0], each.shift[1] + y - at[1])
                yield Motion(each.signs, moved)

    def unlike(self, point: Pair) -> tuple[Motion, ...]:
        """Return the motions that bring a point to its places within the period, one for each."""
        out: list[Motion] = []
        for each, (dx, dy) in itertools.product(self.operations, self.shifts):
            new = Motion(each.signs, (each.shift[0] + dx, each.shift[1] + dy))
            if all(self._far(_place(new, point), _place(old, point)) for old in out):
                out.append(new)
        return tuple(out)

    def apart(self, differences: Points) -> Points:
        """Return differences (n, 2), mm, taken from the nearest place where the print comes again.

        nan on an axis of which the design says nothing.
        """
        tried = np.stack([self._wrapped(differences - np.asarray(s)) for s in self.shifts])
        nearest = np.argmin(np.nansum(tried**2, axis=2), axis=0)
        found: Points = tried[nearest, np.arange(differences.shape[0])]
        return found

    def farthest(self, point: Pair) -> float:
        """Return how far a place can lie from every copy of a point, to 1/60 of the period; mm.

        Without end where the print does not come again on both axes.
        """
        along, across = self.period
        if along is None or across is None:
            return math.inf
        x, y = np.meshgrid(np.arange(60) * (along / 60), np.arange(60) * (across / 60))
        away = [
            np.hypot(
                (x - u + along / 2) % along - along / 2, (y - v + across / 2) % across - across / 2
            )
            for u, v in self.images(point)
        ]
        return float(np.min(away, axis=0).max())

    def level(self, axis: int) -> float | None:
        """Return the mm on an axis after which figures stand level again; None without a repeat."""
        period = self.period[axis]
        steps = {round(s[axis], 6) for s in self.shifts}
        return None if period is None else period / len(steps)

    def alike(self, a: Motion, b: Motion) -> bool:
        """Tell whether two motions of one kind differ by whole repeats, as near as is measured."""
        between = self.apart(np.subtract([a.shift], [b.shift]))
        return bool(np.hypot(*np.nan_to_num(between[0])) <= NEAR_MM)

    def takes(self, turn: Motion, lines: Sequence[Motion]) -> bool:
        """Tell whether a half turn goes with mirror lines (at most one each way), as a group does.

        Two lines are a half turn about where they cross. One makes a glide of it, which, done
        twice, has to be a repeat.
        """
        if len(lines) > 1:
            return self.alike(lines[0].after(lines[1]), turn)
        glides = [line.after(turn) for line in lines]
        return all(self.alike(glide.after(glide), AS_IT_IS) for glide in glides)

    def _wrapped(self, differences: Points) -> Points:
        out = differences.astype(float)
        for axis, (period, says) in enumerate(zip(self.period, self.says, strict=True)):
            if not says:
                out[:, axis] = np.nan
            elif period is not None:
                out[:, axis] = (out[:, axis] + period / 2) % period - period / 2
        return out

    def _far(self, a: Pair, b: Pair) -> bool:
        between = np.subtract([a], [b])
        steps = np.array(
            [
                p * np.round(d / p) if p else 0.0
                for d, p in zip(between[0], self.period, strict=True)
            ]
        )
        return bool(np.hypot(*(between[0] - steps)) > SAME_MM)


def ground(design: Print) -> Motions:
    """Return the motions of what is printed all over a cloth, borders left out.

    Where a print contradicts itself its top counts before mirror lines, of lines one way the first,
    and lines before a half turn (`cloth.contradictions`).
    """
    along, across = design.repeat_along, design.repeat_across
    shifts: tuple[Pair, ...] = ((0.0, 0.0),)
    if along and across and design.drop == "half-drop":
        shifts, across = (*shifts, (along / 2, across)), 2 * across
    elif along and across and design.drop == "brick":
        shifts, along = (*shifts, (along, across / 2)), 2 * along
    says = (along is not None, across is not None)
    alone = not design.figures and design.picture is None
    lattice = Motions(period=(along, across), shifts=shifts, says=says)
    found, turn = lines_of(design), half_turn_of(design)
    if turn is not None and lattice.takes(turn, found):
        found.append(turn)
    found += [mirror(axis, 0.0) for axis in (0, 1) if alone and not says[axis]]
    upright = [each for each in found if not turns_over(each, design.up)]
    return replace(lattice, operations=_closed(upright))


def lines_of(design: Print) -> list[Motion]:
    """Return the mirrors that are said of a print, the first one each way."""
    found = [mirror(0, design.origin_along + at) for at in design.axes_along[:1]]
    return found + [mirror(1, design.origin_across + at) for at in design.axes_across[:1]]


def half_turn_of(design: Print) -> Motion | None:
    """Return the half turn that is said of a print, None where none is."""
    if design.half_turn is None:
        return None
    x, y = design.half_turn
    return Motion((-1, -1), (2 * (design.origin_along + x), 2 * (design.origin_across + y)))


def turns_over(motion: Motion, up: str) -> bool:
    """Tell whether a motion turns round what has its top towards `up` (as in `Print.up`)."""
    axis = {"end": 0, "start": 0, "upper": 1, "lower": 1}.get(up)
    return axis is not None and motion.signs[axis] < 0


def band(border: Border, design: Print) -> Motions:
    """Return the motions of a border: along it only, for across it comes once."""
    repeat = border.repeat or design.repeat_along
    axes = design.axes_along[:1] if repeat else ()
    found = [mirror(0, design.origin_along + at) for at in (axes if repeat else (0.0,))]
    return Motions(period=(repeat, None), operations=_closed(found), says=(bool(repeat), True))


def of_figure(figure: Figure, design: Print, width: float) -> Motions:
    """Return the motions of a figure on a cloth of `width` mm: its border's, or the ground's."""
    for border in design.borders:
        low, high = border.span(width)
        if low <= figure.y <= high:
            found = band(border, design)
            return found if found.says[0] else Motions(period=(None, None))
    return ground(design)


def mirror(axis: int, at: float) -> Motion:
    """Return the mirror that turns one axis (0 along, 1 across) round at a place on it, mm."""
    signs, shift = [1, 1], [0.0, 0.0]
    signs[axis], shift[axis] = -1, 2 * at
    return Motion((signs[0], signs[1]), (shift[0], shift[1]))


def _closed(found: Sequence[Motion]) -> tuple[Motion, ...]:
    """Return the motions and what they make one after another, one of each kind."""
    kinds = {AS_IT_IS.signs: AS_IT_IS} | {each.signs: each for each in reversed(found)}
    for a, b in itertools.product(tuple(kinds.values()), repeat=2):
        both = b.after(a)
        kinds.setdefault(both.signs, both)
    return tuple(kinds.values())


def _place(motion: Motion, point: Pair) -> Pair:
    x, y = motion.of(np.asarray(point))
    return float(x), float(y)


def steps(value: float, period: float | None, low: float, high: float) -> list[float]:
    """Return every place from `low` to `high` that lies whole periods from one; mm.

    >>> steps(20.0, 56.0, 0.0, 140.0), steps(25.0, None, 0.0, 140.0)
    ([20.0, 76.0, 132.0], [25.0])
    """
    if period is None:
        return [value] if low <= value <= high else []
    first, last = int(np.ceil((low - value) / period)), int(np.floor((high - value) / period))
    return [value + k * period for k in range(first, last + 1)]
