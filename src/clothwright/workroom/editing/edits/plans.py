"""Edits of the plans."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.rules.known import said as rule_said
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.store.book.parts import part_with
from clothwright.words import Sentence, listed
from clothwright.workroom.editing.differing import joined_by
from clothwright.workroom.editing.edit import Desk, Edit, PlanEdit, Values, new_name


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPlan(Edit):
    """Add a plan. like: a plan whose rules it begins with. rules: further ones."""

    plan: str
    why: str = ""
    like: str = ""
    rules: tuple[Values, ...] = ()

    def do(self, desk: Desk) -> Desk:
        """Add it after the others, under a name that is not taken."""
        new_name("plan", self.plan, [p.name for p in desk.book.plans])
        like = desk.book.plan(self.like).rules if self.like else ()
        rules = tuple(
            part_with(PlacingRule, None, v, unit=desk.book.unit, where="placing rule")
            for v in self.rules
        )
        return desk.with_plan(Plan(name=self.plan, why=self.why, rules=like + rules))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'Added the plan "{self.plan}"',)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPlan(PlanEdit):
    """Give a plan another name or another reason."""

    name: str | None = None
    why: str | None = None

    def do(self, desk: Desk) -> Desk:
        """Set what is told; a chosen plan stays chosen under its new name."""
        old = desk.plan(self.plan)
        name = old.name if self.name is None else self.name
        if name != old.name:
            new_name("plan", name, [p.name for p in desk.book.plans])
        chosen = name if desk.book.chosen_plan == old.name else desk.book.chosen_plan
        new = replace(old, name=name, why=old.why if self.why is None else self.why)
        return desk.with_plan(new, old.name).with_book(chosen_plan=chosen)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say its new name, or that the reason is another."""
        old = was.plan(self.plan).name
        if self.name is not None and self.name != old:
            return (f'Called the plan "{old}" "{self.name}"',)
        return (f'Another reason for the plan "{old}"',)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePlan(PlanEdit):
    """Take a plan out."""

    def do(self, desk: Desk) -> Desk:
        """Take it out; if it was chosen, none is."""
        name = desk.book.plan(self.plan).name
        chosen = "" if desk.book.chosen_plan == name else desk.book.chosen_plan
        plans = tuple(p for p in desk.book.plans if p.name != name)
        return desk.with_book(plans=plans, chosen_plan=chosen)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'Removed the plan "{was.plan(self.plan).name}"',)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoosePlan(PlanEdit):
    """Choose the plan to cut by; "" chooses none."""

    def do(self, desk: Desk) -> Desk:
        """Note its name."""
        return desk.with_book(chosen_plan=desk.book.plan(self.plan).name if self.plan else "")

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        return (f'Chose the plan "{self.plan}"' if self.plan else "Chose no plan",)


@dataclass(frozen=True, slots=True, kw_only=True)
class PutPlans(Edit):
    """Put plans in that were made here, each in the place of the one of its name, if any.

    chosen: the plan to cut by from now on; "" leaves it as it is.
    """

    plans: tuple[Plan, ...]
    chosen: str = ""

    def do(self, desk: Desk) -> Desk:
        """Put them in; rules that others have set meanwhile stay beside those that are new."""
        for plan in self.plans:
            seen = next((p for p in desk.base.book.plans if p.name == plan.name), plan)
            here = next((p for p in desk.book.plans if p.name == plan.name), seen)
            kept = tuple(r for r in here.rules if r in plan.rules or r not in seen.rules)
            new = tuple(r for r in plan.rules if r not in kept)
            rules = plan.rules if here == seen else kept + new
            desk = desk.with_plan(replace(plan, rules=rules))
        return desk.with_book(chosen_plan=self.chosen or desk.book.chosen_plan)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which are new, and what differs in the others."""
        old = {p.name: p.rules for p in was.book.plans}
        new = [f'"{p.name}"' for p in self.plans if p.name not in old]
        parts: list[Sentence] = []
        if new:
            parts.append((f"Added the plan{'s' if len(new) > 1 else ''} {listed(new)}",))
        for plan in (now.book.plan(p.name) for p in self.plans if p.name in old):
            more = [r for r in plan.rules if r not in old[plan.name]]
            less = [r for r in old[plan.name] if r not in plan.rules]
            told = [("added: ", *rule_said(r)) for r in more]
            told += [("removed: ", *rule_said(r)) for r in less]
            if told:
                parts.append((f'Plan "{plan.name}", ', *joined_by(told, "; ")))
        return joined_by(parts, "; ") or (f'Chose the plan "{self.chosen}"',)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetWishes(Edit):
    """Say what the print is to do, what matters most first; nothing: what is usual."""

    wishes: tuple[str, ...]

    def do(self, desk: Desk) -> Desk:
        """Note them, each once."""
        return desk.with_book(wishes=tuple(dict.fromkeys(self.wishes)))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say what is new or gone, or that the order is another."""
        old, new = was.book.wishes, now.book.wishes
        if not new:
            return ("Wished for what is usual",)
        more, less = [w for w in new if w not in old], [w for w in old if w not in new]
        if old and (more or less):
            said = [(f"wished for {listed(more)}",)] if more else []
            said += [(f"no longer wished for {listed(less)}",)] if less else []
            return joined_by(said, "; ")
        return (f"Wishes in this order: {listed(new)}",)
