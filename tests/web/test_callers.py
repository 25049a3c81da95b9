"""Who is connected, how many and how slowly: none shuts the owner out, hanging up is no news."""

from __future__ import annotations

import asyncio
import base64
import select
import socket
import struct
import threading
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from clothwright.web import guard, serve
from clothwright.web.callers import HOUSE, LEAST_RATE, OWN, PATIENCE_S, Caller, Callers
from clothwright.web.keys import A_SECOND, AT_ONCE, MOST_ADDRESSES, Keys
from clothwright.web.serve import HERE, Served
from tests.web.conftest import demo_at, until
from tests.web.crowd import KINDS, SLOW, Crowd

IN_HOUSE = "127.0.0.2"
"""Stands in for the address of the house; what comes from another than HERE needs a key."""
OTHERS = tuple(f"127.0.1.{n}" for n in range(1, 7))
MANY = 300


@pytest.fixture
def clock() -> list[float]:
    """The seconds of the server's clock."""
    return [1000.0]


@pytest.fixture
def shared(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, clock: list[float]) -> Iterator[Served]:
    """A demo served on this machine and in a house."""
    demo_at(tmp_path, "remnant")
    monkeypatch.setattr(serve, "house_address", lambda: IN_HOUSE)
    monkeypatch.setattr(guard, "is_local", lambda scope: guard.address_of(scope) == HERE)
    served = serve.prepare(tmp_path, share=True, now=lambda: clock[0])
    served.start()
    try:
        yield served
    finally:
        served.stop()


def asked(served: Served, path: str, method: str = "GET", *more: str, host: str = HERE) -> bytes:
    """Return a request as it is sent."""
    origin = f"Origin: http://{host}:{served.port}"
    head = (f"{method} {path} HTTP/1.1", f"Host: {host}:{served.port}", origin, *more)
    return "\r\n".join((*head, "", "")).encode()


def call(served: Served, sent: bytes = b"", to: str = HERE, source: str = "") -> socket.socket:
    """Connect, and send something."""
    it = socket.create_connection((to, served.port), source_address=(source, 0) if source else None)
    it.settimeout(60)
    it.sendall(sent)
    return it


def hung_up(it: socket.socket) -> bool:
    """Wait until the other end hangs up."""
    try:
        while it.recv(1 << 16):
            pass
    except ConnectionError:
        pass
    return True


def held(served: Served, *limits: object) -> int:
    """Return how many connections are held under some limits."""
    return sum(call_.limits in limits for call_ in tuple(served.callers.calls.values()))


def page(served: Served) -> int:
    """Fetch a page as the owner does; return its status."""
    url = f"{served.address}/b/remnant/pieces"
    with urllib.request.urlopen(url, timeout=600) as answer:
        answer.read()
        return int(answer.status)


@pytest.mark.parametrize(
    ("to", "sources", "kinds"),
    [(IN_HOUSE, OTHERS, KINDS), (IN_HOUSE, OTHERS[:1], KINDS), (HERE, (HERE,), SLOW)],
    ids=["house", "one device", "this machine"],
)
def test_the_owner_is_served_beside_a_crowd(
    shared: Served, capfd, to: str, sources: tuple[str, ...], kinds: tuple[str, ...]
) -> None:
    """Beside 300 who are silent, slow, greedy or gone, every page is there, and nothing is said."""
    limits = HOUSE if to == IN_HOUSE else OWN
    most = limits.most if len(sources) > 1 else limits.by_address
    crowd = Crowd(place=(to, shared.port), host=f"{to}:{shared.port}", book="remnant")
    crowd.start(MANY, sources, kinds)
    try:
        until(lambda: held(shared, limits) >= min(most, MANY) * 0.5)
        for _ in range(10):
            assert page(shared) == 200
            until(lambda: held(shared, limits) <= most)  # one more while another makes room for it
    finally:
        crowd.stop()
    shared.stop()
    assert capfd.readouterr().err == ""


def test_so_many_may_wait_to_be_taken(shared: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """While the loop is busy all who may be connected come in; none is sent away for a second."""
    goes_on = threading.Event()
    monkeypatch.setattr(Callers, "take", lambda *_: goes_on.wait(60))
    with ExitStack() as all_:
        coming = []
        for _ in range(OWN.most):
            it = all_.enter_context(socket.socket())
            it.setblocking(False)
            it.connect_ex((HERE, shared.port))
            coming.append(it)
        try:
            for it in coming:
                assert select.select([], [it], [], 20)[1], "one was sent away"
        finally:
            monkeypatch.undo()
            goes_on.set()


def test_who_waits_longest_makes_room(shared: Served) -> None:
    """A device in the house is let in beside others that only keep their connections open."""
    with ExitStack() as all_:
        first = [
            all_.enter_context(call(shared, to=IN_HOUSE, source=OTHERS[0]))
            for _ in range(HOUSE.by_address)
        ]
        until(lambda: held(shared, HOUSE) == HOUSE.by_address)
        one_more = asked(shared, "/enter", "GET", host=IN_HOUSE)
        late = all_.enter_context(call(shared, one_more, IN_HOUSE, OTHERS[0]))
        assert late.recv(15) == b"HTTP/1.1 200 OK"
        assert hung_up(first[0])
        other = all_.enter_context(call(shared, one_more, IN_HOUSE, OTHERS[1]))
        assert other.recv(15) == b"HTTP/1.1 200 OK"
        assert held(shared, HOUSE) == HOUSE.by_address + 1


@pytest.mark.parametrize(
    "sent",
    [b"", b"GET / HTTP/1.1\r\nHo", b"form", b"refused"],
    ids=["silence", "half a header", "half a form", "refused, and still sending"],
)
def test_a_request_has_its_time(shared: Served, clock: list[float], sent: bytes) -> None:
    """One that does not come to its end is hung up on; one that comes along quickly is not."""
    if sent in (b"form", b"refused"):
        host = IN_HOUSE if sent == b"form" else "elsewhere"
        sent = asked(shared, "/enter", "POST", "Content-Length: 90000", host=host) + b"k"
    with call(shared, sent, IN_HOUSE, OTHERS[0]) as slow, call(shared) as long:
        until(lambda: held(shared, HOUSE, OWN) == 2)
        book = asked(shared, "/b/remnant/edit", "POST", "Content-Length: 99999")
        long.sendall(book + b" " * 3 * LEAST_RATE)
        until(lambda: max(call_.received for call_ in shared.callers.calls.values()) > LEAST_RATE)
        clock[0] += PATIENCE_S + 1
        assert hung_up(slow)
        long.sendall(b" " * (99999 - 3 * LEAST_RATE))
        assert long.recv(12) == b"HTTP/1.1 400"


def test_an_answer_is_read_or_dropped(shared: Served, clock: list[float]) -> None:
    """Who asks for much and reads none of it is hung up on; who listens for long is not."""
    key = base64.b64encode(bytes(16)).decode()
    upgrade = ("Upgrade: websocket", "Connection: Upgrade", f"Sec-WebSocket-Key: {key}")
    live = asked(shared, "/live/remnant", "GET", *upgrade, "Sec-WebSocket-Version: 13")
    with call(shared) as deaf, call(shared, live) as listening:
        deaf.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        deaf.sendall(asked(shared, "/static/css/page.css") * 600)
        assert listening.recv(12) == b"HTTP/1.1 101"
        until(lambda: any(call_.unsent for call_ in tuple(shared.callers.calls.values())))
        clock[0] += PATIENCE_S + 1
        until(lambda: held(shared, OWN) == 1)
        clock[0] += 10 * PATIENCE_S
        shared.room.hub.tell("remnant", {"kind": "test"})
        said = b""
        while b"test" not in said:
            said += listening.recv(1000)


def test_who_talks_on_a_websocket_is_hung_up_on(shared: Served, capfd) -> None:
    """Our pages only listen: text, bytes, no text at all, and it is over, without a word."""
    key = base64.b64encode(bytes(16)).decode()
    upgrade = ("Upgrade: websocket", "Connection: Upgrade", f"Sec-WebSocket-Key: {key}")
    live = asked(shared, "/live/remnant", "GET", *upgrade, "Sec-WebSocket-Version: 13")
    for kind in (0x81, 0x82, 0x85):
        with call(shared, live) as it:
            assert it.recv(12) == b"HTTP/1.1 101"
            it.sendall(bytes([kind, 0x82, 0, 0, 0, 0, 0xFF, 0xFE]))
            assert hung_up(it)
    until(lambda: not shared.callers.calls)
    shared.stop()
    assert capfd.readouterr().err == ""


@pytest.mark.parametrize("reset", [True, False])
def test_who_hangs_up_is_no_news(
    shared: Served, capfd, monkeypatch: pytest.MonkeyPatch, reset: bool
) -> None:
    """In the middle of anything: nothing is printed, and the next is served."""
    heard: list[int] = []
    taken, received = Caller.connection_made, Caller.data_received

    def take(caller: Caller, transport: asyncio.Transport) -> None:
        taken(caller, transport)
        heard.append(0)

    def hear(caller: Caller, data: bytes) -> None:
        received(caller, data)
        heard.append(len(data))

    monkeypatch.setattr(Caller, "connection_made", take)
    monkeypatch.setattr(Caller, "data_received", hear)
    form = asked(shared, "/b/remnant/edit", "POST", "Content-Length: 900")
    chunks = asked(shared, "/b/remnant/edit", "POST", "Transfer-Encoding: chunked")
    for sent in (
        *(b"", b"GET / HT", form, form + b"{", chunks + b"5\r\nab", chunks + b"no\r\n\r\n"),
        asked(shared, "/b/remnant/edit", "POST", "Content-Length: 9", "Expect: 100-continue"),
        *(asked(shared, "/b/remnant/pieces"), asked(shared, "/static/js/main.js") * 30),
        *(b"\x16\x03\x01\x02\x00" * 9, asked(shared, "/", "GET", "X: " + "x" * 90_000)),
        asked(shared, "/", "GET", "Connection: Upgrade", "Upgrade: h2c"),
    ):
        with call(shared, sent) as it:
            until(lambda all_=1 + bool(sent): len(heard) >= all_)
            if reset:
                it.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        until(lambda: not shared.callers.calls)
        heard.clear()
    assert page(shared) == 200
    shared.stop()
    assert capfd.readouterr().err == ""


def test_the_end_cuts_off_what_waits_without_a_word(shared: Served, capfd) -> None:
    """A request that still waits when the server ends is no fault either."""
    form = asked(shared, "/b/remnant/edit", "POST", "Content-Length: 900")
    with call(shared, form), call(shared, b"GET"), call(shared):
        until(lambda: len(shared.callers.calls) == 3)
        until(lambda: len(shared.server.server_state.tasks) == 1)
        shared.stop()
    assert capfd.readouterr().err == ""


def test_who_has_no_key_is_answered_at_a_pace() -> None:
    """By address: some at once, then so many a second, and at once again after a rest."""
    clock = [0.0]
    keys = Keys(now=lambda: clock[0])
    assert [keys.paced("a") for _ in range(AT_ONCE)] == [0.0] * AT_ONCE
    assert keys.paced("a") == pytest.approx(1 / A_SECOND)
    assert keys.paced("a") == pytest.approx(2 / A_SECOND)
    assert keys.paced("b") == 0.0
    clock[0] = 60.0
    assert keys.paced("a") == 0.0
    for n in range(2 * MOST_ADDRESSES):
        keys.paced(f"address {n}")
    assert len(keys._asked) == MOST_ADDRESSES
