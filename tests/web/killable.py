"""A server in a process of its own, for tests that kill it.

It is begun as searches are: to read the program anew at every start takes longer than all that is
then tested.
"""

from __future__ import annotations

from multiprocessing.process import BaseProcess
from pathlib import Path

from clothwright.lay.spreading import processes
from clothwright.web.serve import prepare


def serve_apart(folder: Path, port: int) -> BaseProcess:
    """Start to serve a folder on a port, in another process; return that process at once."""
    process: BaseProcess = processes().Process(target=_serve, args=(folder, port))
    process.start()
    return process


def _serve(folder: Path, port: int) -> None:
    prepare(folder, port=port, whole=True).run()
