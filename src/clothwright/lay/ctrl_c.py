"""Ctrl-C while processes are begun, waited for or ended: it is kept until that is done.

It may be raised between any two steps of the main thread. Raised inside the locks of an executor
it leaves them held, and the thread that looks after the workers waits for them for ever; raised
where a process is being begun it leaves half of one behind (Python 3.11: `_AcquireFutures` of
`concurrent.futures`, `threading.Thread.start`).
"""

from __future__ import annotations

import contextlib
import signal
import threading
import time
from collections.abc import Collection, Iterator
from concurrent.futures import ALL_COMPLETED, FIRST_COMPLETED, Future, wait
from multiprocessing import resource_tracker
from typing import Any, TypeVar

HEARS_S = 0.25
"""Seconds after which, while it waits, the main thread hears of Ctrl-C at the latest."""

R = TypeVar("R")


@contextlib.contextmanager
def uninterrupted() -> Iterator[None]:
    """Keep Ctrl-C until the end of this, and hear it then. For what takes moments."""
    came: list[int] = []
    in_main = threading.current_thread() is threading.main_thread()
    before = signal.getsignal(signal.SIGINT) if in_main else None
    if callable(before):
        signal.signal(signal.SIGINT, lambda number, _: came.append(number))
    try:
        yield
    finally:
        if callable(before):
            signal.signal(signal.SIGINT, before)
            if came:
                before(came[0], None)


@contextlib.contextmanager
def unheard() -> Iterator[None]:
    """Begin processes that never hear Ctrl-C: it is for who begins them, and who ends them then.

    Without, one that is still loading tells of it in her terminal. For signals of POSIX.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    resource_tracker.ensure_running()  # which would let it through again
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def ended(
    jobs: Collection[Future[R]], *, within: float | None = None, every: bool = False
) -> set[Future[R]]:
    """Wait for the first of some jobs, or for every one; return those that have ended.

    within: seconds after which it is no longer waited for. Ctrl-C ends the waiting.
    """
    until = None if within is None else time.monotonic() + within
    kind = ALL_COMPLETED if every else FIRST_COMPLETED
    while True:
        left = HEARS_S if until is None else until - time.monotonic()
        with uninterrupted():
            done, rest = wait(jobs, timeout=max(0.0, min(left, HEARS_S)), return_when=kind)
        if not rest or (done and not every) or left <= 0.0:
            return done


def result_of(job: Future[Any]) -> Any:
    """Return what a job comes to, however long it takes. Raises what it raised."""
    ended([job])
    return job.result()
