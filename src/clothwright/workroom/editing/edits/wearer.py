"""Edits of who wears it: measurements and the size chart."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.body.body import body_with
from clothwright.body.chart import chart_from
from clothwright.body.measures import measure_of
from clothwright.store import Opened
from clothwright.store.history.record import Key
from clothwright.units import parse_unit
from clothwright.words import Sentence, begun, listed
from clothwright.workroom.editing.edit import Desk, Edit, Typed, Values


@dataclass(frozen=True, slots=True, kw_only=True)
class SetBody(Edit):
    """Note measurements of the wearer: by name, as typed; "note", "date", "compare" too."""

    values: Values

    def do(self, desk: Desk) -> Desk:
        """Note them; an empty one is taken out."""
        return desk.with_book(body=body_with(desk.book.body, self.values, unit=desk.book.unit))

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which were measured, which were taken out; never how large."""
        old, new = dict(was.book.body.taken), dict(now.book.body.taken)
        measured = [measure_of(m).name for m in new if old.get(m) != new[m]]
        gone = [measure_of(m).name for m in old if m not in new]
        parts = [f"measured: {listed(measured)}"] if measured else []
        parts += [f"no longer measured: {listed(gone)}"] if gone else []
        parts += ["another note"] if was.book.body.note != now.book.body.note else []
        said = "; ".join(parts) or "another entry about the wearer"
        return (begun(said),)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetChart(Edit):
    """Keep a size chart as typed; with an empty text none is kept. unit: "" = the workbook's."""

    text: Typed
    name: str = ""
    source: str = ""
    unit: str = ""

    def do(self, desk: Desk) -> Desk:
        """Keep it in the place of an earlier one."""
        if not self.text.strip():
            return desk.with_book(chart=None)
        unit = parse_unit(self.unit, where="chart, unit") if self.unit else desk.book.unit
        chart = chart_from(self.text, name=self.name, source=self.source, unit=unit)
        return desk.with_book(chart=chart)

    def said(self, was: Desk, now: Desk) -> Sentence:
        """Say which."""
        chart = now.book.chart
        return ("Removed the size chart" if chart is None else f'Size chart "{chart.name}"',)

    def leans(self, at: Opened) -> tuple[Key, ...]:
        """Lean on the workbook's unit where the chart has none of its own."""
        return () if self.unit else Edit.leans(self, at)
