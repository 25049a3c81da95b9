"""Edits of the placing rules of a plan. A rule is named by its number in the plan looked at."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.errors import BadInput, CannotDo
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.known import said
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.store import Opened
from clothwright.store.book.parts import part_with
from clothwright.store.history.record import Key
from clothwright.words import Sentence
from clothwright.workroom.editing.edit import Desk, PlanEdit, Values


@dataclass(frozen=True, slots=True, kw_only=True)
class AddRule(PlanEdit):
    """Add a placing rule to a plan ("" = the chosen one)."""

    values: Values

    def do(self, desk: Desk) -> Desk:
        """Add it after the others; one that is there already is not doubled."""
        plan = desk.plan(self.plan)
        rule = part_with(PlacingRule, None, self.values, unit=desk.book.unit, where="placing rule")
        return desk.with_plan(replace(plan, rules=once(plan.rules, rule)))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say the rule."""
        new = [r for r in now.plan(self.plan).rules if r not in was.plan(self.plan).rules]
        return (
            *_in_plan(was, self.plan),
            "added: ",
            *(said(new[-1]) if new else ("as it was there already",)),
        )

    def leans(self, at: Opened) -> tuple[Key, ...]:
        """Lean on the cloth it names, too."""
        return (*PlanEdit.leans(self, at), *_cloth_named(self.values))


@dataclass(frozen=True, slots=True, kw_only=True)
class SetRule(PlanEdit):
    """Give a placing rule other values. rule: its number, from 1."""

    rule: int
    values: Values

    def do(self, desk: Desk) -> Desk:
        """Read the values over those it has."""
        plan, at = found(desk, self.plan, self.rule)
        where = f'plan "{plan.name}", rule {self.rule}'
        rule = part_with(PlacingRule, plan.rules[at], self.values, unit=desk.book.unit, where=where)
        return desk.with_plan(replace(plan, rules=(*plan.rules[:at], rule, *plan.rules[at + 1 :])))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say the rule as it is now."""
        _, at = found(was, self.plan, self.rule)
        return (*_in_plan(was, self.plan), "now: ", *said(now.plan(self.plan).rules[at]))

    def leans(self, at: Opened) -> tuple[Key, ...]:
        """Lean on the cloth it names, too."""
        return (*PlanEdit.leans(self, at), *_cloth_named(self.values))


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveRule(PlanEdit):
    """Take a placing rule out. rule: its number, from 1."""

    rule: int

    def do(self, desk: Desk) -> Desk:
        """Take it out, wherever it stands by now."""
        plan, at = found(desk, self.plan, self.rule)
        return desk.with_plan(replace(plan, rules=plan.rules[:at] + plan.rules[at + 1 :]))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say the rule that went."""
        plan, at = found(was, self.plan, self.rule)
        return (*_in_plan(was, self.plan), "removed: ", *said(plan.rules[at]))


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveRule(PlanEdit):
    """Let a placing rule count sooner or later. rule: its number, from 1; to: what it gets."""

    rule: int
    to: int

    def do(self, desk: Desk) -> Desk:
        """Put it before or behind the rule that has the number now, wherever they stand by then."""
        plan, at = found(desk, self.plan, self.rule)
        other, there = found(desk, self.plan, self.to)
        rules = list(plan.rules)
        rules.insert(there, rules.pop(at))
        return desk.with_plan(replace(other, rules=tuple(rules)))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say the rule, and which it is of them."""
        plan, at = found(was, self.plan, self.rule)
        place = f"now counts as number {self.to} of {len(plan.rules)}: "
        return (*_in_plan(was, self.plan), place, *said(plan.rules[at]))


def found(desk: Desk, name: str, number: int) -> tuple[Plan, int]:
    """Return the plan, and where in it the rule stands now, from 0. Raises BadInput, CannotDo.

    number: the rule's, from 1, in the plan that was looked at.
    """
    plan = desk.plan(name)
    seen = desk.base.book.plan(name).rules
    if not 1 <= number <= len(seen):
        raise BadInput(
            where=f'plan "{plan.name}"',
            what=f"there is no rule {number}",
            expected=f"a number from 1 to {len(seen)}" if seen else "a plan with rules",
        )
    wanted = seen[number - 1]
    nth = seen[:number].count(wanted)
    places = [i for i, r in enumerate(plan.rules) if r == wanted]
    if len(places) < nth:
        raise CannotDo(
            what=f'rule {number} of plan "{plan.name}" cannot be edited',
            why="it was changed or taken out meanwhile",
            nearest="to look at the rules as they are now",
        )
    return plan, places[nth - 1]


def once(rules: tuple[PlacingRule, ...], rule: PlacingRule) -> tuple[PlacingRule, ...]:
    """Return the rules with one more; a pin takes the place of the same copy's earlier pin."""
    if isinstance(rule, Pin):
        rules = tuple(r for r in rules if not pins(r, rule.piece, rule.copy))
    return rules if rule in rules else (*rules, rule)


def pins(rule: PlacingRule, piece: str, copy: int) -> bool:
    """Tell whether a rule pins a copy of a piece."""
    return isinstance(rule, Pin) and (rule.piece, rule.copy) == (piece, copy)


def _in_plan(desk: Desk, name: str) -> Sentence:
    return (f'Plan "{desk.plan(name).name}", ',)


def _cloth_named(values: Values) -> tuple[Key, ...]:
    cloth = values.get("cloth")
    return (("cloth", cloth, "name"),) if isinstance(cloth, str) else ()
