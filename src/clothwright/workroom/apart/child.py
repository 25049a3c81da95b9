"""The process that reads files others made: it takes a function, and gives back what that gives.

Whatever such a file does to it, it ends there: it may take only so much time and memory, and it
goes when the server goes, also when that is killed.
"""

from __future__ import annotations

import contextlib
import faulthandler
import importlib
import os
import pickle
import signal
import traceback
from collections.abc import Callable, Iterator, Sequence
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Literal

from clothwright.errors import ClothwrightError

OVER_S = 1.0
"""It ends by itself so long after its time, when nobody is left to end it."""
IDLE_S = 300.0
"""A process that nothing was asked of for so long goes."""
MEMORY = 900_000_000
"""Bytes it may take for a file beside what it begins with: 1 GB in all. Only Linux can hold a
process to it; on other systems time alone is bounded."""
LONGEST = 40_000_000
"""Bytes of what it gives back."""
LARGEST = 200_000_000
"""Bytes of a file it may write."""

Kind = Literal["done", "raised", "memory", "long", "broke"]
"""How it went. With "done" goes what the function gave, with "raised" its error, with "broke" what
a programmer needs to mend it."""

_INSIDE = False


def is_inside() -> bool:
    """Tell whether this is that process: what it calls runs here, in the same limits."""
    return _INSIDE


def serve(line: Connection, known: Sequence[str]) -> None:
    """Do what comes down the line, one after another, until it is closed. known: names of modules.

    Each is the seconds it may take and the files it reads, and a pickled (function, arguments,
    folder to be in); it is answered by a pickled (kind, what).
    """
    global _INSIDE  # noqa: PLW0603  (said once, of all this process)
    _INSIDE = True
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for who asks, who then ends this
    for module in known:
        importlib.import_module(module)
    begins = _memory_now()
    with contextlib.suppress(EOFError, OSError), Path(os.devnull).open("w") as nowhere:
        line.send_bytes(pickle.dumps(("done", None)))
        while line.poll(IDLE_S):
            seconds, files = line.recv()
            _bound(begins + MEMORY * files if begins else 0)
            asked = line.recv_bytes()
            with _in_time(seconds, nowhere):
                answer = _answered(asked)
            del asked
            line.send_bytes(answer)


def serve_copied(other: Connection, line: Connection) -> None:
    """As `serve`, in a copy of the process that asks. other: that one's end of the line."""
    other.close()  # else this process would not see the line closed when that one is gone
    serve(line, ())


@contextlib.contextmanager
def _in_time(seconds: float, nowhere: Any) -> Iterator[None]:
    """End this process soon after its time, whatever it does by then, and tell nobody."""
    faulthandler.dump_traceback_later(seconds + OVER_S, exit=True, file=nowhere)
    try:
        yield
    finally:
        faulthandler.cancel_dump_traceback_later()


def _answered(asked: bytes) -> bytes:
    try:
        function, args, here = pickle.loads(asked)
        with contextlib.suppress(OSError):
            os.chdir(here)
        answer = pickle.dumps(_kept(function, args), pickle.HIGHEST_PROTOCOL)
    except MemoryError:
        return pickle.dumps(("memory", None))
    except Exception:  # noqa: BLE001  (what it gave cannot be sent)
        return pickle.dumps(("broke", traceback.format_exc()))
    return answer if len(answer) <= LONGEST else pickle.dumps(("long", None))


def _kept(function: Callable[..., object], args: tuple[object, ...]) -> tuple[Kind, object]:
    try:
        return "done", function(*args)
    except (ClothwrightError, OSError) as error:
        return "raised", error
    except MemoryError:
        return "memory", None
    except Exception:  # noqa: BLE001  (a fault of ours that a file has found)
        return "broke", traceback.format_exc()


def _memory_now() -> int:
    """Return how many bytes of its own this process has; 0 where nobody can bound that."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        pages = Path("/proc/self/statm").read_text(encoding="ascii").split()[5]
        return int(pages) * os.sysconf("SC_PAGESIZE")
    return 0


def _bound(memory: int) -> None:
    """Bound what this process may take, where the system can. memory: bytes; 0: as it is."""
    try:
        import resource  # noqa: PLC0415  (not on every system)
    except ImportError:
        return
    with contextlib.suppress(OSError, ValueError):
        hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
        resource.setrlimit(resource.RLIMIT_FSIZE, (LARGEST, hard))
        if memory:
            hard = resource.getrlimit(resource.RLIMIT_DATA)[1]
            resource.setrlimit(resource.RLIMIT_DATA, (memory, hard))
