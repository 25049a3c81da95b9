"""A piece off a border by so much. What no rule names keeps just off it without one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import PRINTED, Ask, Form, RuleKind, Stance, by_so_much, clearance
from clothwright.rules.table import CuttingTable, WrongRule
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOff(PlacingRule):
    """A whole piece, allowance included, keeps off a border by `by` mm or more."""

    piece: str = param("piece", "", label="Which piece")
    border: str = param("border", "", label="Which border")
    by: float = clearance()


def said(rule: KeepOff) -> Sentence:
    """Return the rule in words."""
    first = f"{rule.piece} keeps off the {rule.border}"
    return by_so_much(first, rule.by)


def asks(rule: KeepOff, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the band of the border, `by` wider on both sides, for each copy. Raises WrongRule."""
    for each in at.of(rule.piece):
        for cloth in each.cloths:
            for border in (b for b in cloth.print.borders if b.name == rule.border):
                low, high = border.span(cloth.width)
                if high + rule.by <= low - rule.by:
                    raise WrongRule(
                        field="by",
                        what=(
                            f'"{rule.piece}" may lie ',
                            -rule.by,
                            f' over "{rule.border}", which is more than the border is high',
                        ),
                        expected="a distance of 0 or more",
                    )
                yield put.KeepOff(
                    id=f"keep-off {each.id} {border.name}",
                    shape=each.id,
                    region=cloth.name,
                    low=low - rule.by,
                    high=high + rule.by,
                )


RULE = RuleKind(
    id="keep-off",
    params=KeepOff,
    said=said,
    forms=(
        Form(
            id="keep-off",
            title="A piece off a border",
            help="The whole piece, allowance included, lies beside the border.",
            asks=(
                PRINTED,
                Ask(name="border"),
                Ask(name="by", least=0.0),
            ),
        ),
    ),
    asks=asks,
    places=True,
    on_print=True,
    stance=lambda r: Stance(r.piece, r.border, "off", r.by),
)
