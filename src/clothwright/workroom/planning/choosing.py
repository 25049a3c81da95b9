"""From a few wishes to the plans worth looking at: read, made into plans, all of them laid."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, did_you_mean
from clothwright.lay.spreading import executor
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.wishes import Wish, WishedPlan, plans_from, weighed, wishes_in
from clothwright.units import parse_length
from clothwright.words import edge_name
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import lay_plan

LEAST_SECONDS = 1.5


def parse_wish(text: str, book: Workbook) -> Wish:
    """Read "NAME = PIECE.EDGE, PIECE.EDGE on BORDER above LENGTH". Raises BadInput.

    "on BORDER" may be left out when the workbook's cloths have one border; "above" means 0.
    """
    name, equals, rest = text.partition("=")
    found = re.fullmatch(r"\s*(.+?)(?:\s+on\s+(.+?))?(?:\s+above\s+(.+?))?\s*", rest)
    if not equals or not name.strip() or not found:
        raise BadInput(
            where="--wish",
            what=f'"{text}" is no wish',
            expected="a name and its edges, such as `skirt hem = skirt front.hem, skirt back.hem`",
        )
    border = _border(found.group(2) or "", book)
    above = parse_length(found.group(3), unit=book.unit, where="--wish") if found.group(3) else 0.0
    refs = [parse_edge(part, where="--wish") for part in found.group(1).split(",")]
    for ref in refs:
        book.bought.edge(ref)
    return Wish(
        name=name.strip(),
        rules=tuple(OnBorder(piece=r.piece, edge=r.edge, border=border, above=above) for r in refs),
    )


def borders_of(book: Workbook) -> tuple[str, ...]:
    """Return the names of every border of the workbook's cloths."""
    return tuple(b.name for c in book.cloths for b in c.print.borders)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeOffer:
    """An edge that may be wished onto a border. ref: to choose it by, not shown."""

    ref: str
    words: str
    hem: bool


def edges_to_wish(book: Workbook) -> tuple[EdgeOffer, ...]:
    """Return the edges of every piece that is cut from a cloth with a border."""
    printed = {c.material for c in book.cloths if c.print.borders}
    return tuple(
        EdgeOffer(
            ref=str(EdgeRef(p.name, e.name)),
            words=edge_name(p.name, e.name),
            hem=e.role is Role.HEM,
        )
        for p in book.bought.pieces
        if any(c.material in printed for c in p.cuts)
        for e in p.edges
    )


def new_wish(book: Workbook, edges: Sequence[str], *, name: str, border: str, above: str) -> Wish:
    """Return the wish that these edges (`EdgeOffer.ref`) lie on a border. Raises BadInput.

    name: "" for one made of the edges. border: "" for the only one. above: how far above its lower
    line, as typed; "" means on it.
    """
    words = [edge_name(r.piece, r.edge) for r in (parse_edge(e) for e in edges)]
    text = f"{(name or ', '.join(words)).replace('=', ' ')} = {', '.join(edges)}"
    text += f" on {border}" if border else ""
    text += f" above {above}" if above.strip() else ""
    return parse_wish(text, book)


def new_plans(book: Workbook, wishes: Sequence[Wish], *, every: bool) -> tuple[Plan, ...]:
    """Return the plan of all wishes together, or with `every` a plan for every set of them.

    Those the workbook has already are left out, and none has a name that is taken. Raises BadInput
    when there is nothing to add.
    """
    made = [plan for _, plan in plans_from(book.plans, wishes)]
    known = [frozenset(p.rules) for p in book.plans]
    new = [p for p in (made if every else made[-1:]) if frozenset(p.rules) not in known]
    if not new:
        raise BadInput(
            where="wishes",
            what="the workbook has this plan already",
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


def _border(name: str, book: Workbook) -> str:
    known = borders_of(book)
    if name in known:
        return name
    if not name and len(known) == 1:
        return known[0]
    raise BadInput(
        where="--wish",
        what=f'no cloth has a border "{name}".{did_you_mean(name, known)}'
        if name
        else "it does not say which border",
        expected="on " + " or ".join(known) if known else "a cloth with a border",
    )


def wishes_of(book: Workbook) -> tuple[Wish, ...]:
    """Return the wishes hidden in the workbook's own plans: what each adds to those before it."""
    return wishes_in(book.plans)


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
    told: Callable[[WishedPlan], None] = lambda _: None,
) -> tuple[WishedPlan, ...]:
    """Lay every plan the wishes make within about `seconds` in all; return them, best first.

    Those beaten in every respect (wishes granted, fit, length, match) name who beats them.
    workers: lays at a time, each in a process of its own; 1 lays here, one after another.
    rounds: each is laid for so many, if the time does not run out first.
    """
    plans = plans_from(book.plans, wishes)
    each = max(LEAST_SECONDS, seconds * max(1, workers) / len(plans))
    found: list[WishedPlan] = []
    with executor(workers if workers > 1 else 0) as pool:
        jobs = (pool.submit(lay_one, book, plan, each, seed, rounds) for _, plan in plans)
        begun = jobs if workers == 1 else iter(list(jobs))
        for (names, _), job in zip(plans, begun, strict=True):
            found.append(WishedPlan(wishes=names, laid=job.result()))
            told(found[-1])
    return weighed(found)
