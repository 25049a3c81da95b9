"""One page's long computing holds up nobody else: no lock is held for it, no loop waits for it."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

import pytest

from clothwright.workroom.editing import opened
from tests.web.conftest import Desk

MOST_S = 30.0
"""Seconds after which what was held goes on, so that a test that fails also ends."""
PIECES = "/b/coat-and-skirt/pieces"


@dataclass
class Held:
    """A computation planted where every page of the pieces needs it. page: who asked for it."""

    began: threading.Event
    gate: threading.Event
    times: list[int]
    page: Future[Any]
    others: ThreadPoolExecutor


@pytest.fixture
def held(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> Iterator[Held]:
    """A page that is being computed and will not be done before the gate is opened."""
    began, gate, times = threading.Event(), threading.Event(), [0]
    real = opened.replay

    def long(*args: Any, **more: Any) -> Any:
        times[0] += 1
        began.set()
        gate.wait(MOST_S)
        return real(*args, **more)

    monkeypatch.setattr(opened, "replay", long)
    with ThreadPoolExecutor(4) as others:
        page = others.submit(desk.client.get, PIECES)
        assert began.wait(MOST_S)
        yield Held(began=began, gate=gate, times=times, page=page, others=others)
        gate.set()


def test_files_and_other_pages_are_answered_meanwhile(desk: Desk, held: Held) -> None:
    """A static file, a second page's socket and the start page come before the first page does."""
    with desk.listen() as socket:
        assert socket.receive_json()["kind"] == "hello"
        for path in ("/static/js/main.js", "/static/css/tokens.css", "/b/coat-and-skirt/length"):
            answer = held.others.submit(desk.client.get, path, params={"text": "1 in"}).result()
            assert answer.status_code == 200
        assert not held.gate.is_set()
        assert not held.page.done()


def test_who_asks_for_the_same_waits_and_it_is_made_once(desk: Desk, held: Held) -> None:
    """Two pages that need it get one and the same computation."""
    second = held.others.submit(desk.client.get, PIECES)
    with desk.listen() as socket:
        socket.receive_json()
    held.gate.set()
    assert held.page.result(MOST_S).status_code == 200
    assert second.result(MOST_S).status_code == 200
    assert held.times == [1]


def test_what_failed_is_not_kept(desk: Desk) -> None:
    """A computation that raised is tried again by the next who asks, and its error is told."""
    book = desk.room.book("coat-and-skirt")
    at = book.read().revision

    def fails() -> int:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        book.once("figure", at, fails)
    assert book.once("figure", at, lambda: 7) == 7
    assert book.once("figure", at, lambda: 8) == 7
    assert book.once("figure", at, lambda: 9, of="other cloth") == 9
