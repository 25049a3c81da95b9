"""Many lays over processes, or over machines: always through `concurrent.futures.Executor`.

Workers lay with one core each. A worker that dies loses only its own tasks, which are done again.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from typing import Any, TypeVar

from clothwright.errors import BadInput, CannotDo

TRIES = 3
"""How often a task is begun before it is given up."""
CONNECT_S = 8.0

T = TypeVar("T")
R = TypeVar("R")


def one_core() -> None:
    """Let lays in this process use one core (start-up of every worker)."""
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


@contextlib.contextmanager
def executor(workers: int, scheduler: str = "") -> Iterator[Executor]:
    """Yield an executor of `workers` processes here, or of a running scheduler at an address.

    scheduler: "tcp://HOST:PORT" of a `distributed` scheduler (extra "cluster"). Its traffic is
    pickled code without a password: a trusted network only. Raises BadInput.
    """
    if scheduler:
        yield from _remote(scheduler)
        return
    context = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(max(1, workers), mp_context=context, initializer=one_core)
    try:
        yield pool
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _remote(address: str) -> Iterator[Executor]:
    try:
        from distributed import Client  # noqa: PLC0415 (an extra, asked for here only)
    except ImportError:
        raise BadInput(
            where="--scheduler",
            what="the extra for several machines is not installed",
            expected='pip install "clothwright[cluster]"',
            try_="--workers 2 on this machine",
        ) from None
    try:
        client = Client(address, timeout=CONNECT_S)
    except (OSError, ValueError, TimeoutError) as error:
        raise BadInput(
            where="--scheduler",
            what=f'no scheduler answers at "{address}" ({type(error).__name__})',
            expected="the address a running scheduler names, such as tcp://127.0.0.1:8786",
        ) from None
    try:
        client.run(one_core)
        yield client.get_executor(pure=False)
    finally:
        client.close()


def spread(
    tasks: Sequence[T],
    work: Callable[[T], R],
    *,
    workers: int,
    scheduler: str = "",
    done: Callable[[int, R], None],
) -> None:
    """Do every task; `done` is told each result with its number as it comes.

    When a worker is killed its pool is made anew and what was not finished is begun again, at most
    `TRIES` times a task. Ctrl-C leaves what is done done. Raises CannotDo for a task given up.
    """
    left = dict(enumerate(tasks))
    tries = dict.fromkeys(left, 0)
    while left:
        with executor(workers, scheduler) as pool:
            jobs: dict[Future[Any], int] = {}
            for k, task in left.items():
                tries[k] += 1
                jobs[pool.submit(work, task)] = k
            try:
                for job in as_completed(jobs):
                    k = jobs[job]
                    result = job.result()
                    left.pop(k)
                    done(k, result)
            except BrokenProcessPool:
                worn = [k for k in left if tries[k] >= TRIES]
                if worn:
                    raise CannotDo(
                        what=f"{len(worn)} of {len(tasks)} lays were given up",
                        why=f"their worker died {TRIES} times",
                        nearest="the lays that are done are kept; try fewer workers",
                    ) from None
