"""The plan that is meant by a name, or by none."""

from __future__ import annotations

import pytest

from clothwright.errors import BadInput
from clothwright.rules.plan import Plan
from clothwright.units import Unit
from clothwright.workbook import FREE, Workbook

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
