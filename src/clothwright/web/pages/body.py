"""Which size am I? Her measurements with slips asked about, the size chart, the size, the ease."""

from __future__ import annotations

import json
from collections.abc import Mapping
from zlib import crc32

from clothwright.body.chart import SizeChart
from clothwright.body.charts import EXAMPLES
from clothwright.body.measures import MEASURES, Measure, measure_of
from clothwright.body.plausible import WHO, Doubt, doubts
from clothwright.body.suggest import KINDS, Standing
from clothwright.units import Unit
from clothwright.web.page import Asked, Page
from clothwright.words import say, show_length
from clothwright.workbook import Step, Workbook
from clothwright.workroom.pieces.sizing import Sizing, room_words, rooms_of, sizing_of, step_edit

FIRST = ("high-bust", "bust", "waist", "hip")
"""What a size is chosen by; other measurements are folded away until they are taken."""


def render(asked: Asked) -> Mapping[str, object]:
    """Return the measurements, the chart, the suggestion and the ease."""
    book = asked.book
    taken = dict(book.body.taken)
    odd = {d.measure: d for d in doubts(book.body)}
    fields = [_field(m, book, odd.get(m.id)) for m in MEASURES]
    sizing = sizing_of(book)
    return {
        "first": [f for f in fields if f["id"] in FIRST or f["value"]],
        "more": [f for f in fields if f["id"] not in FIRST and not f["value"]],
        "tries": [t for f in fields for t in _tries_of(f)],
        "body": book.body,
        "measured": bool(taken),
        "who": WHO if odd and book.body.compare else "",
        "chart": None if book.chart is None else _chart(book.chart, sizing, book.unit),
        "examples": [_example(c) for c in EXAMPLES] if book.chart is None else (),
        "chart_key": crc32(repr(book.chart).encode()),
        "units": [(u.value, u.plural) for u in (Unit.inch, Unit.cm, Unit.mm)],
        "typed": _typed(book.chart, book.unit),
        "size": None if sizing is None else _size(sizing, book),
        "rooms": _rooms(asked),
    }


def _field(measure: Measure, book: Workbook, doubt: Doubt | None) -> dict[str, object]:
    figure = dict(book.body.taken).get(measure.id)
    tries = () if doubt is None else doubt.tries
    return {
        "id": measure.id,
        "key": measure.key,
        "name": measure.name[:1].upper() + measure.name[1:],
        "how": measure.how,
        "used": measure.used,
        "value": "" if figure is None else figure.text,
        "shown": "" if figure is None else show_length(figure.mm, book.unit),
        "doubt": "" if doubt is None else say(doubt.words, book.unit),
        "tries": [
            {"form": f"try-{measure.id}-{n}", "key": measure.key, "text": t.text}
            for n, t in enumerate(tries)
        ],
    }


def _tries_of(field: Mapping[str, object]) -> list[Mapping[str, str]]:
    tries = field["tries"]
    return tries if isinstance(tries, list) else []


def _chart(chart: SizeChart, sizing: Sizing | None, unit: Unit) -> Mapping[str, object]:
    """Return the chart as a table; the sizes on both sides of her figures are marked."""
    at = {} if sizing is None else {s.row: s for s in sizing.standings if s.measure == s.row}
    rows = []
    for row in chart.rows:
        place = at.get(row.measure)
        near = () if place is None or place.beyond else (place.low, place.high)
        rows.append(
            {
                "name": measure_of(row.measure).name,
                "you": "" if place is None else _you(place, unit),
                "cells": [
                    ("–" if v is None else _bare(v, chart.unit), size in near)
                    for size, v in zip(chart.sizes, row.values, strict=True)
                ],
            }
        )
    return {
        "name": chart.name,
        "source": chart.source,
        "unit": chart.unit.plural,
        "sizes": chart.sizes,
        "rows": rows,
    }


def _bare(mm: float, unit: Unit) -> str:
    return show_length(mm, unit).removesuffix(f" {unit.value}")


def _you(place: Standing, unit: Unit) -> str:
    return f"{show_length(place.mm, unit)}: {place.words}"


def _example(chart: SizeChart) -> Mapping[str, str]:
    return {
        "name": chart.name,
        "source": chart.source,
        "unit": chart.unit.value,
        "text": chart.text,
        "sizes": f"{chart.sizes[0]} to {chart.sizes[-1]}",
    }


def _typed(chart: SizeChart | None, unit: Unit) -> Mapping[str, str]:
    if chart is None:
        own = unit if unit in (Unit.inch, Unit.cm, Unit.mm) else Unit.cm
        return {"text": "", "name": "", "source": "", "unit": own.value}
    return {
        "text": chart.text,
        "name": chart.name,
        "source": chart.source,
        "unit": chart.unit.value,
    }


def _size(sizing: Sizing, book: Workbook) -> Mapping[str, object]:
    """Return the suggestions in words, and the change that cuts the pieces so."""
    step = sizing.step
    return {
        "said": [
            {
                "kind": KINDS[s.kind],
                "words": say(s.words, book.unit),
                "why": say(s.why, book.unit),
                "beyond": bool(s.standing.beyond),
            }
            for s in sizing.suggestions
        ],
        "change": "" if step is None else _change_words(step),
        "edit": "" if step is None else json.dumps(step_edit(book, step)),
        "done": sizing.done,
        "why_not": sizing.why_not if sizing.suggestions else "",
    }


def _change_words(step: Step) -> str:
    if step.change == "choose-size":
        return f"the whole pattern in size {step.params['size']}"
    return f"sizes blended: {step.params['at']}"


def _rooms(asked: Asked) -> list[Mapping[str, object]]:
    rooms = rooms_of(asked.book, asked.replayed.pattern)
    return [
        {
            "pieces": " and ".join(r.girth.pieces),
            "words": say(room_words(r), asked.book.unit),
            "kind": "bad" if r.too_small else "notice" if r.too_little else "good",
        }
        for r in rooms
    ]


PAGE = Page(
    name="body",
    path="/b/{book}/body",
    question="Which size am I?",
    render=render,
    modules=("body.js",),
)
