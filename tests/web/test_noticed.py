"""What was noticed about the folder is said on the start page and on every page of the workbook."""

from __future__ import annotations

import pytest

from clothwright.cli.app import run
from clothwright.store import create
from clothwright.store.aside import set_aside
from clothwright.store.beside.places import ticks_file
from clothwright.store.history.record import RECORD
from clothwright.web.pages import PAGES
from clothwright.workroom.cutting.ticks import done_ticks, set_ticks
from tests.store.book.test_file import BOOK, state
from tests.store.history.saving import save_step
from tests.web.reading import reader_of

SAID = "The record of what was done was damaged."
LIES = "set-aside/history/steps.jsonl.damaged-1"


@pytest.fixture
def folder(tmp_path):
    """A workbook with something set aside."""
    folder = tmp_path / "mine"
    create(folder, BOOK)
    record = folder / "history" / "steps.jsonl"
    record.parent.mkdir()
    record.write_bytes(b"{broken")
    set_aside(folder, record)
    record.unlink()
    return folder


@pytest.fixture
def client(folder):
    """A browser on the workbook's shelf."""
    with reader_of(folder.parent) as client:
        yield client


def test_every_page_and_the_start_page_say_it_until_it_is_put_away(folder, client):
    """Said on each; put away on one of them, which comes back; the file stays where it was."""
    own = [p for p in PAGES if "{book}" in p.path]
    assert SAID in client.get("/").text
    for page in own:
        text = client.get(page.address("mine")).text
        assert SAID in text, page.name
        assert f"<code>{LIES}</code>" in text
    answer = client.post(
        "/b/mine/put-away", data={"notice": LIES, "page": "cloth-photo"}, follow_redirects=False
    )
    assert answer.headers["location"] == "/b/mine/cloth/photo"
    assert SAID not in client.get("/").text
    assert not [p.name for p in own if SAID in client.get(p.address("mine")).text]
    assert (folder / LIES).read_bytes() == b"{broken"


def test_a_damaged_record_is_said_before_anything_is_saved(folder, client, capsys):
    """On the start page, a page and by the command, as soon as it is looked at; undo goes on."""
    mine = folder.parent / "other"
    create(mine, BOOK)
    save_step(mine, state(1), words="to 1")
    record = mine / RECORD
    record.write_bytes(record.read_bytes().replace(b"to 1", b"to ~"))
    assert run(["show", str(mine)]) == 0
    assert SAID in capsys.readouterr().out
    assert SAID in client.get("/b/other/pieces").text
    assert client.get("/").text.count(SAID) == 2


def test_ticks_that_were_damaged_are_said_beside_the_ticks(folder, client):
    """In the list itself, by page and by part, until the notice is put away; also after a tick."""
    file = ticks_file(folder, "sewing", "sewing")
    file.parent.mkdir(exist_ok=True)
    lies = "set-aside/ticks/sewing.sewing.json.damaged-1"
    beside = "/b/mine/sew?part=steps"
    assert "could not be read" not in client.get(beside).text
    file.write_bytes(b"{broken")
    for _ in range(2):
        text = client.get(beside).text
        assert "could not be read" in text
        set_ticks(folder, "sewing", "sewing", {"sew 1": True})
    client.post("/b/mine/put-away", data={"notice": lies, "page": "sew"})
    assert "could not be read" not in client.get(beside).text
    assert done_ticks(folder, "sewing", "sewing") == {"sew 1"}


def test_what_is_not_told_cannot_be_put_away(client):
    """A sentence, and the notice is still there."""
    answer = client.post("/b/mine/put-away", data={"notice": "x", "page": "no"})
    assert answer.status_code == 400
    assert "no such notice" in answer.text
    assert SAID in client.get("/b/mine/pieces").text


def test_show_says_it(folder, capsys):
    """By the command as well, with the path to look at."""
    assert run(["show", str(folder)]) == 0
    said = capsys.readouterr().out
    assert SAID in said
    assert f"`{LIES}`" in said
