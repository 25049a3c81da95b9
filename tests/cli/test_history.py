"""undo, redo and history by the command line (demo data)."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import partial

import pytest

from clothwright.cli import ways_to_fit as by_command
from clothwright.cli.app import run
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.rules.weighing.laid import digest
from clothwright.store import create, load
from clothwright.workroom.planning.tried import ways_to_fit
from clothwright.workroom.searching.laying import compile_plan
from tests.few_rounds import LONG_S, ROUNDS

BOOK = replace(checked_waistcoat(), steps=())


@pytest.fixture
def book(tmp_path):
    folder = tmp_path / "waistcoat"
    create(folder, BOOK)
    return folder


def said(capsys, *argv):
    code = run([str(a) for a in argv])
    out = capsys.readouterr()
    return code, out.out, out.err


def test_what_alter_did_is_taken_back_and_done_again(book, capsys):
    """Each call is a step with its sentence; undo names what it takes back."""
    code, _, _ = said(capsys, "change", book, "set-allowance", "edges=front.side", "amount=3 cm")
    assert code == 0
    altered = load(book)
    assert len(altered.steps) == 1
    said(capsys, "change", book, "--off", 1)
    code, out, _ = said(capsys, "history", book, "--json")
    words = [s["words"] for s in json.loads(out)["steps"]]
    assert words[1].startswith("Set the allowance of front, side to 3 cm")
    assert words[2] == "Switched change 1 (set seam allowances) off"
    code, out, _ = said(capsys, "undo", book)
    assert (code, "Taken back: Switched change 1" in out) == (0, True)
    assert load(book) == altered
    code, out, _ = said(capsys, "undo", book, "--steps", 5)
    assert (code, "That was the first step" in out) == (1, True)
    assert load(book) == BOOK
    code, out, _ = said(capsys, "undo", book)
    assert (code, "Nothing to take back" in out) == (1, True)
    code, _, _ = said(capsys, "redo", book)
    assert (code, load(book)) == (0, altered)
    code, out, _ = said(capsys, "history", book)
    assert "undone" in out
    said(capsys, "change", book, "--remove", 1)
    code, out, _ = said(capsys, "redo", book)
    assert (code, "Nothing to do again" in out) == (1, True)


def test_an_added_piece_is_taken_back(book, tmp_path, capsys):
    """The drawing goes out of the folder, and comes back with redo."""
    drawing = tmp_path / "again.svg"
    drawing.write_bytes(
        (book / "pieces" / "front.svg").read_bytes().replace(b'"front"', b'"extra"')
    )
    code, _, err = said(capsys, "add", book, drawing)
    assert (code, err) == (0, "")
    added = load(book)
    assert "extra" in [p.name for p in added.bought.pieces]
    said(capsys, "undo", book)
    assert load(book) == BOOK
    assert not (book / "pieces" / "extra.svg").exists()
    said(capsys, "redo", book)
    assert load(book) == added


def test_a_way_out_applied_is_taken_back(book, capsys, monkeypatch):
    """One step takes back plan, changes and choice together."""
    short = replace(BOOK, cloths=(replace(BOOK.cloths[0], length=900.0), *BOOK.cloths[1:]))
    from clothwright.store import save

    save(short, book)
    before = digest(compile_plan(short, short.plan()).compiled.problem)
    monkeypatch.setattr(by_command, "find_ways", partial(ways_to_fit, rounds=ROUNDS))
    said(capsys, "lay", book, "--seconds", LONG_S, "--rounds", ROUNDS, "--quiet")
    said(capsys, "ways-to-fit", book, "--seconds", LONG_S, "--quiet")
    code, out, err = said(capsys, "ways-to-fit", book, "--apply", 1)
    assert code == 0, out + err
    assert load(book) != short
    code, out, _ = said(capsys, "undo", book)
    assert (code, f'Taken back: Made "{short.plan().name}" fit: ' in out) == (0, True)
    assert load(book) == short
    assert digest(compile_plan(load(book), short.plan()).compiled.problem) == before


def test_looking_leaves_no_record(book, capsys):
    """Commands that only show write nothing."""
    for argv in (["history", book], ["change", book], ["show", book], ["walk", book]):
        said(capsys, *argv)
    assert {p.name for p in book.iterdir()} == {"workbook.toml", "pieces"}


def test_no_workbook_is_a_sentence(tmp_path, capsys):
    """And makes no folder."""
    for command in ("undo", "redo", "history"):
        code, _, err = said(capsys, command, tmp_path / "none")
        assert (code, "no workbook" in err) == (2, True)
    assert not (tmp_path / "none").exists()
