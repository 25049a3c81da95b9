"""A workbook that cannot be opened comes back from its copies; what lay there is kept."""

from __future__ import annotations

import errno
import os
import shutil
import stat

import pytest

from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.store import create, load, opened, redo, undo
from clothwright.store import steps as steps_of
from clothwright.store.history import recover
from clothwright.store.history.copies import COPIES, State, keep, on_disk
from clothwright.store.history.record import RECORD, read_record
from clothwright.store.history.recover import bring_back, earlier
from clothwright.store.noticed import noticed
from tests.store.book.test_file import BOOK, state
from tests.store.history.saving import save_step

TOML = "workbook.toml"


@pytest.fixture
def folder(tmp_path):
    """A workbook with five steps, two of them undone and one done again."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    for n in range(1, 6):
        save_step(folder, state(n), words=f"to {n}")
    undo(folder)
    undo(folder)
    redo(folder)
    return folder


def a_drawing(folder):
    return min((folder / "pieces").iterdir())


def lost(folder):
    (folder / TOML).unlink()


def empty(folder):
    (folder / TOML).write_bytes(b"")


def half(folder):
    whole = (folder / TOML).read_bytes()
    (folder / TOML).write_bytes(whole[: len(whole) // 2] + b'\n"')


def no_text(folder):
    (folder / TOML).write_bytes(b"\xff\x00")


def a_folder(folder):
    lost(folder)
    (folder / TOML).mkdir()
    (folder / TOML / "hers.txt").write_text("a note")


def no_drawing(folder):
    a_drawing(folder).unlink()


def bad_drawing(folder):
    a_drawing(folder).write_bytes(b"<svg")


def drawing_a_folder(folder):
    no_drawing(folder)
    a_drawing_gone = next(r for r in on_disk_names(folder) if not (folder / r).exists())
    (folder / a_drawing_gone).mkdir()


def on_disk_names(folder):
    return [
        line.split('"')[1] for line in (folder / TOML).read_text().splitlines() if ".svg" in line
    ]


def no_drawings(folder):
    shutil.rmtree(folder / "pieces")


HURT = [
    lost,
    empty,
    half,
    no_text,
    a_folder,
    no_drawing,
    bad_drawing,
    drawing_a_folder,
    no_drawings,
]


@pytest.mark.parametrize("hurt", HURT, ids=lambda f: f.__name__)
def test_what_was_saved_last_comes_back_to_the_letter(folder, hurt):
    """Whatever was hit: the last state, undo and redo as before, and what lay there is kept."""
    before = {
        f: f.read_bytes() for f in folder.rglob("*") if f.is_file() and f.parts[-2] != "history"
    }
    state_was, known = on_disk(folder), opened(folder)
    todo = [(s.words, s.undone) for s in steps_of(folder)]
    hurt(folder)
    there = {f: f.read_bytes() for f in folder.rglob("*") if f.is_file()}
    with pytest.raises(ClothwrightError, match="clothwright recover"):
        opened(folder)
    with pytest.raises(ClothwrightError, match="clothwright recover"):
        load(folder)
    done = bring_back(folder)
    assert on_disk(folder) == state_was
    now = opened(folder)
    assert (now.book, now.ids) == (known.book, known.ids)
    assert now.revision == done.number > known.revision
    assert [(s.words, s.undone) for s in steps_of(folder)] == todo
    for file, data in there.items():
        if before.get(file) != data and data and "steps" not in file.name:
            assert data in [
                f.read_bytes() for f in (folder / "set-aside").rglob("*") if f.is_file()
            ]
    undone = 0
    while undo(folder) is not None:
        undone += 1
    assert undone == 4
    assert load(folder) == BOOK
    for n in range(1, 6):
        redo(folder)
        assert load(folder) == state(n)


def test_what_was_set_aside_is_told(folder):
    """The half file is kept, and a notice says where."""
    half(folder)
    broken = (folder / TOML).read_bytes()
    bring_back(folder)
    (told,) = noticed(folder)
    assert "set aside when an earlier state was brought back" in told.said
    assert (folder / told.lies).read_bytes() == broken


def test_the_states_are_listed_and_one_is_chosen(folder):
    """Newest first, each once, with what was done; undo goes on from the one that was chosen."""
    found = earlier(folder)
    words = ["done again: to 4", "undone: to 4", "to 5", "to 2", "to 1"]
    assert [e.words for e in found][:5] == words
    assert all(e.whole and e.at and e.when for e in found)
    lost(folder)
    two = next(e for e in found if e.words == "to 2")
    assert bring_back(folder, two.state).kind == "back"
    assert load(folder) == state(2)
    undo(folder)
    assert load(folder) == state(1)
    for n in (2, 3, 4, 5):
        redo(folder)
        assert load(folder) == state(n)


def test_a_damaged_copy_is_passed_over_and_said(folder):
    """The newest state whose copies are all sound; a damaged one cannot be chosen."""
    newest = earlier(folder)[0]
    copy = folder / COPIES / f"{newest.state}.gz"
    copy.write_bytes(b"")
    lost(folder)
    assert [e.whole for e in earlier(folder)][:2] == [False, True]
    with pytest.raises(CannotDo, match="gone or damaged"):
        bring_back(folder, newest.state)
    with pytest.raises(CannotDo, match="gone or damaged"):
        bring_back(folder, "../../elsewhere")
    assert not (folder / TOML).exists()
    bring_back(folder)
    assert load(folder) == state(3)


@pytest.mark.parametrize("gone", [b"", None, b"{\n" * 40], ids=["empty", "lost", "damaged"])
def test_without_its_record_the_copies_are_found(folder, gone):
    """A state that no line names is found by looking; undo then begins anew."""
    known = {on_disk(folder).id}
    file = folder / RECORD
    file.unlink()
    if gone is not None:
        file.write_bytes(gone)
    lost(folder)
    found = earlier(folder)
    assert len(found) == 6
    assert known < {e.state for e in found}
    bring_back(folder, known.pop())
    assert load(folder) == state(4)
    save_step(folder, state(7), words="to 7")
    undo(folder)
    assert load(folder) == state(4)


def test_a_workbook_that_can_be_opened_is_left_alone(folder):
    """It is refused; nothing changes."""
    before = {f: f.read_bytes() for f in folder.rglob("*") if f.is_file()}
    with pytest.raises(CannotDo, match="can be opened as it is"):
        bring_back(folder)
    assert {f: f.read_bytes() for f in folder.rglob("*") if f.is_file()} == before


def test_without_copies_it_says_so(folder):
    """No history, no way back: the sentence says so, and the error does not name one."""
    shutil.rmtree(folder / "history")
    half(folder)
    with pytest.raises(ClothwrightError) as caught:
        load(folder)
    assert "recover" not in str(caught.value)
    assert earlier(folder) == ()
    with pytest.raises(CannotDo, match="no whole copy"):
        bring_back(folder)


def test_no_new_workbook_is_made_over_what_is_left_of_one(folder):
    """Its folder is refused, and the way back named."""
    lost(folder)
    with pytest.raises(BadInput, match="clothwright recover"):
        create(folder, BOOK)


def test_names_that_lead_out_of_the_workbook_are_not_written(folder, tmp_path):
    """A copy from elsewhere may name any file; only one inside is written."""
    book = (folder / TOML).read_bytes()
    evil = State(book=book, drawings={"../outside.svg": b"<svg/>", "/outside.svg": b"<svg/>"})
    name = keep(folder, evil)
    (folder / RECORD).unlink()
    lost(folder)
    with pytest.raises(ClothwrightError):
        bring_back(folder, name)
    assert not (tmp_path / "outside.svg").exists()
    bring_back(folder)
    assert load(folder)


def test_a_workbook_kept_to_oneself_comes_back_so(folder):
    """A lost file is no more open than the record of saves was."""
    (folder / RECORD).chmod(0o600)
    lost(folder)
    bring_back(folder)
    assert stat.S_IMODE((folder / TOML).stat().st_mode) == 0o600


@pytest.mark.skipif(os.name != "posix", reason="links are those of POSIX")
def test_a_linked_text_stays_a_link(folder, tmp_path):
    """workbook.toml may be a link, as at a save: the file it leads to is written whole."""
    whole, there = (folder / TOML).read_bytes(), tmp_path / "elsewhere.toml"
    there.write_bytes(b"")
    lost(folder)
    (folder / TOML).symlink_to(there)
    bring_back(folder)
    assert (folder / TOML).is_symlink()
    assert there.read_bytes() == whole


def test_a_power_cut_at_any_touch_of_the_disk_leaves_it_to_be_brought_back(
    folder, tmp_path, monkeypatch
):
    """Cut before each write, or the disk full there: once more, and all is back."""
    wanted = on_disk(folder)
    half(folder)
    a_drawing(folder).write_bytes(b"<svg")
    broken = {f.read_bytes() for f in (folder / TOML, a_drawing(folder))}
    write, calls = recover.write_whole, []

    def failing(at, error):
        def hit(*a, **k):
            calls.append(a)
            if len(calls) - 1 == at:
                raise error
            return write(*a, **k)

        return hit

    for error in (KeyboardInterrupt(), OSError(errno.ENOSPC, "No space left on device")):
        for at in range(5):
            again = tmp_path / f"{type(error).__name__}-{at}"
            shutil.copytree(folder, again)
            calls.clear()
            with monkeypatch.context() as patch:
                hit = failing(at, error)
                for where in ("store.history.recover", "store.aside", "store.book.file"):
                    patch.setattr(f"clothwright.{where}.write_whole", hit)
                try:
                    bring_back(again)
                except (KeyboardInterrupt, BadInput):
                    assert len(calls) == at + 1
                else:
                    assert at >= 4
            if not recover.opens(again):
                bring_back(again)
            assert on_disk(again) == wanted
            kept = {f.read_bytes() for f in (again / "set-aside").rglob("*") if f.is_file()}
            assert broken <= kept
            assert undo(again) is not None
            assert not read_record(again).damaged
