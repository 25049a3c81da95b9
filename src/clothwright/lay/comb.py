"""Free shapes by the free packer: all of them, or round the bound ones joined into one comb.

Shapes that no rule binds, on a plain rectangle, are what the packer does best (Gardeyn, Vanden
Berghe and Wauters 2025, "An open-source heuristic to reboot 2D nesting research"). Where some
shapes are bound, those are laid first and joined by hair-thin bars into one rigid comb that the
packer takes for a single shape; the rest is packed round it. The comb is as tall as the strip, so
it can only slide along; where the bound shapes may not slide (a phase along the cloth), lays that
moved it are put right by laying the shapes before its bar again.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
import shapely.affinity
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from clothwright.geometry.vec import turn_apart
from clothwright.lay.atlas import turned
from clothwright.lay.bands import Span
from clothwright.lay.model import Item, Model, allowed_options
from clothwright.lay.packer import HAIR, Job, Loose, Packed
from clothwright.lay.place import ItemPlace, LayDraft

COMB = "comb"
BAR = 0.05
"""mm: how thin the bars are that join a comb."""


def strip(model: Model) -> Span:
    """From where to where across (mm) the shapes that no rule binds are packed.

    All of the usable width, or the widest part of it beside the borders that any of them keeps off.
    """
    ground = model.grounds[0]
    bands = [
        (rule.low, rule.high)
        for item in model.items
        if not item.bound
        for rule in item.off
        if rule.region == ground.region.name
    ]
    at, best = ground.low, (ground.low, ground.low)
    for low, high in sorted([*bands, (ground.high, ground.high)]):
        best = max(best, (at, min(low, ground.high)), key=lambda span: span[1] - span[0])
        at = max(at, high)
    return best


def packable(model: Model) -> bool:
    """The packer can help: one plain rectangle, and at least one shape that no rule binds."""
    if len(model.grounds) != 1 or model.grounds[0].region.outline is not None:
        return False
    return any(not item.bound for item in model.items)


def all_free(model: Model) -> bool:
    """Nothing binds any shape: the packer can do it all."""
    return (
        packable(model)
        and not model.grounds[0].obstacles
        and not any(item.bound for item in model.items)
    )


def job_for(
    model: Model, draft: LayDraft, turns: Sequence[float], *, seconds: int, seed: int, workers: int
) -> Job | None:
    """The packer's job: free shapes, and the draft's bound ones as a comb; None when it cannot be.

    draft: where the bound shapes lie, and which side of each free one is up. turns: degrees.
    """
    low, high = strip(model)
    sides = {spot.item: spot.option for spot in draft.spots}
    loose = [
        _loose(model, index, sides.get(index, 0), turns)
        for index, item in enumerate(model.items)
        if not item.bound and index in sides
    ]
    comb = comb_of(model, draft)
    if comb is not None:
        if len(comb) == 0:
            return None
        loose.append(Loose(name=COMB, ring=comb, turns=(0.0,)))
    return Job(
        height=high - low,
        gap=model.problem.gap,
        seconds=seconds,
        seed=seed,
        workers=workers,
        items=tuple(loose),
    )


def _loose(model: Model, index: int, option: int, turns: Sequence[float]) -> Loose:
    """A free shape for the packer, at its exact turns; tilted only where it fits no other way.

    More turns to choose from make the packer's lays longer in the same time (seen on the free
    bench instances with a tilt of 2 degrees), so tilts are left to our own search.
    """
    item = model.items[index]
    side = item.options[option].kind.flipped
    ring = turned(np.asarray(item.shape.outline, dtype=float), 0.0, side)
    options = [item.options[number] for number in allowed_options(item, turns, model)]
    options = [o for o in options if o.kind.flipped == side]
    low, high = strip(model)
    height = high - low
    exact = [o for o in options if not o.tilted]
    if not any(o.kind.high[1] - o.kind.low[1] <= height for o in exact):
        narrow = [o for o in options if o.kind.high[1] - o.kind.low[1] <= height]
        exact = narrow or exact
    ways = tuple(o.kind.turn_deg for o in exact)
    return Loose(name=str(index), ring=ring[::-1] if side else ring, turns=ways)


def comb_of(model: Model, draft: LayDraft) -> np.ndarray | None:
    """The bound shapes and flaws as one ring, in cloth coordinates; None when there are none.

    An empty ring says that they cannot be joined (they enclose cloth that would be lost).
    """
    ground, (low, high) = model.grounds[0], strip(model)
    polys: list[BaseGeometry] = [
        shapely.affinity.translate(_true(model, spot), spot.x, spot.y)
        for spot in draft.spots
        if model.items[spot.item].bound
    ]
    polys += [Polygon(ring) for ring in ground.region.keep_out]
    polys = [poly.intersection(_room(model)) for poly in polys]
    polys = [poly for poly in polys if not poly.is_empty]
    if not polys:
        return None
    left = ground.start - model.problem.gap
    back = box(left - BAR, low, left, high)
    threads = [line.buffer(BAR / 2.0) for line in _threads([back, *polys])]
    grown = [poly.buffer(1e-4, join_style="mitre") for poly in polys]
    whole = shapely.union_all([back, *grown, *threads])
    room = box(left - BAR, low, max(p.bounds[2] for p in polys) + 1.0, high)
    whole = shapely.intersection(whole, room)
    if whole.geom_type != "Polygon":
        return np.empty((0, 2))
    return np.asarray(Polygon(whole.exterior).exterior.coords)[:-1]


def _room(model: Model) -> Polygon:
    ground, (low, high) = model.grounds[0], strip(model)
    return box(ground.start, low, min(ground.end, 1e6), high)


def _true(model: Model, spot: ItemPlace) -> Polygon:
    return Polygon(model.items[spot.item].options[spot.option].kind.ring)


def _threads(polys: Sequence[BaseGeometry]) -> list[LineString]:
    """The shortest lines that join all polygons to the first (a least spanning tree)."""
    joined = {0}
    near = [(float(poly.distance(polys[0])), 0) for poly in polys]
    lines = []
    while len(joined) < len(polys):
        index = min((k for k in range(len(polys)) if k not in joined), key=lambda k: near[k][0])
        if near[index][0] > 0.0:
            lines.append(shapely.shortest_line(polys[index], polys[near[index][1]]))
        joined.add(index)
        for k, poly in enumerate(polys):
            if k not in joined:
                near[k] = min(near[k], (float(poly.distance(polys[index])), index))
    return lines


def draft_from(model: Model, packed: Packed, base: LayDraft) -> LayDraft:
    """The packer's lay as a draft; bound shapes stay as in `base`, and so do those it refuses.

    Shapes that the packer laid before the comb's bar are left out: the caller lays them again.
    """
    ground, (across, _) = model.grounds[0], strip(model)
    moved = ground.start
    if COMB in packed.places:
        # The comb's ring was handed over in cloth coordinates: undo how the packer moved it.
        moved = -packed.places[COMB][1]
    sides = {spot.item: spot.option for spot in base.spots}
    spots = [spot for spot in base.spots if model.items[spot.item].bound]
    for name, (turn, x, y) in packed.places.items():
        if name == COMB:
            continue
        index = int(name)
        if index not in sides:
            continue  # refused by its rules, which the packer knows nothing of
        item = model.items[index]
        option = _option(item, turn, item.options[sides[index]].kind.flipped)
        low = item.options[option].kind.low
        spot = ItemPlace(item=index, ground=0, option=option, x=x + moved, y=y + across)
        if spot.x + low[0] >= ground.start - HAIR:
            spots.append(spot)
    return LayDraft(spots=spots, refused=dict(base.refused))


def _option(item: Item, turn: float, flipped: bool) -> int:
    def off(number: int) -> float:
        kind = item.options[number].kind
        away = turn_apart(kind.turn_deg, turn)
        return away + (math.inf if kind.flipped != flipped else 0.0)

    return min(range(len(item.options)), key=off)
