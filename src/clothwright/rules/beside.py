"""Pieces that have no room beside the borders they keep off, told before anything is searched.

Only where the borders are the reason: what is too wide for the whole cloth, or finds no place for
other reasons, is told by the search; so is a piece that may tilt.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from clothwright.errors import BadInput
from clothwright.geometry.vec import turn_apart
from clothwright.lay.atlas import turned
from clothwright.lay.problem import KeepOff, LayProblem, Pinned, Region, Shape, Upright, asked_by

OffBand = KeepOff | Upright


def without_room(problem: LayProblem) -> Iterator[BadInput]:
    """Yield what keeps off a border and cannot: too wide beside it, or pinned on it.

    What is cut stays, however it lies there.
    """
    off: dict[str, list[OffBand]] = {}
    for rule in problem.rules:
        if isinstance(rule, KeepOff | Upright):
            off.setdefault(rule.shape, []).append(rule)
    pins = {r.shape: r for r in problem.rules if isinstance(r, Pinned)}
    told: set[str] = set()
    for shape in problem.shapes:
        mine, pin = off.get(shape.id, []), pins.get(shape.id)
        if pin is not None:
            found = None if pin.cut else _pinned(shape, pin, mine)
        elif mine and not shape.tilt_deg and shape.piece not in told:
            regions = [r for r in problem.regions if r.name in shape.regions]
            found = _too_wide(shape, regions, mine)
        else:
            continue
        if found is not None:
            told.add(shape.piece)
            yield found


def _pinned(shape: Shape, pin: Pinned, rules: Sequence[OffBand]) -> BadInput | None:
    ys = _across(shape, pin.turn_deg, flipped=pin.flipped) + pin.y
    there = [r for r in rules if ys.max() > _low(r) and ys.min() < _high(r)]
    entered = list(_barring(there, pin.region, pin.turn_deg))
    if not entered:
        return None
    against = not any(isinstance(r, KeepOff) for r in entered)
    where = f'"{shape.id}" is pinned where it runs into a border of "{pin.region}"'
    return BadInput(
        what=f"{where}, its top against the border's" if against else where,
        expected="both tops one way, or a place beside the border"
        if against
        else "a place beside the border that it keeps off",
        try_=_way_out(entered),
    )


def _too_wide(shape: Shape, regions: Sequence[Region], rules: Sequence[OffBand]) -> BadInput | None:
    """Return the words for a shape that the whole cloth would take, and what is beside does not."""
    least: tuple[float, float] | None = None
    for region in regions:
        for turn in shape.turns_deg:
            needs = float(np.ptp(_across(shape, turn, flipped=shape.flips[0])))
            barring = _barring(rules, region.name, turn)
            room = _widest(region, [(_low(r), _high(r)) for r in barring])
            if needs <= room:
                return None
            if needs <= region.width - region.margin_lower - region.margin_upper:
                least = min(least or (needs, room), (needs, room))
    if least is None:
        return None
    return BadInput(
        what=(f'"{shape.piece}" is ', least[0], " across, as it may lie"),
        expected=("at most the ", least[1], " beside the border that it keeps off"),
        try_=_way_out(rules),
    )


def _across(shape: Shape, turn_deg: float, *, flipped: bool) -> np.ndarray:
    return turned(np.asarray(shape.outline, dtype=float), turn_deg, flipped)[:, 1]


def _barring(rules: Sequence[OffBand], region: str, turn_deg: float) -> Iterator[OffBand]:
    """Yield what keeps a shape turned so off a band of a cloth."""
    for rule in rules:
        off = isinstance(rule, KeepOff) or turn_apart(turn_deg, rule.up_deg) > rule.within_deg
        if off and rule.region == region and rule.low is not None and rule.high is not None:
            yield rule


def _low(rule: OffBand) -> float:
    return -math.inf if rule.low is None else rule.low


def _high(rule: OffBand) -> float:
    return math.inf if rule.high is None else rule.high


def _widest(region: Region, bands: Sequence[tuple[float, float]]) -> float:
    """Return mm of the widest strip that the bands leave between the margins."""
    at, widest = region.margin_lower, 0.0
    top = region.width - region.margin_upper
    for low, high in sorted([*bands, (top, top)]):
        widest = max(widest, min(low, top) - at)
        at = max(at, high)
    return widest


def _way_out(rules: Sequence[OffBand]) -> str:
    """Say what would give room: never a rule that is there already, nor one against her own."""
    off = [r for r in rules if isinstance(r, KeepOff)]
    if any(asked_by(r.id).isdigit() for r in off):
        return "leaving out the rule that keeps it off the border, or laying it another way"
    if off:
        return (
            "the rule that it may run into the border (upright, where the border has a top), or "
            "laying it another way"
        )
    return "laying it so that it stands upright on the border, or a border without a top"
