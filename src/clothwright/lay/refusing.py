"""Why a shape has found no place: a sentence that names its rules, and by how much they miss."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from clothwright.errors import AtLeast, Said, Sentence, joined
from clothwright.lay.axis_rules import Way, goes_along, own_way
from clothwright.lay.bands import Span
from clothwright.lay.leeway import allowed_tracks, spans
from clothwright.lay.model import Ground, Item, Model, Option, allowed_options
from clothwright.lay.naming import quoted
from clothwright.lay.phases import because, settle
from clothwright.lay.problem import AtFigure, AtPhase, LayProblem, OnLine, asked_by
from clothwright.lay.tied import sets
from clothwright.lay.track import AGREE, AXES, Track

NO_TURN = "it has to lie the same way up as other pieces, and may not be turned as they are"
HAIR = 1e-6


def why_not(model: Model, index: int, turns: Sequence[float]) -> Said:
    """The reason why an item found no place, as a sentence whose lengths are mm.

    turns: of each one-way group, degrees.
    """
    item = model.items[index]
    options = [item.options[number] for number in allowed_options(item, turns, model)]
    grounds = [model.grounds[number] for number in item.regions]
    if not options:
        return NO_TURN
    return (
        _too_wide(item, options, grounds)
        or _at_odds(model.problem, item)
        or _uneven(model.problem, item, options)
        or _pinned(model.problem, item)
        or _off_cloth(model.problem, item, options, grounds)
        or _crowded(model.problem, item, grounds)
    )


def _too_wide(item: Item, options: Sequence[Option], grounds: Sequence[Ground]) -> Said:
    room = max(ground.high - ground.low for ground in grounds)
    wide = min(option.kind.high[1] - option.kind.low[1] for option in options)
    first: Sentence = ("it is ", wide, " across at the turns it may take, and ")
    if wide > room + HAIR:
        return (*first, "the widest cloth for it has ", room, " between its margins")
    if any(spans(item, option, 1, ground) for option in options for ground in grounds):
        return ""
    last = "beside the border that it may not lie on so there is less than that between the margins"
    return (*first, last)


def _at_odds(problem: LayProblem, item: Item) -> Said:
    """Say which rule cannot hold beside which others, wherever the shapes lie that they tie."""
    part = next(p for p in sets(problem) if item.shape in p.shapes)
    asked = replace(problem, shapes=part.shapes, rules=part.rules)
    by_id, rests = {r.id: r for r in part.rules}, settle(asked).rests
    if not rests:
        return ""
    rest = max(
        (r for r in rests if asked_by(r.rule) == asked_by(rests[0].rule)), key=lambda r: r.mm
    )
    others = quoted(problem, (by_id[name] for name in because(asked, rest)))
    return joined(
        "its rules contradict each other: ",
        quoted(problem, (by_id[rest.rule],)),
        (" would be missed by ", rest.mm),
        joined(" beside ", others) if others else " wherever it lies",
        "; leave one out, or let one be missed by as much",
    )


def _uneven(problem: LayProblem, item: Item, options: Sequence[Option]) -> Said:
    """Say which places are to lie on one line, and do not at any turn."""
    for rule in (r for r in item.rules if isinstance(r, OnLine)):
        axis = AXES.index(rule.axis)
        least = min(float(np.ptp([o.points[p][axis] for p in rule.points])) for o in options)
        if least > 2.0 * AGREE:
            return joined(
                "what ",
                quoted(problem, (rule,)),
                (" lays on one line is ", least, " out of level at the turns it may take"),
                "; let the rule be missed by as much, or let the grain tilt more",
            )
    return ""


def _pinned(problem: LayProblem, item: Item) -> Said:
    if item.pin is None:
        return ""
    lies = " leaves it, it would lie off the cloth, on a flaw or on another piece"
    return joined("where ", quoted(problem, (item.pin,)), lies)


def _crowded(problem: LayProblem, item: Item, grounds: Sequence[Ground]) -> Said:
    names = quoted(problem, item.rules)
    if not names and all(math.isfinite(ground.end) for ground in grounds):
        return "no place is left for it on the cloth it may be cut from"
    kept = joined("where ", names, " would be kept, ") if names else ""
    return joined(kept, "no place is left for it beside the pieces already laid")


# --- off the cloth --------------------------------------------------------------------------------


class _Beyond(NamedTuple):
    """How far a shape has to move on an axis to lie where it may: mm, either way."""

    mm: float
    axis: int
    option: Option
    ground: Ground


def _off_cloth(
    problem: LayProblem, item: Item, options: Sequence[Option], grounds: Sequence[Ground]
) -> Said:
    """Say what rules put off the cloth or on a border, by how much, and where it would fit."""
    each = [_beyond(item, option, ground) for option in options for ground in grounds]
    least = min(each, key=lambda b: abs(b.mm), default=None)
    if least is None or abs(least.mm) <= HAIR:
        return ""
    axis, kind = least.axis, least.option.kind
    rules = [r for r in item.rules if AXES[axis] in _axes(r)]
    edge = spans(replace(item, off=(), upright=()), least.option, axis, least.ground)
    outside = abs(_nearest(_tracks(item, least.option)[axis], edge)) > HAIR
    where = "beyond what may be used of the cloth" if outside else "on a border that it keeps off"
    way = Way(kind.turn_deg, kind.flipped)
    higher = "higher" if least.mm * own_way(way, axis) > 0.0 else "lower"
    place = higher if goes_along(way, axis) else "to the side"
    return joined(
        "by ",
        quoted(problem, rules),
        (", ", abs(least.mm), f" of it would lie {where}; it would fit "),
        (AtLeast(abs(least.mm)), f" {place}, or with so much less hem or seam allowance there"),
    )


def _axes(rule: object) -> tuple[str, ...]:
    if isinstance(rule, AtFigure):
        return rule.axes
    return (rule.axis,) if isinstance(rule, OnLine | AtPhase) else ()


def _beyond(item: Item, option: Option, ground: Ground) -> _Beyond:
    """Return the axis on which a shape, by its own rules, lies farthest from where it may."""
    found = [
        _Beyond(_nearest(one, spans(item, option, axis, ground)), axis, option, ground)
        for axis, one in enumerate(_tracks(item, option))
    ]
    return max(found, key=lambda b: abs(b.mm))


def _tracks(item: Item, option: Option) -> tuple[Track, Track]:
    return next(allowed_tracks(item, option, {}), (Track(), Track()))


def _nearest(track: Track, room: Sequence[Span]) -> float:
    """Return by how many mm the places on a track that are nearest to a room miss it."""
    moves = [min(max(at, low), high) - at for low, high in room for at in _candidates(track, low)]
    return min(moves, key=abs, default=0.0)


def _candidates(track: Track, low: float) -> Iterator[float]:
    if track.value is not None:
        yield track.value
    elif track.free:
        yield low
    else:
        first = math.ceil((low - HAIR - track.start) / track.repeat)
        yield from (track.start + k * track.repeat for k in (first - 1, first))
