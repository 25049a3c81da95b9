"""What is noticed about a workbook's folder is told until it is put away; nothing is lost."""

from __future__ import annotations

import errno
import os
import time

import pytest

from clothwright.errors import BadInput
from clothwright.store import create, undo
from clothwright.store.aside import all_aside, set_aside
from clothwright.store.disk import TICK_NS
from clothwright.store.folder import LOCK
from clothwright.store.history import record
from clothwright.store.history.record import RECORD, Record, read_record
from clothwright.store.noticed import noticed, put_away
from tests.store.book.test_file import BOOK, state
from tests.store.history.saving import save_step


@pytest.fixture
def folder(tmp_path):
    """A workbook with a few steps, nothing wrong with it."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    for n in range(1, 4):
        save_step(folder, state(n), words=f"to {n}")
    return folder


def test_a_damaged_record_is_told_and_the_file_kept_whole(folder):
    """Nothing to tell, then a sentence that says where the damaged file lies, to the letter."""
    assert noticed(folder) == ()
    file = folder / RECORD
    whole = file.read_bytes()
    broken = whole.replace(b"to 2", b"to ~", 1)
    file.write_bytes(broken)
    (told,) = noticed(folder)
    assert told.said.startswith("The record of what was done was damaged.")
    assert (folder / told.lies).read_bytes() == file.read_bytes() == broken
    undo(folder)
    assert noticed(folder) == (told,)
    assert not read_record(folder).damaged


def test_a_damaged_record_is_told_where_nothing_may_be_written(folder, monkeypatch):
    """It cannot be set aside; the notice names the file where it lies, and it stays as it is."""
    file = folder / RECORD
    broken = file.read_bytes().replace(b"to 2", b"to ~", 1)
    file.write_bytes(broken)

    def denied(*_):
        raise OSError(errno.EROFS, "Read-only file system")

    monkeypatch.setattr("clothwright.store.noticed.set_aside", denied)
    (told,) = noticed(folder)
    assert (told.lies, file.read_bytes()) == (RECORD, broken)


def test_a_record_is_read_once_and_again_when_it_was_written_to(folder, monkeypatch):
    """Only what was left alone for a while is remembered: two changes may bear the same time."""
    file, seen = folder / RECORD, []
    monkeypatch.setattr(record, "_said_by", lambda data: seen.append(data) or Record())
    monkeypatch.setattr(record, "_READ", {})
    for _ in range(2):
        read_record(folder)
    assert len(seen) == 2
    now = time.time_ns() + 2 * TICK_NS
    monkeypatch.setattr(record.time, "time_ns", lambda: now)
    for _ in range(3):
        read_record(folder)
    assert len(seen) == 3
    about = file.stat()
    file.write_bytes(seen[0].replace(b"to 2", b"to ~", 1))
    os.utime(file, ns=(about.st_atime_ns, about.st_mtime_ns))
    os.truncate(file, about.st_size - 1)
    read_record(folder)
    assert len(seen) == 4


def test_a_notice_put_away_stays_away_and_the_file_stays(folder):
    """Told no more; what is damaged later is told again; nobody puts away what is not told."""
    file = folder / "ticks" / "all hems.ff00.json"
    file.parent.mkdir()
    file.write_bytes(b"one")
    lies = set_aside(folder, file)
    (told,) = noticed(folder)
    with pytest.raises(BadInput, match="no such notice"):
        put_away(folder, "set-aside/../workbook.toml")
    put_away(folder, told.lies)
    assert noticed(folder) == ()
    assert lies.read_bytes() == b"one"
    file.write_bytes(b"two")
    set_aside(folder, file)
    assert [n.lies[-1] for n in noticed(folder)] == ["2"]


def test_the_same_damage_is_set_aside_once_and_other_damage_beside_it(folder):
    """Each once, under a number of its own; a name that is taken is never written over."""
    file = folder / "chart.json"
    for data in (b"a", b"b", b"a", b"b"):
        file.write_bytes(data)
        place = set_aside(folder, file)
        assert place.read_bytes() == data
    assert [it.lies for it in all_aside(folder)] == [
        "set-aside/chart.json.damaged-1",
        "set-aside/chart.json.damaged-2",
    ]
    assert {it.was for it in all_aside(folder)} == {"chart.json"}


def test_a_folder_in_the_place_of_a_file_is_moved_whole(folder):
    """What is no file is set aside as well, with all that is in it, and told."""
    file = folder / "chart.json"
    file.mkdir()
    (file / "hers.txt").write_text("a note")
    place = set_aside(folder, file)
    assert not file.exists()
    assert (place / "hers.txt").read_text() == "a note"
    assert [n.lies for n in noticed(folder)] == ["set-aside/chart.json.damaged-1"]


def test_a_disk_that_is_full_says_so(folder, monkeypatch):
    """Nothing is put away, and a sentence says why."""
    (folder / "chart.json").write_bytes(b"a")
    set_aside(folder, folder / "chart.json")
    before = noticed(folder)

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("clothwright.store.beside.kept.write_whole", full)
    with pytest.raises(BadInput, match="could not be saved"):
        put_away(folder, "set-aside/chart.json.damaged-1")
    assert noticed(folder) == before


BESIDE = (
    "lays/all hems.json",
    "inbox/refused-seams.json",
    *(f"inbox/20300131-101500-abcdef/{n}" for n in ("sitting.json", "drawing.svg", "photo-1.jpg")),
    "pictures/linen.jpg",
    "photos/cloth-00112233445566aa.jpg",
    "typed/skirt front 0a1b2c.txt",
)
COPIES = (
    "workbook (1).toml",
    "workbook 2.toml",
    "workbook (conflicted copy 2030-01-31).toml",
    "workbook (Ann's conflicted copy 2030-01-31).toml",
    "workbook (In Konflikt stehende Kopie 2030-01-31).toml",
    "workbook.sync-conflict-20300131-101500-ABCDEFG.toml",
    "workbook_conflict-20300131-101500.toml",
    "history/steps (1).jsonl",
    "history/steps.sync-conflict-20300131-101500-ABCDEFG.jsonl",
    "pieces/{drawing} (1).svg",
    "pieces/{drawing} 2.svg",
    "pieces/{drawing} (conflicted copy 2030-01-31).svg",
    "lays/all hems (1).json",
    "inbox/refused-seams (1).json",
    "inbox/20300131-101500-abcdef/sitting.sync-conflict-20300131-101500-ABCDEFG.json",
    "inbox/20300131-101500-abcdef/drawing (1).svg",
    "inbox/20300131-101500-abcdef/photo-1 (Ann's conflicted copy 2030-01-31).jpg",
    "pictures/linen 2.jpg",
    "photos/cloth-00112233445566aa.sync-conflict-20300131-101500-ABCDEFG.jpg",
    "typed/skirt front 0a1b2c (1).txt",
)


@pytest.mark.parametrize("name", COPIES)
def test_a_copy_of_a_syncing_folder_is_told_and_not_touched(folder, name):
    """Said with its path until it is put away; a save leaves it where it lies, to the letter."""
    for there in BESIDE:
        (folder / there).parent.mkdir(exist_ok=True, parents=True)
        (folder / there).write_text("{}")
    drawing = next(f.stem for f in (folder / "pieces").iterdir())
    copy = folder / name.format(drawing=drawing)
    copy.write_bytes(b"another")
    (told,) = noticed(folder)
    assert "There is a second copy of" in told.said
    assert "a file beside" not in told.said
    assert folder / told.lies == copy
    put_away(folder, told.lies)
    assert noticed(folder) == ()
    save_step(folder, state(9), words="to 9")
    assert copy.read_bytes() == b"another"


def test_what_only_looks_like_a_copy_is_none(folder):
    """Drawings that the workbook names, a copy of nothing, and files of hers are not told."""
    (folder / LOCK).write_text('["pieces/x 3.svg", ""]\n')
    (folder / "pictures").mkdir()
    names = (
        "pieces/x 3.svg",
        "notes (1).toml",
        "notes.toml",
        "pieces/other (1).svg",
        "chart 2.json",
        "my 2.svg",
        "pictures/x.jpg",
        "pictures/x 2.jpg",
        "inbox.txt",
    )
    for name in (*names, "history/steps.damaged-1.jsonl", "pieces/x.svg", "pieces/x.txt"):
        (folder / name).write_bytes(b"hers")
    drawing = next(f for f in (folder / "pieces").iterdir() if f.stem != "x")
    two = drawing.with_name("x 2.svg")
    drawing.rename(two)
    book = folder / "workbook.toml"
    book.write_text(book.read_text().replace(f"pieces/{drawing.name}", "pieces/x 2.svg"))
    book.write_text(book.read_text() + '# as in the picture "x 2.jpg"\n')
    assert noticed(folder) == ()
