"""A placing rule follows a piece, an edge or a point that a change renamed, divided or joined."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.pattern.pattern import Pattern
from clothwright.rules.known import kind_of
from clothwright.rules.names import OF_PIECE, kinds_in, piece_field
from clothwright.rules.plan import PlacingRule, Plan

OWN = ("own edge", "own point")


def followed(rule: PlacingRule, pattern: Pattern) -> tuple[PlacingRule, ...]:
    """Return a rule as it reads for the pieces as changed: one for each part it holds for.

    None where what it names is gone. A name that is still there, or that no change has touched, is
    left as it is.
    """
    kinds = kinds_in(rule)
    out: list[PlacingRule] = [rule]
    for name, kind in kinds.items():
        if kind == "pieces":
            out = [
                replace(r, **{name: tuple(n for p in getattr(r, name) for n in _piece(p, pattern))})
                for r in out
            ]
    groups = [list(_places(rule, name, pattern)) for name, kind in kinds.items() if kind == "piece"]
    if any(len(g) > 1 for g in groups) and not kind_of(rule).divides:
        return ()
    return tuple(
        replace(r, **{k: v for values in each for k, v in values.items()})
        for r in out
        for each in itertools.product(*groups)
    )


def followed_plan(plan: Plan, pattern: Pattern) -> Plan:
    """Return a plan whose rules name the pieces as changed."""
    rules = tuple(f for rule in plan.rules for f in followed(rule, pattern))
    return plan if rules == plan.rules else replace(plan, rules=rules)


def _piece(name: str, pattern: Pattern) -> tuple[str, ...]:
    return (name,) if any(p.name == name for p in pattern.pieces) else pattern.trail.piece(name)


def _places(rule: PlacingRule, field: str, pattern: Pattern) -> Iterator[dict[str, str]]:
    """Yield what a field with a piece, and the edge or point that goes with it, say now."""
    piece = getattr(rule, field)
    own = next(
        ((n, k) for n, k in kinds_in(rule).items() if k in OWN and piece_field(n) == field), None
    )
    if own is None:
        for name in _piece(piece, pattern):
            yield {field: name}
        return
    name, kind = own
    value = getattr(rule, name)
    try:
        OF_PIECE[kind](pattern.piece(piece), value)
    except BadInput:
        trail = pattern.trail
        found = trail.edge(piece, value) if kind == "own edge" else trail.point(piece, value)
        for now, called in found:
            yield {field: now, name: called}
        return
    yield {field: piece, name: value}
