"""Searches beside what is shown: each in a process of its own, told by value, ended on request.

A search is known by the workbook it is for, its kind and its plan; the fingerprint of what it lays
tells whether that is still wanted. A thread listens to its process; nobody else waits for it and
no lock is held meanwhile. The process itself keeps what it finds with the workbook, so a server
that is killed loses nothing.
"""

from __future__ import annotations

import atexit
import contextlib
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Literal

from clothwright.errors import ClothwrightError
from clothwright.lay.spreading import processes
from clothwright.workroom.searching.cores import Cores
from clothwright.workroom.searching.process import Found, Kind, Task, search

LOOK_S = 0.4
"""How often a listening thread looks whether what it lays is still wanted."""
END_S = 6.0
"""How long a process that was asked to end may take before it is ended."""
LOST = "The search ended by itself; lay it once more."

Stage = Literal["none", "waiting", "laying", "done", "stale", "failed"]


@dataclass(slots=True, kw_only=True)
class Search:
    """One search and how far it is; only the thread that listens to it writes here.

    began, spent: when its process was started, and how long it ran, seconds. best: the best lay so
    far. tried: what was tried so far, a sentence each. trouble: why it
    failed, a sentence. over: set when its process has ended.
    """

    task: Task
    told: Callable[[Search, bool], None]
    wanted: Callable[[], str]
    stage: Stage = "waiting"
    best: Found | None = None
    tried: tuple[str, ...] = ()
    trouble: str = ""
    began: float = 0.0
    spent: float = 0.0
    unwanted: threading.Event = field(default_factory=threading.Event)
    over: threading.Event = field(default_factory=threading.Event)

    @property
    def going(self) -> bool:
        """True until it is over or no longer wanted."""
        return not (self.over.is_set() or self.unwanted.is_set())

    def spent_s(self) -> float:
        """Return how many seconds it has searched, at most as long as it was to."""
        spent = time.monotonic() - self.began if self.stage == "laying" else self.spent
        return min(spent, self.task.seconds)


@dataclass(slots=True)
class Searches:
    """All searches of a room. Every call may come from any thread and returns at once."""

    cores: Cores = field(default_factory=Cores)
    _known: dict[tuple[Path, Kind, str], Search] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def start(
        self, task: Task, *, told: Callable[[Search, bool], None], wanted: Callable[[], str]
    ) -> None:
        """Begin a search; it waits for a free core. One that does the same already goes on.

        told: called from its thread with the search, and whether there is news or it has only gone
        on. wanted: the fingerprint of what is to be laid
        by now, asked now and then; when it is not the task's any more (or it raises
        ClothwrightError) the search ends and keeps nothing more.
        """
        key = (task.folder, task.kind, task.plan)
        new = Search(task=task, told=told, wanted=wanted)
        with self._lock:
            before = self._known.get(key)
            if before is not None and before.going:
                if before.task.mark == task.mark:
                    return
                before.unwanted.set()
            self._known[key] = new
        threading.Thread(target=self._follow, args=(new,), daemon=True).start()
        told(new, True)

    def of(self, folder: Path, kind: Kind, plan: str) -> Search | None:
        """Return the last search of a kind for a workbook's plan, None when there was none."""
        return self._known.get((folder, kind, plan))

    def stop(self, folder: Path, plan: str | None = None) -> None:
        """Let a plan's searches end, or all of a workbook; their best is kept."""
        with self._lock:
            known = tuple(self._known.items())
        for (of, _, name), one in known:
            if of == folder and plan in (None, name):
                one.unwanted.set()

    # --- one search, in its thread --------------------------------------------------------------

    def _follow(self, one: Search) -> None:
        """Wait for a core, start the process, listen to it until it has ended."""
        try:
            with self.cores.held(one.task.workers, one.unwanted) as mine:
                if mine:
                    _listen(one)
                else:
                    one.stage = "none"
        except (OSError, EOFError) as error:
            one.stage, one.trouble = "failed", f"The search ended by itself ({error})."
        finally:
            one.over.set()
            one.told(one, True)


def _listen(one: Search) -> None:
    one.stage, one.began = "laying", time.monotonic()
    one.told(one, True)
    context = processes()
    ours, theirs = context.Pipe()
    process = context.Process(target=search, args=(theirs, one.task))
    process.start()
    theirs.close()
    _running.append(ours)
    try:
        _hear(one, ours)
    finally:
        one.spent = time.monotonic() - one.began
        _running.remove(ours)
        ours.close()
        process.join(END_S)
        if process.is_alive():
            process.terminate()


def _hear(one: Search, line: Connection) -> None:
    """Take what the process says until it says the last; tell every news, and how far it is."""
    asked = False
    while one.stage == "laying":
        if not asked and (said := _no_more(one)):
            asked = True
            line.send(said)
        news = line.poll(LOOK_S)
        if news:
            try:
                _take(one, *line.recv())
            except (EOFError, OSError):
                one.stage, one.trouble = "failed", LOST
        one.told(one, news)


def _no_more(one: Search) -> str:
    """Return what its process is to be told: "drop" (keep nothing more), "stop", or nothing."""
    try:
        stale = one.wanted() != one.task.mark
    except ClothwrightError:
        stale = True  # the plan is gone, or can no longer be laid
    if stale:
        return "drop"
    return "stop" if one.unwanted.is_set() else ""


def _take(one: Search, kind: str, what: Any) -> None:
    if kind == "failed":
        one.stage, one.trouble = "failed", str(what)
        return
    if kind == "tried":
        one.tried = (*one.tried, str(what))
    elif one.task.kind == "lay":
        one.best = what
    if kind == "done":
        one.stage = "done" if what or one.task.kind == "ways" else "none"


_running: list[Connection] = []
"""The lines of all searches of this process, to be closed when it ends."""


@atexit.register
def _end_all() -> None:
    """Let every search end and keep its best when this process goes."""
    for line in tuple(_running):
        with contextlib.suppress(OSError):
            line.close()
