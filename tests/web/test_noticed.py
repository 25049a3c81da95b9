"""What was noticed about the folder is said on the start page and on every page of the workbook."""

from __future__ import annotations

import pytest

from clothwright.cli.app import run
from clothwright.store import create
from clothwright.store.aside import set_aside
from clothwright.web.pages import PAGES
from tests.store.book.test_file import BOOK
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
