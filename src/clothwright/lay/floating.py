"""Shapes where their rules alone put them on the print: a lay in which they may overlap.

For a first look before anything is laid. What rules leave free is put somewhere: each set of shapes
that rules tie together by its first shape. Whole repeats are taken off or added so that every shape
lies on the cloth.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from clothwright.lay.atlas import turned_points
from clothwright.lay.axis_rules import Way, Ways, asked_on, common_repeat
from clothwright.lay.bands import bands, left_in, usable
from clothwright.lay.counting import follow
from clothwright.lay.lying import lie, moved_points, used_on
from clothwright.lay.octagon import Octagon, finite
from clothwright.lay.phases import pointed, turned
from clothwright.lay.problem import (
    CLEAR,
    AtFigure,
    AtPhase,
    LayProblem,
    OnLine,
    Pinned,
    Point,
    Region,
    Rule,
    Shape,
    TwoPoints,
    names_of,
)
from clothwright.lay.result import Lay, Placement
from clothwright.lay.tied import Tied, held, sets
from clothwright.lay.track import AXES, apart

MOST_PERIODS = 13
"""A border's repeat and the ground's fall together after fewer of the ground's, or never."""


class Lattice(NamedTuple):
    """Where a print comes again: mm along and across (None: not that way), and places within that.

    shifts: (0, 0), and in a half-drop or brick the place between. level: mm after which figures
    stand level again, less than the period there.
    """

    period: tuple[float | None, float | None]
    shifts: tuple[Point, ...]
    level: tuple[float | None, float | None]


Lattices = Mapping[str, Lattice]
"""By the name of a cloth, where its print comes again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Floating:
    """A lay of shapes that may overlap. free: on each axis, the shapes whose place nothing says.

    Those tied to such a one lie by it; there is one of them for each set that can be slid.
    """

    lay: Lay
    free: tuple[tuple[str, ...], tuple[str, ...]]


Anchors = Mapping[str, tuple[str, Point]]
"""By the id of a shape: one of its points, and where on the cloth (mm) it is put if it is free."""


def floating(problem: LayProblem, lattices: Lattices, anchors: Anchors) -> Floating:
    """Return every shape where its rules put it on the print, on the first cloth it may have."""
    exact = pointed(problem)
    regions = {r.name: r for r in problem.regions}
    own = {s.id: s for s in problem.shapes}
    places: dict[str, Placement] = {}
    free: tuple[list[str], list[str]] = ([], [])
    for tied in sets(exact):
        part, ways = turned(tied)
        at = [_on_axis(part, ways, axis, anchors, free[axis]) for axis in (0, 1)]
        for n, shape in enumerate(part.shapes):
            region = regions[shape.regions[0] if shape.regions else problem.regions[0].name]
            rules = [r for r in part.rules if shape.id in names_of(r)]
            one = _One(own[shape.id], ways[shape.id], rules, region)
            point, where = anchors[shape.id]
            here = turned_points(shape.points, *one.way)[point]
            lattice = lattices[region.name]
            near = [_near(one, k, at[k][n], where[k] - here[k], lattice) for k in (0, 1)]
            x, y = _spot(one, (near[0], near[1]), lattice)
            turn, over = one.way
            places[shape.id] = lie(
                one.shape, region=region.name, x=x, y=y, turn_deg=turn, flipped=over
            )
    placed = tuple(places[s.id] for s in problem.shapes)
    lay = Lay(placements=placed, used={name: used_on(name, placed) for name in regions})
    return Floating(lay=lay, free=(tuple(free[0]), tuple(free[1])))


def comes_again(rules: Sequence[Rule], shape: str, axis: str) -> float | None:
    """Return after how many mm on an axis the rules on a shape hold again; None without any."""
    mine = (r for r in rules if isinstance(r, AtPhase | TwoPoints) and shape in names_of(r))
    return common_repeat(r.repeat for r in mine if r.axis == axis) or None


def _on_axis(part: Tied, ways: Ways, axis: int, anchors: Anchors, free: list[str]) -> list[float]:
    """Return where the shapes of a set lie on an axis, mm; what is free is added to it.

    What keeps clear of figures lies where it does, and counts as free where no other rule holds it.
    """
    keeps_clear = any(isinstance(r, CLEAR) for r in part.rules)
    clear = held(part, ways).octagons[axis] if keeps_clear else Octagon.of(len(part.shapes))
    asked = asked_on(axis, part.shapes, part.rules, ways)
    octagon = follow(asked, len(part.shapes))[1][0].octagon
    out = []
    for n, shape in enumerate(part.shapes):
        if not finite(octagon.bounds(((n, 1),))):
            point, at = anchors[shape.id]
            here = turned_points(shape.points, *ways[shape.id])[point][axis]
            octagon = octagon.within(((n, 1),), at[axis] - here, at[axis] - here)
            free.append(shape.id)
        ends = clear.bounds(((n, 1),))
        out.append(sum(ends if finite(ends) else octagon.bounds(((n, 1),))) / 2.0)
    return out


class _One(NamedTuple):
    """A shape, how it is turned, the rules that speak of it, and the cloth it lies on."""

    shape: Shape
    way: Way
    rules: list[Rule]
    region: Region


def _near(one: _One, axis: int, at: float, wanted: float, lattice: Lattice) -> float:
    """Return a place (mm) as good for the rules, which are seen on an axis alone, near another."""
    step = lattice.level[axis]
    if any(isinstance(r, CLEAR) for r in one.rules):
        return at
    if step is None or not _kept(one, axis, step):
        return at
    return at + step * round((wanted - at) / step)


def _spot(one: _One, at: Point, lattice: Lattice) -> Point:
    """Return the place (mm) where the print is the same and the shape is nearest to mid-cloth."""
    spots = [
        (
            _on_cloth(one, 0, at[0] + dx, lattice.period[0]),
            _on_cloth(one, 1, at[1] + dy, lattice.period[1]),
        )
        for dx, dy in lattice.shifts
        if all(_keeps(rule, (dx, dy)) for rule in one.rules)
    ]
    ys = [y for _, y in moved_points(one.shape.outline, 0.0, 0.0, *one.way)]
    middle = _widest(one) - (min(ys) + max(ys)) / 2.0
    return min(spots, key=lambda spot: abs(spot[1] - middle))


def _keeps(rule: Rule, shift: Point) -> bool:
    """Tell whether a rule holds on as a shape is shifted (mm) to where the print is the same."""
    if isinstance(rule, Pinned):
        return shift == (0.0, 0.0)
    if isinstance(rule, AtFigure | CLEAR):
        repeats = (rule.repeat_along, rule.repeat_across)
        return all(apart(by, r) < 1e-6 for by, r in zip(shift, repeats, strict=True) if r)
    if not isinstance(rule, OnLine | AtPhase | TwoPoints):
        return True
    by = shift[AXES.index(rule.axis)]
    return by == 0.0 if isinstance(rule, OnLine) else apart(by, rule.repeat) < 1e-6


def _on_cloth(one: _One, axis: int, at: float, period: float | None) -> float:
    """Return the place (mm) whole repeats further, so that it is on the cloth.

    As it is, where a rule names the place itself; anywhere, where the print says nothing of it.
    """
    if any(_names_place(r, axis, period) for r in one.rules):
        return at
    ends = [p[axis] for p in moved_points(one.shape.outline, 0.0, 0.0, *one.way)]
    if axis == 0:
        wanted = one.region.margin_start + (period or 0.0) - min(ends)
    else:
        wanted = _widest(one) - (min(ends) + max(ends)) / 2.0
    if period is None:
        return wanted
    step = next(
        (k * period for k in range(1, MOST_PERIODS) if _kept(one, axis, k * period)), period
    )
    steps = (wanted - at) / step
    return at + step * (math.ceil(steps) if axis == 0 else round(steps))


def _kept(one: _One, axis: int, by: float) -> bool:
    """Tell whether all rules hold on where a shape is shifted on an axis by so many mm."""
    return all(_keeps(r, (by, 0.0) if axis == 0 else (0.0, by)) for r in one.rules)


def _names_place(rule: Rule, axis: int, period: float | None) -> bool:
    if isinstance(rule, OnLine):
        return rule.axis == AXES[axis]
    return isinstance(rule, Pinned) or (isinstance(rule, AtFigure) and period is None)


def _widest(one: _One) -> float:
    """Return the middle (mm) of the widest part of a cloth that a shape need not keep off."""
    whole = usable(one.region, 1)
    shut = bands(one.rules, one.region.name, one.way.turn_deg)
    low, high = max(left_in(whole, shut=shut) or [whole], key=lambda room: room[1] - room[0])
    return (low + high) / 2.0
