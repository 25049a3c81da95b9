"""A file that takes too long, or too much, is read beside the pages and ended; they go on."""

from __future__ import annotations

import http.client
import socket
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest

from clothwright.store import load
from clothwright.web import serve
from clothwright.workroom.apart import asking
from clothwright.workroom.cloth import photos
from clothwright.workroom.pieces import inbox, sitting
from tests.web.conftest import LAPTOP, PHONE, Desk, PageOn, demo_at, until
from tests.web.intake_demo import bare, demo_piece
from tests.workroom.apart import planted
from tests.workroom.apart.test_apart import wait_for, wait_until_gone

BOOK = "/b/coat-and-skirt"
DATA = bare(demo_piece("skirt front"))
HTML, JSON = {"accept": "text/html"}, {"accept": "application/json"}


@pytest.fixture(autouse=True)
def nothing_known() -> Iterator[None]:
    """Nothing that could not be read is known to the next test."""
    yield
    asking._unread.clear()


def test_a_file_that_never_ends_stays_with_a_sentence(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It waits in the inbox and is said there; no page reads it anew, and it can be thrown away."""
    before = load(desk.folder / "coat-and-skirt")
    with monkeypatch.context() as patch:
        patch.setattr(asking, "SECONDS", 0.3)
        patch.setattr(sitting, "_looked", planted.loops_over)
        sent = desk.post(f"{BOOK}/add/file?name=front.svg", content=DATA, headers=JSON)
        assert sent.status_code == 200, sent.text
        reading = desk.folder / "coat-and-skirt" / "reading"
        reading.unlink()
        shown = desk.client.get(sent.json()["address"], headers=HTML)
    assert not reading.exists()
    assert shown.status_code == 200
    assert "front.svg: it takes more than 10 seconds to read; try" in shown.text
    assert "Throw the file away" in shown.text
    (one,) = inbox.waiting(desk.folder / "coat-and-skirt")
    assert one.stored.read_bytes() == DATA
    assert load(desk.folder / "coat-and-skirt") == before
    thrown = desk.post(f"{BOOK}/add/throw?drawing={one.id}", data={"by": "script"}, headers=JSON)
    assert thrown.status_code == 200
    assert inbox.waiting(desk.folder / "coat-and-skirt") == ()


@pytest.fixture
def served(tmp_path: Path) -> Iterator[serve.Served]:
    """The demo on a real socket."""
    demo_at(tmp_path, "coat-and-skirt")
    it = serve.prepare(tmp_path, whole=True)
    it.start()
    yield it
    it.stop()


def asked(served: serve.Served, method: str, path: str, body: bytes = b"") -> socket.socket:
    """Send a request and wait for no answer."""
    wire = socket.create_connection((serve.HERE, served.port))
    place = f"{serve.HERE}:{served.port}"
    head = f"{method} {path} HTTP/1.1\r\nHost: {place}\r\nOrigin: http://{place}\r\n"
    wire.sendall(f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body)
    return wire


def answered(served: serve.Served, path: str) -> int:
    line = http.client.HTTPConnection(serve.HERE, served.port)
    line.request("GET", path)
    status = line.getresponse().status
    line.close()
    return status


def test_a_reading_is_ended_when_the_page_goes_away(
    served: serve.Served, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Pages are answered while a file is read; when the one that sent it is closed, that ends.

    A file that was being brought in is then not there; one that waited still waits.
    """
    book = tmp_path / "coat-and-skirt"
    waits = inbox.put_in(book, "front.svg", DATA)
    monkeypatch.setattr(sitting, "_looked", planted.loops_over)
    for method, path, body in (
        ("POST", f"{BOOK}/add/file?name={quote('skirt front.svg')}", DATA),
        ("GET", f"{BOOK}/add?drawing={waits.id}", b""),
    ):
        wire = asked(served, method, path, body)
        pid = wait_for(book / "reading")
        for page in ("/", f"{BOOK}/pieces", f"{BOOK}/add"):
            assert answered(served, page) == 200
        wire.close()
        wait_until_gone(pid)
        (book / "reading").unlink()
    until(lambda: len(inbox.waiting(book)) == 1)
    (left,) = inbox.waiting(book)
    assert left.id == waits.id


@pytest.mark.parametrize(
    ("size", "page", "field", "button", "file"),
    [
        (LAPTOP, "add", "Choose a file", "Add this file", "front.svg"),
        (PHONE, "cloth/photo", "Choose the photo", "Add this photo", "cloth.jpg"),
    ],
)
def test_the_page_says_what_it_reads_and_stops(
    page_on: PageOn,
    monkeypatch: pytest.MonkeyPatch,
    size: dict[str, int],
    page: str,
    field: str,
    button: str,
    file: str,
) -> None:
    """While a file is read she is told so, and can stop it: then nothing of it is left."""
    it = page_on("coat-and-skirt", size=size)
    book = it.folder / "coat-and-skirt"
    (it.folder / file).write_bytes(DATA)
    monkeypatch.chdir(book)
    for room in (sitting, photos):
        monkeypatch.setattr(room, "_looked" if room is sitting else "_check", planted.loops_here)
    it.go(f"{BOOK}/{page}")
    stop = it.page.get_by_role("button", name="Stop").first
    assert not stop.is_visible()
    it.page.get_by_label(field).set_input_files(it.folder / file)
    send = it.page.get_by_role("button", name=button)
    send.click()
    it.page.get_by_role("status").get_by_text(f"Reading {file} …").wait_for()
    assert not send.is_enabled()
    pid = wait_for(book / "reading")
    stop.click()
    it.page.get_by_text("Stopped. What was not here yet was not added.").wait_for()
    stop.wait_for(state="hidden")
    assert send.is_enabled()
    wait_until_gone(pid)
    until(lambda: not inbox.waiting(book) and not list(book.glob("photos/*")))
