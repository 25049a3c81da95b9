"""A piece that may run into a border. What no rule names keeps off it (`rules.standing`)."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import PRINTED, Ask, Form, RuleKind, Stance
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class MayRunInto(PlacingRule):
    """A piece may lie on a border, wherever it falls; upright where the border has a top."""

    piece: str = param("piece", "", label="Which piece")
    border: str = param("border", "", label="Which border")


def said(rule: MayRunInto) -> Sentence:
    """Return the rule in words."""
    return (f"{rule.piece} may run into the {rule.border}",)


RULE = RuleKind(
    id="may-run-into",
    params=MayRunInto,
    said=said,
    forms=(
        Form(
            id="may-run-into",
            title="A piece that may run into a border",
            help="It saves cloth; the border shows on the piece wherever it happens to fall.",
            asks=(PRINTED, Ask(name="border")),
        ),
    ),
    on_print=True,
    stance=lambda r: Stance(r.piece, r.border, "into"),
)
