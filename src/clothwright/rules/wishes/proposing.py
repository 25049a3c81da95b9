"""What may be wished for: from the pieces and the prints, and from the plans there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from clothwright.errors import Sentence
from clothwright.rules.known import contradict, kind_of, said
from clothwright.rules.offers import Outfit
from clothwright.rules.order import importance
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.wishes import WISHES
from clothwright.rules.wishes.asked import Demands
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.units import Unit
from clothwright.words import say


def proposed(outfit: Outfit, plans: Sequence[Plan], chosen: str, unit: Unit) -> tuple[Wish, ...]:
    """Return every wish that makes sense, what matters most first.

    plans: those there are; what they ask of the print and no usual wish gives is a wish of its own,
    ticked from the start when the chosen plan asks it.
    """
    asked = next((p.rules for p in plans if p.name == chosen), ())
    seen = Showing(outfit=outfit, start=tuple(asked))
    found = [w for offers in WISHES for w in offers(seen)]
    found += _own(seen, found, plans, asked, unit)
    unique = {w.name: w for w in reversed(found)}
    return tuple(sorted((w for w in found if unique[w.name] is w), key=lambda w: w.rank))


def carried(rules: Sequence[PlacingRule]) -> tuple[PlacingRule, ...]:
    """Return what comes along in every plan: what a plan says of grain, cloth, folds and pins.

    rules: of the plan she starts from; what others say may be wished for (`proposed`). Of two that
    contradict each other the first one.
    """
    out: list[PlacingRule] = []
    for rule in rules:
        if not kind_of(rule).on_print and not any(contradict(rule, r) for r in out):
            out.append(rule)
    return tuple(out)


def _own(
    seen: Showing,
    found: Sequence[Wish],
    plans: Sequence[Plan],
    asked: Sequence[PlacingRule],
    unit: Unit,
) -> Iterator[Wish]:
    """Yield a wish for each rule of her plans that no other wish grants."""
    demands = Demands(pattern=seen.outfit.pattern, cloths=seen.outfit.cloths)
    grants, along = [g for w in found for g in w.grants], carried(asked)
    for rule in dict.fromkeys(r for p in plans for r in p.rules):
        if rule not in along and not any(demands.is_in(rule, g) for g in grants):
            wish = own_wish((rule,), said(rule), unit=unit, usual=rule in asked)
            yield replace(wish, why=("One of your plans asks it.",))


def own_wish(
    rules: tuple[PlacingRule, ...], words: Sentence, *, unit: Unit, usual: bool = False
) -> Wish:
    """Return the wish that some rules hold. words: a clause that says them."""
    return Wish(
        name=say(words, unit),
        words=words,
        without=f"this is left as it falls: {say(words, unit)}",
        rank=importance(rules[0]),
        usual=usual,
        grants=(Grant(rules=rules),),
    )
