"""Several searches at once: the best counts, and all their rounds are told."""

from __future__ import annotations

import threading
from concurrent.futures import Future
from contextlib import nullcontext

from clothwright.lay.spreading import Here
from clothwright.rules.weighing import laying
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


class Slow(Here):
    """Processes that have not begun before a first lay was told."""

    first = threading.Event()

    def submit(self, fn, /, *args, **kwargs):
        """Take the task up, late, and leave it undone."""
        assert self.first.wait(60.0), "the search at home waited for the other process"
        return Future()


def test_the_search_at_home_waits_for_no_other_process(monkeypatch):
    """Its first lay is there while the other processes are still being started."""
    slow = Slow()
    monkeypatch.setattr(laying, "executor", lambda _: nullcontext(slow))
    found = lay_by_many(
        book(),
        "hem",
        seconds=600.0,
        workers=2,
        on_better=lambda _: slow.first.set(),
        should_stop=slow.first.is_set,
    )
    assert found.lay.placements
