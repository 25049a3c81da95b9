"""The plan that is meant by a name, or by none; a replay that goes on from the last."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright import workbook
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.errors import BadInput
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.workbook import FREE, Step, Workbook, replay

EMPTY = Workbook(title="Empty", unit=Unit.cm)


def test_without_plans_there_is_the_free_one():
    """It is found without a name and by its own: what lays it names it again later."""
    assert EMPTY.plan() is EMPTY.plan(FREE.name) is FREE
    with pytest.raises(BadInput, match="no plan"):
        EMPTY.plan("other")


def test_with_plans_the_free_one_is_a_name_like_any_other():
    """The first is meant without a name; "free" is then unknown."""
    book = Workbook(title="One", unit=Unit.cm, plans=(Plan(name="low"),))
    assert book.plan().name == "low"
    with pytest.raises(BadInput, match="free"):
        book.plan(FREE.name)


def test_a_replay_begins_where_the_list_differs(monkeypatch):
    """What comes before is not done again, and what comes out is what a first replay gives."""
    book = checked_waistcoat()
    steps = tuple(
        Step(change="lengthen", params={"pieces": "back", "level": "waist", "by": by})
        for by in ("1 cm", "2 cm", "3 cm", "1/2 in")
    )
    whole = replay(replace(book, steps=steps))
    assert [t.error for t in whole.told] == [""] * 4
    assert whole.states[-1] == whole.pattern
    read: list[str] = []

    def counted(kind, raw, **more):
        read.append(str(raw["by"]))
        return read_params(kind, raw, **more)

    monkeypatch.setattr(workbook, "read_params", counted)
    other = replace(steps[2], params={**steps[2].params, "by": "4 cm"})
    for changed, done in (
        (steps, []),
        ((*steps[:2], other, steps[3]), ["4 cm", "1/2 in"]),
        ((steps[0], replace(steps[1], on=False), *steps[2:]), ["3 cm", "1/2 in"]),
        (steps[:1], []),
        (steps[1:], ["2 cm", "3 cm", "1/2 in"]),
    ):
        read.clear()
        again = replay(replace(book, steps=changed))
        assert read == done
        workbook._LAST.clear()
        assert again == replay(replace(book, steps=changed))
        replay(replace(book, steps=steps))
    read.clear()
    replay(replace(book, unit=Unit.inch, steps=steps))
    assert len(read) == 4
