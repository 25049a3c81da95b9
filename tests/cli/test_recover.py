"""recover by the command line and by the page (demo data)."""

from __future__ import annotations

import pytest

from clothwright.cli.app import run
from clothwright.store import create, load
from tests.store.book.test_file import BOOK, state
from tests.store.history.saving import save_step
from tests.web.reading import reader_of


@pytest.fixture
def folder(tmp_path):
    """A workbook with two steps, its workbook.toml gone."""
    folder = tmp_path / "mine"
    create(folder, BOOK)
    for n in (1, 2):
        save_step(folder, state(n), words=f"to {n}")
    (folder / "workbook.toml").unlink()
    return folder


@pytest.fixture
def client(folder):
    """A browser on the workbook's shelf."""
    with reader_of(folder.parent) as client:
        yield client


def said(capsys, *words):
    """Run a command; return its code and what it printed."""
    code = run([str(w) for w in words])
    out, err = capsys.readouterr()
    return code, out + err


def test_the_command_lists_and_brings_back(folder, capsys):
    """The error names it; the list first, nothing yet; then the newest, and it can be undone."""
    code, words = said(capsys, "show", folder)
    assert code == 2
    assert "clothwright recover" in words
    code, words = said(capsys, "recover", folder, "--dry-run")
    assert code == 0
    assert words.index("to 2") < words.index("to 1")
    assert not (folder / "workbook.toml").exists()
    code, words = said(capsys, "recover", folder, "--state", 7)
    assert code == 2
    assert "from 1 to 3" in words
    assert said(capsys, "recover", folder)[0] == 0
    assert load(folder) == state(2)
    code, words = said(capsys, "recover", folder)
    assert code == 2
    assert "can be opened as it is" in words
    assert said(capsys, "undo", folder)[0] == 0
    assert load(folder) == state(1)


def test_a_state_is_chosen_by_its_number(folder, capsys):
    """The second of the list is the one before the last."""
    assert said(capsys, "recover", folder, "--state", 2)[0] == 0
    assert load(folder) == state(1)


def test_the_page_offers_it(folder, client):
    """On the start page a link; on the workbook's page the states; one is brought back."""
    start = client.get("/").text
    assert "Bring back what was saved" in start
    page = client.get("/b/mine/pieces")
    assert page.status_code == 400
    assert page.text.index("To 2") < page.text.index("To 1")
    value = page.text.split('name="state" value="')[2].split('"')[0]
    answer = client.post("/b/mine/recover", data={"state": value}, follow_redirects=False)
    assert answer.headers["location"] == "/b/mine/pieces"
    assert load(folder) == state(1)
    assert client.get("/b/mine/pieces").status_code == 200
    assert "Bring back what was saved" not in client.get("/").text
    answer = client.post("/b/mine/recover", data={"state": value})
    assert answer.status_code == 409
    assert "can be opened as it is" in answer.text


def test_what_is_wrong_with_a_question_offers_nothing(folder, client, capsys):
    """A page of a sound workbook that says no to what was asked is no lost workbook."""
    said(capsys, "recover", folder)
    page = client.get("/b/mine/pieces?part=nothing")
    assert page.status_code == 400
    assert "Bring back" not in page.text
