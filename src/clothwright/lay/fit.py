"""The search's own exact look at a lay before it counts, and what a lay is worth.

Candidates are made with outlines grown a little, or come from another program; here every one is
looked at with the true outlines. (The judge looks again, and knows nothing of this file.)
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon

from clothwright.geometry.vec import turn_apart
from clothwright.lay.atlas import Kind
from clothwright.lay.clearing import shadow
from clothwright.lay.leeway import allowed_tracks
from clothwright.lay.model import Model
from clothwright.lay.place import ItemPlace, LayDraft, laid_points
from clothwright.lay.problem import KeepWhole, Ring
from clothwright.lay.refusing import why_not
from clothwright.lay.result import Lay, Placement

SLACK = 0.008
"""Overlap, overrun and gap may be off by this much (mm), less than the judge's tolerance."""
RULE_SLACK = 0.095

Score = tuple[int, float, float, float]
"""Shapes without a place; mm past fixed lengths; mm used; a tie-break. Less is better."""


def score(model: Model, draft: LayDraft) -> Score:
    """What a draft is worth; less is better, the earlier entries count first."""
    ends = ends_of(model, draft.spots)
    over = 0.0
    used = 0.0
    for ground, end in zip(model.grounds, ends, strict=True):
        used += end
        if math.isfinite(ground.limit):
            over += max(0.0, end - ground.limit)
    lean = 0.0
    for spot in draft.spots:
        kind = model.items[spot.item].options[spot.option].kind
        lean += (spot.x + kind.high[0]) * kind.area
    return (len(draft.refused), round(over, 4), round(used, 4), lean)


def ends_of(model: Model, spots: Sequence[ItemPlace]) -> list[float]:
    """Per cloth, the farthest cutting line from the cut end, mm."""
    ends = [ground.region.cut_to for ground in model.grounds]
    for spot in spots:
        kind = model.items[spot.item].options[spot.option].kind
        ends[spot.ground] = max(ends[spot.ground], spot.x + kind.high[0])
    return ends


def holds(model: Model, draft: LayDraft) -> bool:
    """Every spot of the draft is right by the true outlines, the cloth and the rules."""
    polys = [Polygon(_ring(model, spot)) for spot in draft.spots]
    for index, ground in enumerate(model.grounds):
        here = [k for k, spot in enumerate(draft.spots) if spot.ground == index]
        if not _apart(model, [polys[k] for k in here]):
            return False
        for k in here:
            left, low, right, high = polys[k].bounds
            inside = (
                left >= ground.start - SLACK
                and low >= ground.low - SLACK
                and high <= ground.high + SLACK
                and right <= ground.end + SLACK
            )
            if not inside or not _on_cloth(ground.region.outline, ground.region.keep_out, polys[k]):
                return False
    return _rules_hold(model, draft)


def _apart(model: Model, polys: list[Polygon]) -> bool:
    gap = model.problem.gap
    if len(polys) < 2:
        return True
    tree = shapely.STRtree(polys)
    first, second = tree.query(polys, predicate="dwithin", distance=max(gap - SLACK, 0.0))
    for a, b in zip(first, second, strict=True):
        if a >= b:
            continue
        if gap > SLACK or _deep(polys[a], polys[b]):
            return False
    return True


def _deep(a: Polygon, b: Polygon) -> bool:
    shared = a.intersection(b)
    return bool(shared.area > 0.0 and not shared.buffer(-SLACK / 2.0).is_empty)


def _on_cloth(outline: Ring | None, flaws: Sequence[Ring], poly: Polygon) -> bool:
    if outline is not None:
        out = poly.difference(Polygon(outline))
        if out.area > 0.0 and not out.buffer(-SLACK / 2.0).is_empty:
            return False
    return not any(_deep(poly, Polygon(flaw)) for flaw in flaws)


def _rules_hold(model: Model, draft: LayDraft) -> bool:
    laid = laid_points(model, draft.spots)
    turns: dict[int, list[tuple[float, float]]] = {}
    for spot in draft.spots:
        item = model.items[spot.item]
        option = item.options[spot.option]
        if not any(
            along.takes(spot.x, RULE_SLACK) and across.takes(spot.y, RULE_SLACK)
            for along, across in allowed_tracks(item, option, laid)
        ):
            return False
        if any(_too_near(rule, option.kind, spot) for rule in item.clear):
            return False
        if not _off_bands(model, spot):
            return False
        if item.group is not None:
            near = round(item.follows.back.of(option.kind.turn_deg), 3), item.shape.tilt_deg
            turns.setdefault(item.group, []).append(near)
    return all(_one_way(found) for found in turns.values())


def _too_near(rule: KeepWhole, kind: Kind, spot: ItemPlace) -> bool:
    """A figure that comes again lies nearer to a part than it may."""
    shade = shadow(rule, spot.item, kind.turn_deg, kind.flipped)
    return shade.missed((spot.x, spot.y)) > SLACK


def _off_bands(model: Model, spot: ItemPlace) -> bool:
    item, name = model.items[spot.item], model.grounds[spot.ground].region.name
    option = item.options[spot.option]
    low, high = option.kind.low[1] + spot.y, option.kind.high[1] + spot.y
    return all(
        high <= start + SLACK or low >= end - SLACK for start, end in item.bands(option, name)
    )


def _one_way(found: list[tuple[float, float]]) -> bool:
    first = found[0]
    return all(turn_apart(turn, first[0]) <= tilt + first[1] + 1e-3 for turn, tilt in found)


def _ring(model: Model, spot: ItemPlace) -> Ring:
    kind = model.items[spot.item].options[spot.option].kind
    points = kind.ring[::-1] if kind.flipped else kind.ring
    return tuple((float(x) + spot.x, float(y) + spot.y) for x, y in points)


def lay_from(
    model: Model,
    draft: LayDraft,
    turns: Sequence[float],
    *,
    seed: int = 0,
    seconds: float = 0.0,
    rounds: int = 0,
    stopped: str = "",
) -> Lay:
    """The draft as a lay, with its claims. `seconds`: how long it was looked for.

    turns: of each one-way group, degrees.
    """
    ends = ends_of(model, draft.spots)
    over = max(
        (max(0.0, end - g.limit) for g, end in zip(model.grounds, ends, strict=True)), default=0.0
    )
    over = over if over > SLACK else 0.0
    by_item = sorted(draft.spots, key=lambda spot: spot.item)
    placements = tuple(
        Placement(
            shape=model.items[spot.item].shape.id,
            region=model.grounds[spot.ground].region.name,
            turn_deg=model.items[spot.item].options[spot.option].kind.turn_deg,
            flipped=model.items[spot.item].options[spot.option].kind.flipped,
            x=spot.x,
            y=spot.y,
            outline=_ring(model, spot),
        )
        for spot in by_item
    )
    return Lay(
        placements=placements,
        unplaced={
            model.items[k].shape.id: why or why_not(model, k, turns)
            for k, why in sorted(draft.refused.items())
        },
        used={g.region.name: end for g, end in zip(model.grounds, ends, strict=True)},
        fits=not draft.refused and over == 0.0,
        short_by=None if draft.refused else over,
        seed=seed,
        seconds=seconds,
        rounds=rounds,
        stopped=stopped,
    )
