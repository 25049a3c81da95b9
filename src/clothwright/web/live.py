"""What the server tells the pages: {revision, topic} events and progress, over one websocket each.

A message never carries the news itself, only that there is some: the page fetches the parts it
shows. So a message that is lost costs nothing but time, and a page that was away catches up by
comparing revisions.
"""

from __future__ import annotations

import asyncio
import contextlib
import threading
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, field

from starlette.websockets import WebSocket, WebSocketDisconnect

Message = Mapping[str, object]
MOST_WAITING = 200
"""Messages kept for a page that does not read; then it is dropped and comes back by itself."""


@dataclass(slots=True)
class Hub:
    """Who listens to which workbook. `tell` may be called from any thread."""

    _queues: dict[str, set[asyncio.Queue[Message | None]]] = field(default_factory=dict)
    _loop: asyncio.AbstractEventLoop | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def listened(self) -> tuple[str, ...]:
        """Return the workbooks somebody listens to."""
        with self._lock:
            return tuple(name for name, queues in self._queues.items() if queues)

    def tell(self, book: str, message: Message) -> None:
        """Send a message to every page of a workbook."""
        loop = self._loop
        if loop is None or loop.is_closed():
            return
        with contextlib.suppress(RuntimeError):  # the server is going down
            loop.call_soon_threadsafe(self._put, book, message)

    def _put(self, book: str, message: Message) -> None:
        with self._lock:
            queues = tuple(self._queues.get(book, ()))
        for queue in queues:
            if queue.qsize() >= MOST_WAITING:
                queue.put_nowait(None)
            else:
                queue.put_nowait(message)

    def join(self, book: str) -> asyncio.Queue[Message | None]:
        """Return a new queue of a workbook's messages; None in it means: hang up."""
        queue: asyncio.Queue[Message | None] = asyncio.Queue()
        with self._lock:
            self._loop = asyncio.get_running_loop()
            self._queues.setdefault(book, set()).add(queue)
        return queue

    def leave(self, book: str, queue: asyncio.Queue[Message | None]) -> None:
        """Forget a queue."""
        with self._lock:
            self._queues.get(book, set()).discard(queue)


async def listen(
    socket: WebSocket, hub: Hub, book: str, hello: Callable[[], Awaitable[Message]]
) -> None:
    """Serve one page's websocket until it goes. hello: the first message, asked after joining."""
    await socket.accept()
    queue = hub.join(book)
    reader = asyncio.create_task(_until_gone(socket))
    try:
        await socket.send_json(dict(await hello()))
        while not reader.done():
            getter = asyncio.create_task(queue.get())
            await asyncio.wait({getter, reader}, return_when=asyncio.FIRST_COMPLETED)
            if not getter.done():
                getter.cancel()
                break
            message = getter.result()
            if message is None:
                break
            await socket.send_json(dict(message))
    except (WebSocketDisconnect, RuntimeError):
        pass
    finally:
        hub.leave(book, queue)
        reader.cancel()
        with contextlib.suppress(asyncio.CancelledError, WebSocketDisconnect, RuntimeError):
            await reader
        with contextlib.suppress(WebSocketDisconnect, RuntimeError):
            await socket.close()


async def _until_gone(socket: WebSocket) -> None:
    """Read and ignore what a page sends (it has nothing to say here) until it is gone."""
    while (await socket.receive())["type"] != "websocket.disconnect":
        pass
