"""A piece from another cloth."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Sentence
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import Ask, Form, Home, RuleKind
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFrom(PlacingRule):
    """A piece meant for one material is cut from a named cloth instead."""

    piece: str = param("piece", "the piece to cut from it")
    material: str = param("material", "", label="Which piece")
    cloth: str = param("cloth", "", label="From which cloth")


def said(rule: CutFrom) -> Sentence:
    """Return the rule in words."""
    return (f"{rule.piece} is cut from {rule.cloth} instead of {rule.material}",)


def home(
    rule: CutFrom, what: Home, found: tuple[Cloth, ...], cloths: tuple[Cloth, ...]
) -> tuple[Cloth, ...]:
    """Return the named cloth for what the rule speaks of."""
    if what != (rule.piece, rule.material):
        return found
    return tuple(c for c in cloths if c.name == rule.cloth)


RULE = RuleKind(
    id="cut-from",
    params=CutFrom,
    said=said,
    forms=(
        Form(
            id="cut-from",
            title="A piece from another cloth",
            help="A facing from the lining cloth, for example.",
            asks=(Ask(name="cut", field="material"), Ask(name="cloth")),
        ),
    ),
    home=home,
    against=lambda a, b: (a.piece, a.material) == (b.piece, b.material) and a.cloth != b.cloth,
)
