"""A workbook that somebody else wrote touches nothing outside itself."""

from __future__ import annotations

import json
import os
from dataclasses import replace

import pytest

from clothwright.errors import BadInput
from clothwright.store import create, load, opened, save, steps, undo
from clothwright.store.beside.places import (
    cloth_photos,
    inbox,
    lay_file,
    ticks_file,
    typed_folder,
    ways_file,
    yardage_file,
)
from clothwright.store.book.lock import LOCK, digest
from clothwright.store.book.pictures import PICTURES
from clothwright.store.folder import OWN
from clothwright.store.history import copies
from clothwright.store.history.copies import State, keep, kept
from clothwright.store.history.record import RECORD, read_record, rewrite
from clothwright.store.noticed import AWAY, noticed
from clothwright.workroom.cutting.ticks import set_ticks
from clothwright.workroom.editing.opened import unit_of
from tests.store.book.test_file import BOOK, NO_PROCESS, state
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


PLACES = (
    "pieces",
    "pieces/front.svg",
    "pictures",
    "history",
    "history/copies",
    "history/steps.jsonl",
    "lays",
    "lays/first.json",
    "ticks",
    "inbox",
    "inbox/20300101-101500-abcdef",
    "inbox/20300101-101500-abcdef/sitting.json",
    "photos",
    "set-aside",
    "typed",
    "chart.json",
    "workbook.format-1.toml",
)
"""What is kept in a workbook; folders and files that it has not yet are linked to all the same."""


@pytest.mark.skipif(os.name != "posix", reason="links are made as POSIX has them")
@pytest.mark.parametrize("name", PLACES)
def test_nothing_is_read_or_written_through_a_link(received, name):
    """Any link below the workbook is named in a sentence, and nothing behind it is touched."""
    folder = received / "w"
    here, there = folder / name, received / "elsewhere"
    if here.exists():
        here.rename(there)
    else:
        there.mkdir()
        here.parent.mkdir(parents=True, exist_ok=True)
    if there.is_dir():
        (there / "hers.svg").write_bytes(b"hers")
    before = {f: f.read_bytes() for f in [there, *there.rglob("*")] if f.is_file()}
    here.symlink_to(there)
    doors = (
        lambda: load(folder),
        lambda: opened(folder),
        lambda: steps(folder),
        lambda: undo(folder),
        lambda: save_step(folder, state(2), words="to 2"),
        lambda: save(state(2), folder),
        lambda: set_ticks(folder, "first", "abc", {"lay 1": True}),
    )
    for door in doors:
        with pytest.raises(BadInput, match=f'"{name}" in it is a link'):
            door()
    assert noticed(folder) == ()
    assert {f: f.read_bytes() for f in [there, *there.rglob("*")] if f.is_file()} == before
    assert {k: v for k, v in outside(received).items() if k != "elsewhere"} == OUTSIDE


@pytest.mark.skipif(os.name != "posix", reason="pipes are made as POSIX has them")
@pytest.mark.parametrize("name", ["history/steps.jsonl", "chart.json", "workbook.toml", LOCK])
def test_a_pipe_is_not_waited_at(received, name):
    """What is no file is refused in a sentence before anything is read from it."""
    folder = received / "w"
    (folder / name).unlink(missing_ok=True)
    os.mkfifo(folder / name)
    with pytest.raises(BadInput, match=name):
        opened(folder)
    with pytest.raises(BadInput, match=name):
        save(state(2), folder)


@pytest.mark.skipif(os.name != "posix", reason="links are made as POSIX has them")
def test_a_record_that_stands_elsewhere_too_is_not_added_to(received):
    """A hard link of the file that grows is refused: the other name's file would grow with it."""
    (received / "diary.svg").unlink()
    os.link(received / "w" / "history" / "steps.jsonl", received / "diary.svg")
    before = (received / "diary.svg").read_bytes()
    with pytest.raises(BadInput, match="hard link"):
        save_step(received / "w", state(2), words="to 2")
    assert (received / "diary.svg").read_bytes() == before


def test_a_link_of_hers_that_is_none_of_ours_is_let_be(received):
    """Links beside what the program keeps do not close the workbook, and lead it nowhere."""
    folder = received / "w"
    (folder / "my pictures").symlink_to(received)
    save_step(folder, state(2), words="to 2")
    assert load(folder) == state(2)
    assert outside(received) == OUTSIDE


def test_a_drawing_behind_a_link_is_not_read(received):
    """A drawing named in a folder of hers is read there, but not where a link leads."""
    folder = received / "w"
    name = min(f.name for f in (folder / "pieces").iterdir())
    (folder / "mine").mkdir()
    (folder / "pieces" / name).rename(folder / "mine" / name)
    book = folder / "workbook.toml"
    book.write_text(book.read_text().replace(f"pieces/{name}", f"mine/{name}"))
    assert load(folder) == state(1)
    (folder / "mine").rename(received / "elsewhere")
    (folder / "mine").symlink_to(received / "elsewhere")
    with pytest.raises(BadInput, match=f'"mine/{name}" in it is a link'):
        load(folder)


@pytest.mark.parametrize("name", ["../evil.svg", "a/../../evil.svg", "{out}/evil.svg", "a\0b.svg"])
def test_a_copy_that_names_a_file_outside_brings_nothing_there(received, name):
    """Undo to a state whose drawings have names outside the workbook is refused."""
    folder = received / "w"
    named = name.replace("{out}", str(received))
    record = read_record(folder)
    first = record.chain()[0]
    was = kept(folder, first.state)
    file, data = next(iter(was.drawings.items()))
    text = was.book.decode().replace(json.dumps(file), json.dumps(named))
    drawings = {k: v for k, v in was.drawings.items() if k != file} | {named: data}
    crafted = keep(folder, State(book=text.encode(), drawings=drawings))
    rewrite(folder, [replace(s, state=crafted) if s == first else s for s in record.lines])
    with pytest.raises(BadInput):
        undo(folder)
    assert outside(received) == OUTSIDE
    assert load(folder) == state(1)


def test_a_state_of_the_record_is_only_a_copy_of_its_own(received):
    """A line whose state is a path reads nothing there."""
    with pytest.raises(BadInput, match="gone or damaged"):
        kept(received / "w", f"../../../{received.name}/diary")


def test_what_was_put_in_the_place_of_a_drawing_stays(received):
    """A noted name is removed only while it holds what was noted; an old note tells no more."""
    folder = received / "w"
    notes = {"hers": digest(b"half"), "half": digest(b"half"), "old": ""}
    lines = [[f"pieces/{k}.svg", v] if v else f"pieces/{k}.svg" for k, v in notes.items()]
    (folder / LOCK).write_text("".join(f"{json.dumps(n)}\n" for n in lines))
    for name, data in {"hers": b"hers", "half": b"half", "old": b"what"}.items():
        (folder / "pieces" / f"{name}.svg").write_bytes(data)
    save_step(folder, state(2), words="to 2")
    left = {f.name for f in (folder / "pieces").iterdir()}
    assert "hers.svg" in left
    assert not {"half.svg", "old.svg"} & left


def test_drafts_of_the_dead_are_tidied_everywhere_and_no_others(received):
    """A draft goes when nobody can be writing it any more; one that is being written stays."""
    folder = received / "w"
    places = ("", "pieces", "history", "history/copies", "lays", "ticks", "inbox/a", "photos")
    for place in places:
        (folder / place).mkdir(parents=True, exist_ok=True)
        for name in (f".x.{NO_PROCESS}.part", ".x.1.part", ".y.1.part", ".hers.part"):
            (folder / place / name).write_bytes(b"half")
        os.utime(folder / place / ".y.1.part", (1, 1))
    save_step(folder, state(2), words="to 2")
    left = {p.relative_to(folder).as_posix() for p in folder.rglob(".*.part")}
    alive = (".x.1.part", ".hers.part") if os.name == "posix" else (".hers.part",)
    assert left >= {f"{p}/{n}".lstrip("/") for p in places for n in alive}
    assert not {n for n in left if ".y." in n or str(NO_PROCESS) in n}


def test_every_place_that_is_written_is_looked_at(tmp_path):
    """No file that the program keeps has a name that the look for links passes over."""
    files = (
        lay_file(tmp_path, "p"),
        ways_file(tmp_path, "p"),
        ticks_file(tmp_path, "p", "a"),
        yardage_file(tmp_path),
        inbox(tmp_path),
        typed_folder(tmp_path),
        cloth_photos(tmp_path, "c"),
        tmp_path / PICTURES,
        tmp_path / RECORD,
        tmp_path / LOCK,
        tmp_path / AWAY,
    )
    for file in files:
        assert OWN.fullmatch(file.relative_to(tmp_path).parts[0]), file


@pytest.mark.parametrize("value", ["9" * 5000, "[" * 20_000 + "]" * 20_000], ids=["long", "deep"])
def test_a_text_that_python_cannot_hold_is_a_sentence(received, value):
    """A number of 5,000 figures, and lists in lists without end, are told like any other slip."""
    book = received / "w" / "workbook.toml"
    book.write_text(f"notes = {value}\n{book.read_text()}")
    for door in (load, opened):
        with pytest.raises(BadInput, match="not a readable workbook"):
            door(received / "w")
    assert unit_of(received / "w") is None


@pytest.mark.skipif(os.name != "posix", reason="pipes are made as POSIX has them")
def test_the_unit_of_a_pipe_is_not_waited_for(tmp_path):
    """What is said of a folder whose workbook.toml is a pipe is said in the usual unit."""
    os.mkfifo(tmp_path / "workbook.toml")
    assert unit_of(tmp_path) is None


def test_a_copy_that_unpacks_without_end_is_damaged(received, monkeypatch):
    """No more of a copy is unpacked than we ever wrote into one."""
    folder = received / "w"
    monkeypatch.setattr(copies, "MOST_BYTES", 100)
    with pytest.raises(BadInput, match="gone or damaged"):
        kept(folder, read_record(folder).lines[-1].state)


def test_a_folder_in_the_place_of_the_record_is_no_hard_link(received):
    """The workbook opens all the same."""
    record = received / "w" / RECORD
    record.unlink()
    record.mkdir()
    assert load(received / "w") == state(1)
