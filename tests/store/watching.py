"""A watch over what is done outside a folder, here and in the process that reads files."""

from __future__ import annotations

import os
import pickle
import signal
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from clothwright.workroom.apart import asking

LONG_S = 60
"""After so long what is watched hangs, and is ended."""


class Watch:
    """What is opened to be written, removed, renamed, linked or closed off outside a folder.

    ON: the folder. LOG: a file that is open, for what is seen.
    """

    ON: Path | None = None
    LOG = -1
    CHANGES = frozenset(
        {"os.remove", "os.rename", "os.rmdir", "os.chmod", "os.chown", "os.link", "os.mkdir"}
        | {"os.symlink", "os.truncate", "shutil.rmtree", "shutil.move", "os.utime"}
    )
    WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND

    @classmethod
    def hook(cls, event: str, args: tuple[object, ...]) -> None:
        """Look at one event; nothing may go wrong in here."""
        if cls.ON is None or not (event == "open" or event in cls.CHANGES):
            return
        folder, cls.ON = cls.ON, None
        try:
            if event == "open":
                flags = args[2] if isinstance(args[2], int) else 0
                paths = [args[0]] if flags & cls.WRITES else []
                secret = str(folder.parent / "outside")
                if (
                    isinstance(args[0], str | os.PathLike)
                    and os.path.realpath(args[0]).startswith(secret)
                    and Path(args[0]).name != "workbook.toml"  # may be a link, and is read by it
                ):
                    cls.say(event, args[0])
            else:
                paths = list(args[:2] if event in ("os.rename", "os.link") else args[:1])
            for path in paths:
                if isinstance(path, str | os.PathLike) and not cls.inside(folder, os.fspath(path)):
                    cls.say(event, path)
        finally:
            cls.ON = folder

    @classmethod
    def say(cls, event: str, path: object) -> None:
        """Write down what was seen: there also when this process is ended at once."""
        os.write(cls.LOG, f"{event} {os.fspath(path)!r}\n".encode(errors="replace"))  # type: ignore[call-overload]

    @staticmethod
    def inside(folder: Path, path: str) -> bool:
        """Tell whether a path lies in the folder, whatever links lead to where it is."""
        place = Path(os.path.realpath(Path(path).parent), Path(path).name)
        return place == folder or folder in place.parents or str(place) == os.devnull


_HOOKED: list[bool] = []


def begin(folder: Path, log: Path) -> None:
    """Watch a folder in this process; what is done outside is written into a file."""
    stop()
    sys.dont_write_bytecode = True  # a module that is loaded now is nobody's doing
    if not _HOOKED:
        sys.addaudithook(Watch.hook)
        _HOOKED.append(True)
    Watch.LOG = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    Watch.ON = folder


def stop() -> None:
    """Watch no more in this process."""
    Watch.ON = None
    if Watch.LOG >= 0:
        os.close(Watch.LOG)
    Watch.LOG = -1


def _watched_from_the_start(
    begun: Callable[[], asking._Child], folder: Path, log: Path
) -> Callable[[], asking._Child]:
    """Return what begins a process that reads files, and watches in it before it is asked."""

    def watching() -> asking._Child:
        one = begun()
        asked = pickle.dumps((begin, (folder, log), str(folder)))
        kind, what = asking._heard(one, asked, time.monotonic() + LONG_S, 1)
        assert kind == "done", what
        return one

    return watching


@contextmanager
def watched(folder: Path, log: Path) -> Iterator[Callable[[], list[str]]]:
    """Watch what is done outside a folder, and see to it that nothing hangs for ever.

    Yields what tells what was seen till now. log: a file outside the folder that is written.
    """

    def hangs(*_: object) -> None:
        for pipe in (p for p in folder.rglob("*") if p.is_fifo()):
            os.close(os.open(pipe, os.O_RDWR | os.O_NONBLOCK))  # who waits at it goes on
        raise TimeoutError("it hangs")

    folder = folder.resolve()
    before = signal.signal(signal.SIGALRM, hangs)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(asking, "_begun", _watched_from_the_start(asking._begun, folder, log))
        asking.apart("it", begin, folder, log)
        patched.setattr(sys, "dont_write_bytecode", True)
        begin(folder, log)
        signal.alarm(LONG_S)
        try:
            yield lambda: log.read_text().splitlines()
        finally:
            stop()
            signal.alarm(0)
            signal.signal(signal.SIGALRM, before)
            asking.apart("it", stop)
