"""The folder: saved whole or not at all, whatever happens."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.errors import BadInput, ClothwrightError
from clothwright.geometry.transform import translation
from clothwright.pattern.whole import moved
from clothwright.store import create, load, save
from clothwright.store.book.lock import LOCK, held
from clothwright.units import Unit
from clothwright.workbook import Step, Workbook
from tests.listed import with_step

BOOK = replace(checked_waistcoat(), title="state 0")
NO_PROCESS = 2**31 - 1
"""A number that no process has: systems count lower."""


def state(number: int) -> Workbook:
    """A workbook whose title and every piece say which state it is."""
    pieces = tuple(moved(p, translation((float(number), 0.0))) for p in BOOK.bought.pieces)
    return replace(BOOK, title=f"state {number}", bought=replace(BOOK.bought, pieces=pieces))


def state_of(book: Workbook) -> int:
    """The number of the state that a workbook is in; a mixture of two states fails."""
    number = int(book.title.split()[-1])
    assert book == (state(number) if number else BOOK), "title and pieces are of different states"
    return number


SAVER = """
import os, sys
from pathlib import Path
from clothwright.store import load, save
from tests.store.book.test_file import state
folder = Path(sys.argv[1])
for line in sys.stdin:
    pid = os.fork()
    if pid == 0:
        n = int(load(folder).title.split()[-1])
        while True:
            n += 1
            book = state(n)
            os.write(1, f"start {n}\\n".encode())
            save(book, folder)
            os.write(1, f"done {n}\\n".encode())
    os.write(1, f"pid {pid}\\n".encode())
    status = os.waitpid(pid, 0)[1]
    os.write(1, f"ended {os.WTERMSIG(status)}\\n".encode())
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kill -9 is a thing of POSIX systems")
def test_killed_in_the_middle_of_a_hundred_saves(tmp_path):
    """Kill -9 at a hundred random moments: the workbook opens each time, in one whole state.

    Title and every piece change with each save, so a state that mixes two saves would show. A save
    that was reported done must be there; most kills must have hit a save that had begun.
    """
    folder = tmp_path / "w"
    create(folder, BOOK)
    rng = random.Random(5)
    midway = 0
    with subprocess.Popen(
        [sys.executable, "-c", SAVER, str(folder)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[3],
    ) as saver:
        assert saver.stdin is not None
        assert saver.stdout is not None
        for _ in range(100):
            before = state_of(load(folder))
            said = one_kill(saver, rng.uniform(0.0, 0.05))
            assert said[-1] == ("ended", signal.SIGKILL)
            done = max((n for word, n in said if word == "done"), default=before)
            begun = max((n for word, n in said if word == "start"), default=before)
            assert state_of(load(folder)) in (done, begun)
            midway += begun > done
        saver.stdin.close()
    assert midway > 20
    save(BOOK, folder)
    assert load(folder) == BOOK
    assert sorted(p.name for p in (folder / "pieces").iterdir()) == sorted(drawings(folder))
    assert {p.name for p in folder.iterdir()} == {"workbook.toml", "pieces"}


def one_kill(
    saver: subprocess.Popen[str], after: float, *, go: str = "go", done: int = 0
) -> list[tuple[str, int]]:
    """Have one process save on and on, kill it, and return what was said.

    after: seconds from the first start of a save, or from so many that are done, whatever their
    machine's speed.
    """
    assert saver.stdin is not None
    assert saver.stdout is not None
    saver.stdin.write(f"{go}\n")
    saver.stdin.flush()
    said: list[tuple[str, int]] = []
    pid = begun = 0
    while not (pid and begun) or sum(w == "done" for w, _ in said) < done:
        word, number = saver.stdout.readline().split()
        said.append((word, int(number)))
        pid = int(number) if word == "pid" else pid
        begun = begun or word == "start"
    time.sleep(after)
    os.kill(pid, signal.SIGKILL)
    while said[-1][0] != "ended":
        word, number = saver.stdout.readline().split()
        said.append((word, int(number)))
    return [each for each in said if each[0] != "pid"]


def drawings(folder: Path) -> set[str]:
    """The files that workbook.toml names."""
    text = (folder / "workbook.toml").read_text()
    return {x.split('"')[1].split("/")[1] for x in text.splitlines() if x.startswith("file =")}


class PowerCut(BaseException):
    """Nothing catches it, as nothing runs after a power cut."""


TOUCHES = ((os, "fsync"), (os, "ftruncate"), (os, "write"), (Path, "replace"), (Path, "unlink"))


def cut_power_at(monkeypatch: pytest.MonkeyPatch, moment: int, *, late: bool) -> list[int]:
    """Let the power go at the n-th touch of the disk, before it or just after it."""
    count = [0]

    def wrapped(touch):
        def it(*args, **kwargs):
            count[0] += 1
            if count[0] == moment and not late:
                raise PowerCut
            result = touch(*args, **kwargs)
            if count[0] == moment:
                raise PowerCut
            return result

        return it

    for owner, name in TOUCHES:
        monkeypatch.setattr(owner, name, wrapped(getattr(owner, name)))
    return count


@pytest.mark.parametrize("late", [False, True], ids=["before", "after"])
def test_power_cut_at_every_touch_of_the_disk(tmp_path, monkeypatch, late):
    """One after another, every touch of the disk is the last: old or new state, never a mixture.

    The next save then goes through, and leaves no file behind that workbook.toml does not name.
    """
    moments = 0
    seen = set()
    saved = tmp_path / "saved"
    create(saved, BOOK)
    for moment in range(1, 200):
        folder = shutil.copytree(saved, tmp_path / f"{moment}")
        with monkeypatch.context() as patch:
            count = cut_power_at(patch, moment, late=late)
            try:
                save(state(1), folder)
            except PowerCut:
                moments += 1
        seen.add(state_of(load(folder)))
        save(state(2), folder)
        assert load(folder) == state(2)
        assert {p.name for p in (folder / "pieces").iterdir()} == drawings(folder)
        if count[0] < moment:
            break
    assert moments > 10
    assert seen == {0, 1}


def test_a_save_goes_on_after_a_killed_one(tmp_path):
    """What a dead process left does not keep the maker out, and is tidied away."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    (folder / LOCK).write_text('"pieces/front 9.svg"\n"pieces/cut o')
    (folder / "pieces" / "front 9.svg").write_text("half")
    (folder / f".workbook.toml.{NO_PROCESS}.part").write_text("half")
    save(replace(BOOK, title="after"), folder)
    assert load(folder).title == "after"
    assert {p.name for p in folder.iterdir()} == {"workbook.toml", "pieces"}
    assert {p.name for p in (folder / "pieces").iterdir()} == drawings(folder)


def test_two_savers_at_once_the_later_is_told(tmp_path, monkeypatch):
    """While one program saves another waits a little, then says so; nothing is written."""
    monkeypatch.setattr("clothwright.store.book.lock.PATIENCE_S", 0.05)
    folder = tmp_path / "w"
    create(folder, BOOK)
    with held(folder), pytest.raises(BadInput, match="is saving this workbook"):
        save(state(1), folder)
    assert load(folder) == BOOK
    save(state(1), folder)
    assert load(folder) == state(1)


def test_a_full_disk_loses_nothing(tmp_path, monkeypatch):
    """When writing fails half-way the old state opens as before."""
    folder = tmp_path / "w"
    book = checked_waistcoat()
    create(folder, book)

    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    pieces = tuple(moved(p, translation((1.0, 0.0))) for p in book.bought.pieces)
    with pytest.raises(BadInput, match="No space"):
        save(replace(book, bought=replace(book.bought, pieces=pieces)), folder)
    monkeypatch.undo()
    assert load(folder) == book
    save(book, folder)
    assert {p.name for p in (folder / "pieces").iterdir()} == drawings(folder)


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


def test_a_workbook_that_cannot_be_read_is_not_overwritten(tmp_path):
    """A slip in an edit by hand is told with its line; her edit stays as it is."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    file = folder / "workbook.toml"
    broken = file.read_text() + "[[plan]]\nname = unquoted\n"
    file.write_text(broken)
    with pytest.raises(BadInput, match="line"):
        save(state(1), folder)
    assert file.read_text() == broken


def test_her_own_files_in_the_folder_are_left_alone(tmp_path):
    """A drawing of hers under a name a new drawing would get is not overwritten or removed."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    hers = folder / "pieces" / "front 2.svg"
    hers.write_text("hers")
    save(state(1), folder)
    save(state(2), folder)
    assert hers.read_text() == "hers"
    assert load(folder) == state(2)


def test_a_drawing_edited_by_hand_is_not_rewritten(tmp_path):
    """What she changed in a drawing is read, and a save that does not touch it keeps every byte."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    file = folder / "pieces" / "front.svg"
    edited = file.read_bytes().replace(b'data-allowance="15.875"', b'data-allowance="20"', 1)
    edited = edited.replace(b"</svg>", b"<!-- let out here --></svg>")
    file.write_bytes(edited)
    book = load(folder)
    assert book != BOOK
    save(replace(book, title="x"), folder)
    assert file.read_bytes() == edited


def test_what_cannot_be_written_is_refused_before_anything_is_touched(tmp_path):
    """A name that no XML can hold, a length that is no number: a sentence, and the old state."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    odd_piece = replace(BOOK.bought.pieces[0], note="a bell: \x07")
    for book in (
        replace(BOOK, bought=BOOK.bought.with_piece(odd_piece)),
        replace(BOOK, settings=replace(BOOK.settings, gap=float("nan"))),
        replace(BOOK, cloths=(BOOK.cloths[0], BOOK.cloths[0])),
        with_step(BOOK, Step(change="crop", params={"lenght": "17 in"})),
    ):
        before = {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
        with pytest.raises(ClothwrightError):
            save(book, folder)
        assert {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()} == before


def test_another_unit_changes_no_length(tmp_path):
    """Numbers that stood without a unit are written anew when the maker's unit changes."""
    folder = tmp_path / "w"
    create(folder, BOOK)
    file = folder / "workbook.toml"
    text = file.read_text().replace('gap = "0.2 cm"', "gap = 0.2  # a chalk line", 1)
    file.write_text(text.replace('width = "91 cm"', 'width = "91"', 1))
    book = load(folder)
    assert book == BOOK
    save(replace(book, unit=Unit.inch), folder)
    assert load(folder) == replace(BOOK, unit=Unit.inch)
    assert "# a chalk line" in file.read_text()
