"""What would be done is said as something to do, not as done."""

from __future__ import annotations

import pytest

from clothwright.units import Unit
from clothwright.words import say, to_do
from clothwright.words.asking import TO_DO
from tests.contract.changes_table import ROWS, Row

AS_THEY_ARE = {"Cut", "Dart", "Let", "Put", "Set", "Size", "Sizes"}
"""How other sentences begin: the verbs whose form does not change, and what names a thing."""


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.label)
def test_a_change_is_asked_for(row: Row) -> None:
    """Each change's sentence begins with a verb we can turn, or one that is the same in both.

    Of each sentence nothing but that verb is turned.
    """
    done = say(row.change.apply(row.pattern(), row.params).said, Unit.inch)
    first = done.split()[0]
    assert first in TO_DO or first in AS_THEY_ARE
    said, asked = done.split(". "), to_do(done).split(". ")
    assert [one.split()[1:] for one in asked] == [one.split()[1:] for one in said]
    assert (to_do(done) == done) is (first in AS_THEY_ARE)
