"""A disk that is full, or may not be written to: a sentence each time, and nothing of hers is lost.

The full disk is a real one (a small memory disk that is mounted), where the system lets us.
"""

from __future__ import annotations

import os
import tempfile
from dataclasses import replace
from pathlib import Path

import pytest

from clothwright.errors import ELSEWHERE, ROOM, ClothwrightError
from clothwright.rules.weighing.yardage import Cell
from clothwright.store import create, keep_picture, load, undo
from clothwright.store.aside import set_aside
from clothwright.store.beside.lays import keep_lay
from clothwright.store.book.lock import held
from clothwright.store.folder import own_entries
from clothwright.store.noticed import put_away
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.cloth import photos
from clothwright.workroom.cutting.ticks import set_ticks
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.pieces import inbox, typing
from clothwright.workroom.pieces.seam_choices import refuse
from clothwright.workroom.planning import chart
from clothwright.workroom.searching.laying import keep_better, lay_plan
from tests.lay.panels import bordered, skirt
from tests.small_disk import as_nobody, filled, mount, unmount
from tests.store.book.test_file import BOOK, state
from tests.store.history.saving import save_step
from tests.web.intake_demo import bare, demo_piece

pytestmark = pytest.mark.skipif(os.name != "posix", reason="disks and modes are those of POSIX")
JPEG = b"\xff\xd8\xff" + bytes(6000)


def edit(folder):
    OpenBook(name="w", folder=folder).edit({"edit": "set-notes", "notes": "9" * 6000}, base=3)


def answer(folder):
    (one,) = inbox.waiting(folder)
    inbox.answer(folder, one.id, lambda w: replace(w, file="n" * 6000))


WRITES = {
    "edit": edit,
    "undo": undo,
    "tick": lambda f: set_ticks(f, "all hems", "ff00", {f"lay {n}": True for n in range(99)}),
    "put in": lambda f: inbox.put_in(f, "skirt.svg", bare(demo_piece("skirt front"))),
    "answer": answer,
    "refuse": lambda f: refuse(f, [f"{n:099}" for n in range(50)]),
    "photo": lambda f: photos.keep_photo(f, "linen", JPEG, "mine.jpg"),
    "picture": lambda f: keep_picture(f, JPEG),
    "lay": lambda f: keep_lay(f, "all hems", {"seed": "9" * 6000}),
    "chart": lambda f: chart._keep(f, "k", Cell(plan="p" * 6000, width=1.0, nap=False)),
    "put away": lambda f: put_away(f, "set-aside/chart.json.damaged-1"),
}
"""Every way to write into a workbook's folder."""
NEW = ("put in", "picture", "lay")
"""These write a file of a new name, or hold no lock of their own: `keep_better` holds it."""


def begun(folder):
    """A workbook with steps, ticks, a drawing that waits, a photo and something set aside."""
    create(folder, BOOK)
    for n in (1, 2):
        save_step(folder, state(n), words=f"to {n}")
    set_ticks(folder, "all hems", "ff00", {"lay 1": True})
    inbox.put_in(folder, "skirt.svg", bare(demo_piece("skirt front")))
    photos.keep_photo(folder, "linen", b"the first photo", "first.png")
    (folder / "chart.json").write_bytes(b"{")
    set_aside(folder, folder / "chart.json")
    (folder / "chart.json").unlink()
    return folder


@pytest.fixture(autouse=True)
def _photos_are_not_looked_into(monkeypatch):
    monkeypatch.setattr(photos, "apart", lambda *_: None)


def held_by(folder):
    """All that lies in the workbook, but copies and marks of what did not come to pass."""
    files = {e.path for e in own_entries(folder) if e.is_file()} | {str(folder / "workbook.toml")}
    said = (f for f in files if "/history/" not in f and not f.endswith(".saving"))
    return {f: Path(f).read_bytes() for f in said}


@pytest.fixture
def disk(tmp_path):
    """A real disk of 2 MB."""
    if not mount(tmp_path / "disk", 2_000_000):
        pytest.skip("no disk may be mounted here")
    yield tmp_path / "disk"
    unmount(tmp_path / "disk")


@pytest.fixture
def for_all():
    """A place that anybody may look into."""
    with tempfile.TemporaryDirectory() as place:
        Path(place).chmod(0o755)
        yield Path(place)


@pytest.mark.parametrize("name", WRITES)
def test_a_full_disk_is_told_and_nothing_is_lost(disk, name):
    """Whatever is written, however much room is left: as it was, and told; then it goes on."""
    folder, write, told = begun(disk / "w"), WRITES[name], 0
    before = held_by(folder)
    for free in range(0, 60_000, 4096):
        said = ""
        with filled(disk, free):
            try:
                write(folder)
            except ClothwrightError as error:
                said = str(error)
        if not said:
            break
        told += 1
        assert ROOM in said
        assert held_by(folder) == before
        assert load(folder) == state(2)
    assert told > 0
    assert held_by(folder) != before
    assert undo(folder) is not None


@pytest.mark.parametrize("name", WRITES)
def test_a_folder_that_may_not_be_written_to_is_told(for_all, name):
    """The sentence says what to do, not to wait for room; everything is as it was, and opens."""
    folder = begun(for_all / "w")
    before = held_by(folder)
    places = [folder, *(p for p in folder.rglob("*") if p.is_dir())]
    for place in places:
        place.chmod(0o555)
    try:
        with as_nobody(), pytest.raises(ClothwrightError, match=ELSEWHERE):
            WRITES[name](folder)
        with as_nobody():
            assert load(folder) == state(2)
    finally:
        for place in places:
            place.chmod(0o755)
    assert held_by(folder) == before


@pytest.mark.parametrize("name", [n for n in WRITES if n not in NEW])
def test_only_one_writes_at_a_time(tmp_path, monkeypatch, name):
    """Whatever is changed, not only the workbook: the later one is told, and nothing is changed."""
    folder = begun(tmp_path / "w")
    before = held_by(folder)
    monkeypatch.setattr("clothwright.store.book.lock.PATIENCE_S", 0.0)
    with held(folder), pytest.raises(ClothwrightError, match="another window or program"):
        WRITES[name](folder)
    assert held_by(folder) == before
    WRITES[name](folder)
    assert held_by(folder) != before


def test_a_lay_is_weighed_and_kept_while_nobody_else_writes(tmp_path, monkeypatch):
    """A search that keeps a better lay at the same moment is not written over."""
    it = Workbook(title="t", unit=Unit.cm, bought=skirt(), cloths=(bordered(),))
    create(tmp_path / "w", it)
    laid = lay_plan(it, seconds=20.0, rounds=1)
    monkeypatch.setattr("clothwright.store.book.lock.PATIENCE_S", 0.0)
    with held(tmp_path / "w"), pytest.raises(ClothwrightError, match="another window or program"):
        keep_better(tmp_path / "w", it, laid)
    assert keep_better(tmp_path / "w", it, laid) is laid
    assert keep_better(tmp_path / "w", it, laid) is not laid


def test_a_photo_that_is_kept_anew_is_the_one_that_counts_and_others_copies_stay(tmp_path):
    """One photo a cloth, of whatever kind; what a syncing folder left beside it is not ours."""
    folder = begun(tmp_path / "w")
    photos.keep_photo(folder, "linen", b"the second", "second.jpg")
    kept = photos.the_photo(folder, "linen").file
    assert kept.read_bytes() == b"the second"
    copy = kept.with_name(f"{kept.stem}.sync-conflict-20300131-101500-ABCDEFG.png")
    copy.write_bytes(b"another")
    assert photos.the_photo(folder, "linen").file == kept
    photos.throw_photo(folder, "linen")
    assert photos.kept_photo(folder, "linen") is None
    assert list(kept.parent.iterdir()) == [copy]


def test_a_text_of_measurements_that_cannot_be_kept_hinders_nothing(for_all):
    """The pieces are in the workbook by then: no refusal, though the folder is read only."""
    folder = begun(for_all / "w")
    folder.chmod(0o555)
    with as_nobody():
        typing.keep(folder, "a text", (demo_piece("skirt front"),))
    folder.chmod(0o755)
    assert not (folder / "typed").exists()
