"""The wearer in words: measurements with what looks like a slip, the chart, the size, the room."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from clothwright.body.body import Body
from clothwright.body.chart import SizeChart
from clothwright.body.charts import EXAMPLES
from clothwright.body.measures import MEASURES, Measure, measure_of
from clothwright.body.plausible import WHO, Doubt, doubts
from clothwright.body.suggest import KINDS
from clothwright.pattern.pattern import Pattern
from clothwright.units import Unit
from clothwright.words import listed, say, show_length, show_number
from clothwright.workbook import Step, Workbook
from clothwright.workroom.pieces.sizing import Sizing, room_words, rooms_of, sizing_of, step_edit

FIRST = frozenset(("high-bust", "bust", "waist", "hip"))
"""What a size is chosen by; other measurements matter once they are taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureWords:
    """One measurement. typed: as she wrote it, "" when not taken; shown: in her unit.

    id, key: what edits call it. doubt: what looks like a slip; tries: what may have been meant.
    """

    id: str
    key: str
    name: str
    how: str
    used: str
    typed: str
    shown: str
    doubt: str
    tries: tuple[str, ...]

    @property
    def first(self) -> bool:
        """Tell whether it is shown among the first: a size goes by it, or it was taken."""
        return self.id in FIRST or bool(self.typed)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartRow:
    """A row of the size chart. you: where she stands. cells: a number, and whether it is hers."""

    name: str
    you: str
    cells: tuple[tuple[str, bool], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeWords:
    """The size for one kind of garment. beyond: she is outside the chart."""

    kind: str
    words: str
    why: str
    beyond: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOffer:
    """What the chart suggests. change, edit: the change to these pieces, in words and as an edit.

    done: the list of changes has it already. why_not: why there is none.
    """

    said: tuple[SizeWords, ...]
    change: str
    edit: Mapping[str, Any]
    done: bool
    why_not: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomWords:
    """The ease at one level, in words. kind: "good", "notice" (little), "bad" (too small)."""

    pieces: str
    words: str
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Wearer:
    """All that is known of the wearer. compared: whom doubtful measurements were held against."""

    body: Body
    taken: tuple[MeasureWords, ...]
    compared: str
    chart: SizeChart | None
    rows: tuple[ChartRow, ...]
    size: SizeOffer | None
    rooms: tuple[RoomWords, ...]


def wearer_of(book: Workbook, pattern: Pattern) -> Wearer:
    """Return what is known of the wearer of a workbook, every measurement there is among it.

    pattern: the pieces as changed, whose room is told.
    """
    odd = {d.measure: d for d in doubts(book.body)}
    sizing = sizing_of(book)
    return Wearer(
        body=book.body,
        taken=tuple(_taken(m, book, odd.get(m.id)) for m in MEASURES),
        compared=WHO if odd and book.body.compare else "",
        chart=book.chart,
        rows=() if book.chart is None else _rows(book.chart, sizing, book.unit),
        size=None if sizing is None else _offer(sizing, book),
        rooms=_rooms(book, pattern),
    )


def chart_examples() -> tuple[SizeChart, ...]:
    """Return charts of our own to begin with."""
    return EXAMPLES


def _taken(measure: Measure, book: Workbook, doubt: Doubt | None) -> MeasureWords:
    found = dict(book.body.taken).get(measure.id)
    return MeasureWords(
        id=measure.id,
        key=measure.key,
        name=measure.name[:1].upper() + measure.name[1:],
        how=measure.how,
        used=measure.used,
        typed="" if found is None else found.text,
        shown="" if found is None else show_length(found.mm, book.unit),
        doubt="" if doubt is None else say(doubt.words, book.unit),
        tries=() if doubt is None else tuple(t.text for t in doubt.tries),
    )


def _rows(chart: SizeChart, sizing: Sizing | None, unit: Unit) -> tuple[ChartRow, ...]:
    """Return the chart's rows; the sizes on both sides of her measurements are marked."""
    at = {} if sizing is None else {s.row: s for s in sizing.standings if s.measure == s.row}
    rows = []
    for row in chart.rows:
        place = at.get(row.measure)
        near = () if place is None or place.beyond else (place.low, place.high)
        rows.append(
            ChartRow(
                name=measure_of(row.measure).name,
                you="" if place is None else f"{show_length(place.mm, unit)}: {place.words}",
                cells=tuple(
                    ("–" if v is None else show_number(v, chart.unit), size in near)
                    for size, v in zip(chart.sizes, row.values, strict=True)
                ),
            )
        )
    return tuple(rows)


def _offer(sizing: Sizing, book: Workbook) -> SizeOffer:
    step = sizing.step
    return SizeOffer(
        said=tuple(
            SizeWords(
                kind=KINDS[s.kind].capitalize(),
                words=say(s.words, book.unit),
                why=say(s.why, book.unit),
                beyond=bool(s.standing.beyond),
            )
            for s in sizing.suggestions
        ),
        change="" if step is None else _change_words(step),
        edit={} if step is None else step_edit(book, step),
        done=sizing.done,
        why_not=sizing.why_not if sizing.suggestions else "",
    )


def _change_words(step: Step) -> str:
    if step.change == "choose-size":
        return f"the whole pattern in size {step.params['size']}"
    return f"sizes blended: {step.params['at']}"


def _rooms(book: Workbook, pattern: Pattern) -> tuple[RoomWords, ...]:
    return tuple(
        RoomWords(
            pieces=listed(r.girth.pieces),
            words=say(room_words(r), book.unit),
            kind="bad" if r.too_small else "notice" if r.too_little else "good",
        )
        for r in rooms_of(book, pattern)
    )
