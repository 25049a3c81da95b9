"""The record of changes: before and after in figures, and the day of each."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from shapely import LineString

from clothwright.demo.workbooks import DEMOS
from clothwright.pattern.pattern import Pattern
from clothwright.store import create
from clothwright.units import Unit, parse_length
from clothwright.words import show_day
from clothwright.workbook import replay
from clothwright.workroom.changing.figures import figures
from clothwright.workroom.changing.record import lines_of
from clothwright.workroom.editing.edits.changes import AddChange, MoveChange
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.sewing.guiding import guide_document

HEM = {"edges": "skirt front.hem", "depth": "3 in"}


def sewn(pattern: Pattern, piece: str, edge: str) -> float:
    """The length of an edge without darts, as shapely measures it."""
    return float(LineString(pattern.piece(piece).edge(edge).path.flatten(0.001)).length)


@pytest.mark.parametrize("unit", [Unit.inch, Unit.cm])
def test_before_and_after_are_what_is_measured(unit: Unit) -> None:
    """Of a shortened skirt: its edges as sewn, by shapely, to what her unit shows of them."""
    book = DEMOS[0].make()
    done = replay(book)
    shorten = next(t.number for t in done.told if "Shortened skirt" in str(t.said))
    before, after = (book.bought, *done.states)[shorten - 1 : shorten + 1]
    told = {f.what: f for f in figures(before, after, unit)}
    one = told["skirt front, side"]
    for shown, pattern in ((one.before, before), (one.after, after)):
        mm = parse_length(shown, unit=unit)
        assert mm == pytest.approx(sewn(pattern, "skirt front", "side"), abs=0.8)
    assert all(f.before != f.after for f in told.values())
    assert figures(after, after, unit) == ()


def test_each_change_has_its_day(tmp_path: Path) -> None:
    """One that is added has the day of the step that added it, wherever it is moved to."""
    create(tmp_path / "coat", DEMOS[0].make())
    opened = OpenBook(name="coat", folder=tmp_path / "coat")
    opened.edit(AddChange(kind="set-hem", params=HEM), base=opened.read().revision)
    at = opened.steps()[-1].at
    day = dt.datetime.fromisoformat(at).astimezone().date().isoformat()
    number = len(opened.read().book.steps)
    opened.edit(MoveChange(change=str(number), to=1), base=opened.read().revision)
    now = opened.read()
    lines = lines_of(now.book, opened.replayed(now), opened.days())
    assert lines[0].day == show_day(day)
    assert {line.day for line in lines[1:]} == {""}  # there before the record began
    guide = guide_document(now.book, (), opened.replayed(now), days=opened.days())
    told = next(c for _, c in guide.walk() if c.title == "What was changed")
    assert show_day(day) in str(told.blocks)
    assert "Why: The coat is to end just above the hip." in str(told.blocks)
