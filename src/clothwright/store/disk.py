"""Files written whole or not at all, no more open than before, and a disk that fails in words."""

from __future__ import annotations

import contextlib
import errno
import os
import re
import secrets
import stat
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from clothwright.errors import disk_failed

BOOK_FILE = "workbook.toml"
DRAFT = re.compile(r"\..+\.([0-9]+)\.part")
"""The names of drafts: a dot, the file's name, letters by chance, the process's number, .part."""

LONG_AGO_S = 3600.0
_WRITING: set[str] = set()
"""The names of drafts that this process is writing now."""


def readable(file: Path) -> Path:
    """Return a file that can be read at once, or that is not there.

    Raises IsADirectoryError, as for a folder, for a pipe or a device: who reads there could
    wait for ever.
    """
    with contextlib.suppress(FileNotFoundError, NotADirectoryError):
        mode = file.stat().st_mode
        if not stat.S_ISREG(mode) and not stat.S_ISDIR(mode):
            raise IsADirectoryError(errno.EISDIR, "it is no file")
    return file


def write_whole(file: Path, data: bytes, *, like: Path | None = None) -> None:
    """Write a file so that it is there whole or not at all, whatever happens. Raises OSError.

    It may be read by those who could read it before; a new one by nobody who may not read the
    workbook it lies in (`open_own`). like: a file that a new one is as open as, instead.
    """
    make_folder(file.parent)
    name = file.name.encode("utf-8", "ignore")[:150].decode("utf-8", "ignore")
    draft = file.with_name(f".{name}.{secrets.token_hex(3)}.{os.getpid()}.part")
    before = file if like is None or file.exists() else like
    _WRITING.add(draft.name)
    try:
        with os.fdopen(open_own(draft, os.O_WRONLY | os.O_EXCL, like=before), "wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        draft.replace(file)
    except OSError:
        with contextlib.suppress(OSError):
            draft.unlink()
        raise
    finally:
        _WRITING.discard(draft.name)
    flush_folder(file.parent)


def is_left_over(draft: Path) -> bool:
    """Tell whether a file is a draft whose writer died. Raises OSError.

    Its process is no more, or it is older than an hour: nobody writes for so long, and numbers of
    processes come again.
    """
    named = DRAFT.fullmatch(draft.name)
    if named is None or draft.name in _WRITING:
        return False
    return not _is_alive(int(named[1][:20])) or time.time() - draft.lstat().st_mtime > LONG_AGO_S


def _is_alive(process: int) -> bool:
    """Tell whether another process of this number runs; where that cannot be asked, one may."""
    if process == os.getpid():
        return False
    try:
        if sys.platform != "win32":
            os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:
        return True
    return True


def open_own(file: Path, flags: int, like: Path | None = None) -> int:
    """Open a file, made when it is not there; return its handle. Raises OSError.

    A new one has the mode, owner and group of the file `like` from its first moment on; where there
    is none, it is no more open than the workbook it lies in. Owner and group only as far as the
    system allows it; lists of who else may read a file (ACL) are not looked at. A link is refused.
    """
    flags |= os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    if file.exists() or sys.platform == "win32":
        return os.open(file, flags, 0o666)
    before = None if like is None else _about(like)
    there = before or _book_about(file)
    if there is None:
        return os.open(file, flags, 0o666)
    mode = stat.S_IMODE(there.st_mode) & 0o777
    handle = os.open(file, flags, mode & 0o666)
    here = os.fstat(handle)
    if not _given(handle, here, there):  # a group of our own gets what everybody has
        mode &= 0o707 | (mode & 0o007) << 3
    wanted = mode if before is not None else stat.S_IMODE(here.st_mode) & mode
    if stat.S_IMODE(here.st_mode) != wanted:
        with contextlib.suppress(OSError):
            os.fchmod(handle, wanted)
    return handle


def _given(file: int | Path, here: os.stat_result, there: os.stat_result) -> bool:
    """Give a file or folder (here) the owner and group of another, if allowed; tell of the group.

    >>> _given(Path("."), Path(".").stat(), Path(".").stat())
    True
    """
    if sys.platform == "win32" or (here.st_uid, here.st_gid) == (there.st_uid, there.st_gid):
        return True
    same = here.st_gid == there.st_gid
    with contextlib.suppress(OSError):
        os.chown(file, -1, there.st_gid)
        same = True
    with contextlib.suppress(OSError):
        os.chown(file, there.st_uid, -1)
    return same


def make_folder(folder: Path) -> None:
    """Make a folder that is not there, with those above it. Raises OSError.

    In a workbook it is no more open than that is: who may read the one may look into the other.
    """
    if folder.is_dir():
        return
    make_folder(folder.parent)
    there = _book_about(folder)
    if there is None or sys.platform == "win32":
        folder.mkdir(exist_ok=True)
        return
    mode = stat.S_IMODE(there.st_mode) & 0o666 | 0o700
    folder.mkdir(mode | (mode & 0o444) >> 2, exist_ok=True)
    _given(folder, folder.stat(), there)


def _about(file: Path) -> os.stat_result | None:
    try:
        return file.stat()
    except OSError:
        return None


def _book_about(file: Path) -> os.stat_result | None:
    """Return what is known of the workbook.toml of the workbook that a file lies in, if any."""
    found = (_about(folder / BOOK_FILE) for folder in (*file.parents,)[:4])
    return next((about for about in found if about is not None), None)


class Stamp(NamedTuple):
    """What differs when a file was written to: its times (ns), its size and its number."""

    changed: int
    noted: int
    size: int
    number: int

    def is_of_old(self, now_ns: int) -> bool:
        """Tell whether a change that is yet to come is sure to give another stamp.

        Clocks of disks tick in steps of up to two seconds: within one, two changes look alike.
        """
        return now_ns - max(self.changed, self.noted) > TICK_NS


TICK_NS = 2_500_000_000


def stamp_of(about: os.stat_result) -> Stamp:
    """Return the stamp of a file."""
    return Stamp(about.st_mtime_ns, about.st_ctime_ns, about.st_size, about.st_ino)


def flush_folder(folder: Path) -> None:
    """Make a rename last through a power cut (where the system lets a folder be flushed)."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextlib.contextmanager
def disk_told(where: str, what: str, safe: str = "") -> Iterator[None]:
    """Raise BadInput when the disk fails (`disk_failed`). what: what could not be done, in words.

    safe: what is as it was, said after what to try.
    """
    try:
        yield
    except OSError as error:
        raise disk_failed(error, what, where=where, safe=safe) from None
