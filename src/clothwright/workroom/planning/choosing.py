"""From wishes in her order to the plans worth looking at: made, all of them laid, weighed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from clothwright.errors import BadInput, joined
from clothwright.lay.ctrl_c import result_of
from clothwright.lay.spreading import executor
from clothwright.rules.following import followed_plan
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.ranked import Weighed, weighed
from clothwright.rules.wishes.proposing import carried
from clothwright.rules.wishes.wish import Wish, WishedPlan
from clothwright.rules.wishes.wished import LET_GO, plans_from
from clothwright.units import Unit
from clothwright.words import listed, say
from clothwright.workbook import Workbook, replay
from clothwright.workroom.searching.laying import lay_plan

LEAST_SECONDS = 1.5
"""Seconds that every plan is searched for at least."""


def made_of(book: Workbook, wishes: Sequence[Wish]) -> tuple[WishedPlan, ...]:
    """Return the plans worth laying for these wishes, what matters most first in them."""
    pattern = replay(book).pattern
    rules = carried(followed_plan(book.plan(), pattern).rules)
    found = plans_from(pattern, book.cloths, wishes, rules, book.unit)
    return tuple(
        replace(one, plan=replace(one.plan, why=why_words(one, book.unit))) for one in found
    )


def why_words(one: WishedPlan, unit: Unit) -> str:
    """Say for which wishes a plan is made, which come only near, what it gives up and why.

    By how much it misses is told with its rules; what it has, of its lay (`ranked.verdict`).
    Lengths in `unit`.
    """
    said = []
    for start, some in (
        ("It is made for ", [h for h in one.had if not h.gave_way]),
        ("It can only come near ", [h for h in one.had if h.gave_way]),
    ):
        names = [" ".join((h.wish.name, say(h.grant.how, unit))).strip() for h in some]
        said += [f"{start}{listed(names)}."] if names else []
    said += [say(words, unit) for words in one.cautions]
    let_go = [g.wish.name for g in one.given_up if g.why == LET_GO]
    said += [f"It lets go of {listed(let_go)}, to see what that costs."] if let_go else []
    lost = (g for g in one.given_up if g.why != LET_GO)
    said += [say(joined(f"It gives up {g.wish.name}: ", g.why, "."), unit) for g in lost]
    return " ".join(said)


def new_plans(book: Workbook, wishes: Sequence[Wish], *, most: int) -> tuple[Plan, ...]:
    """Return the most promising plans of these wishes, `most` at the most.

    Those the workbook has already are left out, and none has a name that is taken. Raises BadInput
    when there is nothing to add.
    """
    known = [frozenset(p.rules) for p in book.plans]
    made = [one.plan for one in made_of(book, wishes)[:most]]
    new = [p for p in made if frozenset(p.rules) not in known]
    if not new:
        raise BadInput(
            where="wishes",
            what="the workbook has this plan already"
            if len(made) == 1
            else "the workbook has these plans already",
            expected="other wishes",
            try_="to tick one more, or one less",
        )
    taken, out = {p.name for p in book.plans}, []
    for plan in new:
        name, n = plan.name, 2
        while name in taken:
            name, n = f"{plan.name} {n}", n + 1
        taken.add(name)
        out.append(replace(plan, name=name))
    return tuple(out)


def lay_one(
    book: Workbook, plan: Plan, seconds: float, seed: int, rounds: int | None = None
) -> Laid:
    """Lay one plan that need not stand in the workbook (runs in a worker process too).

    seconds: how long it searches; with `rounds` at most. Raises BadInput.
    """
    alone = replace(book, plans=(plan,), chosen_plan="")
    return lay_plan(alone, seconds=seconds, seed=seed, rounds=rounds)


def choose(
    book: Workbook,
    wishes: Sequence[Wish],
    *,
    seconds: float,
    workers: int = 1,
    seed: int = 0,
    rounds: int | None = None,
    told: Callable[[Laid], None] = lambda _: None,
) -> tuple[Weighed, ...]:
    """Lay every plan the wishes make within about `seconds` in all; return them, best first.

    wishes: what matters most first. Those beaten in every respect (wishes, fit, length, seams) name
    who beats them. workers: lays at a time, each in a process of its own; 1 lays here, one after
    another. rounds: each is laid for so many, if the time does not run out first.
    """
    plans = made_of(book, wishes)
    each = max(LEAST_SECONDS, seconds * max(1, workers) / len(plans))
    found: list[Laid] = []
    with executor(workers if workers > 1 else 0) as pool:
        jobs = (pool.submit(lay_one, book, one.plan, each, seed, rounds) for one in plans)
        begun_jobs = jobs if workers == 1 else iter(list(jobs))
        for job in begun_jobs:
            found.append(result_of(job))
            told(found[-1])
    return weighed(found, wishes)
