"""What must not get in: foreign hosts and origins, paths outside, too much, no key."""

from __future__ import annotations

import itertools
import json
import re

import pytest
from starlette.websockets import WebSocketDisconnect

from clothwright.web.keys import (
    FORGIVEN_S,
    KEY_LIFE_S,
    MOST_ADDRESSES,
    SESSION_LIFE_S,
    SLOWER_S,
    SLOWEST_S,
    Keys,
)
from clothwright.web.page import SMALL
from tests.web.conftest import PLACE, Desk
from tests.web.oddities import requests, send

HOME = "/b/coat-and-skirt/pieces"
OUTSIDER = "192.168.7.30"
JSON = {"content-type": "application/json"}


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:9999", "localhost:8000"])
def test_only_its_own_names_are_answered(desk: Desk, host: str) -> None:
    """A name that is made to point here (DNS rebinding) gets nothing."""
    answer = desk.client.get(HOME, headers={"host": host})
    assert answer.status_code == 421
    assert "coat front" not in answer.text
    assert desk.client.get(HOME).status_code == 200


@pytest.mark.parametrize("origin", [None, "null", "http://evil.example", f"https://{PLACE}"])
def test_posts_come_from_its_own_page(desk: Desk, origin: str | None) -> None:
    """A POST without our own Origin is refused and does nothing."""
    before = len(list(desk.folder.iterdir()))
    headers = {} if origin is None else {"origin": origin}
    for path in ("/start/demo", "/start/new", "/enter", "/b/coat-and-skirt/edit"):
        answer = desk.client.post(path, data={"name": "remnant"}, headers=headers)
        assert answer.status_code == 403
    assert len(list(desk.folder.iterdir())) == before


@pytest.mark.parametrize("origin", ["http://evil.example", None])
def test_the_websocket_asks_for_the_origin_too(desk: Desk, origin: str | None) -> None:
    """A foreign page cannot listen."""
    with desk.listen() as ours:
        assert ours.receive_json()["kind"] == "hello"
    with pytest.raises(WebSocketDisconnect), desk.listen(origin):
        pass


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2fapp.py",
        "/static/js/%2e%2e/%2e%2e/app.py",
        "/static//etc/passwd",
        "/b/../pieces",
        "/b/..%2f..%2fetc/pieces",
        "/b/%2e%2e/pieces",
        "/b/~/pieces",
        "/b/..~..~etc/pieces",
    ],
)
def test_no_path_leads_outside(desk: Desk, path: str) -> None:
    """Names in addresses are looked up among what was found, never made into paths."""
    answer = desk.client.get(path)
    assert answer.status_code in (400, 404)
    assert "import" not in answer.text
    assert "root:" not in answer.text


def test_a_linked_folder_is_not_followed(desk: Desk, tmp_path_factory) -> None:
    """A symbolic link in the folder does not bring in a workbook from elsewhere."""
    from tests.web.conftest import demo_at

    elsewhere = tmp_path_factory.mktemp("elsewhere")
    demo_at(elsewhere, "remnant")
    (desk.folder / "link").symlink_to(elsewhere / "remnant")
    assert [b.name for b in desk.room.shelf()] == ["coat-and-skirt"]


def test_too_much_is_refused(desk: Desk) -> None:
    """A body over the limit is refused by what it says of itself and by what it is."""
    big = b"x" * (SMALL + 1)
    answer = desk.post("/b/coat-and-skirt/edit", content=big, headers=JSON)
    assert answer.status_code == 413
    assert "100 kB" in answer.text
    chunks = (b"x" * 10_000 for _ in range(20))
    assert desk.post("/b/coat-and-skirt/edit", content=chunks, headers=JSON).status_code == 413


def test_every_answer_keeps_the_page_to_itself(desk: Desk) -> None:
    """Pages, files and refusals carry the security headers; no script or style is in a page."""
    for path in ("/", HOME, "/style", "/static/js/main.js", "/nothing"):
        headers = desk.client.get(path).headers
        assert "default-src 'self'" in headers["content-security-policy"]
        assert "unsafe" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["x-frame-options"] == "DENY"
    assert desk.client.get("/", headers={"host": "evil"}).headers["x-frame-options"] == "DENY"
    for path in ("/", HOME, "/style", "/share", "/enter"):
        text = desk.client.get(path).text
        assert not re.search(r"<script(?![^>]*src=)|<style|\sstyle=|\son\w+=", text)
        assert not re.search(r"""(src|href)=["'](https?:)?//""", text)


def test_off_the_machine_a_key_is_needed(desk: Desk) -> None:
    """Another device sees the door and how it looks, nothing else, until its key is taken."""
    other = desk.open(OUTSIDER)
    for path in ("/", HOME, "/style", "/share", "/b/coat-and-skirt/length?text=1"):
        assert other.get(path).status_code == 401
    with pytest.raises(WebSocketDisconnect), desk.listen(client=other):
        pass
    assert other.get("/enter").status_code == 200
    assert other.get("/static/css/page.css").status_code == 200


def test_a_key_is_exchanged_once(desk: Desk) -> None:
    """The key opens one session in a cookie no script can read; a second device is refused."""
    key = desk.keys.make_key()
    first, second = desk.open(OUTSIDER), desk.open("192.168.7.31")
    origin = {"origin": f"http://{PLACE}"}
    assert first.get(f"/enter?key={key}").status_code == 200  # looking does not use it up
    answer = first.post("/enter", data={"key": key}, headers=origin, follow_redirects=False)
    assert answer.status_code == 303
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert key.lower() not in cookie
    assert first.get(HOME).status_code == 200
    again = second.post("/enter", data={"key": key}, headers=origin, follow_redirects=False)
    assert again.status_code == 400
    assert "used already" in again.text
    assert second.get(HOME).status_code == 401


def test_a_made_up_cookie_opens_nothing(desk: Desk) -> None:
    """Neither a guess nor a broken cookie is a session."""
    other = desk.open(OUTSIDER)
    for cookie in ("clothwright-session=guess", "clothwright-session=", 'a="; b', "x" * 3000):
        assert other.get(HOME, headers={"cookie": cookie}).status_code == 401


def test_a_forwarded_address_is_not_believed(desk: Desk) -> None:
    """Saying that one comes from this machine does not make it so."""
    other = desk.open(OUTSIDER)
    for header in ("x-forwarded-for", "forwarded", "x-real-ip"):
        assert other.get(HOME, headers={header: "127.0.0.1"}).status_code == 401


def test_keys_and_sessions_grow_old() -> None:
    """A key lives ten minutes, a session a day at the table."""
    clock = [0.0]
    keys = Keys(now=lambda: clock[0])
    late, good = keys.make_key(), keys.make_key()
    session = keys.exchange(good)
    assert session is not None
    clock[0] = KEY_LIFE_S + 1
    assert keys.exchange(late) is None
    assert keys.lets_in(session)
    clock[0] = SESSION_LIFE_S + 1
    assert not keys.lets_in(session)


def test_wrong_keys_are_never_held_against_the_right_one() -> None:
    """After a thousand wrong keys from everywhere the printed one still opens."""
    keys = Keys()
    key = keys.make_key()
    for n in range(1000):
        assert keys.exchange(f"guess {n}") is None
        keys.slowed(OUTSIDER)
    assert keys.exchange(key) is not None


def test_wrong_keys_are_answered_later_and_later() -> None:
    """By address, up to a bound, forgiven after a while; no more is remembered than a bound."""
    clock = [0.0]
    keys = Keys(now=lambda: clock[0])
    waits = [keys.slowed(OUTSIDER) for _ in range(100)]
    assert waits[:3] == [SLOWER_S, 2 * SLOWER_S, 3 * SLOWER_S]
    assert waits == sorted(waits)
    assert waits[-1] == SLOWEST_S
    assert keys.slowed("192.168.7.31") == SLOWER_S
    clock[0] = FORGIVEN_S
    assert keys.slowed(OUTSIDER) == SLOWER_S
    for n in range(2 * MOST_ADDRESSES):
        keys.slowed(f"address {n}")
    assert len(keys._wrong) == MOST_ADDRESSES


def test_only_wrong_keys_of_others_are_slowed(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """The machine itself is answered at once, and a right key after wrong ones too."""
    asked: list[str] = []

    def slowed(_: Keys, address: str) -> float:
        asked.append(address)
        return 0.0

    monkeypatch.setattr(Keys, "slowed", slowed)
    origin = {"origin": f"http://{PLACE}"}
    other, key = desk.open(OUTSIDER), desk.keys.make_key()
    assert desk.post("/enter", data={"key": "guess"}).status_code == 400
    assert asked == []
    for _ in range(30):
        assert other.post("/enter", data={"key": "guess"}, headers=origin).status_code == 400
    assert asked == [OUTSIDER] * 30
    right = other.post("/enter", data={"key": key}, headers=origin, follow_redirects=False)
    assert right.status_code == 303
    assert len(asked) == 30


def test_keys_are_made_on_the_machine_alone(desk: Desk) -> None:
    """A device that was let in cannot let in others; unshared there is no square."""
    assert '<path class="dark"' not in desk.client.get("/share").text
    desk.room.shared_at = "http://192.168.7.2:8000"
    assert '<path class="dark"' in desk.client.get("/share").text
    other = desk.open(OUTSIDER)
    other.post("/enter", data={"key": desk.keys.make_key()}, headers={"origin": f"http://{PLACE}"})
    assert '<path class="dark"' not in other.get("/share").text


def test_names_from_files_are_only_words(desk: Desk) -> None:
    """A title or a piece's name with markup in it is shown as written."""
    edit = {"edit": "rename-workbook", "title": "<script>alert(1)</script>"}
    base = desk.room.book("coat-and-skirt").read().revision
    sent = json.dumps({"base": base, "edit": edit})
    assert desk.post("/b/coat-and-skirt/edit", content=sent, headers=JSON).status_code == 200
    for path in ("/", HOME, "/b/coat-and-skirt/pieces?piece=<script>alert(2)</script>"):
        text = desk.client.get(path).text
        assert "<script>alert" not in text
        assert "&lt;script&gt;" in text


@pytest.mark.parametrize(
    "edit",
    [
        "[" * 20_000 + "]" * 20_000,
        '"\\ud800"',
        "9" * 5000,
        '{"edit": "remove-change", "change": "²"}',
        '{"edit": "rename-workbook", "title": "a\\u0000b"}',
        '{"edit": "rename-workbook", "title": NaN}',
    ],
    ids=["deep", "half a letter", "huge", "raised two", "null", "no number"],
)
def test_an_odd_edit_gets_a_sentence(desk: Desk, edit: str) -> None:
    """What no page sends is refused in a sentence, and nothing is written."""
    base = desk.room.book("coat-and-skirt").read().revision
    sent = f'{{"base": {base}, "edit": {edit}}}'.encode()
    answer = desk.post("/b/coat-and-skirt/edit", content=sent, headers=JSON)
    assert answer.status_code == 400
    assert answer.json()["sentence"].endswith(".")
    assert desk.room.book("coat-and-skirt").read().revision == base


def test_odd_requests_end_no_door(desk: Desk) -> None:
    """Whatever is sent, no door answers that something went wrong on our side."""
    for sent in itertools.islice(requests(1), 40):
        revision = desk.room.book("coat-and-skirt").read().revision
        assert send(desk.client, sent, revision).status_code < 500, sent
