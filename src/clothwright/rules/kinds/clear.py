"""A point clear of a figure of the print."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.pattern.whole import TWIN
from clothwright.rules.plan import PlacingRule
from clothwright.rules.rule import Ask, Form, RuleKind, by_so_much, clearance
from clothwright.rules.table import CuttingTable, figure_on
from clothwright.units.params import param
from clothwright.words import motif_name


@dataclass(frozen=True, slots=True, kw_only=True)
class Clear(PlacingRule):
    """A point keeps clear of every copy of a figure by `by` mm beyond the figure's own edge."""

    piece: str = param("piece", "the piece whose point it is")
    point: str = param("own point", "", label="Which point")
    figure: str = param("figure", "", label="Which figure")
    by: float = clearance()


def said(rule: Clear) -> Sentence:
    """Return the rule in words."""
    first = f"{rule.piece}, {rule.point}, keeps clear of every {motif_name(rule.figure)}"
    return by_so_much(first, rule.by)


def asks(rule: Clear, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the circles each copy's point stays out of. Raises WrongRule: no such figure there."""
    for each in at.of(rule.piece):
        figure = figure_on(each.cloth, rule.figure)
        names = (rule.point, *((rule.point + TWIN,) if each.copy.fold is not None else ()))
        for name, (k, centre) in itertools.product(names, enumerate(figure.centres)):
            yield put.KeepClear(
                id=f"clear {each.id} {name}" + (f" {k + 1}" if k else ""),
                shape=each.id,
                point=at.point(each, name),
                radius=figure.radius + rule.by,
                centre=centre,
                **figure.repeats,
            )


RULE = RuleKind(
    id="clear",
    params=Clear,
    said=said,
    forms=(
        Form(
            id="clear",
            title="A point clear of a figure",
            help="So that no large flower lies on the point of the bust, for example.",
            asks=(Ask(name="point"), Ask(name="figure"), Ask(name="by", least=0.0)),
        ),
    ),
    asks=asks,
    on_print=True,
    dropped=lambda r: (
        f"let {r.piece}, {r.point}, fall on a {motif_name(r.figure)}",
        f"a {motif_name(r.figure)} may lie at {r.point} of {r.piece}",
    ),
)
