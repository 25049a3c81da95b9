"""Callers who mean no good, from this machine alone: silent, slow, greedy, and gone at once."""

from __future__ import annotations

import asyncio
import itertools
import threading
from collections import Counter
from collections.abc import Callable, Coroutine
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

PAUSE_S = 0.02
"""Between two calls of one caller: so many at once need no more of a machine that tests share."""
Ends = tuple[asyncio.StreamReader, asyncio.StreamWriter]


@dataclass(slots=True)
class Crowd:
    """Callers of one place, an address and a port. answered: how often each kind was."""

    place: tuple[str, int]
    host: str
    answered: Counter[str] = field(default_factory=Counter)
    _loop: asyncio.AbstractEventLoop = field(default_factory=asyncio.new_event_loop)
    _thread: threading.Thread | None = None

    def start(self, count: int, sources: tuple[str, ...], kinds: tuple[str, ...]) -> None:
        """Let so many come, their kinds and addresses in turn, and come again when thrown out."""
        ways = itertools.cycle(getattr(self, f"_{kind}") for kind in kinds)
        from_ = itertools.cycle(sources)

        async def all_() -> None:
            callers = [self._again(next(ways), next(from_)) for _ in range(count)]
            await asyncio.gather(*callers)

        def run() -> None:
            with suppress(asyncio.CancelledError):
                self._loop.run_until_complete(all_())

        self._thread = threading.Thread(target=run, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """Let all go."""

        def cancel() -> None:
            for task in asyncio.all_tasks(self._loop):
                task.cancel()

        self._loop.call_soon_threadsafe(cancel)
        if self._thread is not None:
            self._thread.join()
        self._loop.close()

    async def _again(self, way: Callable[[Ends], Coroutine[Any, Any, None]], source: str) -> None:
        while True:
            with suppress(OSError):
                ends = await asyncio.open_connection(*self.place, local_addr=(source, 0))
                try:
                    with suppress(OSError):
                        await way(ends)
                finally:
                    ends[1].transport.abort()
            await asyncio.sleep(PAUSE_S)

    def _asking(self, method: str, path: str, *more: str) -> bytes:
        return "\r\n".join(
            (f"{method} {path} HTTP/1.1", f"Host: {self.host}", *more, "", "")
        ).encode()

    async def _silent(self, ends: Ends) -> None:
        """Connect, and say nothing."""
        await ends[0].read()

    async def _dripping(self, ends: Ends) -> None:
        """Send a header that never ends."""
        ends[1].write(b"GET / HTTP/1.1\r\n")
        while not ends[0].at_eof():
            ends[1].write(b"x")
            await ends[1].drain()
            await asyncio.sleep(0.5)

    async def _owing(self, ends: Ends) -> None:
        """Promise a long form, and send its beginning."""
        origin = f"Origin: http://{self.host}"
        ends[1].write(self._asking("POST", "/enter", origin, "Content-Length: 90000") + b"key=")
        await ends[0].read()

    async def _deaf(self, ends: Ends) -> None:
        """Ask for much, and read nothing of it."""
        ends[1].transport.pause_reading()  # type: ignore[attr-defined]
        ends[1].write(self._asking("GET", "/static/css/page.css") * 100)
        while True:
            await ends[1].drain()
            await asyncio.sleep(0.5)

    async def _greedy(self, ends: Ends) -> None:
        """Ask for pages as fast as they come."""
        while True:
            ends[1].write(self._asking("GET", "/"))
            if not await ends[0].read(1 << 16):
                return
            self.answered["greedy"] += 1

    async def _gone(self, ends: Ends) -> None:
        """Hang up in the middle of a form."""
        origin = f"Origin: http://{self.host}"
        ends[1].write(self._asking("POST", "/enter", origin, "Content-Length: 90000") + b"key=")
        await ends[1].drain()


KINDS = ("silent", "dripping", "owing", "deaf", "greedy", "gone")
SLOW = ("silent", "dripping", "owing", "deaf")
