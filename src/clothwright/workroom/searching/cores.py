"""Cores for searches beside the page: first come, first served, and one kept for the page."""

from __future__ import annotations

import contextlib
import os
import threading
from collections import deque
from collections.abc import Iterator

LOOK_S = 0.4
"""How often one that waits looks whether it is still wanted."""

_queue: deque[threading.Event] = deque()
_taken: dict[int, int] = {}
_turn = threading.Condition()


def spare_cores() -> int:
    """Return how many cores may search at once: one is kept for the page."""
    return max(1, (os.cpu_count() or 1) - 1)


@contextlib.contextmanager
def cores_for(workers: int, unwanted: threading.Event, cores: int) -> Iterator[bool]:
    """Wait in line for free cores and hold them; yields False when no longer wanted."""
    with _turn:
        _queue.append(unwanted)
        while not unwanted.is_set():
            first = _queue[0] is unwanted
            if first and (not _taken or sum(_taken.values()) + workers <= cores):
                break
            _turn.wait(LOOK_S)
        _queue.remove(unwanted)
        wanted = not unwanted.is_set()
        if wanted:
            _taken[id(unwanted)] = workers
        _turn.notify_all()
    try:
        yield wanted
    finally:
        with _turn:
            _taken.pop(id(unwanted), None)
            _turn.notify_all()
