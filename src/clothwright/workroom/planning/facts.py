"""Laid plans side by side in tables, and what a search says while it goes on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from clothwright.lay.result import Lay
from clothwright.picture.document import Table
from clothwright.rules.weighing.facts import best_words, facts
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.print_facts import met_words
from clothwright.rules.weighing.ranked import Weighed, differences, verdict, weighed
from clothwright.rules.wishes.wish import Wish
from clothwright.units import Unit
from clothwright.words import begun, listed, say, show_length
from clothwright.workbook import Workbook
from clothwright.workroom.planning.wishing import mine_of


def best_in(unit: Unit) -> Callable[[Lay], str]:
    """Return what says the best lay so far in a unit, for a search that tells of each."""
    return lambda lay: best_words(lay, unit)


def compare_table(book: Workbook, laid: Sequence[Laid]) -> Table:
    """Return the plans side by side, a column each, a row for everything to weigh."""
    columns = [
        {f.label: f.words for f in facts(one, book.unit, book.settings.currency)} for one in laid
    ]
    rows = tuple((label, *(c.get(label, "–") for c in columns)) for label in _merged(columns))
    return Table(head=("", *(x.plan.name for x in laid)), rows=rows)


def _merged(columns: Sequence[Iterable[str]]) -> list[str]:
    """Return the labels of all columns once, each after the one it follows in its own column."""
    order: list[str] = []
    for column in columns:
        at = 0
        for label in column:
            if label not in order:
                order.insert(at, label)
            at = order.index(label) + 1
    return order


def choice_table(book: Workbook, found: Sequence[Weighed]) -> Table:
    """Return one row a plan with what weighs most: for more plans than go side by side."""
    rows = []
    for one in found:
        laid = one.laid
        hand = [c.name for c in laid.laid_cloths if c.length is not None] or list(laid.lay.used)
        rows.append(
            (
                one.name,
                laid.fit_words(book.unit),
                *(("–", "–") if laid.lay.unplaced else _measures(laid, hand, book.unit)),
                listed(one.lacks) or "nothing",
            )
        )
    head = ("plan", "does it fit?", "length used", "print meets along", "lacks")
    return Table(head=head, rows=tuple(rows), figures=(2,))


def _measures(laid: Laid, cloths: Sequence[str], unit: Unit) -> tuple[str, str]:
    """Return the length used of some cloths, and along how much of its seams the print meets."""
    used = ", ".join(show_length(laid.lay.used[n], unit) for n in cloths)
    return used, met_words(laid.meetings) or "–"


@dataclass(frozen=True, slots=True, kw_only=True)
class RankedPlan:
    """A laid plan by its place among the others. left: another one beats it in every respect."""

    name: str
    words: str
    left: bool


def ranked_plans(book: Workbook, laid: Sequence[Laid]) -> tuple[RankedPlan, ...]:
    """Return laid plans of a workbook, the best by her wishes first, with what sets them apart."""
    wishes = mine_of(book)
    found = weighed(laid, wishes) if wishes else ()
    return tuple(
        RankedPlan(
            name=one.name,
            words=_first_words(one)
            if one is found[0]
            else begun(choice_words(one, found[0], wishes, book.unit)),
            left=bool(one.beaten_by),
        )
        for one in found
    )


def _first_words(first: Weighed) -> str:
    if not first.lacks:
        return "It has all that you wish for."
    return f"It lacks {listed(first.lacks)}."


def choice_words(one: Weighed, first: Weighed, wishes: Sequence[Wish], unit: Unit) -> str:
    """Say what a plan has of her wishes.

    Of the first all of it; of others which plan beats one and in what, else what sets it apart.
    """
    if one is first:
        return " ".join(say(words, unit) for words in verdict(one, wishes))
    if one.beaten_by:
        return say((f"“{one.beaten_by}” ", *one.because, "."), unit)
    return " ".join(say(words, unit) for words in differences(one, first, wishes))
