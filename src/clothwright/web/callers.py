"""Who is connected: how many at once, from where, and how slowly anybody may send or read.

The two sockets have limits of their own, so that what others in the house do never shuts the owner
out, and nobody is refused while others only keep a connection open: at a limit the one with the
least time left to send its request makes room. uvicorn itself limits neither how long a request is
being sent (`timeout_keep_alive` counts between requests alone) nor how long an answer is not read.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Any, NamedTuple

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol
from uvicorn.protocols.websockets.websockets_sansio_impl import WebSocketsSansIOProtocol

from clothwright.web.turns import AnswerTurn

PATIENCE_S = 15.0
"""A request has this long to arrive, and an answer to be read; more where it is long."""
LEAST_RATE = 10_000
"""Bytes a second that are slow enough for any device that is still there."""
LOOK_S = 1.0
"""How often it is looked who has been too slow."""


class Limits(NamedTuple):
    """How many may be connected at once: to a socket in all, and from one address."""

    most: int
    by_address: int


OWN, HOUSE = Limits(400, 400), Limits(100, 24)
"""Of the machine itself (a page holds up to seven), and of the house network."""


@dataclass(slots=True, eq=False)
class Call:
    """A connection. since: when its request was first waited for; received: its bytes since then.

    waits: True while a request of it is not wholly here. unsent: bytes that were last seen waiting
    to be read, since `unread`. turn: that of its request; asked: how many requests it has sent.
    Times are in seconds of the clock of `Callers`.
    """

    transport: asyncio.Transport
    limits: Limits
    address: str
    since: float
    received: int = 0
    waits: bool = True
    unsent: int = 0
    unread: float = 0.0
    turn: AnswerTurn | None = None
    asked: int = 0

    @property
    def until(self) -> float:
        """By when the request has to be here, in seconds of the clock."""
        return self.since + PATIENCE_S + self.received / LEAST_RATE

    def is_slow(self, now: float) -> bool:
        """Tell whether it sends or reads too slowly; now: seconds. Asked every LOOK_S."""
        size = self.transport.get_write_buffer_size()
        if not size or size <= self.unsent - PATIENCE_S * LEAST_RATE or not self.unsent:
            self.unsent, self.unread = size, now
        self.unsent = max(self.unsent, size)
        return (self.waits and now > self.until) or now > self.unread + PATIENCE_S


@dataclass(slots=True)
class Callers:
    """Everybody who is connected. house: the address of the socket with the limits of the house."""

    house: str = ""
    now: Callable[[], float] = time.monotonic
    calls: dict[asyncio.Transport, Call] = field(default_factory=dict)
    _looking: bool = False

    def take(self, transport: asyncio.Transport) -> Call:
        """Note a new connection. At a limit another one makes room, or it is ended itself."""
        own, caller = (transport.get_extra_info(name) for name in ("sockname", "peername"))
        limits = HOUSE if own and own[0] == self.house else OWN
        call = Call(transport, limits, caller[0] if caller else "", self.now())
        beside = [one for one in self.calls.values() if one.limits is limits]
        same = [one for one in beside if one.address == call.address]
        self.calls[transport] = call
        for most, among in ((limits.by_address, same), (limits.most, beside)):
            if len(among) >= most:
                waiting = (one for one in among if one.waits)
                self.end(min(waiting, key=lambda one: one.until, default=call))
                break
        if not self._looking:
            self._looking = True
            asyncio.get_running_loop().call_later(LOOK_S, self._look)
        return call

    def end(self, call: Call) -> None:
        """Hang up at once, without waiting for what was not read yet."""
        self.calls.pop(call.transport, None)
        call.transport.abort()

    def forget(self, call: Call) -> None:
        """Forget a connection that is no more; nothing is computed for it that is not begun."""
        self.calls.pop(call.transport, None)
        if call.turn is not None:
            call.turn.drop()

    def _look(self) -> None:
        """End who is too slow, and look again while anybody is connected."""
        now = self.now()
        for call in tuple(self.calls.values()):
            if call.is_slow(now):
                self.end(call)
        self._looking = bool(self.calls)
        if self._looking:
            asyncio.get_running_loop().call_later(LOOK_S, self._look)

    def protocols(self) -> dict[str, Any]:
        """Return uvicorn's settings for the two protocols, as they are spoken to these callers."""
        return {"http": partial(Caller, self), "ws": partial(Listener, self)}


class Caller(H11Protocol):
    """A connection that sends requests."""

    def __init__(self, callers: Callers, **more: Any) -> None:
        """Speak to a connection that is one of `callers`; the rest is uvicorn's."""
        super().__init__(**more)
        self._callers = callers
        self._call: Call

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take the connection, within the limits."""
        super().connection_made(transport)
        self._call = self._callers.take(transport)
        self.app_state = {**self.app_state, CALL: self._call}

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget the connection."""
        super().connection_lost(exc)
        self._callers.forget(self.app_state[CALL])

    def data_received(self, data: bytes) -> None:
        """Take what was sent, and note how much."""
        self._call.received += len(data)
        super().data_received(data)
        self._note()

    def on_response_complete(self) -> None:
        """Wait for the next request, unless this one is answered before it was all here."""
        if self.conn.their_state not in RECEIVING:
            self._call.since, self._call.received = self._callers.now(), 0
        super().on_response_complete()
        self._note()

    def handle_websocket_upgrade(self, event: h11.Request) -> None:
        """Speak as a websocket from now on."""
        super().handle_websocket_upgrade(event)
        self._note()

    def resume_writing(self) -> None:
        """Note that what was sent is being read."""
        self._call.unsent = 0
        super().resume_writing()

    def _note(self) -> None:
        speaks = self.transport.get_protocol() is self
        self._call.waits = speaks and self.conn.their_state in RECEIVING


CALL = "clothwright.call"
"""What a request calls its connection in the state that uvicorn hands on."""
RECEIVING = (h11.IDLE, h11.SEND_BODY)
"""What a caller is doing while its request is not wholly here."""


class Listener(WebSocketsSansIOProtocol):
    """A connection that has become a websocket, still the same call. Our pages only listen."""

    def __init__(self, callers: Callers, **more: Any) -> None:
        """Speak to a connection that is one of `callers`; the rest is uvicorn's."""
        super().__init__(**more)
        self._callers = callers

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget the connection."""
        super().connection_lost(exc)
        self._callers.forget(self.app_state[CALL])

    def send_receive_event_to_app(self) -> None:
        """Hang up on one that talks."""
        self.transport.abort()
