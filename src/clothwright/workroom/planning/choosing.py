"""From a few wishes to the plans worth looking at: enumerate, lay all, drop the beaten ones."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, did_you_mean
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.rules.at_phase import AtPhase
from clothwright.rules.folded import Folded
from clothwright.rules.kinds import contradict
from clothwright.rules.laid import Laid
from clothwright.rules.meets import Meets
from clothwright.rules.mirrored import Mirrored
from clothwright.rules.names import pieces_of
from clothwright.rules.on_border import OnBorder
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.units import parse_length
from clothwright.words import edge_name
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import lay_plan

MOST_WISHES = 6
"""More wishes would make more plans than anybody can weigh."""
LEAST_SECONDS = 1.5
SAME_MM = 1.0
"""Lengths nearer than this count as the same when plans are weighed against each other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """Something the maker would like: a name, and the border rules that would grant it."""

    name: str
    rules: tuple[OnBorder, ...]

    @property
    def pieces(self) -> frozenset[str]:
        """The pieces the wish puts on a border."""
        return frozenset(r.piece for r in self.rules)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One plan made of wishes, laid. beaten_by: name of a plan better in every respect, or ""."""

    wishes: tuple[str, ...]
    laid: Laid
    beaten_by: str = ""


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
            expected='NAME = PIECE.EDGE, PIECE.EDGE, for example "skirt hem = skirt front.hem, '
            'skirt back.hem"',
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
    made = [plan for _, plan in plans_from(book, wishes)]
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
    seen: set[OnBorder] = set()
    out = []
    for plan in book.plans:
        new = tuple(r for r in plan.rules if isinstance(r, OnBorder) and r not in seen)
        if new:
            seen.update(new)
            out.append(Wish(name=_wish_name(new), rules=new))
    return tuple(out)


def _wish_name(rules: Sequence[OnBorder]) -> str:
    """Return "skirt front, skirt back hem" for rules on edges of one name."""
    edges = list(dict.fromkeys(r.edge for r in rules))
    if len(edges) == 1:
        return ", ".join(r.piece for r in rules) + f" {edges[0]}"
    return ", ".join(f"{r.piece} {r.edge}" for r in rules)


def plans_from(book: Workbook, wishes: Sequence[Wish]) -> tuple[tuple[tuple[str, ...], Plan], ...]:
    """Return every set of wishes as a plan, none of them first. Raises BadInput when too many.

    The other rules of the workbook's plans come along where every piece they name is on a border
    (for meeting, mirroring, phases) or none is (for grain and the rest); of two that contradict
    each other the one that stands first in the workbook.
    """
    if len(wishes) > MOST_WISHES:
        raise BadInput(
            where="--wish",
            what=f"{len(wishes)} wishes make {2 ** len(wishes)} plans",
            expected=f"at most {MOST_WISHES} wishes",
        )
    every = (r for p in book.plans for r in p.rules if not isinstance(r, OnBorder))
    others = tuple(dict.fromkeys(every))
    out = []
    for size in range(len(wishes) + 1):
        for chosen in itertools.combinations(wishes, size):
            bordered = frozenset().union(*(w.pieces for w in chosen))
            rules: list[PlacingRule] = [r for w in chosen for r in w.rules]
            for rule in others:
                if _fits(rule, bordered) and not any(contradict(rule, r) for r in rules):
                    rules.append(rule)
            names = tuple(w.name for w in chosen)
            title = " + ".join(names) or "no border asked for"
            out.append((names, Plan(name=title, why="; ".join(names), rules=tuple(rules))))
    return tuple(out)


def _fits(rule: PlacingRule, bordered: frozenset[str]) -> bool:
    """Tell whether a rule comes along: its pieces all on the border, or, for grain, none."""
    if isinstance(rule, Folded):
        return True
    pieces = pieces_of(rule)
    if not isinstance(rule, AtPhase | Meets | Mirrored):
        return not (pieces & bordered)
    return bool(pieces) and pieces <= bordered


def lay_one(book: Workbook, plan: Plan, seconds: float, seed: int) -> Laid:
    """Lay one plan that need not stand in the workbook (runs in a worker process too).

    seconds: how long it searches. Raises BadInput.
    """
    return lay_plan(replace(book, plans=(plan,), chosen_plan=""), seconds=seconds, seed=seed)


def choose(
    book: Workbook,
    wishes: Sequence[Wish],
    *,
    seconds: float,
    workers: int = 1,
    seed: int = 0,
    executor: Executor | None = None,
    told: Callable[[Choice], None] | None = None,
) -> tuple[Choice, ...]:
    """Lay every plan the wishes make within about `seconds` in all; return them, best first.

    Those beaten in every respect (wishes granted, fit, length, match) name who beats them.
    executor: lays run there, `workers` at a time; without one, here, one after another.
    """
    plans = plans_from(book, wishes)
    each = max(LEAST_SECONDS, seconds * max(1, workers) / len(plans))
    found: list[Choice] = []
    if executor is None:
        for names, plan in plans:
            found.append(Choice(wishes=names, laid=lay_one(book, plan, each, seed)))
            if told is not None:
                told(found[-1])
    else:
        jobs = [(n, executor.submit(lay_one, book, plan, each, seed)) for n, plan in plans]
        for names, job in jobs:
            found.append(Choice(wishes=names, laid=job.result()))
            if told is not None:
                told(found[-1])
    return weighed(found)


def weighed(found: Sequence[Choice]) -> tuple[Choice, ...]:
    """Return the choices with who is beaten by whom, unbeaten first, most wishes first."""
    out = []
    for one in found:
        better = next((o for o in found if o is not one and _beats(o, one)), None)
        out.append(replace(one, beaten_by=better.laid.plan.name if better else ""))
    return tuple(
        sorted(
            out, key=lambda c: (bool(c.beaten_by), not c.laid.lay.fits, -len(c.wishes), _used(c))
        )
    )


def _beats(a: Choice, b: Choice) -> bool:
    """Tell whether a is as good as b in every respect and better in one."""
    if not set(a.wishes) >= set(b.wishes):
        return False
    pairs = [
        (_short(a), _short(b)),
        (_used(a), _used(b)),
        (_apart(a), _apart(b)),
    ]
    if any(x > y + SAME_MM for x, y in pairs):
        return False
    return len(a.wishes) > len(b.wishes) or any(x < y - SAME_MM for x, y in pairs)


def _short(c: Choice) -> float:
    lay = c.laid.lay
    if lay.unplaced:
        return 1e9
    return lay.short_by or 0.0


def _used(c: Choice) -> float:
    """Length used of the cloths that are in hand, else of all."""
    hand = [k.name for k in c.laid.cloths if k.length is not None]
    return sum(u for n, u in c.laid.lay.used.items() if not hand or n in hand)


def _apart(c: Choice) -> float:
    """Largest difference in height where the print runs on from piece to piece, mm."""
    return max((m.level or 0.0 for m in c.laid.matches if m.alike), default=0.0)
