"""A workbook with something given up so that a plan fits: rules, changes, the gap."""

from __future__ import annotations

from dataclasses import replace

from clothwright.rules.concessions import PlanEdit
from clothwright.rules.following import followed_plan
from clothwright.rules.plan import Plan
from clothwright.workbook import Step, Workbook, replay

WHY = "so that the pieces fit the cloth"


def edited(book: Workbook, plan: Plan, edit: PlanEdit, name: str) -> Workbook:
    """Return the workbook with an edit made: the plan changed becomes the plan `name`.

    The other plans stay, but for rules on a piece that a change cuts in two: they name its parts
    then. Changes and the gap hold for the whole workbook.
    """
    rules = tuple(r for i, r in enumerate(plan.rules, start=1) if i not in edit.drop) + edit.add
    plans = (*(p for p in book.plans if p.name != name), replace(plan, name=name, rules=rules))
    settings = book.settings if edit.gap is None else replace(book.settings, gap=edit.gap)
    steps = book.steps + tuple(
        Step(change=c.change, params=c.params, why=WHY) for c in edit.changes
    )
    out = replace(book, plans=plans, settings=settings, steps=steps, chosen_plan=name)
    if not edit.parts:
        return out
    after = replay(out).pattern
    return replace(out, plans=tuple(followed_plan(p, after) for p in plans))
