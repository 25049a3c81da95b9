"""A placing rule follows what it names: a piece, an edge or a point.

A change may have renamed, divided or joined it, or would have made it and is switched off.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from clothwright.pattern.names import Ref, is_there
from clothwright.pattern.past import called_now, missing_of
from clothwright.pattern.pattern import Pattern
from clothwright.rules.known import kind_of
from clothwright.rules.names import OWN, kinds_in, piece_field, refs_of
from clothwright.rules.plan import PlacingRule, Plan


def followed(
    rule: PlacingRule, pattern: Pattern, others: Sequence[PlacingRule] = ()
) -> tuple[PlacingRule, ...]:
    """Return a rule as it reads for the pieces as changed: one for each part it holds for.

    None where what it names is gone. A name that is still there, or that no change has touched, is
    left as it is. others: rules of its plan; what they say alike of every part of a piece that is
    not divided now is said of the whole.
    """
    kinds = kinds_in(rule)
    named = _named(rule, others)
    values = {
        name: tuple(
            dict.fromkeys(
                r.piece
                for piece in getattr(rule, name)
                for r in called_now(pattern, Ref("piece", piece, ""), named)
            )
        )
        for name, kind in kinds.items()
        if kind == "pieces"
    }
    groups = [list(_places(name, ref, pattern, named)) for name, ref in _single(rule)]
    if any(len(g) > 1 for g in groups) and not kind_of(rule).divides:
        return ()
    return tuple(
        replace(rule, **values, **{k: v for said in each for k, v in said.items()})
        for each in itertools.product(*groups)
    )


def followed_plan(plan: Plan, pattern: Pattern) -> Plan:
    """Return a plan whose rules name the pieces as changed."""
    rules = tuple(f for rule in plan.rules for f in followed(rule, pattern, plan.rules))
    return plan if rules == plan.rules else replace(plan, rules=rules)


def why_gone(rule: PlacingRule, pattern: Pattern) -> str:
    """Say which change took away what a rule names."""
    gone = (ref for _, ref in refs_of(rule) if not is_there(pattern, ref))
    found = (missing_of(pattern, ref, pattern.past, (ref,)) for ref in gone)
    return next((f.why for f in found if f), "a change has taken away what it names")


def _named(rule: PlacingRule, others: Sequence[PlacingRule]) -> tuple[Ref, ...]:
    """Return what a rule names, and what rules name that say the same of something else."""
    same = [r for r in others if r is not rule and type(r) is type(rule)]
    if not kind_of(rule).divides:
        same = []
    bare = _bare(rule)
    return tuple(
        ref for r in (rule, *(o for o in same if _bare(o) == bare)) for _, ref in refs_of(r)
    )


def _bare(rule: PlacingRule) -> PlacingRule:
    """Return a rule without the one piece, and its edge or point, that each field names."""
    kinds = kinds_in(rule).items()
    return replace(rule, **{name: "" for name, kind in kinds if kind == "piece" or kind in OWN})


def _single(rule: PlacingRule) -> Iterator[tuple[str, Ref]]:
    kinds = kinds_in(rule)
    return ((name, ref) for name, ref in refs_of(rule) if kinds[name] != "pieces")


def _places(
    field: str, ref: Ref, pattern: Pattern, named: Collection[Ref]
) -> Iterator[dict[str, str]]:
    """Yield what a field, and that of the piece it belongs to, say now."""
    for now in called_now(pattern, ref, named):
        own = {} if ref.kind == "piece" else {field: now.name}
        yield {(piece_field(field) if own else field): now.piece, **own}
