"""A disk of its own that can be filled up, and somebody who may not write."""

from __future__ import annotations

import contextlib
import ctypes
import os
from collections.abc import Iterator
from pathlib import Path

LEAVE_AT_ONCE = 2
"""umount2: taken out of the tree now, though a file in it may be open (MNT_DETACH)."""
NOBODY = 65534


def mount(place: Path, size: int) -> bool:
    """Mount a memory disk of so many bytes on a folder; tell whether the system lets us."""
    place.mkdir(exist_ok=True)
    if not hasattr(os, "geteuid") or os.geteuid() != 0:
        return False
    with contextlib.suppress(OSError, AttributeError):
        libc = ctypes.CDLL(None, use_errno=True)
        said = f"size={size},mode=755".encode()
        return libc.mount(b"none", bytes(place), b"tmpfs", 0, said) == 0
    return False


def unmount(place: Path) -> None:
    """Take a mounted disk away, with all that is on it."""
    ctypes.CDLL(None).umount2(bytes(place), LEAVE_AT_ONCE)


@contextlib.contextmanager
def filled(place: Path, free: int) -> Iterator[None]:
    """Leave so many bytes free on a disk, at most, while inside."""
    ballast = place / "ballast"
    about = os.statvfs(place)
    with ballast.open("wb") as out:
        left = about.f_bavail * about.f_frsize - free
        while left > 0:
            left -= out.write(b"\0" * min(left, 65536))
    try:
        yield
    finally:
        ballast.unlink()


@contextlib.contextmanager
def as_nobody() -> Iterator[None]:
    """Be somebody who may write only what all may; root becomes nobody meanwhile."""
    if os.geteuid() != 0:
        yield
        return
    groups = os.getgroups()
    os.setgroups([])
    os.setegid(NOBODY)
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)
        os.setegid(0)
        os.setgroups(groups)
