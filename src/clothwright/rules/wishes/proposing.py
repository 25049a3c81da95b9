"""What may be wished for: from the pieces and the prints, and from the plans there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from clothwright.errors import Sentence
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.known import contradict, kind_of, said, stance
from clothwright.rules.offers import Outfit
from clothwright.rules.order import importance
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.stating import stated
from clothwright.rules.wishes import WISHES
from clothwright.rules.wishes.asked import Demands
from clothwright.rules.wishes.showing import Showing
from clothwright.rules.wishes.wish import Grant, Wish
from clothwright.units import Unit
from clothwright.words import say

AGREE = {"level": "level with", "upright": "in line with", "both": "matched to"}
"""What of the print agrees, by `Meets.match`."""


def proposed(outfit: Outfit, plans: Sequence[Plan], chosen: str, unit: Unit) -> tuple[Wish, ...]:
    """Return every wish that makes sense, what matters most first.

    plans: those there are; what they ask of the print and no usual wish gives is a wish of its own.
    What the chosen plan asks is ticked from the start, and not what goes against it.
    """
    asked = next((p.rules for p in plans if p.name == chosen), ())
    plans = sorted(plans, key=lambda p: p.name != chosen)
    seen = Showing(outfit=outfit, start=tuple(asked), plans=tuple(plans))
    found = [w for offers in WISHES for w in offers(seen)]
    found += _own(seen, found, plans, asked, unit)
    hers = [w for w in found if any(g.rules and set(g.rules) <= set(asked) for g in w.grants)]
    found = [replace(w, usual=w in hers or (w.usual and not _against(w, hers))) for w in found]
    unique = {w.name: w for w in reversed(found)}
    return tuple(sorted((w for w in found if unique[w.name] is w), key=lambda w: w.rank))


def _against(wish: Wish, others: Sequence[Wish]) -> bool:
    return any(wish.against(other) for other in others)


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
    """Yield a wish for each rule of her plans that no other wish grants, and that can be."""
    taken: set[str] = set()
    demands = Demands(pattern=seen.outfit.pattern, cloths=seen.outfit.cloths)
    grants, along = [g for w in found for g in w.grants], carried(asked)
    for rule in dict.fromkeys(r for p in plans for r in p.rules):
        if rule in along or any(demands.is_in(rule, g) for g in grants):
            continue
        if any(_can_be(seen.outfit, p, rule) for p in (Plan(name="", rules=(rule,)), *plans)):
            wish = own_wish((rule,), said(rule), unit=unit)
            taken.add(name := next(n for n in (*_short(rule), wish.name) if n not in taken))
            yield replace(wish, name=name, why=("One of your plans asks it.",))


def _short(rule: PlacingRule) -> Iterator[str]:
    """Yield what a rule for two points may be called: by what of the print agrees, and where."""
    if isinstance(rule, Meets) and rule.piece_a != rule.piece_b:
        yield f"{rule.piece_b} {AGREE[rule.match]} the {rule.piece_a} at {rule.point_a}"


def _can_be(outfit: Outfit, plan: Plan, rule: PlacingRule) -> bool:
    """Tell whether a rule is in a plan and no mistake there: some need others beside them."""
    if rule not in plan.rules:
        return False
    wrong = {m.number for m in stated(outfit.pattern, outfit.cloths, plan).mistaken}
    return plan.rules.index(rule) + 1 not in wrong


def own_wish(rules: tuple[PlacingRule, ...], words: Sentence, *, unit: Unit) -> Wish:
    """Return the wish that some rules hold. words: a clause that says them."""
    stances = [s for s in map(stance, rules) if s is not None]
    return Wish(
        name=say(words, unit),
        settles=frozenset(("border", s.piece, s.way) for s in stances),
        words=words,
        without=f"this is left as it falls: {say(words, unit)}",
        rank=importance(rules[0]),
        grants=(Grant(rules=rules),),
    )
