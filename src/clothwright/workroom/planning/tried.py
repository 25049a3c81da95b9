"""A workbook with something given up so that a plan fits: rules, changes, the gap."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from clothwright.rules.following import followed_plan
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.concessions import Amendment
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.ways_to_fit import WayToFit
from clothwright.rules.weighing.ways_to_fit import ways_to_fit as find_ways
from clothwright.workbook import Step, Workbook, replay
from clothwright.workroom.searching.laying import compile_plan

WHY = "so that the pieces fit the cloth"


def edited(book: Workbook, plan: Plan, edit: Amendment, name: str) -> Workbook:
    """Return the workbook with an edit made: the plan changed becomes the plan `name`.

    The other plans stay, but for rules on a piece that a change cuts in two: they name its parts
    then. Changes and the gap hold for the whole workbook.
    """
    new = replace(plan, name=name, rules=edit.rules(plan))
    plans = (*(p for p in book.plans if p.name != name), new)
    settings = book.settings if edit.gap is None else replace(book.settings, gap=edit.gap)
    steps = book.steps + tuple(
        Step(change=c.change, params=c.params, why=WHY) for c in edit.changes
    )
    out = replace(book, plans=plans, settings=settings, steps=steps, chosen_plan=name)
    if not edit.parts:
        return out
    after = replay(out).pattern
    return replace(out, plans=tuple(followed_plan(p, after) for p in plans))


def ways_to_fit(
    book: Workbook,
    laid: Laid,
    *,
    seconds: float,
    seed: int = 0,
    rounds: int | None = None,
    least_hem: float | None = None,
    told: Callable[[WayToFit], None] | None = None,
) -> tuple[WayToFit, ...]:
    """Return ways to fit for a plan that does not fit, those that fit first, the least seen first.

    What would need something else of what is cut already is no way. laid: the plan laid too long.
    seconds: for all together. rounds: each way is laid for so many
    instead of for its share of them. least_hem: mm, the shallowest hem offered; None for the usual
    one. told: called with each way as it has been tried.
    """

    def made(edit: Amendment, name: str) -> Laid | None:
        tried = edited(book, laid.plan, edit, name)
        done = replay(tried)
        if any(t.error for t in done.told[len(book.steps) :]):
            return None
        new = compile_plan(tried, tried.plan(name), done.pattern)
        return None if set(new.compiled.of_cut) - set(laid.compiled.of_cut) else new

    return find_ways(
        laid,
        made,
        unit=book.unit,
        gap=book.settings.gap,
        seconds=seconds,
        seed=seed,
        rounds=rounds,
        least_hem=least_hem,
        told=told,
    )
