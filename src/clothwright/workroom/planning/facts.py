"""Laid plans side by side in tables, and what a search says while it goes on."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from clothwright.lay.result import Lay
from clothwright.picture.document import Table
from clothwright.rules.weighing.facts import best_words, facts
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit
from clothwright.words import show_length
from clothwright.workbook import Workbook


def best_in(unit: Unit) -> Callable[[Lay], str]:
    """Return what says the best lay so far in a unit, for a search that tells of each."""
    return lambda lay: best_words(lay, unit)


def compare_table(book: Workbook, laid: Sequence[Laid]) -> Table:
    """Return the plans side by side, a column each, a row for everything to weigh."""
    columns = [
        {f.label: f.words for f in facts(one, book.unit, book.settings.currency)} for one in laid
    ]
    labels = dict.fromkeys(label for column in columns for label in column)
    rows = tuple((label, *(c.get(label, "–") for c in columns)) for label in labels)
    return Table(head=("", *(x.plan.name for x in laid)), rows=rows)


def choice_table(book: Workbook, laid: Sequence[Laid]) -> Table:
    """Return one row a plan with what weighs most: for more plans than go side by side."""
    rows = []
    for one in laid:
        said = {f.label: f.words for f in facts(one, book.unit, book.settings.currency)}
        hand = [c.name for c in one.laid_cloths if c.length is not None] or list(one.lay.used)
        rows.append(
            (
                one.plan.name,
                said["does it fit?"],
                ", ".join(show_length(one.lay.used[n], book.unit) for n in hand),
                said.get("print meets along", "–"),
                said["cut across the grain"],
            )
        )
    head = ("plan", "does it fit?", "length used", "print meets along", "across the grain")
    return Table(head=head, rows=tuple(rows), figures=(2,))
