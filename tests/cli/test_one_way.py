"""Command and page write in one way: what the one refuses, the other refuses in the same words."""

from __future__ import annotations

import pytest

from clothwright.cli import change as command
from clothwright.cli.app import run
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.errors import ClothwrightError
from clothwright.store import create, load
from clothwright.units import Unit
from clothwright.words import told
from clothwright.workroom.editing.opened import OpenBook

SET = {"edit": "set-change", "change": "1", "params": {"amount": "3 cm"}}
THEIRS = {"edit": "remove-change", "change": "1"}


@pytest.fixture
def folder(tmp_path):
    create(tmp_path / "w", checked_waistcoat())
    book = OpenBook(name="w", folder=tmp_path / "w")
    first = {"edges": "front.side", "amount": "2 cm"}
    add = {"edit": "add-change", "kind": "set-allowance", "params": first}
    book.edit(add, base=book.read().revision)
    return book.folder


def by_page(folder, edit, base):
    """What the page says to an edit that is refused."""
    with pytest.raises(ClothwrightError) as caught:
        OpenBook(name="w", folder=folder).edit(edit, base=base)
    return told(caught.value, Unit.cm)


def by_command(folder, capsys, *argv):
    """What the command says and leaves with."""
    code = run(["change", str(folder), *argv])
    return code, capsys.readouterr().err.strip()


class Slow(OpenBook):
    """A workbook in which somebody else takes the change out right after it was read."""

    def read(self):
        at = OpenBook.read(self)
        if len(at.book.steps) == len(checked_waistcoat().steps) + 1:
            OpenBook(name="w", folder=self.folder).edit(THEIRS, base=at.revision)
        return at


def test_a_workbook_that_has_moved_on_is_told_alike(folder, capsys, monkeypatch):
    """Between looking and writing somebody else took the change out: nothing is written by both."""
    base = OpenBook(name="w", folder=folder).read().revision
    monkeypatch.setattr(command, "open_book", lambda f: Slow(name="w", folder=f))
    code, said = by_command(folder, capsys, "--edit", "1", "amount=3 cm")
    after = load(folder)
    assert code == 2
    assert said == by_page(folder, SET, base)
    assert "meanwhile" in said
    assert "Removed change 1" in said
    assert load(folder) == after


def test_what_others_did_elsewhere_is_kept_by_a_command_too(folder, capsys, monkeypatch):
    """A command is put together with what another device saved since it read."""

    class Noted(OpenBook):
        def read(self):
            at = OpenBook.read(self)
            if not at.book.notes.endswith("theirs"):
                edit = {"edit": "set-notes", "notes": "theirs"}
                OpenBook(name="w", folder=self.folder).edit(edit, base=at.revision)
            return at

    monkeypatch.setattr(command, "open_book", lambda f: Noted(name="w", folder=f))
    assert by_command(folder, capsys, "--edit", "1", "amount=3 cm") == (0, "")
    assert load(folder).notes == "theirs"
    assert load(folder).steps[0].params["amount"] == "3 cm"


def test_a_workbook_that_cannot_be_read_is_told_alike(folder, capsys):
    """A slip in an edit by hand: the same sentence, with its line, and nothing is written."""
    file = folder / "workbook.toml"
    file.write_text(file.read_text().replace('amount = "2 cm"', 'amount = "2 cmm"'))
    text = file.read_text()
    code, said = by_command(folder, capsys, "--edit", "1", "amount=3 cm")
    assert code == 2
    assert said == by_page(folder, SET, 1)
    assert "line " in said
    assert file.read_text() == text


@pytest.mark.parametrize(
    ("argv", "edit"),
    [
        (("--remove", "9"), {"edit": "remove-change", "change": "9"}),
        (("--edit", "1", "amount=-3 cm"), {**SET, "params": {"amount": "-3 cm"}}),
        (("crop", "edges=front.hem"), {"edit": "add-change", "kind": "crop", "params": {}}),
    ],
    ids=lambda x: str(x)[:30],
)
def test_what_cannot_be_done_is_told_alike(folder, capsys, argv, edit):
    """Numbers, lengths and parameters that are wrong."""
    base = OpenBook(name="w", folder=folder).read().revision
    if edit["edit"] == "add-change":
        edit = {**edit, "params": {"edges": "front.hem"}}
    code, said = by_command(folder, capsys, *argv)
    assert (code, said) == (2, by_page(folder, edit, base))
