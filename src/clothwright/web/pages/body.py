"""Which size am I? Her measurements with slips asked about, the size chart, the size, the ease."""

from __future__ import annotations

import json
from collections.abc import Mapping
from zlib import crc32

from clothwright.units import Unit
from clothwright.web.page import Asked, PageFile
from clothwright.workroom.pieces.measured import chart_examples, wearer_of

UNITS = (Unit.inch, Unit.cm, Unit.mm)

IN_INCHES = """size   8       10      12
bust   31 1/2  32 1/2  34
waist  24      25      26 1/2
hip    33 1/2  34 1/2  36"""
IN_METRIC = """size   36    38    40
bust   84    88    92
waist  66.5  70.5  74.5
hip    90    94    98"""
"""How a chart is typed, in her unit (numbers to show the form, no one's chart)."""


def render(asked: Asked) -> Mapping[str, object]:
    """Return the measurements, the chart, the suggestion and the ease."""
    book = asked.book
    it = wearer_of(book, asked.replayed.pattern)
    own = book.unit if book.unit in UNITS else Unit.cm
    return {
        "it": it,
        "first": [t for t in it.taken if t.first],
        "more": [t for t in it.taken if not t.first],
        "measured": bool(it.body.taken),
        "size_edit": json.dumps(it.edit),
        "examples": () if it.chart else chart_examples(),
        "chart_key": crc32(repr(it.chart).encode()),
        "units": UNITS,
        "typed_like": IN_METRIC if own.is_metric else IN_INCHES,
        "typed_in": it.chart.unit if it.chart else own,
    }


PAGE = PageFile(render=render, modules=("body.js",))
