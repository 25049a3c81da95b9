"""Two edges compared place by place: every motion of the print is tried, and the angle as sewn.

The right side of the cloth is up on both sides, so where the edges lie along each other the cloth
of side b is turned to side a's by the difference of their headings. A motion of the print that
turns it the same way lets the figures run on; one that mirrors, along the seam, lets them lie alike
on both sides of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.motions import Motions, band, ground
from clothwright.cloth.prints import Border
from clothwright.lay.meeting.values import STRAIGHT_DEG, MeetingKind
from clothwright.lay.sewn import Numbers, Sewn

Flags = NDArray[np.bool_]
LEVEL_DEG = 60.0
"""degrees: bars bent by more than this are no longer seen as one bar. Our own choice."""
BIAS_DEG = 30.0
"""degrees off both axes of the cloth beyond which a piece is on the bias. Our own choice."""
ALONG, ACROSS = 0, 1


class Missed(NamedTuple):
    """By how much one motion of the print misses at every place.

    angle_deg: (n,) degrees left. both: (n, 2) mm to the nearest place where the print comes again;
    alone: (n, 2) mm on each axis for itself, where bars matter and not what lies between them. nan
    on an axis of which the design says nothing. sign: (2,) how a shift of side b counts in it.
    """

    angle_deg: Numbers
    both: Numbers
    alone: Numbers
    mirrors: bool
    sign: Numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """Places of a seam that lie in one design: the ground, or one border.

    where: (m,) their numbers. missed: what every motion of the design misses there. periods: mm,
    after which bars stand level again on each axis; None where they come once. stops: the border
    is on one side only.
    """

    where: NDArray[np.intp]
    missed: tuple[Missed, ...]
    periods: tuple[float | None, float | None]
    whole: bool = True
    stops: bool = False


def patches(cloth: Cloth, both: Sewn, tolerance: float) -> tuple[Patch, ...]:
    """Return the parts of a seam by what is printed there; places with no design are left out.

    tolerance: mm; a border that only touches the seam for less counts for nothing.
    """
    design = cloth.print
    in_a = _bands(design.borders, cloth.width, both.a.points)
    in_b = _bands(design.borders, cloth.width, both.b.points)
    found, free = [], np.ones(len(both.at), dtype=bool)
    two = (in_a >= 0) & (in_b >= 0) & (in_a != in_b)
    if two.any():
        found.append(_two_borders(cloth, both, np.flatnonzero(two), in_a, in_b))
        free &= ~two
    for k, border in enumerate(design.borders):
        for run in _runs(((in_a == k) | (in_b == k)) & ~two):
            if both.at[run[-1]] - both.at[run[0]] < tolerance:
                continue
            stops = not ((in_a[run] == k) & (in_b[run] == k)).any()
            found.append(_patch(band(border, design), both, run, stops=stops))
            free[run] = False
    motions = ground(design)
    if any(motions.says) and free.any():
        found.append(_patch(motions, both, np.flatnonzero(free)))
    return tuple(found)


def _bands(borders: Sequence[Border], width: float, points: Numbers) -> NDArray[np.intp]:
    """Return for every place the number of the border it lies in, -1 outside them."""
    out = np.full(len(points), -1)
    for k, border in reversed(list(enumerate(borders))):
        low, high = border.span(width)
        out[(points[:, 1] >= low) & (points[:, 1] <= high)] = k
    return out


def _runs(flags: Flags) -> list[NDArray[np.intp]]:
    """Return the numbers of places that follow each other, run by run."""
    where = np.flatnonzero(flags)
    return np.split(where, np.flatnonzero(np.diff(where) > 1) + 1) if len(where) else []


def _patch(motions: Motions, both: Sewn, where: NDArray[np.intp], *, stops: bool = False) -> Patch:
    heading = both.a.heading[where], both.b.heading[where]
    points = both.a.points[where], both.b.points[where]
    missed = []
    for each in motions.operations:
        turned = _after(each.signs, heading[1])
        apart = points[0] - each.of(points[1])
        missed.append(
            Missed(
                angle_deg=_wrapped_deg(heading[0] - turned),
                both=motions.apart(apart),
                alone=np.column_stack([_level(motions, apart, axis) for axis in (ALONG, ACROSS)]),
                mirrors=each.mirrors,
                sign=np.asarray(each.signs, dtype=float),
            )
        )
    periods = motions.level(ALONG), motions.level(ACROSS)
    return Patch(where=where, missed=tuple(missed), periods=periods, stops=stops)


def _after(signs: tuple[int, int], heading: Numbers) -> Numbers:
    """Return headings (radians) after a motion of such signs."""
    turned: Numbers = np.arctan2(signs[1] * np.sin(heading), signs[0] * np.cos(heading))
    return turned


def _wrapped_deg(radians: Numbers) -> Numbers:
    wrapped: Numbers = (np.degrees(radians) + 180.0) % 360.0 - 180.0
    return wrapped


def _level(motions: Motions, apart: Numbers, axis: int) -> Numbers:
    """Return differences on one axis, mm, from where bars stand level again; nan if silent."""
    if not motions.says[axis]:
        return np.full(len(apart), np.nan)
    return from_period(apart[:, axis], motions.level(axis))


def from_period(apart: Numbers, period: float | None) -> Numbers:
    """Return differences, mm, taken from the nearest whole number of periods."""
    if period is None:
        return apart
    wrapped: Numbers = (apart + period / 2) % period - period / 2
    return wrapped


def _two_borders(
    cloth: Cloth,
    both: Sewn,
    where: NDArray[np.intp],
    in_a: NDArray[np.intp],
    in_b: NDArray[np.intp],
) -> Patch:
    """Compare places in two different borders by their height over the base lines, and only so.

    Whether their figures are the same is not known. Borders of opposite selvedges stand upright on
    a garment when one piece is turned round.
    """
    borders, points = cloth.print.borders, (both.a.points[where], both.b.points[where])
    height, sign = [], []
    for numbers, at in zip((in_a[where], in_b[where]), points, strict=True):
        inwards = np.array([1.0 if b.side == "lower" else -1.0 for b in borders])[numbers]
        base = np.array([b.line(cloth.width) for b in borders])[numbers]
        height.append((at[:, 1] - base) * inwards)
        sign.append(inwards)
    over = sign[0] * sign[1]
    turned = both.b.heading[where] + np.where(over < 0, np.pi, 0.0)
    apart = np.column_stack([np.full(len(where), np.nan), (height[0] - height[1]) * sign[0]])
    missed = Missed(
        angle_deg=_wrapped_deg(both.a.heading[where] - turned),
        both=apart,
        alone=apart,
        mirrors=False,
        sign=np.array([1.0, float(over[0])]),
    )
    return Patch(where=where, missed=(missed,), periods=(None, None), whole=False)


class MustMeet(NamedTuple):
    """What must meet at every place: (n, 2), whether bars of each axis cross the seam there.

    height: (n,) the axis of the cloth along which the body's height runs on side a. slanting: (n,)
    on the bias: no axis is the body's, and what meets is level.
    """

    axes: Flags
    height: NDArray[np.intp]
    slanting: Flags


def asked(heading: Numbers, turn_deg: Numbers) -> MustMeet:
    """Return what crosses a seam, from its heading (radians) and how the piece lies (degrees).

    A seam that runs up the body is crossed by bars of height, one across it by upright bars; on
    the bias both cross it.
    """
    off = (turn_deg + 45.0) % 90.0 - 45.0
    height = np.where(np.round((turn_deg - off) / 90.0).astype(int) % 2 == 0, ALONG, ACROSS)
    rises = np.abs(np.cos(heading - np.radians(turn_deg))) >= np.cos(np.pi / 4) - 1e-9
    axes = np.zeros((len(heading), 2), dtype=bool)
    axes[np.arange(len(heading)), np.where(rises, height, 1 - height)] = True
    slanting = np.abs(off) > BIAS_DEG
    axes[slanting] = True
    return MustMeet(axes, height, slanting)


class MeetingPlaces(NamedTuple):
    """Every place of a seam: how it meets there, and by how many mm what is asked misses.

    kind: numbers of `MeetingKind` in its order. gap, level, upright: mm; nan where the design says
    nothing, stops or is turned. turned_deg: (n,) degrees.
    """

    kind: NDArray[np.intp]
    gap: Numbers
    level: Numbers
    upright: Numbers
    turned_deg: Numbers


NUMBER = {kind: n for n, kind in enumerate(MeetingKind)}


def compared(n: int, found: Sequence[Patch], wanted: MustMeet, tolerance: float) -> MeetingPlaces:
    """Return how `n` places of a seam meet, from the patches they lie in."""
    plain = np.full(n, NUMBER[MeetingKind.PLAIN])
    gap, level, upright, turned = np.full((4, n), np.nan)
    out = MeetingPlaces(plain, gap, level, upright, turned)
    for patch in found:
        if patch.stops:
            out.kind[patch.where] = NUMBER[MeetingKind.STOPS]
            continue
        for whole, part in zip(out, _compared_in(patch, wanted, tolerance), strict=True):
            whole[patch.where] = part
    return out


def _compared_in(patch: Patch, wanted: MustMeet, tolerance: float) -> MeetingPlaces:
    axes, height = asked_in(patch, wanted), wanted.height[patch.where]
    row = np.arange(len(height))
    bars = np.min([_bars(m) for m in patch.missed], axis=0)
    level, upright = bars[row, height], bars[row, 1 - height]
    gap = np.min([missed_of(_bars(m), axes) for m in patch.missed], axis=0)
    kind = np.full(len(height), NUMBER[MeetingKind.APART])
    kind[np.isinf(gap)] = NUMBER[MeetingKind.TURNED]
    slanting = wanted.slanting[patch.where]
    level[slanting], upright[slanting] = np.nan, np.nan
    sideways = upright <= tolerance
    kind[sideways] = NUMBER[MeetingKind.UPRIGHT]
    kind[(level <= tolerance) & (axes[row, height] | ~sideways)] = NUMBER[MeetingKind.LEVEL]
    kind[slanting & (gap <= tolerance)] = NUMBER[MeetingKind.LEVEL]
    for whole, mirrors in ((MeetingKind.MIRRORED, True), (MeetingKind.RUNS_ON, False)):
        for m in patch.missed if patch.whole else ():
            if m.mirrors is mirrors:
                kind[_all_meets(m, tolerance)] = NUMBER[whole]
    turned = np.min([np.abs(m.angle_deg) for m in patch.missed if not m.mirrors], axis=0)
    return MeetingPlaces(kind, _finite(gap), _finite(level), _finite(upright), turned)


def asked_in(patch: Patch, wanted: MustMeet) -> Flags:
    """Return which axes must meet in a patch, (m, 2): where it says one way only, that one."""
    says: Flags = ~np.isnan(patch.missed[0].alone)
    both: Flags = wanted.axes[patch.where] & says
    either: Flags = np.where(both.any(axis=1, keepdims=True), both, says)
    return either


def missed_of(bars: Numbers, axes: Flags) -> Numbers:
    """Return the larger of what is missed on the axes that must meet, mm, positive."""
    larger: Numbers = np.where(axes, np.abs(bars), 0.0).max(axis=-1)
    return larger


def _bars(missed: Missed) -> Numbers:
    """Return how far apart bars are on each axis, mm; infinite where they are bent too much."""
    bent = np.abs(missed.angle_deg) > LEVEL_DEG
    return np.where(bent[:, None] & ~np.isnan(missed.alone), np.inf, np.abs(missed.alone))


def _all_meets(missed: Missed, tolerance: float) -> Flags:
    straight = np.abs(missed.angle_deg) <= STRAIGHT_DEG
    farther = np.nan_to_num(np.abs(missed.both)).max(axis=1)
    meets: Flags = straight & (farther <= tolerance)
    return meets


def _finite(values: Numbers) -> Numbers:
    return np.where(np.isfinite(values), values, np.nan)
