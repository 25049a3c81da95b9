"""Edits of a plan and its workbook: rules out and in, changes added, pieces cut in two."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.rules.following import followed_plan
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.workbook import Step, Workbook, replay


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """What is done to the plan and the workbook. gap: mm between cutting lines, None as it is.

    drop: numbers of the plan's rules (from 1). add: rules put in. steps: changes put at the end of
    the list; they hold for every plan. parts: (piece, its parts) where a step cuts a piece in two.
    """

    drop: tuple[int, ...] = ()
    add: tuple[PlacingRule, ...] = ()
    steps: tuple[Step, ...] = ()
    gap: float | None = None
    parts: tuple[tuple[str, tuple[str, str]], ...] = ()


def edited(book: Workbook, plan: Plan, edit: Edit, name: str) -> Workbook:
    """Return the workbook with an edit made: the plan changed becomes the plan `name`.

    The other plans stay, but for rules on a piece that a step cuts in two: they name its parts
    then. Changes and the gap hold for the whole workbook.
    """
    rules = tuple(r for i, r in enumerate(plan.rules, start=1) if i not in edit.drop) + edit.add
    plans = (*(p for p in book.plans if p.name != name), replace(plan, name=name, rules=rules))
    settings = book.settings if edit.gap is None else replace(book.settings, gap=edit.gap)
    out = replace(
        book, plans=plans, settings=settings, steps=book.steps + edit.steps, chosen_plan=name
    )
    if not edit.parts:
        return out
    after = replay(out).pattern
    return replace(out, plans=tuple(followed_plan(p, after) for p in plans))


def together(edits: Sequence[Edit]) -> Edit:
    """Return several edits as one."""
    gaps = [e.gap for e in edits if e.gap is not None]
    return Edit(
        drop=tuple(sorted({n for e in edits for n in e.drop})),
        add=tuple(dict.fromkeys(r for e in edits for r in e.add)),
        steps=tuple(s for e in edits for s in e.steps),
        gap=min(gaps) if gaps else None,
        parts=tuple(p for e in edits for p in e.parts),
    )
