"""A cloth laid double. It is no rule on shapes: `lay.fold_search` lays by it."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.rules.plan import PlacingRule, Plan
from clothwright.rules.rule import RuleKind
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded(PlacingRule):
    """A cloth is laid double: "lengthwise", "partial" or "crosswise".

    depth: mm of doubled cloth from the fold, for a partial fold; None leaves it to the search.
    """

    cloth: str = param("cloth", "the cloth to fold")
    way: str = param(
        "choice",
        "",
        choices={
            "lengthwise": "lengthwise, selvedge on selvedge",
            "partial": "in part: the upper selvedge folded over only as deep as the pieces need",
            "crosswise": "crosswise, cut ends together",
        },
        label="How it lies",
    )
    depth: float | None = param("length", "how deep it is doubled", default=None, least=1.0)


def said(rule: Folded) -> Sentence:
    """Return the rule in words."""
    first = f"{rule.cloth} is laid double, {rule.way}"
    return (first, ", ", rule.depth, " deep") if rule.depth else (first,)


def asked_folds(plan: Plan) -> tuple[Folded, ...]:
    """Return the folds a plan asks for."""
    return tuple(r for r in plan.rules if isinstance(r, Folded))


RULE = RuleKind(
    id="folded",
    params=Folded,
    said=said,
    elsewhere="Folds are set below.",
    against=lambda a, b: a.cloth == b.cloth and a != b,
)
