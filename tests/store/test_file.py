"""The folder: saved whole or not at all, whatever happens."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import replace

import pytest

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.errors import BadInput
from clothwright.geometry.transform import translation
from clothwright.pattern.whole import moved
from clothwright.store import create, load, save

SAVER = """
import sys
from dataclasses import replace
from pathlib import Path
from clothwright.geometry.transform import translation
from clothwright.pattern.whole import moved
from clothwright.store import load, save
folder = Path(sys.argv[1])
book = load(folder)
first = book.bought
print("ready", flush=True)
for n in range(1, 101):
    pieces = tuple(moved(p, translation((float(n), 0.0))) for p in first.pieces)
    book = replace(book, title=f"state {n}", bought=replace(first, pieces=pieces))
    save(book, folder)
    print(n, flush=True)
"""


def state_of(book, first):
    """The number of the state a workbook is in, or None when title and pieces disagree."""
    number = int(book.title.split()[-1])
    whole = all(
        p == moved(q, translation((float(number), 0.0))) or number == 0
        for p, q in zip(book.bought.pieces, first.pieces, strict=True)
    )
    return number if whole else None


def test_killed_in_the_middle_of_a_hundred_saves(tmp_path):
    """Kill -9 at random moments: the workbook opens each time, in one whole state.

    Title and every piece change with each save, so a state that mixes two saves would show.
    """
    folder = tmp_path / "w"
    book = replace(checked_waistcoat(), title="state 0")
    first = book.bought
    create(folder, book)
    rng = random.Random(5)
    killed_midway = 0
    for _ in range(12):
        save(book, folder)
        with subprocess.Popen(
            [sys.executable, "-c", SAVER, str(folder)], stdout=subprocess.PIPE, text=True
        ) as child:
            assert child.stdout is not None
            assert child.stdout.readline() == "ready\n"
            time.sleep(rng.uniform(0.0, 0.6))
            os.kill(child.pid, signal.SIGKILL)
            said = [int(line) for line in child.stdout if line.strip().isdigit()]
            child.wait()
        now = state_of(load(folder), first)
        last = said[-1] if said else 0
        assert now in (last, last + 1), "a save that was reported done must be there"
        killed_midway += last < 100
    assert killed_midway == 12


def test_a_save_goes_on_after_a_killed_one(tmp_path):
    """The lock of a dead process does not keep the maker out; its drafts do no harm."""
    folder = tmp_path / "w"
    book = checked_waistcoat()
    create(folder, book)
    (folder / ".saving").write_text("999999")
    (folder / ".workbook.toml.1.part").write_text("half")
    save(replace(book, title="after"), folder)
    assert load(folder).title == "after"


def test_two_who_opened_the_same_state_cannot_overwrite_each_other(tmp_path):
    """The later save of an old state is refused and the earlier one stays."""
    folder = tmp_path / "w"
    create(folder, checked_waistcoat())
    mine, theirs = load(folder), load(folder)
    save(replace(theirs, title="theirs"), folder, previous=theirs)
    with pytest.raises(BadInput, match="somebody else"):
        save(replace(mine, title="mine"), folder, previous=mine)
    assert load(folder).title == "theirs"


def test_a_full_disk_loses_nothing(tmp_path, monkeypatch):
    """When writing fails half-way the old state opens as before."""
    folder = tmp_path / "w"
    book = checked_waistcoat()
    create(folder, book)

    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    pieces = tuple(moved(p, translation((1.0, 0.0))) for p in book.bought.pieces)
    with pytest.raises(OSError, match="No space"):
        save(replace(book, bought=replace(book.bought, pieces=pieces)), folder)
    monkeypatch.undo()
    assert load(folder) == book


def test_a_changed_piece_leaves_no_old_drawing_behind(tmp_path):
    """After a save the folder holds just the drawings that workbook.toml names."""
    folder = tmp_path / "w"
    book = checked_waistcoat()
    create(folder, book)
    piece = moved(book.bought.pieces[0], translation((2.0, 0.0)))
    save(replace(book, bought=book.bought.with_piece(piece)), folder)
    assert load(folder).bought.pieces[0] == piece
    assert len(list((folder / "pieces").iterdir())) == len(book.bought.pieces)


def test_new_does_not_overwrite(tmp_path):
    """A folder that holds a workbook is not made anew."""
    create(tmp_path / "w", checked_waistcoat())
    with pytest.raises(BadInput, match="already"):
        create(tmp_path / "w", checked_waistcoat())
