"""Several searches at once: the best counts, and all their rounds are told."""

from __future__ import annotations

import threading
from concurrent.futures import Future
from contextlib import nullcontext

import pytest

from clothwright.lay.spreading import Here
from clothwright.rules.weighing import laying
from clothwright.rules.weighing.laid import rank
from clothwright.store import load
from clothwright.workroom.searching.laying import keep_better, lay_by_many, lay_plan, recall
from tests.web.conftest import demo_at
from tests.workroom.planning.test_chart import book


class Beside(Here):
    """Another process that has found a lay by so many rounds."""

    def submit(self, fn, /, *args, **kwargs):
        """Take the task up and settle it at once."""
        found = Future()
        found.set_result(lay_plan(book(), "hem", seconds=60.0, rounds=3))
        return found


def test_two_searches_are_no_worse_than_one_and_do_more_rounds(monkeypatch):
    """The best of both counts, and rounds are those of both (how many: bench/second_core.py)."""
    monkeypatch.setattr(laying, "executor", lambda _: nullcontext(Beside()))
    told = []
    one = lay_plan(book(), "hem", seconds=0.0)
    two = lay_by_many(book(), "hem", seconds=0.0, workers=2, on_better=told.append)
    assert two.faults == ()
    assert told
    assert rank(two) <= rank(one)
    assert (one.lay.rounds, two.lay.rounds) == (0, 3)


def test_a_process_of_its_own_lays_beside():
    """What it has found counts, if it has been there in time; else what was found at home."""
    two = lay_by_many(book(), "hem", seconds=0.0, workers=2)
    assert two.faults == ()
    assert two.lay.whole


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


def test_a_lay_stopped_half_made_is_not_kept(tmp_path):
    """It is no lay of the plan: nothing is written, and one that was kept before stays."""
    kept = demo_at(tmp_path, "checked-waistcoat")
    at = load(kept)
    half = lay_plan(at, seconds=60.0, rounds=1, should_stop=lambda: True)
    assert not half.lay.placements
    assert keep_better(kept, at, half) is half
    assert recall(kept, at) is None
    whole = keep_better(kept, at, lay_plan(at, seconds=0.0))
    assert whole.lay.whole
    assert keep_better(kept, at, half).lay.used == pytest.approx(dict(whole.lay.used))


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
