"""Many lays over processes, or over machines: always through `concurrent.futures.Executor`.

Workers lay with one core each. Neither kind of executor can end work that has begun, so the work
asks: a lay is given `stop_asked` and ends within moments of being no longer wanted, whether the
maker stopped, or the process that asked for it was killed.
"""

from __future__ import annotations

import contextlib
import ctypes
import importlib
import multiprocessing
import os
import re
import signal
import sys
import threading
import time
from collections import Counter, deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import (
    BrokenExecutor,
    CancelledError,
    Executor,
    Future,
    ProcessPoolExecutor,
)
from dataclasses import dataclass, field
from multiprocessing import forkserver
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerContext, SpawnContext
from typing import Any, Generic, TypeVar

from clothwright.errors import BadInput, ClothwrightError
from clothwright.lay.ctrl_c import ended, unheard, uninterrupted

TRIES = 3
"""How often a task is begun before it is given up; the last time with no other beside it."""
CONNECT_S = 8.0
"""Seconds a scheduler, and its first worker, may take to answer."""
GRACE_S = 1.5
"""Seconds a worker that is no longer wanted has for ending by itself."""
LOOK_S = 0.25
"""Seconds between two looks whether a scheduler has dropped the task."""
MOST_WORKERS = 256
OURS = __name__.partition(".")[0] + "."
"""What the names of all our modules begin with."""
ADDRESS = re.compile(r"(?:(?:tcp|tls|ws|wss)://)?(?:[\w.-]+|\[[0-9A-Fa-f:.]+\]):\d{1,5}")
M_TRIM_THRESHOLD, M_MMAP_THRESHOLD = -1, -3
"""Numbers of two settings of mallopt(3)."""
KEPT_BYTES = 1 << 27

T = TypeVar("T")
R = TypeVar("R")


class InterruptedWorkError(Exception):
    """The work ended early because it was asked to; what it had found does not count."""


# --- in a worker --------------------------------------------------------------------------------

_unwanted = threading.Event()
_last_look = [0.0]


def stop_asked() -> bool:
    """Tell whether the work at hand is no longer wanted. Cheap; long work asks it often.

    In a worker of a pool: the pool is closed, or the process that opened it is gone. In a worker of
    a scheduler: the task was cancelled, or its client has left. Elsewhere never.
    """
    if _unwanted.is_set():
        return True
    if "distributed.worker" not in sys.modules or time.monotonic() - _last_look[0] < LOOK_S:
        return False
    _last_look[0] = time.monotonic()
    return _dropped()


def _dropped() -> bool:
    try:
        worker = sys.modules["distributed.worker"].get_worker()
        task = worker.state.tasks.get(worker.get_current_task())
    except (ValueError, AttributeError, KeyError):
        return False
    return task is None or task.state == "cancelled"


def one_core() -> None:
    """Let lays in this process use one core."""
    os.environ["CLOTHWRIGHT_CORES"] = "1"


@contextlib.contextmanager
def one_core_here() -> Iterator[None]:
    """Let lays in this process use one core while others search beside it."""
    before = os.environ.get("CLOTHWRIGHT_CORES")
    one_core()
    try:
        yield
    finally:
        if before is None:
            os.environ.pop("CLOTHWRIGHT_CORES", None)
        else:
            os.environ["CLOTHWRIGHT_CORES"] = before


def _enlist(line: Connection) -> None:
    """Start up a worker of a pool: Ctrl-C is for the maker's process; the end of `line` for us."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    one_core()
    keep_memory()
    threading.Thread(target=_listen, args=(line,), daemon=True).start()


def _listen(line: Connection) -> None:
    """Wait until the other end is closed (or its process has died), then see that we end."""
    with contextlib.suppress(EOFError, OSError):
        line.recv()
    _unwanted.set()
    asked = multiprocessing.parent_process()
    if asked is not None:
        asked.join(GRACE_S)  # nobody takes a result any more when it is gone
    os._exit(1)


def keep_memory() -> None:
    """Let this process keep freed memory for its next use (GNU C library; elsewhere nothing).

    A scheduler's workers are started so that they give back every 64 KiB at once. A lay asks for
    and frees such pieces all the time, and took 1.6 times as long.
    """
    with contextlib.suppress(OSError, AttributeError, TypeError):
        setting = ctypes.CDLL(None).mallopt
        setting(M_TRIM_THRESHOLD, KEPT_BYTES)
        setting(M_MMAP_THRESHOLD, KEPT_BYTES // 4)


def _on_one_core(work: Callable[[T], R], task: T) -> R:
    """Do a task on one core, in whatever process a scheduler chose for it."""
    if "distributed.worker" in sys.modules:
        keep_memory()
    with one_core_here():
        return work(task)


# --- the executors ------------------------------------------------------------------------------


def processes(known: Sequence[str] = ()) -> ForkServerContext | SpawnContext:
    """Return how processes are begun: anew, or on Linux as copies of one that has loaded all this.

    That one loads, once, what of the program the process that first asks has loaded, and the
    modules `known`; it ends with that process, and runs nothing else: no lock is held in a copy.
    Ctrl-C it never hears. Who was begun so and asks in turn begins its own: its workers stand back
    (`os.nice`) as it does.
    """
    if sys.platform != "linux":
        return multiprocessing.get_context("spawn")
    copied = multiprocessing.get_context("forkserver")
    loaded = [name for name in sys.modules if name.startswith(OURS)]
    copied.set_forkserver_preload([*loaded, *known])
    with uninterrupted(), unheard():
        forkserver.ensure_running()
    return copied


class Here(Executor):
    """An executor without processes: each task is done in this one, when it is handed over."""

    def submit(self, fn: Callable[..., R], /, *args: Any, **kwargs: Any) -> Future[R]:
        """Do the task now; return its future, already settled."""
        job: Future[R] = Future()
        try:
            job.set_result(fn(*args, **kwargs))
        except Exception as error:  # noqa: BLE001 (told by the future, as executors do)
            job.set_exception(error)
        return job


class _Processes(ProcessPoolExecutor):
    """Processes here; Ctrl-C is kept while one is begun and work is handed over."""

    def submit(self, fn: Callable[..., R], /, *args: Any, **kwargs: Any) -> Future[R]:
        """Hand over a task; return its future."""
        with uninterrupted(), unheard():
            return super().submit(fn, *args, **kwargs)


@contextlib.contextmanager
def executor(workers: int, scheduler: str = "") -> Iterator[Executor]:
    """Yield an executor of `workers` processes here, or of a running scheduler at an address.

    workers: 0 does the work in this process. On leaving, work that is still going on is asked to
    stop and its processes are gone within `GRACE_S`; they end as well when this process is killed.
    scheduler: "tcp://HOST:PORT" of a `distributed` scheduler (extra "cluster"). Its traffic is
    pickled code without a password: a trusted network only. Raises BadInput.
    """
    if not 0 <= workers <= MOST_WORKERS:
        raise BadInput(
            where="--workers",
            what=f"{workers} is no number of workers",
            expected=f"1 to {MOST_WORKERS}",
            try_=f"--workers {os.cpu_count() or 1}",
        )
    if scheduler:
        with _remote(scheduler) as remote:
            yield remote
    elif workers == 0:
        yield Here()
    else:
        with _pool(workers) as pool:
            yield pool


@contextlib.contextmanager
def _pool(workers: int) -> Iterator[Executor]:
    context = processes()
    theirs, ours = context.Pipe(duplex=False)
    pool = _Processes(workers, mp_context=context, initializer=_enlist, initargs=(theirs,))
    try:
        yield pool
    finally:
        with uninterrupted():
            ours.close()
            pool.shutdown(wait=True, cancel_futures=True)
            theirs.close()


@contextlib.contextmanager
def _remote(address: str) -> Iterator[Executor]:
    try:
        distributed = importlib.import_module("distributed")
    except ImportError:
        raise BadInput(
            where="--scheduler",
            what="the extra for several machines is not installed",
            expected='pip install "clothwright[cluster]"',
            try_="--workers 2 on this machine",
        ) from None
    if not ADDRESS.fullmatch(address):
        raise _no_scheduler(f'"{address}" is no address of a scheduler')
    try:
        client = distributed.Client(address, timeout=CONNECT_S, set_as_default=False)
    except (OSError, ValueError, TimeoutError) as error:
        raise _no_scheduler(
            f'no scheduler answers at "{address}" ({type(error).__name__})'
        ) from None
    try:
        _wait_for_a_worker(client, address)
        pool = client.get_executor(pure=False)
        try:
            yield pool
        finally:
            pool.shutdown(wait=False)
    finally:
        client.close()


def _no_scheduler(what: str) -> BadInput:
    return BadInput(
        where="--scheduler",
        what=what,
        expected="the address a running scheduler names, such as tcp://127.0.0.1:8786",
    )


def _wait_for_a_worker(client: Any, address: str) -> None:
    try:
        client.wait_for_workers(1, timeout=CONNECT_S)
    except TimeoutError:
        raise BadInput(
            where="--scheduler",
            what=f'the scheduler at "{address}" has no worker',
            expected=f"dask worker {address} --nthreads 1, on each machine that is to help",
        ) from None


# --- many tasks ---------------------------------------------------------------------------------


@dataclass(slots=True, kw_only=True)
class _Spread(Generic[T, R]):
    """The tasks, which are left, and how often each was at work when a worker fell."""

    tasks: Sequence[T]
    work: Callable[[T], R]
    done: Callable[[int, R], None]
    failed: Callable[[int, str], None]
    patience: float | None
    left: dict[int, None] = field(default_factory=dict)
    falls: Counter[int] = field(default_factory=Counter)

    def settle(self, k: int, job: Future[R]) -> bool:
        """Tell a task's result, or why it failed; False when its worker fell."""
        try:
            result = job.result()
        except BrokenExecutor:
            return False
        except InterruptedWorkError:
            raise
        except CancelledError:
            self.fail(k, "the scheduler has left")
        except ClothwrightError as error:
            self.fail(k, str(error))
        except Exception as error:  # noqa: BLE001 (one task's trouble must not end the others)
            self._in_trouble(k, error)
        else:
            self.left.pop(k)
            self.done(k, result)
        return True

    def _in_trouble(self, k: int, error: Exception) -> None:
        """Give a task up, unless a scheduler's worker fell under it: then it has one try left.

        A scheduler counts a fall against all that its worker held, so the culprit's neighbours come
        back as killed too. Alone, each pays for its own.
        """
        fallen = type(error).__name__ == "KilledWorker"
        if fallen and self.falls[k] < TRIES - 1:
            self.falls[k] = TRIES - 1
        elif fallen:
            self.fail(k, "its worker died each time, the last time alone")
        else:
            self.fail(k, f"the worker could not do it ({type(error).__name__}: {error})")

    def fail(self, k: int, why: str) -> None:
        """Give a task up."""
        self.left.pop(k)
        self.failed(k, why)

    def fell(self, k: int) -> None:
        """Count a fall of the worker against a task; give it up after the last try."""
        self.falls[k] += 1
        if self.falls[k] >= TRIES:
            self.fail(k, f"its worker died {TRIES} times")

    def last_tries(self) -> list[int]:
        """Return the tasks that may be begun only once more."""
        return [k for k in self.left if self.falls[k] == TRIES - 1]

    def work_off(self, pool: Executor, numbers: Sequence[int], at_once: int) -> None:
        """Do these tasks, so many at a time, until they are settled or a worker falls."""
        todo, flying = deque(numbers), dict[Future[R], int]()
        while todo or flying:
            whole = self._hand_over(pool, todo, flying, at_once)
            settled = ended(flying, within=self.patience)
            if whole and not settled:
                for k in flying.values():
                    self.fail(k, f"no worker has answered for {self.patience:.0f} s")
                return
            landed = [(flying.pop(job), job) for job in settled]
            fallen = [k for k, job in landed if not self.settle(k, job)]
            if fallen or not whole:
                self._after_a_fall(flying, fallen if fallen or flying else [todo[0]])
                return

    def _hand_over(
        self, pool: Executor, todo: deque[int], flying: dict[Future[R], int], at_once: int
    ) -> bool:
        """Hand over tasks until enough are at work; False when the pool is broken."""
        while todo and len(flying) < at_once:
            try:
                job = pool.submit(_on_one_core, self.work, self.tasks[todo[0]])
            except BrokenExecutor:
                return False
            flying[job] = todo.popleft()
        return True

    def _after_a_fall(self, flying: dict[Future[R], int], fallen: list[int]) -> None:
        """Count the fall against every task that was at work and has no result."""
        ended(flying, within=GRACE_S, every=True)
        for job, k in flying.items():
            if not (job.done() and self.settle(k, job)):
                fallen.append(k)
        for k in fallen:
            self.fell(k)


def spread(
    tasks: Sequence[T],
    work: Callable[[T], R],
    *,
    workers: int,
    scheduler: str = "",
    done: Callable[[int, R], None],
    failed: Callable[[int, str], None],
    patience: float | None = None,
) -> bool:
    """Do every task, in any order; return False when Ctrl-C ended it early.

    done: told each result with its task's number as it comes. failed: told the number of each task
    that cannot be done, and why: its own error, or a worker that died `TRIES` times under it. When
    a worker dies the pool is made anew and only what was at work is begun again; a task's last try
    has the pool (or, of this work, the scheduler) for itself, so that it never pays for another's
    fall.
    patience: seconds without any task settled after which those at work are given up.
    work: must be importable by name, and ask `stop_asked` when it is long. Raises BadInput.
    """
    job = _Spread(tasks=tasks, work=work, done=done, failed=failed, patience=patience)
    job.left.update(dict.fromkeys(range(len(tasks))))
    try:
        if scheduler:
            _by_scheduler(job, scheduler)
        else:
            _by_pools(job, workers)
    except (KeyboardInterrupt, InterruptedWorkError):
        return False
    return True


def _by_pools(job: _Spread[T, R], workers: int) -> None:
    """Work off a job by processes here: a new pool after each fall."""
    while job.left:
        now = job.last_tries()[:1] or list(job.left)
        at_once = max(1, min(workers, len(now)))
        with executor(min(workers, at_once)) as pool:
            job.work_off(pool, now, at_once)


def _by_scheduler(job: _Spread[T, R], address: str) -> None:
    """Work off a job by a scheduler: all at once, then those that fell, one by one."""
    if not job.left:
        return
    with executor(0, address) as pool:
        job.work_off(pool, list(job.left), len(job.left))
        while job.left:
            job.work_off(pool, job.last_tries()[:1] or list(job.left), 1)
