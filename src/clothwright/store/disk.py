"""Files written whole or not at all, and a disk that fails told in words."""

from __future__ import annotations

import contextlib
import os
import re
from collections.abc import Iterator
from pathlib import Path

from clothwright.errors import BadInput

DRAFT = re.compile(r"\..+\.[0-9]+\.part")
"""The names of drafts: a dot, the file's name, the number of the process, .part."""


def write_whole(file: Path, data: bytes) -> None:
    """Write a file so that it is there whole or not at all, whatever happens. Raises OSError."""
    file.parent.mkdir(parents=True, exist_ok=True)
    draft = file.with_name(f".{file.name}.{os.getpid()}.part")
    with draft.open("wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    draft.replace(file)
    flush_folder(file.parent)


def flush_folder(folder: Path) -> None:
    """Make a rename last through a power cut (where the system lets a folder be flushed)."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextlib.contextmanager
def disk_told(where: str, what: str, try_: str = "again when there is room") -> Iterator[None]:
    """Raise BadInput instead when the disk fails. what: what could not be done, in words."""
    try:
        yield
    except OSError as error:
        raise BadInput(
            where=where,
            what=f"{what} ({error.strerror or error})",
            expected="a disk that can be written to",
            try_=try_,
        ) from None
