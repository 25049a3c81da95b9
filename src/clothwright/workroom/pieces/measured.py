"""The wearer in words: measurements with what looks like a slip, the chart, the size, the room."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from clothwright.body.body import Body, Measurement
from clothwright.body.chart import SizeChart
from clothwright.body.charts import EXAMPLES
from clothwright.body.measures import MEASURES, Measure, measure_of
from clothwright.body.plausible import WHO, Doubt, doubts
from clothwright.checks.wearing_ease import LevelEase, rooms_of
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import show_length, show_number
from clothwright.workbook import Workbook
from clothwright.workroom.pieces.sizing import Sizing, sizing_of, step_edit

FIRST = frozenset(("high-bust", "bust", "waist", "hip"))
"""What a size is chosen by; other measurements matter once they are taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureTaken:
    """One measurement: what it is, what the tape said, what looks like a slip (None: nothing)."""

    measure: Measure
    figure: Measurement | None
    doubt: Doubt | None

    @property
    def name(self) -> str:
        """What it is called."""
        return self.measure.name

    @property
    def first(self) -> bool:
        """Tell whether it is shown among the first: a size goes by it, or it was taken."""
        return self.measure.id in FIRST or self.figure is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartLine:
    """A row of the size chart. you: where she stands. cells: a number, and whether it is hers."""

    name: str
    you: str
    cells: tuple[tuple[str, bool], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownWearer:
    """All that is known of the wearer. compared: whom doubtful measurements were held against.

    places: where each measurement stands in the chart, pairs of words.
    sizing: what the chart suggests, and the edit that makes it the pieces' size ({} without one).
    """

    body: Body
    taken: tuple[MeasureTaken, ...]
    compared: str
    chart: SizeChart | None
    places: tuple[tuple[str, str], ...]
    rows: tuple[ChartLine, ...]
    sizing: Sizing | None
    edit: Mapping[str, Any]
    rooms: tuple[LevelEase, ...]


def wearer_of(book: Workbook, pattern: Pattern) -> KnownWearer:
    """Return what is known of the wearer of a workbook, every measurement there is among it.

    pattern: the pieces as changed, whose room is told.
    """
    odd, taken = {d.measure: d for d in doubts(book.body)}, dict(book.body.taken)
    sizing = sizing_of(book)
    return KnownWearer(
        body=book.body,
        taken=tuple(
            MeasureTaken(measure=m, figure=taken.get(m.id), doubt=odd.get(m.id)) for m in MEASURES
        ),
        compared=WHO if odd and book.body.compare else "",
        chart=book.chart,
        places=tuple(
            (measure_of(s.measure).name, s.words) for s in (sizing.standings if sizing else ())
        ),
        rows=() if book.chart is None else _rows(book.chart, sizing, book.unit),
        sizing=sizing,
        edit=step_edit(book, sizing.step) if sizing and sizing.step else {},
        rooms=rooms_of(pattern, book.body.figures()),
    )


def to_take(name: str) -> tuple[Measure, ...]:
    """Return how a measurement is taken, "all" for every one. Raises BadInput with the nearest."""
    return MEASURES if name == "all" else (measure_of(name, where="--how"),)


def chart_examples() -> tuple[SizeChart, ...]:
    """Return charts of our own to begin with."""
    return EXAMPLES


def _rows(chart: SizeChart, sizing: Sizing | None, unit: Unit) -> tuple[ChartLine, ...]:
    """Return the chart's rows; the sizes on both sides of her measurements are marked."""
    at = {} if sizing is None else {s.row: s for s in sizing.standings if s.measure == s.row}
    rows = []
    for row in chart.rows:
        place = at.get(row.measure)
        near = () if place is None or place.beyond else (place.low, place.high)
        rows.append(
            ChartLine(
                name=measure_of(row.measure).name,
                you="" if place is None else f"{show_length(place.mm, unit)}: {place.words}",
                cells=tuple(
                    ("–" if v is None else show_number(v, chart.unit), size in near)
                    for size, v in zip(chart.sizes, row.values, strict=True)
                ),
            )
        )
    return tuple(rows)
