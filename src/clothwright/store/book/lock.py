"""One at a time: a lock that the system itself lets go when its holder dies."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import sys
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from clothwright.errors import BadInput
from clothwright.store.disk import disk_told, make_folder, open_own
from clothwright.store.folder import LOCK, refuse_links

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

PATIENCE_S = 10.0
"""How long a save waits for another one before it says so."""

Note = tuple[str, str]
"""A file's name, and the digest of what it holds; "" for what an earlier program noted."""


def digest(data: bytes) -> str:
    """Return what a file is known by in a note."""
    return hashlib.sha256(data).hexdigest()[:40]


@dataclass(slots=True)
class Lock:
    """A held lock. left_over: what a saver which died had noted."""

    handle: int
    left_over: frozenset[Note]

    def note(self, files: Iterable[Note]) -> None:
        """Write down which files are about to come or go, so that the next saver can tidy up."""
        lines = "".join(
            f"{json.dumps(f, ensure_ascii=False)}\n" for f in sorted(set(files) - self.left_over)
        )
        os.lseek(self.handle, 0, os.SEEK_END)
        os.write(self.handle, lines.encode("utf-8"))


@contextlib.contextmanager
def held(folder: Path, what: str = "it could not be saved", safe: str = "") -> Iterator[Lock]:
    """Hold the folder's lock while writing to it: the way to every change of what is in it.

    what, safe: said when the disk fails meanwhile (`disk_told`). Raises BadInput then, and when
    another program is saving or something in the folder is a link.
    """
    refuse_links(folder)
    file = folder / LOCK
    with disk_told(str(folder), what, safe):
        make_folder(folder)
        handle = _taken(file, time.monotonic() + PATIENCE_S)
        try:
            yield Lock(handle, _noted(handle))
            _give_back(file, handle)
        except Exception:
            _give_back(file, handle)
            raise
        finally:
            os.close(handle)


def _give_back(file: Path, handle: int) -> None:
    """Leave nothing behind (where an open file cannot be removed, at least nothing in it)."""
    with contextlib.suppress(OSError):
        os.ftruncate(handle, 0)
        if sys.platform != "win32":
            file.unlink(missing_ok=True)


def _taken(file: Path, until: float) -> int:
    while True:
        handle = _opened(file)
        if _try_lock(handle):
            if _still_there(file, handle):
                return handle
            os.close(handle)  # its last holder has just taken the file away
            continue
        os.close(handle)
        if time.monotonic() > until:
            raise BadInput(
                where=str(file.parent),
                what="another window or program is saving this workbook",
                expected="one at a time",
                try_="again in a moment; nothing was changed",
            )
        time.sleep(0.02)


def _opened(file: Path) -> int:
    """Open the lock's file. Raises BadInput when it is a link: what it leads to is not ours."""
    handle = open_own(file, os.O_RDWR)
    if os.fstat(handle).st_nlink < 2:
        return handle
    os.close(handle)
    raise BadInput(
        where=str(file.parent),
        what=f'the file "{LOCK}" in it is a link',
        expected="a file of its own, which comes and goes with each save",
        try_=f'taking "{LOCK}" away; nothing was changed',
    )


def _try_lock(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _still_there(file: Path, handle: int) -> bool:
    try:
        return os.path.samestat(file.stat(), os.fstat(handle))
    except OSError:
        return False


def _noted(handle: int) -> frozenset[Note]:
    """Return the files noted, one a line; a last line without its end was not written whole."""
    os.lseek(handle, 0, os.SEEK_SET)
    found: set[Note] = set()
    for line in os.read(handle, 1_000_000).split(b"\n")[:-1]:
        with contextlib.suppress(ValueError, RecursionError):
            match json.loads(line):
                case str(name) | [str(name)]:
                    found.add((name, ""))
                case [str(name), str(held)]:
                    found.add((name, held))
    return frozenset(found)
