"""Better lays from a first one: the order of laying, the sides and the turns, changed and tried.

Iterated greedy with record-to-record acceptance (Ruiz and Stützle 2007; Dueck 1993): a few items
of the order change places, the lay is made again from the first item that moved on, and the new
order is kept when it is not much worse than the best. What is laid before the first moved item
stays as it was, so that most tries cost a part of a whole lay.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from clothwright.lay.fit import Score, holds, score
from clothwright.lay.model import Item, Model
from clothwright.lay.place import LayDraft, lay_out

Told = Callable[[LayDraft, Score], None]
Stop = Callable[[], bool]

WORSE = 0.004
"""An order may be kept although it uses this share more length than the best."""
RETRIES = 3
"""How often a first lay that refuses shapes is made again with those laid first."""
TILTING = 0.2
"""How often a round lets some items tilt, where the grain of any allows it."""


@dataclass(slots=True, kw_only=True)
class Best:
    """The best draft so far, with what led to it."""

    draft: LayDraft
    score: Score
    order: list[int]
    turns: list[float]
    tilted: frozenset[int] = frozenset()
    """The items whose tilts are tried beside their exact turns."""


def binding(item: Item) -> tuple[int, ...]:
    """How bound an item is: the most bound are laid first."""
    fixed = any(getattr(r, "axis", "") == "along" and hasattr(r, "at") for r in item.rules)
    line = any(hasattr(rule, "at") for rule in item.rules)
    return (-int(item.pin is not None), -int(fixed), -int(line), -int(bool(item.rules)))


def first_orders(model: Model) -> list[list[int]]:
    """Sensible orders to begin with: bound before free, then by length, area or width."""
    items = model.items

    def size(item: Item) -> tuple[float, float, float]:
        kind = item.options[0].kind
        return kind.high[0] - kind.low[0], kind.high[1] - kind.low[1], kind.area

    keys: list[Callable[[int], tuple[float, ...]]] = [
        lambda k: (*binding(items[k]), -size(items[k])[2]),
        lambda k: (*binding(items[k]), -max(size(items[k])[:2])),
        lambda k: (*binding(items[k])[:2], -size(items[k])[2]),
        lambda k: (*binding(items[k])[:2], -size(items[k])[1]),
    ]
    orders = [sorted(range(len(items)), key=key) for key in keys]
    return [list(order) for order in dict.fromkeys(tuple(order) for order in orders)]


def first_lay(model: Model, stop: Stop) -> Best:
    """The first lay, from the first order; the first turn of every one-way group.

    What finds no place is laid first in another try, as long as that places more.
    """
    turns = [group[0] if group else 0.0 for group in model.groups]
    order = first_orders(model)[0]
    draft = lay_out(model, order, turns, stop=stop)
    best = Best(draft=draft, score=score(model, draft), order=order, turns=turns)
    for _ in range(RETRIES):
        if not best.draft.refused or stop():
            break
        refused = [item for item in best.order if item in best.draft.refused]
        order = [*refused, *(item for item in best.order if item not in best.draft.refused)]
        draft = lay_out(model, order, turns, stop=stop)
        worth = score(model, draft)
        if not worth < best.score:
            break
        best = Best(draft=draft, score=worth, order=order, turns=turns)
    return best


def improve(
    model: Model, best: Best, *, rng: np.random.Generator, stop: Stop, told: Told, rounds: int
) -> int:
    """Tries changed orders until stopped or out of rounds; returns the rounds made.

    `best` is updated in place, and every better lay is told.
    """
    here = best
    done = 0
    for order in first_orders(model)[1:]:
        if done >= rounds or stop():
            return done
        done += 1
        here = _tried(model, best, here, Trial(order, list(best.turns), here.tilted), stop, told)
    able = [k for k, item in enumerate(model.items) if any(o.tilted for o in item.options)]
    while done < rounds and not stop():
        done += 1
        if best.score[:3] == (0, 0.0, 0.0):
            break
        leaning = able and rng.random() < TILTING
        trial = _leaning(able, here, rng) if leaning else _changed(model, here, rng)
        here = _tried(model, best, here, trial, stop, told)
    return done


class Trial(NamedTuple):
    """A changed order, turns and tilts to lay, and the index from which the lay changes."""

    order: list[int]
    turns: list[float]
    tilted: frozenset[int]
    since: int = 0


def _tried(  # noqa: PLR0917 (one step of improve)
    model: Model,
    best: Best,
    here: Best,
    new: Trial,
    stop: Stop,
    told: Told,
) -> Best:
    """The state to go on from after laying a changed order."""
    order, turns, tilted, since = new
    kept = set(order[:since])
    start = LayDraft(spots=[spot for spot in here.draft.spots if spot.item in kept])
    draft = lay_out(model, order, turns, start=start, stop=stop, tilted=tilted)
    worth = score(model, draft)
    state = Best(draft=draft, score=worth, order=order, turns=turns, tilted=tilted)
    if worth < best.score and holds(model, draft):
        best.draft, best.score = draft, worth
        best.order, best.turns, best.tilted = list(order), list(turns), tilted
        told(draft, worth)
        return state
    bar = best.score[2] * (1.0 + WORSE)
    good = worth[:2] <= best.score[:2] and worth[2] <= bar
    return state if good or worth <= here.score else here


def _leaning(able: Sequence[int], here: Best, rng: np.random.Generator) -> Trial:
    """The same order; one to three items may tilt from now on, or may no longer."""
    late = {spot.item: spot.x for spot in here.draft.spots}
    count = min(len(able), int(rng.integers(1, 4)))
    chosen = {_picked(able, late, rng) for _ in range(count)}
    first = min(here.order.index(item) for item in chosen)
    return Trial(list(here.order), list(here.turns), here.tilted ^ chosen, first)


def _changed(model: Model, here: Best, rng: np.random.Generator) -> Trial:
    """An order with a few items moved."""
    order, turns = list(here.order), list(here.turns)
    count = len(order)
    several = [k for k, group in enumerate(model.groups) if len(group) > 1]
    if several and rng.random() < 0.05:
        group = int(rng.choice(several))
        turns[group] = float(rng.choice(model.groups[group]))
        return Trial(order, turns, here.tilted)
    if count < 2:
        return Trial(order, turns, here.tilted)
    late = {spot.item: spot.x for spot in here.draft.spots}
    first = count
    for _ in range(int(rng.integers(1, 4))):
        item = _picked(order, late, rng)
        old = order.index(item)
        order.pop(old)
        new = (
            int(rng.integers(0, count))
            if rng.random() < 0.3
            else max(0, old - int(rng.integers(1, 6)))
        )
        order.insert(min(new, count - 1), item)
        first = min(first, old, new)
    return Trial(order, turns, here.tilted, first)


def _picked(order: Sequence[int], late: dict[int, float], rng: np.random.Generator) -> int:
    """An item, those laid far along the cloth (or not at all) more often."""
    reach = np.asarray([late.get(item, 1e9) for item in order])
    ranks = np.argsort(np.argsort(reach)) + 1.0
    return int(order[int(rng.choice(len(order), p=ranks / ranks.sum()))])
