"""The record of saves: undo and redo to the letter, whatever happens in between."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from clothwright.errors import BadInput, CannotDo, ClothwrightError
from clothwright.store import create, load, opened, redo, save, undo
from clothwright.store import steps as steps_of
from clothwright.store.history import steps as history
from clothwright.store.history.copies import COPIES, on_disk
from clothwright.store.history.record import RECORD, read_record
from clothwright.store.history.touched import carried, clash, touched
from clothwright.workbook import Step
from tests.listed import with_step
from tests.store.book.test_file import (
    BOOK,
    PowerCut,
    cut_power_at,
    drawings,
    one_kill,
    state,
    state_of,
)
from tests.store.history.saving import revision, save_step


@pytest.fixture
def folder(tmp_path):
    made = tmp_path / "w"
    create(made, BOOK)
    return made


def to_the_letter(folder: Path) -> dict[str, bytes]:
    """workbook.toml and the drawings it names."""
    found = {n: (folder / "pieces" / n).read_bytes() for n in drawings(folder)}
    return {"workbook.toml": (folder / "workbook.toml").read_bytes(), **found}


def test_a_workbook_without_a_record_opens_as_before(folder):
    """Nothing is kept until somebody asks for it; then the record begins with what is there."""
    assert load(folder) == BOOK
    assert steps_of(folder) == ()
    assert not (folder / "history").exists()
    assert undo(folder) is None
    assert redo(folder) is None
    assert opened(folder).book == BOOK
    assert [s.kind for s in steps_of(folder)] == ["start"]


def test_undo_and_redo_bring_back_every_letter(folder):
    """Comments, order and wording of the file, and every drawing, are as they were."""
    file = folder / "workbook.toml"
    file.write_text(file.read_text().replace("\n[[cloth]]", "\n# from my aunt\n[[cloth]]", 1))
    seen = [to_the_letter(folder)]
    for n in (1, 2, 3):
        save_step(folder, state(n), words=f"to {n}")
        seen.append(to_the_letter(folder))
    assert b"# from my aunt" in seen[-1]["workbook.toml"]
    for n in (2, 1, 0):
        step = undo(folder)
        assert step is not None
        assert step.words == f"to {n + 1}"
        assert state_of(load(folder)) == n
        assert to_the_letter(folder)["workbook.toml"] == seen[n]["workbook.toml"]
    assert undo(folder) is None
    for n in (1, 2, 3):
        assert redo(folder) is not None
        assert state_of(load(folder)) == n
    assert redo(folder) is None
    assert to_the_letter(folder) == seen[3]
    assert {p.name for p in (folder / "pieces").iterdir()} == drawings(folder)


MOVES = st.lists(st.sampled_from(["save", "undo", "redo", "hand", "drawing", "plain"]), max_size=14)


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(moves=MOVES)
def test_any_order_of_saves_undos_redos_and_edits_by_hand(tmp_path_factory, moves):
    """A plain list with a finger on it says what undo and redo must bring; the folder agrees.

    Edits by hand, to the text or to a drawing, and saves that know nothing of the record count as
    steps. Revisions only ever count up.
    """
    folder = tmp_path_factory.mktemp("any") / "w"
    create(folder, BOOK)
    opened(folder)
    past, finger, last = [load(folder)], 0, revision(folder)
    for k, move in enumerate(moves):
        if move == "undo":
            assert (undo(folder) is None) == (finger == 0)
            finger = max(0, finger - 1)
        elif move == "redo":
            assert (redo(folder) is None) == (finger == len(past) - 1)
            finger = min(len(past) - 1, finger + 1)
        else:
            _change(folder, move, k)
            past, finger = [*past[: finger + 1], load(folder)], finger + 1
        assert load(folder) == past[finger]
        now = revision(folder)
        assert now >= last
        last = now
        shown = steps_of(folder)
        assert [s.undone for s in shown] == [i > finger for i in range(len(past))]
    assert {p.name for p in (folder / "pieces").iterdir()} >= drawings(folder)


def _change(folder: Path, move: str, k: int) -> None:
    book = load(folder)
    if move == "drawing":
        name = next(p.file for p in _rows(folder))
        file = folder / name
        file.write_bytes(file.read_bytes().replace(b"</svg>", b"<!-- %d --></svg>" % k))
        text = folder / "workbook.toml"
        text.write_text(text.read_text() + f"# {k}\n")
    elif move == "hand":
        file = folder / "workbook.toml"
        file.write_text(file.read_text().replace(f'title = "{book.title}"', f'title = "hand {k}"'))
    elif move == "plain":
        save(replace(state(k + 1), title=f"plain {k}"), folder)
    else:
        save_step(folder, state(k + 1), words=f"save {k}")


def _rows(folder: Path):
    from clothwright.store.book.format import read_table

    return read_table((folder / "workbook.toml").read_text(), "workbook.toml").pieces


def test_an_edit_by_hand_is_a_step_and_can_be_undone(folder):
    """A drawing and the text changed in an editor come back to the letter, under any names."""
    save_step(folder, state(1), words="to 1")
    before = to_the_letter(folder)
    name = min(drawings(folder))
    drawing = folder / "pieces" / name
    drawing.write_bytes(drawing.read_bytes().replace(b"</svg>", b"<!-- mine --></svg>"))
    edited = to_the_letter(folder)
    assert [s.words for s in steps_of(folder)][-1] == "edited outside"
    step = undo(folder)
    assert step is not None
    assert step.words == "edited outside"
    assert state_of(load(folder)) == 1
    assert sorted(to_the_letter(folder).values())[1:] == sorted(before.values())[1:]
    assert redo(folder) is not None
    assert min(edited.values()) in to_the_letter(folder).values()
    assert any(b"<!-- mine -->" in data for data in to_the_letter(folder).values())


def test_an_unreadable_edit_by_hand_is_told_and_never_overwritten(folder):
    """A slip in the text: save, undo and revision say where, and the text stays."""
    save_step(folder, state(1), words="to 1")
    file = folder / "workbook.toml"
    broken = file.read_text() + "[[plan]]\nname = unquoted\n"
    file.write_text(broken)
    for act in (undo, redo, revision, opened, lambda f: save_step(f, state(2), words="to 2")):
        with pytest.raises(ClothwrightError, match="line"):
            act(folder)
    assert file.read_text() == broken
    assert state_of(replace(load_mended(file, broken))) == 1
    assert undo(folder) is not None


def load_mended(file: Path, broken: str):
    file.write_text(broken.replace("unquoted", '"quoted"'))
    book = load(file.parent)
    return replace(book, plans=book.plans[:-1])


def test_a_save_on_an_old_state_is_refused_and_says_what_was_done(folder):
    """Base is what was looked at; a later step is named, and nothing is written."""
    base = revision(folder)
    save_step(folder, state(1), words="crop front at 432 mm", base=base)
    with pytest.raises(CannotDo, match="crop front at 432 mm"):
        save_step(folder, state(2), words="other", base=base)
    with pytest.raises(CannotDo, match="moved on"):
        undo(folder, base=base)
    assert state_of(load(folder)) == 1


def test_a_save_that_changes_nothing_is_no_step(folder):
    """The same workbook again: the same revision, nothing to undo."""
    save_step(folder, state(1), words="to 1")
    before = revision(folder)
    save_step(folder, load(folder), words="again")
    assert revision(folder) == before
    assert len(steps_of(folder)) == 2


def test_a_save_after_undo_ends_what_could_be_redone(folder):
    """As everywhere: a new step after an undo is the new end."""
    save_step(folder, state(1), words="to 1")
    save_step(folder, state(2), words="to 2")
    undo(folder)
    save_step(folder, state(3), words="to 3")
    assert redo(folder) is None
    assert [s.words for s in steps_of(folder)][1:] == ["to 1", "to 3"]


@pytest.mark.parametrize("late", [False, True], ids=["before", "after"])
@pytest.mark.parametrize("act", ["save", "undo"])
def test_power_cut_at_every_touch_of_the_disk(tmp_path, monkeypatch, late, act):
    """One after another, every touch of the disk is the last: the old state or the new one.

    The record is whole or shorter by that one step, the next undo leads where it must, and no
    drawing is left behind that workbook.toml does not name.
    """
    moments, seen = 0, set()
    saved = tmp_path / "saved"
    create(saved, BOOK)
    save_step(saved, state(1), words="to 1")
    for moment in range(1, 300):
        folder = shutil.copytree(saved, tmp_path / f"{moment}")
        with monkeypatch.context() as patch:
            count = cut_power_at(patch, moment, late=late)
            try:
                _ = save_step(folder, state(2), words="to 2") if act == "save" else undo(folder)
            except PowerCut:
                moments += 1
        now = state_of(load(folder))
        seen.add(now)
        assert [s.kind for s in steps_of(folder)] == ["start", "save", "save"][: max(2, now + 1)]
        assert sum(not s.undone for s in steps_of(folder)) == now + 1
        step = undo(folder)
        assert (step is None) == (now == 0)
        assert state_of(load(folder)) == max(0, now - 1)
        save_step(folder, state(5), words="to 5")
        assert {p.name for p in (folder / "pieces").iterdir()} == drawings(folder)
        assert [s.kind for s in read_record(folder).lines].count("outside") == 0
        if count[0] < moment:
            break
    assert moments > 10
    assert seen == ({1, 2} if act == "save" else {0, 1})


KILLED = """
import os, sys
from pathlib import Path
from clothwright.store import load, redo, undo
from tests.store.book.test_file import state
from tests.store.history.saving import revision, save_step
folder = Path(sys.argv[1])
for top in sys.stdin:
    pid = os.fork()
    n = int(top)
    while pid == 0:
        n += 1
        os.write(1, f"start {n}\\n".encode())
        save_step(folder, state(n), words=f"to {n}")
        os.write(1, f"done {n}\\n".encode())
        if n % 3 == 0:
            undo(folder)
            redo(folder)
    os.write(1, f"pid {pid}\\n".encode())
    status = os.waitpid(pid, 0)[1]
    os.write(1, f"ended {os.WTERMSIG(status)}\\n".encode())
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kill -9 is a thing of POSIX systems")
def test_killed_inside_steps(folder):
    """Kill -9 at random moments: the workbook opens in one whole state, undo leads to another.

    A step that was reported done is in the record; none was taken for an edit by hand.
    """
    opened(folder)
    rng, top, reached, now = random.Random(9), 0, 0, state_of(load(folder))
    with subprocess.Popen(
        [sys.executable, "-c", KILLED, str(folder)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[3],
    ) as saver:
        assert saver.stdin is not None
        for _ in range(30):
            before = now
            many = rng.randrange(4)
            said = one_kill(saver, rng.uniform(0.0, 0.05), go=str(top), done=many)
            assert said[-1] == ("ended", signal.SIGKILL)
            done = [n for word, n in said if word == "done"]
            top = max(n for word, n in said if word == "start")
            reached += len(done)
            now = state_of(load(folder))
            # A step that was begun and cut off is not there to go back to: the one before it is.
            back = done[-2] if len(done) > 1 else before
            undone_just_now = {back} if done and done[-1] % 3 == 0 else set()
            assert now in {*done[-1:], top, *undone_just_now} or not done
            words = [s.words for s in steps_of(folder)]
            assert {f"to {n}" for n in done} <= set(words)
        saver.stdin.close()
    assert "edited outside" not in [s.words for s in steps_of(folder)]
    assert reached > 20
    now = state_of(load(folder))
    assert undo(folder) is not None
    assert state_of(load(folder)) != now


WRITER = """
import sys
from dataclasses import replace
from pathlib import Path
from clothwright.errors import CannotDo
from clothwright.store import opened
from tests.store.history.saving import revision, save_step
folder, name = Path(sys.argv[1]), sys.argv[2]
for k in range(12):
    while True:
        at = opened(folder)
        book = replace(at.book, notes=at.book.notes + f"{name}{k} ")
        try:
            save_step(folder, book, words=f"{name}{k}", base=at.revision)
            break
        except CannotDo:
            pass
"""


def test_two_writers_lose_no_edit(folder):
    """Two processes add to the same line, each on what it saw: every word of both is there."""
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", WRITER, str(folder), name], cwd=Path(__file__).parents[3]
        )
        for name in "ab"
    ]
    assert [w.wait(timeout=120) for w in writers] == [0, 0]
    words = load(folder).notes.removeprefix(BOOK.notes).split()
    assert sorted(words) == sorted(f"{n}{k}" for n in "ab" for k in range(12))
    assert [s.words for s in steps_of(folder)][1:] == words


def test_a_full_disk_loses_nothing(folder, monkeypatch):
    """When writing fails half-way the old state and its record stay, and the next save goes on."""
    save_step(folder, state(1), words="to 1")
    real, calls = os.fsync, [0]

    def full_after(most):
        def fsync(handle):
            calls[0] += 1
            if calls[0] > most:
                raise OSError(28, "No space left on device")
            real(handle)

        return fsync

    failed = 0
    for most in range(30):
        calls[0] = 0
        monkeypatch.setattr(os, "fsync", full_after(most))
        said = ""
        try:
            save_step(folder, state(2), words="to 2")
        except BadInput as error:
            said = str(error)
        monkeypatch.setattr(os, "fsync", real)
        if not said:
            break
        assert "No space" in said
        failed += 1
        assert state_of(load(folder)) == 1
        assert [s.words for s in steps_of(folder)][1:] == ["to 1"]
    assert failed > 5
    assert [s.words for s in steps_of(folder)][1:] == ["to 1", "to 2"]
    assert {p.name for p in (folder / "pieces").iterdir()} == drawings(folder)


def test_old_steps_and_their_copies_are_dropped(folder, monkeypatch):
    """The record is bounded; what it still names is there, what nothing names is gone."""
    monkeypatch.setattr(history, "MOST_STEPS", 10)
    for n in range(1, 31):
        save_step(folder, state(n), words=f"to {n}")
    shown = steps_of(folder)
    assert 10 <= len(shown) <= 12
    pieces = len(BOOK.bought.pieces)
    assert len(list((folder / COPIES).iterdir())) <= 13 * (pieces + 1)
    for n in range(29, 30 - len(shown), -1):
        assert undo(folder) is not None
        assert state_of(load(folder)) == n
    assert undo(folder) is None
    assert revision(folder) > 30


def test_a_damaged_copy_is_told_and_nothing_is_changed(folder):
    """Undo to a state whose copy is gone: a sentence, and the workbook as it is."""
    save_step(folder, state(1), words="to 1")
    for copy in (folder / COPIES).iterdir():
        copy.write_bytes(b"damaged")
    before = to_the_letter(folder)
    with pytest.raises(BadInput, match="gone or damaged"):
        undo(folder)
    assert to_the_letter(folder) == before


def test_a_damaged_copy_is_written_anew_when_it_is_needed_again(folder):
    """A copy is never trusted by its name alone: the next save of the same state mends it."""
    save_step(folder, state(1), words="to 1")
    whole = {copy: copy.read_bytes() for copy in (folder / COPIES).iterdir()}
    for copy in whole:
        copy.write_bytes(b"damaged")
    save_step(folder, state(2), words="to 2")
    save_step(folder, state(1), words="to 1 again")
    mended = [copy for copy, data in whole.items() if copy.read_bytes() == data]
    assert folder / COPIES / f"{on_disk(folder).id}.gz" in mended
    save_step(folder, state(3), words="to 3")
    undo(folder)
    assert load(folder) == state(1)


def test_a_torn_line_costs_one_step(folder):
    """Half a line at the end is passed over and written over."""
    for n in (1, 2):
        save_step(folder, state(n), words=f"to {n}")
    record = folder / RECORD
    whole = record.read_bytes()
    record.write_bytes(whole + b'{"number": 4, "at": "20')
    assert [s.words for s in steps_of(folder)][1:] == ["to 1", "to 2"]
    save_step(folder, state(3), words="to 3")
    assert record.read_bytes().startswith(whole)
    assert [s.words for s in steps_of(folder)][1:] == ["to 1", "to 2", "to 3"]


def test_changes_keep_their_lasting_names(folder):
    """A change keeps its name when others come, go or move, and when it is edited; undo too."""
    book = replace(BOOK, steps=tuple(Step(change="unfold", params={"pieces": p}) for p in "abc"))
    save_step(folder, book, words="three")
    a, b, c = opened(folder).ids
    more = with_step(book, Step(change="unfold", params={"pieces": "front"}), 1)
    save_step(
        folder, replace(more, steps=(more.steps[0], *more.steps[2:], more.steps[1])), words=""
    )
    new, *rest = opened(folder).ids
    assert rest == [b, c, a]
    assert new not in (a, b, c)
    undo(folder)
    assert opened(folder).ids == (a, b, c)
    edited = replace(book.steps[1], why="because")
    save_step(folder, replace(book, steps=(book.steps[0], edited, book.steps[2])), words="")
    assert opened(folder).ids == (a, b, c)


def test_touched_names_what_differs_and_nothing_else():
    """One key for each difference, and none for states that are alike."""
    ids = tuple(f"c{k}" for k in range(len(BOOK.steps)))
    assert touched(BOOK, ids, BOOK, ids) == ()
    cloth = replace(BOOK.cloths[0], width=BOOK.cloths[0].width + 1)
    other = replace(BOOK, title="x", cloths=(cloth, *BOOK.cloths[1:]))
    assert touched(BOOK, ids, other, ids) == (("title",), ("cloth", cloth.name, "width"))
    assert clash((("cloth", "a", "width"),), (("cloth", "a", "length"),)) is None
    assert clash((("cloth", "a", "width"),), (("cloth", "a"),)) is not None
    assert clash(((),), (("title",),)) is not None
    one = Step(change="unfold", params={"pieces": "a"})
    assert carried((one, one), ("p", "q"), (one, one, one), "n")[:2] == ("p", "q")


def test_the_record_follows_what_lies_on_the_disk(folder):
    """After every kind of step the last line of the record names the state on the disk."""
    save_step(folder, state(1), words="to 1")
    undo(folder)
    redo(folder)
    last = read_record(folder).last
    assert last is not None
    assert last.state == on_disk(folder).id


@pytest.mark.parametrize("spoilt", [b"", b"no copy"])
def test_a_damaged_copy_of_what_is_there_is_made_anew_before_it_is_needed(folder, spoilt):
    """The state is whole on the disk: saved over, it can still be brought back by undo."""
    save_step(folder, state(1), words="to 1")
    seen = to_the_letter(folder)
    (folder / COPIES / f"{on_disk(folder).id}.gz").write_bytes(spoilt)
    save_step(folder, state(2), words="to 2")
    assert undo(folder) is not None
    assert to_the_letter(folder) == seen
