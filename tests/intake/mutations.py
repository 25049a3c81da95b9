"""Broken files, and a way to show that a reader answers each with a drawing or a sentence.

`damaged` makes any number of broken files out of whole ones; `outcomes` reads each and tells what
came of it. What a reader may never do is watched: raise anything but our own sentences, reach out
to a network, start a program, write a file, take more than `MOST_SECONDS` or `MOST_BYTES`.
"""

from __future__ import annotations

import contextlib
import random
import re
import resource
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from clothwright.errors import ClothwrightError

MOST_SECONDS = 10.0
"""Seconds of the processor that one file may take."""
MOST_BYTES = 1_000_000_000
_STATUS, _CLEAR = Path("/proc/self/status"), Path("/proc/self/clear_refs")
HUGE = (b"99999999999999999999", b"-1", b"0", b"2147483648", b"1e308", b"00000000000000000001")


class Broken(NamedTuple):
    """A broken file. how: what was done to it."""

    how: str
    data: bytes


class Outcome(NamedTuple):
    """What came of reading a file. said: the sentence, "" when it was read after all."""

    how: str
    said: str
    seconds: float


Damage = Callable[[bytearray, random.Random], bytes]


def damaged(seeds: Sequence[bytes], count: int, *, first: int = 0) -> Iterator[Broken]:
    """Yield broken files made of whole ones, the same for the same seeds and numbers."""
    names = tuple(DAMAGES)
    for number in range(first, first + count):
        rng = random.Random(number)
        name = names[number % len(names)]
        data = DAMAGES[name](bytearray(rng.choice(seeds)), rng)
        yield Broken(f"{name} {number}", data)


def _cut_off(data: bytearray, rng: random.Random) -> bytes:
    return bytes(data[: rng.randrange(len(data))])


def _bits(data: bytearray, rng: random.Random) -> bytes:
    for _ in range(rng.choice((1, 3, 10, 100))):
        data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
    return bytes(data)


def _hole(data: bytearray, rng: random.Random) -> bytes:
    at = rng.randrange(len(data))
    del data[at : at + rng.randrange(1, max(2, len(data) // 4))]
    return bytes(data)


def _zeros(data: bytearray, rng: random.Random) -> bytes:
    at, size = rng.randrange(len(data)), rng.randrange(1, max(2, len(data) // 8))
    data[at : at + size] = bytes(len(data[at : at + size]))
    return bytes(data)


def _twice(data: bytearray, rng: random.Random) -> bytes:
    at = rng.randrange(len(data))
    part = data[at : at + rng.randrange(1, max(2, len(data) // 4))]
    to = rng.randrange(len(data))
    return bytes(data[:to] + part * rng.choice((1, 2, 50)) + data[to:])


def _numbers(data: bytearray, rng: random.Random) -> bytes:
    places = [m.span() for m in re.finditer(rb"(?<![\w.])\d+(?:\.\d+)?(?![\w.])", bytes(data))]
    for start, end in sorted(rng.sample(places, min(len(places), rng.choice((1, 2, 5)))))[::-1]:
        data[start:end] = rng.choice(HUGE)
    return bytes(data)


def _words(data: bytearray, rng: random.Random) -> bytes:
    places = [m.span() for m in re.finditer(rb"[A-Za-z]{2,}", bytes(data))]
    names = [bytes(data[a:b]) for a, b in places]
    for start, end in sorted(rng.sample(places, min(len(places), rng.choice((1, 2, 5)))))[::-1]:
        data[start:end] = rng.choice(names)
    return bytes(data)


DAMAGES: dict[str, Damage] = {
    "cut off": _cut_off,
    "bits turned": _bits,
    "a part missing": _hole,
    "zeros": _zeros,
    "a part twice": _twice,
    "other numbers": _numbers,
    "other words": _words,
}


class _Watch:
    """Sees what Python code opens for writing, connects to or starts, by its audit events."""

    EVENTS = ("socket.", "subprocess.", "os.exec", "os.system", "os.posix_spawn", "os.mkdir")
    CHANGES = ("os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.truncate")

    def __init__(self) -> None:
        self.on = False
        self.seen: list[str] = []

    def __call__(self, event: str, details: tuple[Any, ...]) -> None:
        if not self.on:
            return
        if event.startswith(self.EVENTS + self.CHANGES):
            self.seen.append(event)
        elif event == "open" and len(details) == 3:
            mode, flags = details[1], details[2]
            writing = isinstance(mode, str) and any(c in mode for c in "wax+")
            if writing or (isinstance(flags, int) and flags & 0o3):
                self.seen.append(f"open {details[0]}")


_WATCH: list[_Watch] = []


def _watch() -> _Watch:
    """One watch for the whole process: an audit hook cannot be taken away again."""
    if not _WATCH:
        _WATCH.append(_Watch())
        sys.addaudithook(_WATCH[0])
    return _WATCH[0]


def outcomes(
    read: Callable[[bytes, str], object], broken: Sequence[Broken], name: str
) -> tuple[Outcome, ...]:
    """Read every broken file. Raises AssertionError that names the file a reader fails on.

    read: from bytes and a name to anything. name: what the files are called, with its ending.
    """
    watch, found = _watch(), []
    for each in broken:
        _forget_most()
        before = _most_memory()
        watch.seen, watch.on = [], True
        start = time.process_time()
        try:
            read(each.data, name)
            said = ""
        except ClothwrightError as error:
            said = str(error)
            assert said.strip(), f"{each.how}: an empty sentence"
            assert "Traceback" not in said, f"{each.how}: {said}"
            assert "\n" not in said.strip(), f"{each.how}: more than a sentence: {said}"
        except Exception as error:
            raise AssertionError(f"{each.how}: {type(error).__name__}: {error}") from error
        finally:
            watch.on = False
        seconds = time.process_time() - start
        assert seconds < MOST_SECONDS, f"{each.how}: took {seconds:.1f} s"
        assert not watch.seen, f"{each.how}: did what no reader may: {watch.seen}"
        grown = _most_memory() - before
        assert grown < MOST_BYTES, f"{each.how}: {grown / 1e6:.0f} MB more in use"
        found.append(Outcome(each.how, said, seconds))
    return tuple(found)


def _most_memory() -> int:
    """The most memory this process has used since `_forget_most`, in bytes."""
    for line in _STATUS.read_text().splitlines() if _STATUS.exists() else ():
        if line.startswith("VmHWM:"):
            return int(line.split()[1]) * 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def _forget_most() -> None:
    """Let the most memory be counted anew, where the system can (Linux; see proc(5))."""
    with contextlib.suppress(OSError):
        _CLEAR.write_text("5")
