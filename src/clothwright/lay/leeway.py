"""Where a shape may lie on one cloth for its edges, its bands and its rules, whatever else lies."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

from clothwright.lay.atlas import Kind
from clothwright.lay.bands import Span, left_in
from clothwright.lay.model import Ground, Item, Option
from clothwright.lay.problem import SamePlace, names_of
from clothwright.lay.track import LaidShape, Track, TriedShape, track

SLACK = 1e-6
Bounds = tuple[Span, Span]
"""Along and across, between what (mm) a reference point may be."""


def bounds_on(ground: Ground, kind: Kind) -> Bounds | None:
    """Where the reference point may be so that the true outline keeps the usable rectangle."""
    along = (ground.start - kind.low[0], ground.end - kind.high[0])
    across = (ground.low - kind.low[1], ground.high - kind.high[1])
    if along[1] < along[0] - SLACK or across[1] < across[0] - SLACK:
        return None
    return (along[0], max(along)), (across[0], max(across))


def spans(item: Item, option: Option, axis: int, ground: Ground) -> list[Span]:
    """Where a shape's reference point may be on one axis, for the cloth's edges and bands alone."""
    extent = option.kind.low[axis], option.kind.high[axis]
    if axis == 0:
        return left_in((ground.start, ground.end), extent)
    return left_in((ground.low, ground.high), extent, item.bands(option, ground.region.name))


def allowed_tracks(
    item: Item, option: Option, laid: Mapping[str, LaidShape]
) -> Iterator[tuple[Track, Track]]:
    """Yield what the rules leave along and across for an option, given the shapes laid.

    Once for each of the several places that a print has for two points within its repeat.
    """
    known = {*laid, item.shape.id}
    both = [r for r in item.rules if isinstance(r, SamePlace) and known.issuperset(names_of(r))]
    for ways in itertools.product(*([r.on_axes(s) for s in r.shifts] for r in both)):
        rules = (*item.rules, *itertools.chain.from_iterable(ways)) if both else item.rules
        along, across = (
            track(TriedShape(shape=item.shape.id, points=option.points, laid=laid, axis=k), rules)
            for k in (0, 1)
        )
        if along is None or across is None:
            continue
        if item.pin is None:
            yield along, across
        elif along.takes(item.pin.x) and across.takes(item.pin.y):
            yield Track(value=item.pin.x), Track(value=item.pin.y)
