"""Cores for searches: first come, first served.

A search beside a page runs at a lower priority than the page (`stand_back`), so it may have every
core; where that cannot be asked for, one core is kept for the page.
"""

from __future__ import annotations

import contextlib
import os
import threading
from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

LOOK_S = 0.4
"""How often one that waits looks whether it is still wanted."""
BACK = 3
"""How far a search stands back: where both want a core the page gets two thirds of it. No farther,
or a search beside other work on a busy machine would find nothing in its time."""


def all_cores() -> int:
    """Return how many cores this machine has."""
    return os.cpu_count() or 1


def cores_beside_a_page() -> int:
    """Return how many cores may search while a page is served."""
    return all_cores() if hasattr(os, "nice") else max(1, all_cores() - 1)


def stand_back() -> None:
    """Let this process, and those it starts, give way to the page where both want a core."""
    if hasattr(os, "nice"):
        os.nice(BACK)


@dataclass(slots=True)
class Cores:
    """The cores that may search at once. limit: how many; it may change while searches go on."""

    limit: Callable[[], int] = cores_beside_a_page
    _line: deque[threading.Event] = field(default_factory=deque)
    _taken: int = 0
    _turn: threading.Condition = field(default_factory=threading.Condition)

    @contextlib.contextmanager
    def held(self, workers: int, unwanted: threading.Event) -> Iterator[bool]:
        """Wait in line for free cores and hold them; yields False when no longer wanted."""
        with self._turn:
            self._line.append(unwanted)
            while not unwanted.is_set() and not self._is_next(workers, unwanted):
                self._turn.wait(LOOK_S)
            self._line.remove(unwanted)
            mine = 0 if unwanted.is_set() else workers
            self._taken += mine
            self._turn.notify_all()
        try:
            yield mine > 0
        finally:
            with self._turn:
                self._taken -= mine
                self._turn.notify_all()

    def _is_next(self, workers: int, one: threading.Event) -> bool:
        free = self._taken == 0 or self._taken + workers <= self.limit()
        return free and self._line[0] is one
