"""All tops one way."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import Ask, Form, RuleKind, Tops
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


RULE = RuleKind(
    id="one-way",
    params=OneWay,
    said=said,
    forms=(
        Form(
            id="one-way",
            title="All tops one way",
            help="For nap, pile, shine, or a print with a top.",
            asks=(Ask(name="pieces"), Ask(name="outside")),
        ),
    ),
    turned_by="pieces",
    tops=lambda r: Tops(r.pieces, r.outside),
    dropped=lambda r: (
        f"let {listed(r.pieces) or 'the pieces'} lie either way up",
        "pieces with their tops opposite ways may shade differently",
    ),
)
