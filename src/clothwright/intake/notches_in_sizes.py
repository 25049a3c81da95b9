"""Notches of nested sizes that are drawn with one pen: each belongs to the size it stands on.

A stroke stands on one outline, or is drawn through those of several sizes: a notch in each.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from clothwright.geometry.region import distances
from clothwright.geometry.vec import Vec
from clothwright.intake.chains import JOIN_MM
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.drawn_once import SMALL_MM, alike_boxes
from clothwright.intake.notch_marks import ON_MM, TICK_DEG, TICK_MM, is_straight

STEP_MM = 0.25
"""mm between the places of a stroke that are looked at."""
ENDS_MM = 0.3
"""mm: a stroke whose end or middle is this near to an outline was drawn for it."""
NEAR_MM = 25.0
"""mm: a stroke nearer than this that was drawn for an outline is its notch, and no other is."""
ASIDE_MM = 1.5
"""mm from its outline a stroke is looked at to tell how steep it stands."""
HALF_MM = 4.0
"""mm on both sides of an outline that are kept of a stroke drawn through several."""
MOST = 400
"""More short lines are no notches, and more long ones no outlines."""


Points = NDArray[np.float64]


class _Met(NamedTuple):
    """Where a stroke meets the outline of a size: mm along it, the place, whether drawn for it.

    by: "middle" or "end", what of the stroke lies on the outline; "" for neither.
    """

    stroke: int
    size: str
    at: float
    point: Vec
    by: str
    own: bool = False


def in_their_sizes(lines: Sequence[DrawnLine], sizes: Sequence[str]) -> tuple[DrawnLine, ...]:
    """Return the lines (mm) of a drawing in sizes with each notch stroke in the size it stands on.

    A stroke drawn through several outlines is cut: each size gets the part at its outline.
    """
    strokes = _strokes(lines) if len(sizes) > 1 else []
    met = _meetings(lines, strokes, _outlines(lines, sizes)) if strokes else []
    of: dict[int, list[_Met]] = {}
    for m in met:
        of.setdefault(m.stroke, []).append(m)
    out: list[DrawnLine] = []
    for k, line in enumerate(lines):
        mine = of.get(k, [])
        drawn = line.size in {m.size for m in mine if m.own}
        taken = [
            m
            for m in mine
            if (m.own and (m.size == line.size or not drawn)) or not _has_its_own(m, met)
        ]
        out += _parts(line, taken) or [line]
    return tuple(out)


def _outlines(lines: Sequence[DrawnLine], sizes: Sequence[str]) -> list[DrawnLine]:
    """Return the long lines that have their like in every size: no edge that all sizes share."""
    long = [(x, x.path.bounds()) for x in lines if x.size and x.path.length > SMALL_MM]
    if len(long) > MOST:
        return []
    return [
        x
        for x, box in long
        if all(
            any(y.size == size and alike_boxes(box, other) for y, other in long)
            for size in sizes
            if size != x.size
        )
    ]


def _strokes(lines: Sequence[DrawnLine]) -> list[int]:
    """Return the short straight lines that touch no end of a longer one, by number."""
    short = [
        k
        for k, x in enumerate(lines)
        if is_straight(x) and not x.kind and TICK_MM[0] <= x.path.length <= SMALL_MM
    ]
    if len(short) > MOST:
        return []
    known = set(short)
    ends = [e for k, x in enumerate(lines) if k not in known and not x.closed for e in x.path.ends]
    return [
        k
        for k in short
        if not any(e.distance(p) <= JOIN_MM for e in lines[k].path.ends for p in ends)
    ]


def _meetings(
    lines: Sequence[DrawnLine], strokes: Sequence[int], outlines: Sequence[DrawnLine]
) -> list[_Met]:
    found: list[_Met] = []
    for outline in outlines:
        box = outline.path.bounds()
        near = [k for k in strokes if box.meets(lines[k].path.bounds(), ON_MM)]
        places = [_places(lines[k]) for k in near]
        if not near:
            continue
        away = distances(np.vstack(places), np.array(outline.path.flatten(0.02)))
        ends = np.cumsum([len(p) for p in places])[:-1]
        each = zip(near, places, np.split(away, ends), strict=True)
        found += [m for k, at, d in each if (m := _met(k, outline.size, at, d))]
    return _drawn_for(found, lines)


def _drawn_for(met: Sequence[_Met], lines: Sequence[DrawnLine]) -> list[_Met]:
    """Return meetings with what each stroke was drawn for.

    It is what its middle lies on, if that is so for every stroke that lies on any, else what an end
    lies on; of two outlines the one that no other stroke was drawn for. A stroke that lies on none
    was drawn for the size of its pen.
    """
    on = {m.stroke for m in met if m.by}
    by = "middle" if on == {m.stroke for m in met if m.by == "middle"} else "end"
    by_end = {m.stroke for m in met if m.by == by}
    own = [
        m
        for m in met
        if (m.by == by or (m.by and m.stroke not in by_end))
        or (m.stroke not in on and lines[m.stroke].size == m.size)
    ]
    count = Counter(m.stroke for m in own)
    sole = [m._replace(own=True) for m in own if count[m.stroke] == 1]
    kept = {id(m) for m in own if count[m.stroke] == 1 or not _has_its_own(m, sole)}
    return [m._replace(own=id(m) in kept) for m in met]


def _places(line: DrawnLine) -> Points:
    """Return places along a stroke, n x 2: an odd number, so that its middle is one of them."""
    a, b = line.path.ends
    share = np.linspace(0.0, 1.0, 2 * math.ceil(line.path.length / STEP_MM / 2) + 1)[:, None]
    return np.array(a) * (1 - share) + np.array(b) * share


def _met(k: int, size: str, places: Points, away: Points) -> _Met | None:
    """Return where a stroke stands steeply on an outline; None where it does not."""
    n, last = int(away.argmin()), len(away) - 1
    step = float(np.hypot(*(places[1] - places[0])))
    aside = round(ASIDE_MM / step)
    far = max((away[j] for j in (n - aside, n + aside) if 0 <= j <= last), default=0.0)
    if away[n] > ON_MM or far < ASIDE_MM * math.sin(math.radians(TICK_DEG)):
        return None
    by = "middle" if away[last // 2] <= ENDS_MM else ""
    by = by or ("end" if min(away[0], away[last]) <= ENDS_MM else "")
    return _Met(k, size, n * step, Vec(*map(float, places[n])), by)


def _has_its_own(met: _Met, every: Sequence[_Met]) -> bool:
    """Tell whether another stroke hereabouts was drawn for the outline that a stroke crosses."""
    return any(
        m.own and m.size == met.size and m.stroke != met.stroke
        for m in every
        if m.point.distance(met.point) <= NEAR_MM
    )


def _parts(line: DrawnLine, taken: Sequence[_Met]) -> list[DrawnLine]:
    """Return a stroke in the sizes whose notch it is; [] where it stays as it is."""
    long = line.path.length
    if not taken or min(m.at for m in taken) > TICK_MM[1]:
        return []
    if long - max(m.at for m in taken) > TICK_MM[1] or {m.size for m in taken} == {line.size}:
        return []
    if len(taken) == 1:
        return [replace(line, size=taken[0].size)] if long <= TICK_MM[1] else []
    spans = [(max(0.0, m.at - HALF_MM), min(long, m.at + HALF_MM), m.size) for m in taken]
    return [replace(line, path=line.path.between(a, b), size=size) for a, b, size in spans]
