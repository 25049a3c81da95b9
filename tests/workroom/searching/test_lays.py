"""Lays beside the page: found, kept, stopped, made stale, and not lost with the server."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.rules.kinds.on_grain import OnGrain
from clothwright.rules.plan import Plan
from clothwright.store import load, save
from clothwright.store.beside.places import lay_file
from clothwright.workroom.editing.opened import Shelf
from clothwright.workroom.searching.cores import Cores, all_cores, cores_beside_a_page
from clothwright.workroom.searching.laying import recall
from clothwright.workroom.searching.lays import Lays
from clothwright.workroom.searching.process import Kind
from clothwright.workroom.searching.service import LOOK_S, Search, Searches
from tests.few_rounds import deaf, first_lays
from tests.web.conftest import WAIT_S, demo_at, until

NAME, LARGE = "checked-waistcoat", "coat-and-skirt"
"""A workbook that has its first lay at once and is searched on for ever, and one with a border."""


@pytest.fixture
def lays(tmp_path: Path) -> Iterator[Lays]:
    """The lays of a fresh waistcoat; what still runs at the end is stopped."""
    with lays_of(tmp_path, NAME) as found:
        yield found


@pytest.fixture
def large(tmp_path: Path) -> Iterator[Lays]:
    """The lays of a fresh coat and skirt."""
    with lays_of(tmp_path, LARGE) as found:
        yield found


@contextmanager
def lays_of(folder: Path, name: str) -> Iterator[Lays]:
    """Make a workbook, give its lays; what still runs at the end is stopped."""
    demo_at(folder, name)
    found = lays_in(folder, name)
    yield found
    found.stop()
    for one in found.searches._known.values():
        assert one.over.wait(WAIT_S)


def lays_in(folder: Path, name: str = NAME) -> Lays:
    """The lays as a server that has just been started sees them."""
    return Lays(opened=Shelf(root=folder).book(name), searches=Searches())


def search(lays: Lays, name: str, kind: Kind = "lay") -> Search:
    """The search of a plan that was begun."""
    found = lays.searches.of(lays.opened.folder, kind, name)
    assert found is not None
    return found


def plans(lays: Lays) -> tuple[str, ...]:
    """Return the names of the plans."""
    return tuple(s.plan for s in lays.states())


def test_nothing_is_laid_at_first(lays: Lays) -> None:
    """Every plan of the workbook has a state; none has a lay before one was asked for."""
    assert plans(lays) == tuple(p.name for p in lays.opened.read().book.plans)
    assert {(s.stage, s.laid) for s in lays.states()} == {("none", None)}


def test_a_lay_is_found_and_kept(lays: Lays) -> None:
    """When it is done its lay is the one kept with the workbook, and a new server recalls it."""
    name = lays.start(plans(lays)[0], seconds=1)
    done = lays.wait(name)
    assert done.stage == "done"
    assert done.laid is not None
    assert not done.laid.faults
    kept = recall(lays.opened.folder, load(lays.opened.folder), name)
    assert kept is not None
    assert kept.lay.used == pytest.approx(dict(done.laid.lay.used))
    again = lays_in(lays.opened.folder.parent).state(name)
    assert again.stage == "none"
    assert again.laid is not None
    assert again.laid.lay.used == pytest.approx(dict(done.laid.lay.used))


def test_only_spare_cores_search(lays: Lays) -> None:
    """First come, first served: with one core to spare, the second plan waits for the first."""
    lays.searches.cores.limit = lambda: 1
    first, second = plans(lays)[:2]
    lays.start(first, seconds=30)
    until(lambda: lays.state(first).stage == "laying")
    lays.start(second, seconds=30)
    assert lays.state(second).stage == "waiting"
    lays.stop(first)
    until(lambda: lays.state(second).stage == "laying")


def test_a_search_stands_back_for_the_page(lays: Lays) -> None:
    """It may have every core, since its process gives way to the page; else one core is kept."""
    if not hasattr(os, "nice"):
        assert cores_beside_a_page() <= max(1, all_cores() - 1)
        return
    assert cores_beside_a_page() == Cores().limit() == all_cores()
    ours = os.getpriority(os.PRIO_PROCESS, os.getpid())
    before = {c.pid for c in multiprocessing.active_children()}
    name = lays.start(plans(lays)[0], seconds=600)
    assert search(lays, name).task.workers == all_cores()
    until(lambda: lays.state(name).laid is not None)
    mine = [c.pid for c in multiprocessing.active_children() if c.pid not in before and c.pid]
    assert mine
    assert all(os.getpriority(os.PRIO_PROCESS, pid) > ours for pid in mine)


def test_stopped_it_keeps_its_best(lays: Lays) -> None:
    """Stop ends the search within moments, long before its time, with the best lay so far."""
    name = lays.start(plans(lays)[0], seconds=600)
    until(lambda: lays.state(name).laid is not None)
    lays.stop(name)
    done = lays.wait(name, seconds=WAIT_S)
    assert done.stage == "done"
    assert done.laid is not None
    assert done.laid.lay.seconds < 60
    assert lay_file(lays.opened.folder, name).exists()


def test_one_that_never_asks_is_ended_with_its_best(lays: Lays) -> None:
    """Work that is far from asking whether it is still wanted holds up neither Stop nor the end.

    Its process is gone, and the best lay that it had told of is kept with the workbook.
    """
    name = plans(lays)[0]
    with deaf():
        lays.start(name, seconds=600)
        until(lambda: lays.state(name).laid is not None)
    lays.stop(name)
    done = lays.wait(name, seconds=WAIT_S)
    assert done.stage == "done"
    kept = recall(lays.opened.folder, load(lays.opened.folder), name)
    assert kept is not None
    assert done.laid is not None
    assert kept.lay.used == pytest.approx(dict(done.laid.lay.used))


def test_stopped_before_the_first_lay_there_is_none(lays: Lays) -> None:
    """A lay half made is no lay: nothing is kept, and the plan is as if it had not been begun."""
    name = lays.start(plans(lays)[0], seconds=600)
    lays.stop(name)
    done = lays.wait(name, seconds=WAIT_S)
    assert (done.stage, done.laid) == ("none", None)
    assert not lay_file(lays.opened.folder, name).exists()


def test_one_that_waits_can_be_stopped(lays: Lays) -> None:
    """A plan that has not begun is taken out of the line and leaves nothing."""
    lays.searches.cores.limit = lambda: 1
    first, second = plans(lays)[:2]
    lays.start(first, seconds=600)
    until(lambda: lays.state(first).stage == "laying")
    lays.start(second, seconds=600)
    lays.stop(second)
    assert lays.wait(second, seconds=WAIT_S).stage == "none"
    assert lays.state(first).stage == "laying"


def test_an_edit_of_what_is_laid_makes_it_stale(lays: Lays) -> None:
    """The search of the old pieces ends, its lay is not shown for the new; others go on."""
    name = lays.start(plans(lays)[0], seconds=600)
    until(lambda: lays.state(name).laid is not None)
    at = lays.opened.read()
    edit = {"edit": "set-settings", "values": {"gap": "7 mm"}}
    lays.opened.edit(edit, base=at.revision)
    found = lays.state(name)
    assert (found.stage, found.laid) == ("stale", None)
    assert search(lays, name).over.wait(WAIT_S)


def test_another_edit_does_not(lays: Lays) -> None:
    """Choosing a plan or writing notes leaves a running search alone."""
    name = lays.start(plans(lays)[0], seconds=600)
    until(lambda: lays.state(name).stage == "laying")
    at = lays.opened.read()
    lays.opened.edit({"edit": "set-notes", "notes": "by the window"}, base=at.revision)
    time.sleep(3 * LOOK_S)
    assert lays.state(name).stage == "laying"


def test_a_plan_that_is_laid_is_not_begun_twice(lays: Lays) -> None:
    """A second press goes on with the first search."""
    name = lays.start(plans(lays)[0], seconds=600)
    one = search(lays, name)
    assert lays.start(name, seconds=600) == name
    assert search(lays, name) is one


def test_a_plan_that_cannot_be_laid_says_why(large: Lays) -> None:
    """A cloth too narrow for a rule is a sentence at that plan, not a broken page."""
    at = large.opened.read()
    cloth = next(c.name for c in at.book.cloths if c.print.borders)
    plan = next(
        p.name for p in at.book.plans if any(type(r).__name__ == "OnBorder" for r in p.rules)
    )
    large.opened.edit({"edit": "remove-cloth", "cloth": cloth}, base=at.revision)
    found = large.state(plan)
    assert found.stage == "failed"
    assert found.trouble


def test_all_are_laid_but_those_that_cannot_be(large: Lays) -> None:
    """One plan before the others is refused; those after it are begun, and it says why."""
    at = large.opened.read()
    both = tuple(OnGrain(piece="coat front", grain=g) for g in ("along", "across"))
    odd = Plan(name="odd", rules=both)
    save(replace(at.book, plans=(odd, *at.book.plans[:2])), large.opened.folder)
    names = plans(large)
    assert names[0] == "odd"
    assert large.start_all(seconds=600) == names[1:]
    assert large.state("odd").stage == "failed"
    assert large.state("odd").trouble


SERVER = """
import signal, sys, time
from pathlib import Path
from clothwright.workroom.editing.opened import Shelf
from clothwright.workroom.searching.lays import Lays
from clothwright.workroom.searching.service import Searches

if __name__ == "__main__":
    # A shell that runs the tests in the background has Ctrl-C ignored in all below it.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    book = Shelf(root=Path(sys.argv[1])).book("checked-waistcoat")
    lays = Lays(opened=book, searches=Searches())
    name = lays.start("", seconds=600)
    while lays.state(name).laid is None:
        time.sleep(0.05)
    print("laid", flush=True)
    time.sleep(600)
"""


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT])
def test_a_server_that_goes_loses_nothing(tmp_path: Path, how: signal.Signals) -> None:
    """Killed, or ended by Ctrl-C, in a search: that keeps its best lay, ends, and is recalled."""
    folder = demo_at(tmp_path, NAME)
    script = tmp_path / "server.py"
    script.write_text(SERVER, encoding="utf-8")
    with subprocess.Popen(
        [sys.executable, str(script), str(tmp_path)],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as server:
        assert server.stdout is not None
        assert server.stdout.readline().strip() == "laid"
        os.kill(server.pid, how)
        server.wait(WAIT_S)
    lays = lays_in(tmp_path)
    until(lambda: lays.state().laid is not None)
    assert recall(folder, load(folder)) is not None


def test_ways_out_are_found_and_kept(large: Lays) -> None:
    """For a plan that does not fit: each way tried is told, the list is kept for this problem."""
    name = plans(large)[-1]
    with first_lays():
        large.start_ways(name, seconds=6)
        until(lambda: large.ways(name).stage == "laying")
        assert large.ways(name).ways is None
        assert search(large, name, "ways").over.wait(WAIT_S)
    found = large.ways(name)
    assert found.stage == "done"
    assert found.tried
    assert found.ways is not None
    assert [w["number"] for w in found.ways] == list(range(1, len(found.ways) + 1))
    again = lays_in(large.opened.folder.parent, LARGE).ways(name)
    assert again.ways == found.ways


def test_words_of_a_search_that_has_found_nothing(lays: Lays) -> None:
    """Before the first lay it says so."""
    heard: list[str] = []
    lays.opened.to = lambda _, news: heard.append(str(news.get("words", "")))
    lays.searches.cores.limit = lambda: 0
    lays.start(plans(lays)[0], seconds=600)
    assert any("the first lay is being made" in words for words in heard)
