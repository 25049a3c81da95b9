"""What a file can make of who reads it, planted: called in the process that reads files."""

from __future__ import annotations

import faulthandler
import os
import time
from pathlib import Path
from typing import Any


def loops(*_args: Any) -> None:
    """Never come to an end, and keep the interpreter."""
    while True:
        pass


def says_and_loops(file: Path) -> None:
    """Say which process this is, then never come to an end."""
    write_whole(file, str(os.getpid()))
    loops()


def write_whole(file: Path, text: str) -> None:
    """Write a file so that it is there all at once."""
    part = file.with_suffix(".part")
    part.write_text(text)
    part.rename(file)


def sleeps(*_args: Any) -> None:
    """Wait for what does not come."""
    time.sleep(1e6)


def eats(*_args: Any) -> None:
    """Take memory without end."""
    kept = []
    while True:
        kept.append(bytearray(10_000_000))


def eats_at_once() -> None:
    """Take much memory in one piece."""
    bytearray(1_000_000_000)


def takes(megabytes: int) -> int:
    """Take so much memory, and give it back."""
    return len(bytearray(megabytes * 1_000_000))


def gives_back(megabytes: int) -> bytes:
    """Give back so much."""
    return bytes(megabytes * 1_000_000)


def writes(file: Path) -> None:
    """Write a file without end."""
    with file.open("wb") as out:
        while True:
            out.write(bytes(1_000_000))


def dies() -> None:
    """Fall, as a library does over a damaged file, without a word of the tests' own."""
    faulthandler.disable()
    os.abort()


def slips() -> None:
    """Meet what nobody has foreseen."""
    {}["nothing"]


def loops_over(one: Any, *_args: Any) -> None:
    """Read a waiting drawing without end; which process does so stands beside the workbook."""
    says_and_loops(one.stored.parents[2] / "reading")


def loops_here(*_args: Any) -> None:
    """Read without end; which process does so stands in the folder one is in."""
    says_and_loops(Path("reading"))


LOADED = ""


def loaded() -> str:
    """Return what was said of this module in the process that runs this."""
    return LOADED
