"""Several searches at once: the best counts, and all their rounds are told."""

from __future__ import annotations

from clothwright.rules.weighing.laid import rank
from clothwright.workroom.searching.laying import lay_by_many, lay_plan
from tests.workroom.planning.test_chart import book


def test_two_searches_are_no_worse_than_one_and_do_more_rounds():
    """The best of both is sound; rounds are those of both (how many more: bench/second_core.py)."""
    told = []
    one = lay_plan(book(), "hem", seconds=1.5)
    two = lay_by_many(book(), "hem", seconds=1.5, workers=2, on_better=told.append)
    assert two.faults == ()
    assert told
    assert rank(two) <= rank(one) or two.lay.used["c"] <= one.lay.used["c"] * 1.05
    assert two.lay.rounds > 0


def test_stopped_at_once_it_keeps_what_it_has():
    """A wish to stop after the first lay ends it with that lay, long before its time."""
    told = []
    found = lay_by_many(
        book(),
        "hem",
        seconds=600.0,
        workers=2,
        on_better=told.append,
        should_stop=lambda: bool(told),
    )
    assert found.lay.stopped == "interrupted"
    assert found.faults == ()
    assert found.lay.placements
