"""What a few rules ask of the lay by themselves, and whether others ask the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, Mistakes
from clothwright.lay.axis_rules import AxisRule, Way, asked_on, singled
from clothwright.lay.problem import LayProblem, asked_by
from clothwright.pattern.pattern import Pattern
from clothwright.rules.compile import compile_lay
from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.names import pieces_in
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.wishes.wish import Grant

SAME_MM = 0.01
"""mm: places nearer than this are one."""
Rules = tuple[PlacingRule, ...]
Place = tuple[object, ...]


def asked_alone(
    rules: Rules, lies: str, pattern: Pattern, cloths: Sequence[Cloth]
) -> LayProblem | None:
    """Return the problem that rules alone make, None where they cannot be.

    lies: "along" or "across" where their pieces have to lie so, "" as they may. What pieces and
    prints imply is left out.
    """
    grain = tuple(OnGrain(piece=n, grain=lies) for n in sorted(pieces_in(rules)) if lies)
    try:
        plan = Plan(name="alone", rules=(*rules, *grain))
        problem = compile_lay(pattern, cloths, plan).problem
    except (BadInput, Mistakes):
        return None
    mine = {str(n) for n in range(1, len(rules) + 1)}
    asked = tuple(r for r in problem.rules if asked_by(r.id) in mine)
    return replace(problem, rules=asked)


@dataclass(frozen=True, slots=True, kw_only=True)
class Demands:
    """What rules ask of the places of pieces, each found out once."""

    pattern: Pattern
    cloths: tuple[Cloth, ...]
    known: dict[tuple[Rules, str], frozenset[Place]] = field(default_factory=dict)

    def is_in(self, rule: PlacingRule, grant: Grant) -> bool:
        """Tell whether a grant asks all that a rule asks, in whatever words.

        Two points on the middle of a piece are one place for what lies across it.
        """
        if rule in grant.rules:
            return True
        alike = type(rule) in {type(r) for r in grant.rules}
        if not alike or not pieces_in((rule,)) <= pieces_in(grant.rules):
            return False
        mine = self.places((rule,), grant.lies)
        return bool(mine) and mine <= self.places(grant.rules, grant.lies)

    def places(self, rules: Rules, lies: str) -> frozenset[Place]:
        """Return every place that rules ask for, nothing where they cannot be."""
        key = (rules, lies)
        if key not in self.known:
            problem = asked_alone(rules, lies, self.pattern, self.cloths)
            self.known[key] = frozenset() if problem is None else _places(problem)
        return self.known[key]


def _places(problem: LayProblem) -> frozenset[Place]:
    ways = {s.id: Way(s.turns_deg[0], s.flips[0]) for s in problem.shapes}
    return frozenset(
        (axis, *_place(a))
        for axis in (0, 1)
        for a in asked_on(axis, problem.shapes, next(singled(problem.rules)), ways)
    )


def _place(asked: AxisRule) -> Place:
    """Return one place that is asked for, the same however the shapes are listed."""
    turn = -1 if asked.sum and min(asked.sum)[1] < 0 else 1
    const = turn * asked.const
    at = const % asked.repeat if asked.repeat else const
    steps = round(at / SAME_MM)
    if asked.repeat and steps == round(asked.repeat / SAME_MM):
        steps = 0
    shapes = tuple(sorted((n, turn * sign) for n, sign in asked.sum))
    return shapes, steps, round(asked.low, 3), round(asked.high, 3), asked.line
