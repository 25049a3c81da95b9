"""From a body and a size chart to the size, and to the change that cuts a pattern in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from clothwright.body.chart import SizeChart
from clothwright.body.suggest import (
    Standing,
    Suggestion,
    standings,
    suggest,
)
from clothwright.checks.size_by_chart import kinds_of, sizes_by_chart
from clothwright.errors import BadInput, ClothwrightError
from clothwright.units.params import read_params
from clothwright.words import told
from clothwright.workbook import Step, Workbook, change_of

SIZE_CHANGES = ("choose-size", "blend-sizes")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """What the chart says about the wearer.

    suggestions: for each kind of garment that the pattern is. standings: each measurement's size.
    step: the change that cuts the pattern so, or None; why_not: why there is none (in words).
    done: the list of changes does so already.
    """

    suggestions: tuple[Suggestion, ...]
    standings: tuple[Standing, ...]
    step: Step | None = None
    why_not: str = ""
    done: bool = False

    @property
    def change(self) -> str:
        """The change in words, "" when there is none."""
        if self.step is None:
            return ""
        if self.step.change == "choose-size":
            return f"the whole pattern in size {self.step.params['size']}"
        return f"sizes blended: {self.step.params['at']}"


def sizing_of(book: Workbook) -> Sizing | None:
    """Return the sizes for the wearer of a workbook; None without a chart or a measurement."""
    body, chart = book.body.figures(), book.chart
    if chart is None or not body:
        return None
    found = (suggest(body, chart, kind) for kind in kinds_of(book.bought))
    suggestions = tuple(s for s in found if s is not None)
    each = standings(body, chart)
    try:
        step = _step(book, chart, suggestions)
    except ClothwrightError as error:
        return Sizing(suggestions=suggestions, standings=each, why_not=told(error, book.unit))
    now = [s for s in book.steps if s.change in SIZE_CHANGES and s.on]
    done = [(s.change, dict(s.params)) for s in now] == [(step.change, dict(step.params))]
    return Sizing(suggestions=suggestions, standings=each, step=step, done=done)


def size_edit(book: Workbook) -> dict[str, Any]:
    """Return the edit, as plain data, that cuts the pattern in the suggested size.

    Raises BadInput when no size is suggested.
    """
    sizing = sizing_of(book)
    if sizing is None or sizing.step is None:
        why = "" if sizing is None else sizing.why_not
        raise BadInput(
            what=why or "there is nothing to suggest a size from",
            expected="measurements, a size chart, and a pattern in several sizes",
        )
    return step_edit(book, sizing.step)


def step_edit(book: Workbook, step: Step) -> dict[str, Any]:
    """Return the edit, as plain data, that puts a change of size first, in place of older ones."""
    params = dict(step.params)
    add = {"edit": "add-change", "kind": step.change, "params": params, "why": step.why, "at": 1}
    old = [n for n, s in enumerate(book.steps, start=1) if s.change in SIZE_CHANGES]
    if not old:
        return add
    out = [{"edit": "remove-change", "change": str(n)} for n in reversed(old)]
    return {"edit": "several", "edits": [*out, add], "words": "Another size by the size chart"}


def _step(book: Workbook, chart: SizeChart, suggestions: tuple[Suggestion, ...]) -> Step:
    """Return the change for the pattern's pieces. Raises CannotDo, BadInput with the reason."""
    sizes = book.bought.sizes
    if sizes is None:
        raise BadInput(
            what="the pieces of this workbook came in one size, so there is none to choose",
            try_="changes of your own where that size and you differ",
        )
    if not suggestions:
        raise BadInput(
            what="no bust, hip or waist measurement yet",
            expected="one of them, measured and in the chart",
        )
    every, main = sizes_by_chart(
        book.bought, sizes, book.body.figures(), chart, suggestions, unit=book.unit
    )
    if len(set(every.values())) <= 1:
        size = next(iter(every.values()), main)
        step = Step(change="choose-size", params={"size": size}, why="by the size chart")
    else:
        at = ", ".join(f"{place} {size}" for place, size in every.items())
        step = Step(change="blend-sizes", params={"at": at}, why="by the size chart")
    kind = change_of(step.change)
    kind.apply(book.bought, read_params(kind.params, step.params, unit=book.unit, where=""))
    return step
