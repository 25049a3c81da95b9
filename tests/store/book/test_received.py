"""A workbook that somebody else wrote touches nothing outside itself."""

from __future__ import annotations

import json
import os

import pytest

from clothwright.errors import BadInput
from clothwright.store import create, opened
from clothwright.store.book.lock import LOCK
from tests.store.book.test_file import BOOK, state
from tests.store.history.saving import save_step

OUTSIDE = {"diary.svg": b"mine", "pieces.svg": b"mine too", "own.0.part": b"and this"}


@pytest.fixture
def received(tmp_path):
    """A workbook, and files of somebody's beside it."""
    for name, data in OUTSIDE.items():
        (tmp_path / name).write_bytes(data)
    create(tmp_path / "w", BOOK)
    save_step(tmp_path / "w", state(1), words="to 1")
    (tmp_path / "w" / "notes.svg").write_bytes(b"hers")
    (tmp_path / "w" / ".notes.part").write_bytes(b"hers")
    return tmp_path


def outside(received):
    """What is beside the workbook now."""
    return {f.name: f.read_bytes() for f in received.iterdir() if f.is_file()}


def test_names_in_the_lock_remove_nothing_that_is_not_ours(received):
    """Relative, absolute, through a folder, or inside: what a save did not write stays."""
    folder = received / "w"
    names = [
        "../diary.svg",
        str(received / "diary.svg"),
        "pieces/../../diary.svg",
        "pieces/../notes.svg",
        "notes.svg",
        "workbook.toml",
        "history/steps.jsonl",
        f"pieces/{received}/diary.svg",
    ]
    (folder / LOCK).write_text("".join(f"{json.dumps(n)}\n" for n in names))
    before = opened(folder)
    save_step(folder, state(2), words="to 2")
    assert opened(folder).revision == before.revision + 1
    assert outside(received) == OUTSIDE
    assert (folder / "notes.svg").read_bytes() == (folder / ".notes.part").read_bytes() == b"hers"


@pytest.mark.skipif(os.name != "posix", reason="links are made as POSIX has them")
@pytest.mark.parametrize("make", [os.symlink, os.link])
def test_a_linked_lock_empties_nothing(received, make):
    """A lock that is a link is refused in a sentence, and its target is as it was."""
    make(received / "diary.svg", received / "w" / LOCK)
    with pytest.raises(BadInput, match="it is a link"):
        save_step(received / "w", state(2), words="to 2")
    assert outside(received) == OUTSIDE


@pytest.mark.skipif(os.name != "posix", reason="links are made as POSIX has them")
@pytest.mark.parametrize("name", ["pieces", "history", "history/copies", "history/steps.jsonl"])
def test_a_linked_folder_is_not_written_into(received, name):
    """Nothing is added, emptied or removed behind a link."""
    folder = received / "w"
    here, there = folder / name, received / "elsewhere"
    here.rename(there)
    if there.is_dir():
        (there / "hers.svg").write_bytes(b"hers")
    before = {f: f.read_bytes() for f in [there, *there.rglob("*")] if f.is_file()}
    here.symlink_to(there)
    with pytest.raises(BadInput, match="is a link"):
        save_step(folder, state(2), words="to 2")
    assert {f: f.read_bytes() for f in [there, *there.rglob("*")] if f.is_file()} == before
    assert {k: v for k, v in outside(received).items() if k != "elsewhere"} == OUTSIDE
