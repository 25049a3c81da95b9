"""All tops one way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import Form, RuleKind, Tops, named
from clothwright.rules.table import CuttingTable, WrongRule
from clothwright.units.params import param
from clothwright.words import listed


@dataclass(frozen=True, slots=True, kw_only=True)
class OneWay(PlacingRule):
    """All tops one way: these pieces (empty = every piece) on a cloth, whatever their grain.

    outside: pieces that may lie otherwise, even where the cloth has a nap.
    """

    pieces: tuple[str, ...] = param(
        "pieces", "", default=(), label="These pieces; none ticked: every piece"
    )
    outside: tuple[str, ...] = param(
        "pieces", "", default=(), label="These may lie otherwise, even on a nap"
    )


def said(rule: OneWay) -> Sentence:
    """Return the rule in words."""
    but = f" but {listed(rule.outside)}" if rule.outside else ""
    return (f"all tops one way: {', '.join(rule.pieces) or 'every piece'}{but}",)


def asks(rule: OneWay, _: CuttingTable) -> Iterator[put.Rule]:
    """Yield nothing: what it asks is found with the nap's (`rules.one_top`). Raises WrongRule."""
    both = [name for name in rule.pieces if name in rule.outside]
    if both:
        raise WrongRule(
            field="outside",
            what=f"{listed(both)} would lie one way with the others, and otherwise",
            expected="each piece ticked once at most",
        )
    yield from ()


RULE = RuleKind(
    id="one-way",
    params=OneWay,
    said=said,
    forms=(
        Form(
            id="one-way",
            title="All tops one way",
            help="For nap, pile, shine, or a print with a top.",
            asks=named("pieces", "outside"),
        ),
    ),
    asks=asks,
    turned_by="pieces",
    tops=lambda r: Tops(r.pieces, r.outside),
    dropped=lambda r: (
        f"let {listed(r.pieces) or 'the pieces'} lie either way up",
        "pieces with their tops opposite ways may shade differently",
    ),
)
