"""From a few wishes to the plans worth looking at: every set of them, the beaten ones told."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput
from clothwright.rules.kinds.at_phase import AtPhase
from clothwright.rules.kinds.folded import Folded
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.mirrored import Mirrored
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.known import contradict
from clothwright.rules.names import pieces_of
from clothwright.rules.order import in_order
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.print_facts import missing_mm

MOST_WISHES = 6
"""More wishes would make more plans than anybody can weigh."""
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
class WishedPlan:
    """One plan made of wishes, laid. beaten_by: name of a plan better in every respect, or ""."""

    wishes: tuple[str, ...]
    laid: Laid
    beaten_by: str = ""


def wishes_in(plans: Sequence[Plan]) -> tuple[Wish, ...]:
    """Return the wishes hidden in plans: what each adds to those before it."""
    seen: set[OnBorder] = set()
    out = []
    for plan in plans:
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


def plans_from(
    plans: Sequence[Plan], wishes: Sequence[Wish]
) -> tuple[tuple[tuple[str, ...], Plan], ...]:
    """Return every set of wishes as a plan, none of them first. Raises BadInput when too many.

    The other rules of `plans` come along where every piece they name is on a border
    (for meeting, mirroring, phases) or none is (for grain and the rest); of two that contradict
    each other the one that stands first there.
    """
    if len(wishes) > MOST_WISHES:
        raise BadInput(
            where="--wish",
            what=f"{len(wishes)} wishes make {2 ** len(wishes)} plans",
            expected=f"at most {MOST_WISHES} wishes",
        )
    every = (r for p in plans for r in p.rules if not isinstance(r, OnBorder))
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
            out.append((names, Plan(name=title, why="; ".join(names), rules=in_order(rules))))
    return tuple(out)


def _fits(rule: PlacingRule, bordered: frozenset[str]) -> bool:
    """Tell whether a rule comes along: its pieces all on the border, or, for grain, none."""
    if isinstance(rule, Folded):
        return True
    pieces = pieces_of(rule)
    if not isinstance(rule, AtPhase | Meets | Mirrored):
        return not (pieces & bordered)
    return bool(pieces) and pieces <= bordered


def weighed(found: Sequence[WishedPlan]) -> tuple[WishedPlan, ...]:
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


def _beats(a: WishedPlan, b: WishedPlan) -> bool:
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


def _short(c: WishedPlan) -> float:
    lay = c.laid.lay
    if lay.unplaced:
        return 1e9
    return lay.short_by or 0.0


def _used(c: WishedPlan) -> float:
    """Length used of the cloths that are in hand, else of all."""
    hand = [k.name for k in c.laid.cloths if k.length is not None]
    return sum(u for n, u in c.laid.lay.used.items() if not hand or n in hand)


def _apart(c: WishedPlan) -> float:
    """Length of the seams along which the print does not meet, mm."""
    return missing_mm(c.laid.meetings)
