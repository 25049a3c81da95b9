"""A scheduler on this machine, for tests and bench: each worker stands for another machine."""

from __future__ import annotations

import contextlib
import warnings
from collections.abc import Iterator


@contextlib.contextmanager
def cluster(workers: int, allowed_failures: int = 1) -> Iterator[str]:
    """Yield the address of a scheduler with so many workers, each a process with one thread."""
    import dask
    import distributed

    with (
        warnings.catch_warnings(action="ignore"),
        dask.config.set({"distributed.scheduler.allowed-failures": allowed_failures}),
        distributed.LocalCluster(
            n_workers=workers,
            threads_per_worker=1,
            processes=True,
            host="127.0.0.1",
            dashboard_address=None,
            silence_logs=50,
        ) as it,
    ):
        yield it.scheduler_address
