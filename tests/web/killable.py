"""A server in a process of its own, for tests that kill it.

It is forked from a process that has read the program already (kept light for that: nothing of the
tests is imported here). To read it anew at every start takes longer than all that is then tested.
"""

from __future__ import annotations

import multiprocessing
from multiprocessing.context import ForkServerProcess
from pathlib import Path

from clothwright.web.serve import prepare


def serve_apart(folder: Path, port: int) -> ForkServerProcess:
    """Start to serve a folder on a port, in another process; return that process at once."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([__name__])
    process = context.Process(target=_serve, args=(folder, port))
    process.start()
    return process


def _serve(folder: Path, port: int) -> None:
    prepare(folder, port=port, whole=True).run()
