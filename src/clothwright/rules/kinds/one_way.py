"""All tops one way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import Ask, Form, RuleKind
from clothwright.rules.table import CuttingTable, same_turn
from clothwright.units.params import param
from clothwright.words import listed


@dataclass(frozen=True, slots=True, kw_only=True)
class OneWay(PlacingRule):
    """All tops one way: these pieces (empty = every piece on the cloth) turn alike."""

    pieces: tuple[str, ...] = param(
        "pieces", "", default=(), label="These pieces; none ticked: every piece"
    )


def said(rule: OneWay) -> Sentence:
    """Return the rule in words."""
    return (f"all tops one way: {', '.join(rule.pieces) or 'every piece'}",)


def asks(rule: OneWay, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield one turn for the pieces on each cloth."""
    for cloth in at.cloths:
        yield from same_turn(f"one-way {cloth.name}", at.alike(cloth, rule.pieces))


RULE = RuleKind(
    id="one-way",
    params=OneWay,
    said=said,
    forms=(
        Form(
            id="one-way",
            title="All tops one way",
            help="For nap, pile, shine, or a print with a top.",
            asks=(Ask(name="pieces"),),
        ),
    ),
    asks=asks,
    dropped=lambda r: (
        f"let {listed(r.pieces) or 'the pieces'} lie either way up",
        "pieces with their tops opposite ways may shade differently",
    ),
)
