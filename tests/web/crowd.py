"""Callers who mean no good, from this machine alone: silent, slow, greedy, and gone at once."""

from __future__ import annotations

import asyncio
import base64
import itertools
import threading
from collections import Counter
from collections.abc import Callable, Coroutine
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

PAUSE_S = 0.02
"""Between two calls of one caller: so many at once need no more of a machine that tests share."""
SOCKET = (
    *("Upgrade: websocket", "Connection: Upgrade", "Sec-WebSocket-Version: 13"),
    f"Sec-WebSocket-Key: {base64.b64encode(bytes(16)).decode()}",
)
Ends = tuple[asyncio.StreamReader, asyncio.StreamWriter]


@dataclass(slots=True)
class Crowd:
    """Callers of one place, an address and a port.

    book: a workbook that is served there. pause: seconds between two calls of one caller.
    done: how often each kind called, was answered, or sent a byte.
    """

    place: tuple[str, int]
    host: str
    book: str = ""
    pause: float = PAUSE_S
    done: Counter[str] = field(default_factory=Counter)
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
                self.done["connected"] += 1
                try:
                    with suppress(OSError):
                        await way(ends)
                finally:
                    ends[1].transport.abort()
            await asyncio.sleep(self.pause)

    def _asking(self, method: str, path: str, *more: str) -> bytes:
        origin = f"Origin: http://{self.host}"
        head = (f"{method} {path} HTTP/1.1", f"Host: {self.host}", origin, *more)
        return "\r\n".join((*head, "", "")).encode()

    async def _answered(self, ends: Ends, kind: str, asking: bytes) -> bool:
        """Ask once; tell whether anything came."""
        ends[1].write(asking)
        came = bool(await ends[0].read(1 << 16))
        self.done[kind] += came
        return came

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
        ends[1].write(self._asking("POST", "/enter", "Content-Length: 90000") + b"key=")
        await ends[0].read()

    async def _listening(self, ends: Ends) -> None:
        """Open a websocket, and say nothing."""
        ends[1].write(self._asking("GET", f"/live/{self.book}", *SOCKET))
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
        while await self._answered(ends, "greedy", self._asking("GET", "/")):
            pass

    async def _guessing(self, ends: Ends) -> None:
        """Send wrong keys as fast as they are answered."""
        form = ("Content-Type: application/x-www-form-urlencoded", "Content-Length: 9")
        wrong = self._asking("POST", "/enter", *form) + b"key=wrong"
        while await self._answered(ends, "guessing", wrong):
            pass

    async def _anew(self, ends: Ends) -> None:
        """Ask for one page; the next is asked for by another connection."""
        await self._answered(ends, "anew", self._asking("GET", "/"))

    async def _gone(self, ends: Ends) -> None:
        """Hang up in the middle of a form."""
        ends[1].write(self._asking("POST", "/enter", "Content-Length: 90000") + b"key=")
        await ends[1].drain()
        self.done["gone"] += 1


SLOW = ("silent", "dripping", "owing", "listening", "deaf")
FAST = ("greedy", "guessing", "anew", "gone")
KINDS = (*SLOW, *FAST)
