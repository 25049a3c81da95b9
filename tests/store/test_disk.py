"""Who may read a file stays as it was, and a workbook that is a link stays one."""

from __future__ import annotations

import os
import stat

import pytest

from clothwright.store import create, load
from clothwright.store.book.lock import held
from clothwright.store.disk import is_left_over, make_folder, open_own, write_whole
from clothwright.workroom.cutting.ticks import set_ticks
from clothwright.workroom.pieces.inbox import put_in
from tests.store.book.test_file import BOOK, NO_PROCESS, state
from tests.store.history.saving import save_step

pytestmark = pytest.mark.skipif(os.name != "posix", reason="modes and links are those of POSIX")


@pytest.fixture(autouse=True)
def _usual_umask():
    """Others may read what is written without further ado."""
    before = os.umask(0o022)
    yield
    os.umask(before)


def mode(file):
    """The mode of a file, as chmod takes it."""
    return stat.S_IMODE(file.stat().st_mode)


@pytest.mark.parametrize("kept", [0o600, 0o640, 0o664, 0o444])
def test_a_file_keeps_its_mode(tmp_path, kept):
    """Written anew, a file is read by those who could read it before, and by nobody else."""
    file = tmp_path / "a.json"
    file.write_bytes(b"1")
    file.chmod(kept)
    write_whole(file, b"2")
    assert (file.read_bytes(), mode(file)) == (b"2", kept)


def test_nothing_in_a_workbook_is_more_open_than_the_workbook(tmp_path, monkeypatch):
    """Drawings, history, ticks, the inbox and the lock are closed with workbook.toml, at once."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    (folder / "workbook.toml").chmod(0o600)
    was = {p for p in folder.rglob("*") if p != folder / "workbook.toml"}
    seen = []
    replaced = type(folder).replace

    def looked(draft, target):
        seen.append((draft.name, mode(draft)))
        return replaced(draft, target)

    monkeypatch.setattr(type(folder), "replace", looked)
    save_step(folder, state(1), words="to 1")
    set_ticks(folder, "first", "abc", {"lay 1": True})
    put_in(folder, "front.svg", b"<svg/>")
    with held(folder):
        assert mode(folder / ".saving") == 0o600
    made = [p for p in folder.rglob("*") if p not in was]
    assert {mode(p) for p in made if p.is_file()} == {0o600}
    assert {mode(p) for p in made if p.is_dir()} == {0o700}
    assert len(made) > 10
    assert {m for _, m in seen} == {0o600}


def test_a_workbook_open_to_a_group_has_folders_that_the_group_can_enter(tmp_path):
    """Who may read workbook.toml may also look into a new folder and read a new file in it."""
    (tmp_path / "workbook.toml").write_text("")
    (tmp_path / "workbook.toml").chmod(0o640)
    write_whole(tmp_path / "lays" / "a.json", b"1")
    assert (mode(tmp_path / "lays"), mode(tmp_path / "lays" / "a.json")) == (0o750, 0o640)


def test_without_a_workbook_the_system_decides(tmp_path):
    """A print written elsewhere is as open as any other new file."""
    make_folder(tmp_path / "out")
    os.close(open_own(tmp_path / "out" / "a.svg", os.O_RDWR))
    write_whole(tmp_path / "out" / "b.svg", b"1")
    assert mode(tmp_path / "out") == 0o755
    assert {mode(p) for p in (tmp_path / "out").iterdir()} == {0o644}


def test_a_group_that_cannot_be_kept_is_given_no_more_than_everybody(tmp_path, monkeypatch):
    """Where the owner may not hand the file to its group, another group does not read it."""
    file = tmp_path / "a.json"
    file.write_bytes(b"1")
    file.chmod(0o640)
    about = type(file).stat

    def of_others(path, **more):
        found = about(path, **more)
        return found if path.name != "a.json" else os.stat_result(_with_group(found))

    def refused(*_):
        raise PermissionError

    monkeypatch.setattr(type(file), "stat", of_others)
    monkeypatch.setattr(os, "chown", refused)
    write_whole(file, b"2")
    monkeypatch.undo()
    assert mode(file) == 0o600


def _with_group(found):
    rows = list(found)
    rows[stat.ST_GID] += 1
    return rows


def test_a_workbook_that_is_a_link_stays_one(tmp_path):
    """What workbook.toml leads to is replaced whole, with its mode; drafts beside it are tidied."""
    folder, there = tmp_path / "w", tmp_path / "kept" / "coat.toml"
    create(folder, BOOK)
    there.parent.mkdir()
    (folder / "workbook.toml").rename(there)
    (folder / "workbook.toml").symlink_to(there)
    there.chmod(0o600)
    before = there.stat().st_ino
    (there.parent / f".coat.toml.{NO_PROCESS}.part").write_text("half")
    save_step(folder, state(1), words="to 1")
    assert (folder / "workbook.toml").is_symlink()
    assert there.stat().st_ino != before  # another file in its place, never half of one
    assert mode(there) == 0o600
    assert load(folder) == state(1)
    assert [p.name for p in there.parent.iterdir()] == ["coat.toml"]


def test_a_draft_that_is_being_written_is_not_left_over(tmp_path, monkeypatch):
    """A thread that writes keeps its draft from being tidied by another; afterwards it is none."""
    seen = []
    replaced = type(tmp_path).replace

    def looked(draft, target):
        seen.append(is_left_over(draft))
        return replaced(draft, target)

    monkeypatch.setattr(type(tmp_path), "replace", looked)
    write_whole(tmp_path / "a.json", b"1")
    assert seen == [False]
    dead = tmp_path / f".a.json.{os.getpid()}.part"
    dead.write_bytes(b"half")
    assert is_left_over(dead)  # of an earlier process that had this number


def test_a_draft_is_gone_when_the_disk_is_full(tmp_path, monkeypatch):
    """What could not be written whole leaves nothing behind."""

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_whole(tmp_path / "a.json", b"1")
    assert list(tmp_path.iterdir()) == []


def test_a_name_as_long_as_names_may_be_is_written(tmp_path):
    """The draft's name is cut, so that no file that fits is refused."""
    file = tmp_path / ("ü" * 125 + ".json")
    write_whole(file, b"1")
    assert file.read_bytes() == b"1"
