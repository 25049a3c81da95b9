"""One letter of the record of saves damaged, at every place, in four ways."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

from killing import Figures
from tests.store.book.test_file import BOOK, state
from tests.store.history.damaging import lost_by, rows_of
from tests.store.history.saving import save_step

from clothwright.store import create, load, opened, redo, undo
from clothwright.store.history.copies import kept
from clothwright.store.history.record import RECORD, read_record

LETTERS = (b"~", b"\n", b'"')
"""Besides these, the letter itself with one bit turned over."""
SAMPLED = 101
"""After so many places each, undo and redo are done, not only worked out."""


def spoil(_: Path, count: int) -> Figures:
    """Damage a record of 30 lines or more. count: at every so many bytes, 1 for each."""
    figures = Figures()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "w"
        begun(folder)
        whole, lines = (folder / RECORD).read_bytes(), read_record(folder).lines
        figures.acknowledged = len(lines)
        for at, hit, letter in _cases(whole, count):
            (folder / RECORD).write_bytes(whole[:at] + letter + whole[at + 1 :])
            said = read_record(folder)
            figures.times += 1
            lost = lost_by(lines, hit, said, last=at == len(whole) - 1)
            if lost:
                figures.lost.append(f"byte {at} {letter!r}: {lost}")
            if figures.times % SAMPLED == 0:
                again = shutil.copytree(folder, Path(place) / "again")
                went_along(again, hit, figures)
                shutil.rmtree(again)
        for name in {s.state for s in lines}:
            kept(folder, name).workbook()
    return figures


def begun(folder: Path) -> None:
    """Make a workbook with a dozen saves, some undone and one done again: 30 lines."""
    create(folder, BOOK)
    for n in range(1, 12):
        save_step(folder, state(n), words=f"to {n}")
    undo(folder)
    undo(folder)
    redo(folder)


def _cases(whole: bytes, every: int) -> Iterator[tuple[int, int | None, bytes]]:
    for places, hit in rows_of(whole):
        for at in places[::every]:
            turned = bytes([whole[at] ^ 1 << at % 7])
            for letter in (*LETTERS, turned):
                if whole[at : at + 1] != letter:
                    yield at, hit, letter


def went_along(folder: Path, hit: int | None, figures: Figures) -> None:
    """Open the workbook, undo to its beginning, do all again: the same workbook, by every save.

    Only where the save that it stands at was hit, redo cannot come back to it.
    """
    before, record = load(folder), read_record(folder)
    assert opened(folder).book == before
    figures.not_done += 1
    chain = [s for s in record.chain() if s.number != hit]
    undone = 0
    while undo(folder) is not None:
        undone += 1
    if undone < len(chain) - 2:  # one of them is still undone, and one was hit
        figures.lost.append(f"{undone} undone of {len(chain)} saves")
    while redo(folder) is not None:
        pass
    if not set_aside_once(folder):
        figures.lost.append("the damaged record was not set aside")


def set_aside_once(folder: Path) -> bool:
    """Tell whether the damaged record is there, to be looked at."""
    return len(list((folder / "set-aside" / "history").glob("steps.jsonl.damaged-*"))) == 1
