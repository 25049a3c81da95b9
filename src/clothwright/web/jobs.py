"""Lays computed beside the page: one job a plan, each in a process, kept as it gets better.

A job never blocks the server: a process searches, a thread here listens to it. The better lays are
written with the workbook while the search goes on, by the process itself; so a server that is
killed loses nothing, and the next one recalls them. An edit that changes what is to be laid (a
piece, a cloth, a rule of the plan) makes a running job stale and ends it. What the processes do is
in searching.py; ways to fit a plan that is too long are found by them too.
"""

from __future__ import annotations

import atexit
import contextlib
import json
import multiprocessing
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from typing import Any

from clothwright.errors import ClothwrightError
from clothwright.lay.folded import Fold
from clothwright.lay.result import Lay
from clothwright.store import Opened
from clothwright.workbook import Workbook
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.planning.ways_kept import ways_file
from clothwright.workroom.searching.cores import cores_for, spare_cores
from clothwright.workroom.searching.laying import (
    Laid,
    compile_plan,
    laid_so,
    lay_file,
    rank,
    recall,
)
from clothwright.workroom.searching.process import Kind, Task, search
from clothwright.workroom.searching.state import LayState, Stage, WaysState, best_words

__all__ = ["SECONDS", "LayState", "Lays", "WaysState", "best_words", "lays_of", "spare_cores"]

SECONDS = 20.0
"""How long a lay is searched for when nobody says."""
LOOK_S = 0.4
"""How often a listening thread looks whether the workbook was edited."""
END_S = 6.0
"""How long a process that was asked to end may take before it is ended."""
TOPIC = "lay"


@dataclass(slots=True, kw_only=True)
class _Job:
    """One search for one plan of the workbook as it was at its start."""

    kind: Kind
    book: Workbook
    plan: str
    digest: str
    revision: int
    seconds: float
    workers: int
    seed: int
    stage: Stage = "waiting"
    best: Lay | None = None
    folds: tuple[Fold, ...] = ()
    tried: tuple[str, ...] = ()
    trouble: str = ""
    began: float = 0.0
    spent: float = 0.0
    unwanted: threading.Event = field(default_factory=threading.Event)
    over: threading.Event = field(default_factory=threading.Event)


@dataclass(slots=True)
class Lays:
    """The lays of one open workbook; get it by `lays_of`. Every call may come from any thread."""

    opened: OpenBook
    cores: Callable[[], int] = spare_cores
    _jobs: dict[tuple[Kind, str], _Job] = field(default_factory=dict)
    _starts: dict[tuple[int, str], tuple[Laid, str]] = field(default_factory=dict)
    _kept: dict[str, tuple[tuple[object, ...], Laid | None]] = field(default_factory=dict)
    _best: dict[str, Laid] = field(default_factory=dict)
    _turns: int = 0
    _lock: threading.RLock = field(default_factory=threading.RLock)

    def start(self, plan: str = "", *, seconds: float = SECONDS, workers: int = 1) -> str:
        """Begin to lay a plan ("" = the chosen one); return its name. Raises BadInput, Mistakes.

        It waits when no core is free. A plan that is being laid already goes on as it is, unless
        what is to be laid has changed. workers: cores to search with, at most all but one. Each
        start searches anew, with another seed; the better of the lays stays.
        """
        return self._start("lay", plan, seconds, workers)

    def start_ways(self, plan: str = "", *, seconds: float = 30.0) -> str:
        """Begin to find ways to fit a plan that is too long; return its name. As `start`."""
        return self._start("ways", plan, seconds, 1)

    def _start(self, kind: Kind, plan: str, seconds: float, workers: int) -> str:
        at = self.opened.read()
        name = at.book.plan(plan).name
        _, mark = self.start_of(at, name)
        with self._lock:
            before = self._jobs.get((kind, name))
            if before is not None and not before.over.is_set() and not before.unwanted.is_set():
                if before.digest == mark:
                    return name
                before.unwanted.set()
            self._turns += 1
            job = _Job(
                kind=kind,
                book=at.book,
                plan=name,
                digest=mark,
                revision=at.revision,
                seconds=max(0.0, min(seconds, 3600.0)),
                workers=max(1, min(workers, self.cores())),
                seed=(self._turns - 1) * 100_000,
            )
            self._jobs[kind, name] = job
        threading.Thread(target=self._follow, args=(job,), daemon=True).start()
        self.opened.tell(TOPIC, plan=name)
        return name

    def start_all(self, *, seconds: float = SECONDS) -> tuple[str, ...]:
        """Lay every plan of the workbook, as many at once as cores are free. Raises BadInput."""
        book = self.opened.read().book
        names = tuple(p.name for p in book.plans) or ("",)
        return tuple(self.start(name, seconds=seconds) for name in names)

    def stop(self, plan: str | None = None) -> None:
        """Stop one plan's search, or all; the best lay so far is kept. Returns at once."""
        with self._lock:
            jobs = [j for (_, n), j in self._jobs.items() if plan is None or n == plan]
        for job in jobs:
            job.unwanted.set()

    def wait(self, plan: str = "", *, seconds: float = 60.0) -> LayState:
        """Wait until a plan's search is over, at most so long; return its state."""
        name = self.opened.read().book.plan(plan).name
        job = self._jobs.get(("lay", name))
        if job is not None:
            job.over.wait(seconds)
        return self.state(name)

    def states(self) -> tuple[LayState, ...]:
        """Return the state of every plan, in the workbook's order (the implied one if none)."""
        at = self.opened.read()
        names = tuple(p.name for p in at.book.plans) or (at.book.plan().name,)
        return tuple(self._state(at, name) for name in names)

    def state(self, plan: str = "") -> LayState:
        """Return the state of one plan ("" = the chosen one). Raises BadInput."""
        at = self.opened.read()
        return self._state(at, at.book.plan(plan).name)

    def _state(self, at: Opened, name: str) -> LayState:
        try:
            start, mark = self.start_of(at, name)
        except ClothwrightError as error:
            return LayState(plan=name, stage="failed", trouble=str(error))
        job = self._jobs.get(("lay", name))
        laid = self._recalled(at, name, start)
        if job is None:
            return LayState(plan=name, laid=laid)
        if job.digest != mark:
            stage: Stage = "stale"
        else:
            stage, laid = job.stage, self._better(start, job, laid)
        spent = time.monotonic() - job.began if job.stage == "laying" else job.spent
        return LayState(
            plan=name,
            stage=stage,
            laid=laid,
            seconds=job.seconds,
            spent=min(spent, job.seconds),
            trouble=job.trouble if stage == "failed" else "",
        )

    def ways(self, plan: str = "") -> WaysState:
        """Return how far the search for ways to fit a plan is, and the kept list. BadInput."""
        at = self.opened.read()
        name = at.book.plan(plan).name
        try:
            _, mark = self.start_of(at, name)
        except ClothwrightError as error:
            return WaysState(plan=name, stage="failed", trouble=str(error))
        job = self._jobs.get(("ways", name))
        ways = self._kept_ways(name, mark)
        if job is None or job.digest != mark:
            return WaysState(plan=name, ways=ways)
        trouble = job.trouble if job.stage == "failed" else ""
        return WaysState(plan=name, stage=job.stage, tried=job.tried, ways=ways, trouble=trouble)

    def _kept_ways(self, name: str, mark: str) -> tuple[Mapping[str, Any], ...] | None:
        try:
            data = json.loads(ways_file(self.opened.folder, name).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return None
        if not isinstance(data, dict) or data.get("digest") != mark:
            return None
        found = data.get("ways")
        return tuple(found) if isinstance(found, list) else None

    def _better(self, start: Laid, job: _Job, kept: Laid | None) -> Laid | None:
        """Return the better of the job's lay so far and the kept one."""
        if job.best is None:
            return kept
        with self._lock:
            mine = self._best.get(job.plan)
            if mine is None or mine.lay is not job.best:
                mine = self._best[job.plan] = laid_so(start, job.best, job.folds)
        return mine if kept is None or rank(mine) < rank(kept) else kept

    def start_of(self, at: Opened, name: str) -> tuple[Laid, str]:
        """Return a plan's lay problem and its fingerprint, made once a revision."""
        key = (at.revision, name)
        found = self._starts.get(key)
        if found is None:
            pattern = self.opened.replayed(at).pattern
            start = compile_plan(at.book, at.book.plan(name), pattern)
            found = start, start.mark
            with self._lock:
                self._starts = {k: v for k, v in self._starts.items() if k[0] == at.revision}
                self._starts[key] = found
        return found

    def _recalled(self, at: Opened, name: str, start: Laid) -> Laid | None:
        """Return the lay kept with the workbook, read again when its file has changed."""
        try:
            stat = lay_file(self.opened.folder, name).stat()
        except OSError:
            return None
        seen = (start.mark, stat.st_mtime_ns, stat.st_size, stat.st_ino)
        found = self._kept.get(name)
        if found is None or found[0] != seen:
            with contextlib.suppress(KeyError, TypeError, ValueError, ClothwrightError):
                found = seen, recall(self.opened.folder, at.book, name, start)
                self._kept[name] = found
        return found[1] if found is not None and found[0] == seen else None

    # --- one job, in its thread ---------------------------------------------------------------

    def _follow(self, job: _Job) -> None:
        """Wait for a core, start the process, listen to it until it has ended."""
        try:
            with cores_for(job.workers, job.unwanted, self.cores()) as mine:
                if mine:
                    self._listen(job)
                elif job.stage == "waiting":
                    job.stage = "none"
        except (OSError, EOFError) as error:
            job.stage, job.trouble = "failed", f"The search ended by itself ({error})."
        finally:
            job.over.set()
            self.opened.tell(TOPIC, plan=job.plan)
            if job.stage == "done":
                self._progress(job, share=1.0)

    def _listen(self, job: _Job) -> None:
        job.stage, job.began = "laying", time.monotonic()
        self.opened.tell(TOPIC, plan=job.plan)
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        task = Task(
            kind=job.kind,
            folder=self.opened.folder,
            book=job.book,
            plan=job.plan,
            seconds=job.seconds,
            workers=job.workers,
            seed=job.seed,
        )
        process = context.Process(target=search, args=(theirs, task))
        process.start()
        theirs.close()
        _running.append(ours)
        try:
            self._hear(job, ours)
        finally:
            job.spent = time.monotonic() - job.began
            _running.remove(ours)
            ours.close()
            process.join(END_S)
            if process.is_alive():
                process.terminate()

    def _hear(self, job: _Job, line: Connection) -> None:
        """Take what the process says until it says the last; tell the pages."""
        asked = False
        while job.stage == "laying":
            if not asked and self._is_stale(job):
                asked = True
                line.send("drop")
            if not asked and job.unwanted.is_set():
                asked = True
                line.send("stop")
            if not line.poll(LOOK_S):
                self._progress(job)
                continue
            try:
                kind, what = line.recv()
            except (EOFError, OSError):
                job.stage, job.trouble = "failed", "The search ended by itself; lay it once more."
                return
            self._take(job, kind, what)
            self.opened.tell(TOPIC, plan=job.plan)

    def _take(self, job: _Job, kind: str, what: Any) -> None:
        if kind == "failed":
            job.stage, job.trouble = "failed", str(what)
            return
        if kind == "tried":
            job.tried = (*job.tried, str(what))
        elif job.kind == "lay":
            job.best, job.folds = what
        if kind == "done":
            job.stage = "done"

    def _is_stale(self, job: _Job) -> bool:
        """Tell whether an edit since its start has changed what it lays."""
        try:
            at = self.opened.read()
            if at.revision == job.revision:
                return False
            _, mark = self.start_of(at, job.plan)
        except ClothwrightError:
            return True  # the plan is gone, or can no longer be laid
        if mark == job.digest:
            job.revision = at.revision
        return mark != job.digest

    def _progress(self, job: _Job, *, share: float | None = None) -> None:
        if share is None:
            share = (time.monotonic() - job.began) / job.seconds if job.seconds else 0.0
        words = f"{job.plan}: {'done' if job.over.is_set() else _words(job)}"
        self.opened.progress(TOPIC, words, share=min(1.0, share))


def _words(job: _Job) -> str:
    if job.kind == "lay":
        return best_words(job.best, job.book.unit)
    if not job.tried:
        return "looking for ways to make it fit"
    return f"{len(job.tried)} ways to fit tried, the last: {job.tried[-1]}"


# --- whose lays, and whose cores ------------------------------------------------------------------

_all: dict[int, Lays] = {}
_running: list[Connection] = []
_door = threading.Lock()


def lays_of(opened: OpenBook) -> Lays:
    """Return the lays of an open workbook, the same each time."""
    with _door:
        return _all.setdefault(id(opened), Lays(opened=opened))


@atexit.register
def _end_all() -> None:
    """Let every search end and keep its best lay when the server goes."""
    for line in tuple(_running):
        with contextlib.suppress(OSError):
            line.close()
