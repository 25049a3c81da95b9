"""Starting the server: its sockets, its addresses, its end."""

from __future__ import annotations

import asyncio
import logging
import secrets
import socket
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import uvicorn

from clothwright.errors import BadInput, CannotDo
from clothwright.web.app import make_app
from clothwright.web.callers import Callers
from clothwright.web.keys import Keys
from clothwright.web.room import Room
from clothwright.workroom.editing.opened import root_of

HERE = "127.0.0.1"
FIRST_PORT = 8377
"""Tried first, so that a page left open finds its server again after a restart."""
TURN_S = 0.0001
"""How long a thread that computes keeps the interpreter while the loop waits for it, in seconds. An
answer asks for it some fifteen times, so that Python's own 0.005 makes a file wait 80 ms."""
WAITING, TAKEN = 1024, 4
"""Connections that may wait to be taken, and are taken in one turn of the loop. Where more come the
system lets them try again, after a second, so that all who may come at once have to have room."""
NOWHERE = ("192.0.2.1", 9)
"""An address kept free for documents (RFC 5737): asking for the way to it sends nothing."""


class Server(uvicorn.Server):
    """A server at which more may wait than are taken at once."""

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to listen: asyncio has one number (TAKEN) for both."""
        await super().startup(sockets)
        for it in sockets or ():
            it.listen(WAITING)


@dataclass(slots=True)
class Served:
    """A server that is about to run. address: what the browser on this machine opens."""

    room: Room
    keys: Keys
    callers: Callers
    port: int
    house: str
    server: uvicorn.Server
    sockets: list[socket.socket]
    _thread: threading.Thread | None = field(default=None)

    @property
    def address(self) -> str:
        """Its address on this machine."""
        return f"http://{HERE}:{self.port}"

    def run(self) -> None:
        """Serve until Ctrl-C, or until `stop`; what computes beside it gives way often (TURN_S)."""
        sys.setswitchinterval(TURN_S)
        logging.getLogger("uvicorn.error").addFilter(_is_news)
        self.server.run(sockets=self.sockets)

    def start(self) -> None:
        """Serve in a thread of its own; return when it answers."""
        self._thread = threading.Thread(target=self.run, daemon=True)
        self._thread.start()
        until = time.monotonic() + 10
        while not self.server.started and time.monotonic() < until:
            time.sleep(0.01)

    def stop(self) -> None:
        """End it and wait."""
        self.server.should_exit = True
        if self._thread is not None:
            self._thread.join(timeout=10)


def _is_news(record: logging.LogRecord) -> bool:
    """Tell whether what uvicorn says is a fault; a request that the end cut off is none."""
    error = record.exc_info[1] if record.exc_info else None
    return not (isinstance(error, asyncio.CancelledError) or "running task(s)" in record.msg)


def house_address() -> str:
    """Return this machine's address in the house network. Raises CannotDo when it has none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(NOWHERE)
            found = str(probe.getsockname()[0])
        except OSError:
            found = ""
    if not found or found.startswith("127."):
        raise CannotDo(
            what="the page cannot be shared",
            why="this machine is on no network",
            nearest="to join the house network, or to leave --share out",
        )
    return found


def prepare(
    folder: Path,
    *,
    port: int = 0,
    share: bool = False,
    whole: bool | None = None,
    now: Callable[[], float] = time.monotonic,
) -> Served:
    """Take a port and make everything ready. Raises BadInput, CannotDo.

    folder: a workbook, or a folder of them. port: 0 takes FIRST_PORT or any free one. share: serve
    the house network as well. whole: all of the folder; None decides by what the folder is.
    """
    root, only = root_of(folder, whole)
    room = Room(root=root, only=only, run=secrets.token_hex(4))
    house = house_address() if share else ""
    first, taken = _bound(HERE, port)
    sockets = [first]
    if house:
        sockets.append(_bound(house, taken, exact=True)[0])
        room.shared_at = f"http://{house}:{taken}"
    names = (HERE, "localhost", *((house,) if house else ()))
    keys = Keys(now=now)
    app = make_app(room, hosts=frozenset(f"{n}:{taken}" for n in names), keys=keys)
    callers = Callers(house=house, now=now)
    config = uvicorn.Config(
        app,
        log_level="error",
        access_log=False,
        proxy_headers=False,
        server_header=False,
        backlog=TAKEN,
        ws_max_size=1_000,
        timeout_graceful_shutdown=1,
        **callers.protocols(),
    )
    return Served(
        room=room,
        keys=keys,
        callers=callers,
        port=taken,
        house=house,
        server=Server(config),
        sockets=sockets,
    )


def _bound(host: str, port: int, *, exact: bool = False) -> tuple[socket.socket, int]:
    """Return a listening socket and its port. Raises BadInput when the wanted one is taken."""
    for wanted in (port,) if port or exact else (FIRST_PORT, 0):
        # named as TCP, so that asyncio sends small answers at once: else each waits 40 ms (Nagle)
        it = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        it.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            it.bind((host, wanted))
            it.listen(WAITING)
        except OSError:
            it.close()
            continue
        return it, int(it.getsockname()[1])
    raise BadInput(
        where="--port",
        what=f"port {port} of {host} is taken by another program, or not allowed",
        expected="a free one from 1024 to 65535",
        try_="again without --port",
    )
