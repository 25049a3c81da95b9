"""What a process does that searches beside the page: lay a plan, or find its ways to fit.

It keeps what it finds with the workbook itself, also when the server is gone (its end of the line
closes then, which means "stop").
"""

from __future__ import annotations

import contextlib
import os
import signal
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Literal

from clothwright.errors import ClothwrightError
from clothwright.lay.folded import Fold
from clothwright.lay.result import Lay
from clothwright.lay.spreading import one_core
from clothwright.rules.weighing.laid import Laid
from clothwright.rules.weighing.ways_to_fit import WayToFit
from clothwright.words import told
from clothwright.workbook import Workbook
from clothwright.workroom.planning.tried import ways_to_fit
from clothwright.workroom.planning.ways_kept import keep_ways, ways_report
from clothwright.workroom.searching.cores import stand_back
from clothwright.workroom.searching.laying import keep_better, lay_by_many, lay_plan, recall

TELL_S = 0.5
"""Better lays are told no more often than this."""
KEEP_S = 2.0
"""... and written with the workbook no more often than this."""
STOP_S = 0.5
"""How long a search that is no longer wanted has for coming to its own end."""

Kind = Literal["lay", "ways"]
Found = tuple[Lay, tuple[Fold, ...]]
"""A lay, and how the cloths were folded for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """What a process is to lay, and where better lays are kept. mark: fingerprint of what is laid.

    seconds: how long it searches. workers: cores it searches with.
    """

    kind: Kind
    folder: Path
    book: Workbook
    plan: str
    mark: str
    seconds: float
    workers: int
    seed: int


@dataclass(slots=True)
class Teller:
    """Sends better lays home and keeps them with the workbook, each not too often.

    told, kept: when it did so last, seconds of a clock that only goes forward. best: the best lay.
    """

    line: Connection
    task: Task
    told: float = 0.0
    kept: float = 0.0
    keep: bool = True
    best: Laid | None = None
    _ended: threading.Event = field(default_factory=threading.Event)
    _last: threading.Lock = field(default_factory=threading.Lock)

    def listen(self) -> None:
        """Wait for "stop", "drop" (keep nothing more) or the end of the server; see that we end.

        Whatever the search is at then, be it far from asking whether it is still wanted: after
        `STOP_S` the best lay that it has told counts, and the process is gone.
        """
        try:
            said = self.line.recv()
        except (EOFError, OSError):
            said = "stop"
        self.keep = said != "drop"
        self._ended.set()
        time.sleep(STOP_S)
        self.end(lambda: self.kept_best(self.best))
        os._exit(0)

    def ended(self) -> bool:
        """Tell whether the search is no longer wanted."""
        return self._ended.is_set()

    def better(self, laid: Laid) -> None:
        """Take a better lay."""
        self.best, now = laid, time.monotonic()
        if self.told == 0.0 or now - self.told >= TELL_S:
            self.told = now
            self.say("better", (laid.lay, laid.folds))
        if self.keep and now - self.kept >= KEEP_S:
            keep_better(self.task.folder, self.task.book, laid)
            self.kept = time.monotonic()

    def kept_best(self, laid: Laid | None) -> Found | None:
        """Keep a lay with the workbook, where that is wanted; return the best whole one, if any."""
        if laid is None:
            return None
        best = keep_better(self.task.folder, self.task.book, laid) if self.keep else laid
        return (best.lay, best.folds) if best.lay.whole else None

    def say(self, kind: str, what: object) -> None:
        """Tell the server, if it is still there."""
        with contextlib.suppress(OSError):
            self.line.send((kind, what))

    def end(self, work: Callable[[], Found | None]) -> None:
        """Do the last of the work and tell what came of it; whoever else comes to its end waits."""
        said: tuple[str, object]
        try:
            said = "done", work()
        except _EndedError:
            said = "done", None
        except ClothwrightError as error:
            said = "failed", told(error, self.task.book.unit)
        except OSError as error:
            said = "failed", f"What was found could not be kept: {error.strerror or error}."
        self._last.acquire()
        self.say(*said)


def search(line: Connection, task: Task) -> None:
    """Do a task in a process of its own; tell ("better", Found), ("tried", words), then the last.

    The last is ("done", Found or None) or ("failed", a sentence).
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server; its end reaches us
    stand_back()
    one_core()
    teller = Teller(line, task)
    threading.Thread(target=teller.listen, daemon=True).start()
    teller.end(lambda: _lay(teller) if task.kind == "lay" else _ways(teller))


def _lay(teller: Teller) -> Found | None:
    """Lay the plan, and keep the best with the workbook."""
    task = teller.task
    laid = lay_by_many(
        task.book,
        task.plan,
        seconds=task.seconds,
        workers=task.workers,
        seed=task.seed,
        on_laid=teller.better,
        should_stop=teller.ended,
    )
    return teller.kept_best(laid)


class _EndedError(Exception):
    """The search for ways to fit is no longer wanted; a list half made does not count."""


def _ways(teller: Teller) -> None:
    """Find the ways to fit the plan's best lay, and keep the list with the workbook."""
    task = teller.task
    before = recall(task.folder, task.book, task.plan)
    if before is None:
        seconds = max(1.0, task.seconds / 5)
        laid = lay_plan(task.book, task.plan, seconds=seconds, should_stop=teller.ended)
        before = keep_better(task.folder, task.book, laid) if teller.keep else laid

    def told(way: WayToFit) -> None:
        if teller.ended():
            raise _EndedError
        teller.say("tried", way.tried(task.book.unit))

    found = ways_to_fit(task.book, before, seconds=task.seconds, seed=task.seed, told=told)
    if teller.ended():
        raise _EndedError
    keep_ways(task.folder, ways_report(task.book, before, found))
