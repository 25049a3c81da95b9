"""The lays of one open workbook: what is kept, what is being searched for, how far it is."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from clothwright.errors import ClothwrightError
from clothwright.rules.weighing.facts import best_words
from clothwright.rules.weighing.laid import Laid, laid_so, rank
from clothwright.store import Opened
from clothwright.store.beside.lays import kept_ways
from clothwright.store.beside.places import lay_file
from clothwright.words import told
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.searching.laying import compile_plan, recall
from clothwright.workroom.searching.process import Kind, Task
from clothwright.workroom.searching.service import Search, Searches, Stage

SECONDS = 20.0
"""How long a lay is searched for when nobody says."""
WAYS_S = 30.0
"""How long ways to fit are looked for when nobody says."""
MOST_S = 3600.0
SEEDS = 100_000
"""Every start of a plan searches with seeds of its own, so far apart."""
TOPIC = "lay"


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchState:
    """How far a search for one plan is.

    stage: "none" (nothing yet, or only what was kept before), "waiting" for a core, "laying",
    "done", "stale" (stopped, because an edit changed what is to be laid), "failed" (see `trouble`).
    trouble: why it failed, a sentence, else "".
    """

    plan: str
    stage: Stage = "none"
    trouble: str = ""

    @property
    def busy(self) -> bool:
        """True while it waits for a core or is searching."""
        return self.stage in ("waiting", "laying")


@dataclass(frozen=True, slots=True, kw_only=True)
class LayState(SearchState):
    """How far the lay of one plan is.

    laid: the best lay for the pieces as they are now, found or kept; None when there is none.
    seconds, spent: how long it searches, and has.
    """

    laid: Laid | None = None
    seconds: float = 0.0
    spent: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WaysState(SearchState):
    """How far the search for ways to fit of one plan is.

    tried: what was tried so far, a sentence each. ways: the kept list of
    ways (docs/ways-to-fit.md, "ways") for the pieces as they are now, None when there is none.
    """

    tried: tuple[str, ...] = ()
    ways: tuple[Mapping[str, Any], ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lays:
    """The lays of an open workbook. Every call may come from any thread and returns at once.

    It keeps nothing itself: searches are the room's, what is worked out is kept by `opened`.
    """

    opened: OpenBook
    searches: Searches

    def start(self, plan: str = "", *, seconds: float = SECONDS, workers: int = 0) -> str:
        """Begin to lay a plan ("" = the chosen one); return its name. Raises BadInput, Mistakes.

        It waits when no core is free. A plan that is being laid already goes on as it is, unless
        what is to be laid has changed. seconds: how long it searches. workers: cores to search
        with, 0 for all. Each start searches anew, with another seed; the better lay stays.
        """
        return self._start("lay", plan, seconds, workers or self.searches.cores.limit())

    def start_ways(self, plan: str = "", *, seconds: float = WAYS_S) -> str:
        """Begin to find ways to fit for a plan that does not; return its name. As `start`.

        seconds: for all ways together. Raises BadInput, Mistakes.
        """
        return self._start("ways", plan, seconds, 1)

    def start_all(self, *, seconds: float = SECONDS) -> tuple[str, ...]:
        """Lay every plan that can be laid, as many at once as cores are free; return their names.

        seconds: for each. A plan that cannot be laid is left out; its state says why.
        """
        names = _names(self.opened.read())
        workers = 0 if len(names) == 1 else 1
        begun: list[str] = []
        for name in names:
            with contextlib.suppress(ClothwrightError):
                begun.append(self.start(name, seconds=seconds, workers=workers))
        return tuple(begun)

    def _start(self, kind: Kind, plan: str, seconds: float, workers: int) -> str:
        at = self.opened.read()
        name = at.book.plan(plan).name
        before = self._search(kind, name)
        task = Task(
            kind=kind,
            folder=self.opened.folder,
            book=at.book,
            plan=name,
            mark=self.start_of(at, name).mark,
            seconds=max(0.0, min(seconds, MOST_S)),
            workers=max(1, min(workers, self.searches.cores.limit())),
            seed=before.task.seed + SEEDS if before is not None else 0,
        )
        self.searches.start(
            task, told=self._told, wanted=lambda: self.start_of(self.opened.read(), name).mark
        )
        return name

    def stop(self, plan: str | None = None) -> None:
        """Stop one plan's searches, or all; the best lay so far is kept."""
        self.searches.stop(self.opened.folder, plan)

    def wait(self, plan: str = "", *, seconds: float = 60.0) -> LayState:
        """Wait until a plan's search is over, at most so many seconds; return its state."""
        name = self.opened.read().book.plan(plan).name
        one = self._search("lay", name)
        if one is not None:
            one.over.wait(seconds)
        return self.state(name)

    def states(self) -> tuple[LayState, ...]:
        """Return the state of every plan, in the workbook's order (the implied one if none)."""
        at = self.opened.read()
        return tuple(self._state(at, name) for name in _names(at))

    def state(self, plan: str = "") -> LayState:
        """Return the state of one plan ("" = the chosen one). Raises BadInput."""
        at = self.opened.read()
        return self._state(at, at.book.plan(plan).name)

    def _state(self, at: Opened, name: str) -> LayState:
        try:
            start = self.start_of(at, name)
        except ClothwrightError as error:
            return LayState(plan=name, stage="failed", trouble=told(error, at.book.unit))
        laid = self.kept(at, name)
        one = self._search("lay", name)
        if one is None:
            return LayState(plan=name, laid=laid)
        stale = one.task.mark != start.mark
        return LayState(
            plan=name,
            stage="stale" if stale else one.stage,
            laid=laid if stale else self._better(at, start, one, laid),
            seconds=one.task.seconds,
            spent=one.spent_s(),
            trouble="" if stale else one.trouble,
        )

    def ways(self, plan: str = "") -> WaysState:
        """Return how far the search for ways to fit is, and the kept list. Raises BadInput."""
        at = self.opened.read()
        name = at.book.plan(plan).name
        try:
            mark = self.start_of(at, name).mark
        except ClothwrightError as error:
            return WaysState(plan=name, stage="failed", trouble=told(error, at.book.unit))
        one, ways = self._search("ways", name), self._kept_ways(name, mark)
        if one is None or one.task.mark != mark:
            return WaysState(plan=name, ways=ways)
        return WaysState(
            plan=name, stage=one.stage, tried=one.tried, ways=ways, trouble=one.trouble
        )

    def start_of(self, at: Opened, name: str) -> Laid:
        """Return a plan with its lay problem and nothing laid, made once a revision.

        Raises BadInput when it cannot be laid at all.
        """
        return self.opened.once(
            f"start {name}",
            at.revision,
            lambda: compile_plan(at.book, at.book.plan(name), self.opened.replayed(at).pattern),
            of=at.book.cut,
        )

    def _search(self, kind: Kind, name: str) -> Search | None:
        return self.searches.of(self.opened.folder, kind, name)

    def _kept_ways(self, name: str, mark: str) -> tuple[Mapping[str, Any], ...] | None:
        kept = kept_ways(self.opened.folder, name)
        return kept.ways if kept is not None and kept.digest == mark else None

    def _better(self, at: Opened, start: Laid, one: Search, kept: Laid | None) -> Laid | None:
        """Return the better of the search's lay so far and the kept one."""
        best = one.best
        if best is None:
            return kept
        mine = self.opened.once(
            f"best {one.task.plan}", at.revision, lambda: laid_so(start, *best), of=best
        )
        return mine if kept is None or rank(mine) < rank(kept) else kept

    def kept(self, at: Opened, name: str) -> Laid | None:
        """Return the lay of a plan kept with the workbook, for the pieces as they are in `at`.

        It is read again when its file has changed. Raises BadInput for a plan that cannot be laid.
        """
        start = self.start_of(at, name)
        try:
            stat = lay_file(self.opened.folder, name).stat()
        except OSError:
            return None

        def read() -> Laid | None:
            with contextlib.suppress(KeyError, TypeError, ValueError, ClothwrightError):
                return recall(self.opened.folder, at.book, name, start)
            return None

        seen = (stat.st_mtime_ns, stat.st_size, stat.st_ino, start.mark)
        return self.opened.once(f"kept {name}", at.revision, read, of=seen)

    def _told(self, one: Search, news: bool) -> None:
        """Tell the pages that there is news of a search, if so, and how far it is."""
        if news:
            self.opened.tell(TOPIC, plan=one.task.plan)
        share = one.spent_s() / one.task.seconds if one.task.seconds else 1.0
        words = "done" if one.stage == "done" else _far(one)
        self.opened.progress(TOPIC, f"{one.task.plan}: {words}", share=share)


def _names(at: Opened) -> tuple[str, ...]:
    return tuple(p.name for p in at.book.plans) or (at.book.plan().name,)


def _far(one: Search) -> str:
    if one.task.kind == "lay":
        return best_words(one.best[0] if one.best else None, one.task.book.unit)
    if not one.tried:
        return "looking for ways to fit"
    return f"{len(one.tried)} ways to fit tried, the last: {one.tried[-1]}"
