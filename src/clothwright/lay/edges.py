"""What a cloth leaves to shapes that have a tolerance: between its edges, beside its bands."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from clothwright.lay.atlas import turned
from clothwright.lay.axis_rules import AxisRule, Span, Way, Ways, asked_on
from clothwright.lay.bands import FAR, bands, left_in, usable
from clothwright.lay.problem import (
    LayProblem,
    Pinned,
    Shape,
    names_of,
)
from clothwright.lay.tied import Rooms, Tied


def rooms_of(problem: LayProblem, part: Tied, ways: Ways) -> Rooms:
    """Return where on the cloth each shape of a set, turned so, can lie, along and across.

    Only what decides anything: of shapes on a line of the cloth, and of those with less play than
    the repeat. A pin is a place already.
    """
    along, across = (tuple(_on(problem, part, ways, axis)) for axis in (0, 1))
    return along, across


def _on(problem: LayProblem, part: Tied, ways: Ways, axis: int) -> Iterator[AxisRule]:
    asked = asked_on(axis, part.shapes, part.rules, ways)
    period = max((a.repeat for a in asked), default=0.0)
    pinned = {r.shape for r in part.rules if isinstance(r, Pinned)}
    for n, shape in enumerate(part.shapes):
        mine = [a for a in asked if n in {number for number, _ in a.sum}]
        if not mine or not shape.outline or shape.id in pinned:
            continue
        windows = tuple(_windows(problem, shape, ways[shape.id], axis))
        on_line = any(a.line == n for a in mine)
        if windows and (on_line or sum(high - low for low, high in windows) < period):
            yield AxisRule(
                rule=f"room {shape.id}",
                of=f"room {shape.id}",
                sum=((n, 1),),
                const=0.0,
                windows=windows,
                repeat=period,
                own=1.0,
                line=n,
            )


def _windows(problem: LayProblem, shape: Shape, way: Way, axis: int) -> Iterator[Span]:
    """Yield where a shape's reference point may be on any of its cloths."""
    ring = turned(np.asarray(shape.outline, dtype=float), *way)[:, axis]
    extent = float(ring.min()), float(ring.max())
    rules = [r for r in problem.rules if shape.id in names_of(r)] if axis == 1 else []
    for region in problem.regions:
        if not shape.regions or region.name in shape.regions:
            start, end = usable(region, axis)
            yield from left_in(
                (start, min(end, FAR)), extent, bands(rules, region.name, way.turn_deg)
            )
