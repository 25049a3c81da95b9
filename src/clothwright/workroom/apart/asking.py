"""Asking the process that reads files others made, within limits of time, memory and length.

One process for all that is asked here, kept warm: what it read stays with it. It is ended where a
limit is met, when who asked goes away, and at the end of this process; the next one begins anew.
"""

from __future__ import annotations

import contextlib
import hashlib
import logging
import multiprocessing
import pickle
import sys
import threading
import time
import warnings
from collections import deque
from collections.abc import Callable, Iterator
from contextvars import ContextVar
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import TypeVar, TypeVarTuple, cast

from clothwright.errors import BadInput, ClothwrightError
from clothwright.lay.spreading import processes
from clothwright.workroom.apart import child

Args = TypeVarTuple("Args")
R = TypeVar("R")

SECONDS = 8.0
"""What one reading may take, so that an answer is there within ten seconds, a new process begun."""
START_S = 60.0
"""How long a process may take to begin, on a machine that is busy with other things."""
LOOK_S = 0.05
"""How often who waits looks whether it is still wanted."""
KNOWN = ("clothwright.workroom.pieces.sitting", "clothwright.workroom.cloth.found")
"""What it has loaded before it is asked anything."""

gone: ContextVar[threading.Event | None] = ContextVar("gone", default=None)
"""Where a door says that who asked has gone away: what is done for them is then ended."""
_left: ContextVar[list[float] | None] = ContextVar("left", default=None)
"""The seconds that are left to all that is asked for one answer, where that is more than one."""


class Unread(BadInput):
    """A file that takes more time or memory than a file may, or at which reading broke off."""


class Left(ClothwrightError):  # noqa: N818
    """Who asked has gone away; what was begun is ended, and nobody reads this."""


@dataclass(slots=True)
class _Child:
    """The process, and the line to it. used: something was asked of it before."""

    process: BaseProcess
    line: Connection
    used: bool = False

    def end(self) -> None:
        """End it at once, whatever it does."""
        self.process.kill()
        self.process.join()
        self.line.close()


_turn = threading.Lock()
"""Held while something is asked: one at a time, so that all of it together stays in the limits."""
_kept: list[_Child] = []
"""The process while nothing is asked of it."""
_unread: deque[tuple[object, Unread]] = deque(maxlen=40)
"""What could not be read: the function and its arguments, and what was said."""


def apart(about: str, function: Callable[[*Args], R], *args: *Args) -> R:
    """Return what a function (of a module) gives, called in the process that reads files.

    As `apart_for` one file.
    """
    return apart_for(1, about, function, *args)


def apart_for(files: int, about: str, function: Callable[[*Args], R], *args: *Args) -> R:
    """Return what a function (of a module) gives, called in the process that reads files.

    files: how many it reads; each adds to what it may take. about: the file, for what is said.
    Where this is that process, it is called here.
    Raises what the function raises; Left; Unread where it met a limit, or broke off: then the same
    is not tried again, so that what it reads has to be known by its arguments.
    """
    if child.is_inside():
        return function(*args)
    asked = pickle.dumps((function, args, _here()), pickle.HIGHEST_PROTOCOL)
    with _my_turn():
        mark = (function, tuple(_short(arg) for arg in args))
        for before, known in _unread:
            if before == mark:
                raise known
        began, left = time.monotonic(), _left.get() or [SECONDS * files]
        kind, what = _answer(asked, began + left[0], files)
        left[0] -= time.monotonic() - began
    if kind == "done":
        return cast(R, what)
    if kind == "raised" and isinstance(what, Exception):
        raise what
    if what:
        logging.getLogger(__name__).error("%s could not be read\n%s", about, what)
    more = {
        "time": f"it takes more than {10 * files} seconds to read",
        "memory": f"it takes more than {files} GB of memory to read",
        "long": "there is more in it than can be shown",
    }
    error = Unread(where=about, what=more.get(kind, BROKE), try_=FEWER if kind in more else ANEW)
    _unread.append((mark, error))
    raise error


FEWER = "a file with fewer lines in it, one size or one page at a time, or a smaller photo"
ANEW = "saving or exporting it once more"
BROKE = "reading it broke off; there is something in it that no reader here can make out"


@contextlib.contextmanager
def in_one_time(files: int) -> Iterator[None]:
    """Let all that is asked inside share the time of one reading of so many files."""
    token = _left.set([SECONDS * files])
    try:
        yield
    finally:
        _left.reset(token)


def _short(arg: object) -> object:
    """Return what is kept of an argument to know it again."""
    return hashlib.sha256(arg).digest() if isinstance(arg, bytes) else arg


def _here() -> str:
    with contextlib.suppress(OSError):
        return str(Path.cwd())
    return ""


def warm() -> None:
    """See that the process will be there soon; return at once. A copy of this one needs no time."""
    if not (child.is_inside() or _is_alone() or _turn.locked() or _kept):
        threading.Thread(target=_begin_early, daemon=True).start()


def _begin_early() -> None:
    with _turn, contextlib.suppress(OSError, EOFError):
        if not _kept:
            _kept.append(_begun())


# --- one at a time -------------------------------------------------------------------------------


@contextlib.contextmanager
def _my_turn() -> Iterator[None]:
    """Wait until nothing else is asked. Raises Left."""
    while not _turn.acquire(timeout=LOOK_S):
        _check_there()
    try:
        yield
    finally:
        _turn.release()


def _check_there() -> None:
    event = gone.get()
    if event is not None and event.is_set():
        raise Left("Nobody waits for this any more.")


def _answer(asked: bytes, until: float, files: int) -> tuple[str, object]:
    """Ask the process, or a new one. One that met a limit by what was there before is not blamed.

    until: the moment at which the time is over.
    """
    one = _kept.pop() if _kept else None
    if one is not None and not one.process.is_alive():
        one.end()
        one = None
    if one is None:
        began = time.monotonic()
        one = _begun()
        until += time.monotonic() - began
    before, one.used = one.used, True
    try:
        kind, what = _heard(one, asked, until, files)
    except BaseException:
        one.end()
        raise
    if kind in ("done", "raised", "broke"):
        _kept.append(one)
        return kind, what
    one.end()
    again = before and kind in ("memory", "ended") and time.monotonic() < until
    return _answer(asked, until, files) if again else (kind, what)


def _is_alone() -> bool:
    """Tell whether this process runs nothing beside what asks: then a copy of it can go on.

    So it is for a command on Linux: all that it has loaded is there in the copy, too, and is not
    loaded twice. A server has threads, whose locks a copy would find held for ever.
    """
    return sys.platform == "linux" and threading.active_count() == 1


def _begun() -> _Child:
    """Begin a process, and wait until it can be asked. Raises OSError."""
    ours, theirs = multiprocessing.Pipe()
    process: BaseProcess
    if _is_alone():
        copied = multiprocessing.get_context("fork")
        process = copied.Process(target=child.serve_copied, args=(ours, theirs), daemon=True)
    else:
        process = processes(KNOWN).Process(target=child.serve, args=(theirs, KNOWN), daemon=True)
    with warnings.catch_warnings():  # later Pythons count the threads of libraries, which all rest
        warnings.simplefilter("ignore", DeprecationWarning)
        process.start()
    theirs.close()
    one = _Child(process, ours)
    try:
        _waited(one, time.monotonic() + START_S)
        ours.recv_bytes()
    except BaseException:
        one.end()
        raise
    return one


def _heard(one: _Child, asked: bytes, until: float, files: int) -> tuple[str, object]:
    """Return how it went, and what came of it: as `child.Kind`, or "time", or "ended"."""
    try:
        one.line.send((max(0.1, until - time.monotonic()), files))
        one.line.send_bytes(asked)
        if not _waited(one, until):
            return "time", None
        kind, what = pickle.loads(one.line.recv_bytes(child.LONGEST + 1000))
    except (EOFError, OSError):
        return "ended", None
    return kind, what


def _waited(one: _Child, until: float) -> bool:
    """Wait until the process says something; False when the time is over. Raises Left."""
    while not one.line.poll(LOOK_S):
        _check_there()
        if time.monotonic() > until:
            return False
    return True
