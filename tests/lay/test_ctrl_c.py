"""Ctrl-C at every step of waiting for a pool: it is heard, and no lock is left held."""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Iterator
from concurrent.futures import Future

import pytest

from clothwright.lay.ctrl_c import ended, result_of, uninterrupted

STANDARD = (f"{os.sep}concurrent{os.sep}", f"{os.sep}threading.py")
"""Where the locks are: files of the standard library."""


@pytest.fixture(autouse=True)
def heard() -> Iterator[None]:
    """Hear Ctrl-C as the interpreter does, and put back what was."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def pressed_at(step: int) -> tuple[bool, bool, list[Future[int]]]:
    """Press Ctrl-C at one step of waiting; tell whether there was one, and whether it was heard."""
    jobs: list[Future[int]] = [Future() for _ in range(2)]
    steps = 0

    def trace(frame, event, _):
        nonlocal steps
        if not frame.f_code.co_filename.endswith(STANDARD[1]) and (
            STANDARD[0] not in frame.f_code.co_filename
        ):
            return None
        if event == "line":
            steps += 1
            if steps == step:
                signal.raise_signal(signal.SIGINT)
        return trace

    was = sys.gettrace()
    sys.settrace(trace)
    try:
        ended(jobs, within=0.001)
    except KeyboardInterrupt:
        return True, True, jobs
    finally:
        sys.settrace(was)
    return steps >= step, False, jobs


def test_pressed_at_any_step_it_is_heard_and_who_looks_after_the_workers_goes_on() -> None:
    """Every line of the standard library that waiting comes by: another thread settles all jobs."""
    step = 0
    while True:
        step += 1
        there, was_heard, jobs = pressed_at(step)
        if not there:
            break
        assert was_heard
        others = threading.Thread(
            target=lambda some: [job.set_result(1) for job in some], args=(jobs,), daemon=True
        )
        others.start()
        others.join(5.0)
        assert not others.is_alive(), f"a lock is left held after Ctrl-C at step {step}"
    assert step > 50


def test_it_is_heard_at_the_end_of_what_it_must_not_break() -> None:
    """Pressed in the middle: what is begun is done, then it is heard, once, as it was before."""
    done = []

    def work() -> None:
        with uninterrupted():
            signal.raise_signal(signal.SIGINT)
            done.append("all of it")

    with pytest.raises(KeyboardInterrupt):
        work()
    assert done
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_it_outranks_the_trouble_that_it_brings() -> None:
    """A process that ended by it on its way in is no trouble to be told."""

    def work() -> None:
        with uninterrupted():
            signal.raise_signal(signal.SIGINT)
            raise EOFError

    with pytest.raises(KeyboardInterrupt):
        work()


def test_in_a_thread_of_the_page_nothing_is_changed() -> None:
    """Only the main thread hears it; there waiting is waiting."""
    job: Future[int] = Future()
    threading.Timer(0.05, job.set_result, (7,)).start()
    found: list[int] = []
    other = threading.Thread(target=lambda: found.append(result_of(job)))
    other.start()
    other.join(10.0)
    assert found == [7]


def test_it_waits_for_the_first_for_all_or_no_longer_than_said() -> None:
    """As `concurrent.futures.wait` does, in slices."""
    one, two = Future[int](), Future[int]()
    one.set_result(1)
    assert ended([one, two]) == {one}
    assert ended([one, two], within=0.01, every=True) == {one}
    assert ended([two], within=0.01) == set()
    assert ended([]) == set()
    two.set_result(2)
    assert ended([one, two], every=True) == {one, two}
