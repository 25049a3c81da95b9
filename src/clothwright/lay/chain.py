"""What chains of phase rules leave of the cloth for a shape before its partners are laid.

"Same phase" and "mirrored" tie the coordinates of two shapes modulo the repeat: x' = +x + c or
x' = -x + c. Along a chain such ties add up, so that a shape is tied to every other of its chain,
and all share one unknown phase. Hence, for a shape that asks for its place:

* a shape already laid at the far end of the chain leaves it a comb, although those between them
  are not laid yet; so does a line, a fixed phase or a pin of any shape of the chain;
* a ring of ties that comes back mirrored leaves two phases in each repeat;
* a wide shape of the chain that has little play on the cloth lets the common phase be only where
  it will still have a place itself.

Shapes not laid yet are taken at the first turn they may have. What a chain says is a preference:
where it contradicts the rules that bind the asking shape itself, or itself, it is left out.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from clothwright.lay.bands import EPS, Span
from clothwright.lay.leeway import spans
from clothwright.lay.model import Link, Model, Option, allowed_options
from clothwright.lay.track import Comb, LaidShape, Track, TriedShape, combs_of, goes_into, on_all


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """One shape of a chain as the asking one sees it: its place = sign * mine + shift (mod)."""

    item: int
    option: Option
    sign: float
    shift: float
    by: str
    """The rule that leads there."""


@dataclass(slots=True, kw_only=True)
class Chain:
    """All that one axis and repeat of a chain says of the asking shape's reference point."""

    repeat: float
    ties: list[Tie] = field(default_factory=list)
    combs: list[Comb] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asker:
    """The shape that asks, at one option; what is laid; the turn of each one-way group."""

    model: Model
    index: int
    option: Option
    laid: Mapping[str, LaidShape]
    turns: Sequence[float]


def chained(
    asker: Asker, axis: int, track: Track, bounds: Span, ground: int
) -> tuple[Track, tuple[Span, ...]]:
    """The asking shape's track with what its chains add, and open spans it may not be in.

    axis: 0 along, 1 across; bounds: where its reference point may be on that axis (mm); ground:
    the cloth it asks for. The spans lie within one repeat of the bounds.
    """
    barred: list[Span] = []
    for repeat in _repeats(asker.model, asker.index, axis):
        chain = walk(asker, axis, repeat)
        for comb in chain.combs:
            track = on_all((*track.asked, comb)) or track
        if math.isfinite(bounds[0]) and math.isfinite(bounds[1]) and track.value is None:
            barred.extend(_barred(asker, axis, chain, (track, bounds, ground)))
    return track, tuple(barred)


def _repeats(model: Model, index: int, axis: int) -> list[float]:
    return list(dict.fromkeys(k.repeat for k in model.links[index] if k.axis == axis))


# --- along the chain ----------------------------------------------------------------------------


def walk(asker: Asker, axis: int, repeat: float) -> Chain:
    """Follow every tie of one axis and repeat (mm) from the asking shape to shapes laid."""
    model = asker.model
    first = Tie(item=asker.index, option=asker.option, sign=1.0, shift=0.0, by="")
    chain = Chain(repeat=repeat, ties=[first])
    seen = {asker.index: first}
    for tie in chain.ties:  # grows while it is walked
        if tie.item != asker.index:
            chain.combs.extend(_ends(model, tie, axis, repeat))
        for link in model.links[tie.item]:
            if link.axis != axis or link.repeat != repeat or tie.by == link.rule:
                continue
            here = tie.option.points[link.mine][axis]
            name = model.items[link.other].shape.id
            if name in asker.laid:
                if tie.item != asker.index:
                    there = asker.laid[name].points[link.its][axis]
                    place = link.sign * (there - link.const) - here
                    chain.combs.append(Comb(tie.sign * (place - tie.shift), repeat))
            elif link.other in seen:
                _ring(chain, tie, seen[link.other], link, axis)
            else:
                fresh = _next(asker, tie, link, here, axis)
                if fresh is not None:
                    seen[link.other] = fresh
                    chain.ties.append(fresh)
    return chain


def _next(asker: Asker, tie: Tie, link: Link, here: float, axis: int) -> Tie | None:
    item = asker.model.items[link.other]
    numbers = allowed_options(item, asker.turns, asker.model)
    if not numbers:
        return None
    option = item.options[numbers[0]]
    return Tie(
        item=link.other,
        option=option,
        sign=link.sign * tie.sign,
        shift=link.sign * (tie.shift + here) + link.const - option.points[link.its][axis],
        by=link.rule,
    )


def _ring(chain: Chain, tie: Tie, known: Tie, link: Link, axis: int) -> None:
    """A tie between two shapes already reached: it closes, or leaves two phases."""
    here = tie.option.points[link.mine][axis]
    sign = link.sign * tie.sign
    its = known.option.points[link.its][axis]
    shift = link.sign * (tie.shift + here) + link.const - its
    if sign != known.sign:
        middle = (known.shift - shift) / (sign - known.sign)
        chain.combs.append(Comb(middle, chain.repeat / 2.0, times=2.0))


def _ends(model: Model, tie: Tie, axis: int, repeat: float) -> Iterator[Comb]:
    """What binds a shape of the chain to the cloth itself, as combs of the asking shape."""
    item = model.items[tie.item]
    alone = TriedShape(shape=item.shape.id, points=tie.option.points, laid={}, axis=axis)
    asked = combs_of(alone, item.rules)
    if item.pin is not None:
        asked = itertools.chain((Comb((item.pin.x, item.pin.y)[axis], 0.0),), asked)
    for start, step, times in asked:
        if goes_into(step, repeat):
            yield Comb(tie.sign * (start - tie.shift), step or repeat, times)


# --- room for the others ------------------------------------------------------------------------


def _barred(asker: Asker, axis: int, chain: Chain, mine: tuple[Track, Span, int]) -> Iterator[Span]:
    """Where the asking shape would leave another of its chain no place on any of its cloths."""
    track, bounds, ground = mine
    repeat = chain.repeat
    left = _own(track, _room(asker.model, asker.index, asker.option, axis, ground), repeat)
    wanted = []
    for tie in chain.ties[1:]:
        found: list[Span] = []
        play = 0.0
        for number in asker.model.items[tie.item].regions:
            for low, high in _room(asker.model, tie.item, tie.option, axis, number):
                ends = sorted((tie.sign * (low - tie.shift), tie.sign * (high - tie.shift)))
                found.extend(_folded((ends[0], ends[1]), repeat))
                play = max(play, high - low)
        if found and play < repeat:
            wanted.append((play, found))
    if not wanted:
        return
    for _, found in sorted(wanted, key=lambda each: each[0]):
        left = _common(left, found) or left
    yield from _gaps(left, repeat, bounds)


def _own(track: Track, room: Sequence[Span], repeat: float) -> list[Span]:
    """The asking shape's own places, folded into one repeat."""
    mine = [span for each in room for span in _folded(each, repeat)]
    if track.repeat and goes_into(track.repeat, repeat):
        teeth = [track.start + k * track.repeat for k in range(round(repeat / track.repeat))]
        return _common(mine, [s for u in teeth for s in _folded((u, u), repeat)]) or mine
    return mine


def _room(model: Model, index: int, option: Option, axis: int, ground: int) -> list[Span]:
    return spans(model.items[index], option, axis, model.grounds[ground])


def _folded(span: Span, repeat: float) -> list[Span]:
    """A span modulo the repeat, widened by a hair, as spans of 0 to the repeat."""
    low, size = span[0] - EPS, span[1] - span[0] + 2.0 * EPS
    if size >= repeat:
        return [(0.0, repeat)]
    low %= repeat
    if low + size <= repeat:
        return [(low, low + size)]
    return [(low, repeat), (0.0, low + size - repeat)]


def _common(one: Sequence[Span], two: Sequence[Span]) -> list[Span]:
    both = ((max(a, c), min(b, d)) for a, b in one for c, d in two)
    return [(low, high) for low, high in both if low <= high]


def _gaps(free: Sequence[Span], repeat: float, bounds: Span) -> Iterator[Span]:
    first = math.floor(bounds[0] / repeat) - 1
    last = math.ceil(bounds[1] / repeat) + 1
    at: float | None = None
    shifts = (k * repeat for k in range(first, last + 1))
    for low, high in ((a + u, b + u) for u in shifts for a, b in sorted(free)):
        if at is not None and low > at + 2.0 * EPS:
            yield at, low
        at = high if at is None else max(at, high)
