"""A workbook that cannot be opened any more, brought back from the copies of what was saved.

What lies there is set aside whole first. Then a line in the record, the drawings, workbook.toml and
the mark "done", as at every save: a crash at any moment leaves it to be brought back once more.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from clothwright.errors import CannotDo, ClothwrightError
from clothwright.store.aside import all_aside, set_aside
from clothwright.store.book.file import COPIES, OURS, PIECES, write_book
from clothwright.store.book.lock import held
from clothwright.store.disk import BOOK_FILE, readable, write_whole
from clothwright.store.folder import placed
from clothwright.store.history import copies
from clothwright.store.history.copies import State, kept, on_disk, remember
from clothwright.store.history.record import (
    RECORD,
    Record,
    Saved,
    add_line,
    mark,
    mended,
    read_record,
)
from clothwright.store.history.steps import said_of, time_now
from clothwright.store.history.touched import EVERYTHING
from clothwright.workbook import Workbook

NOT_BACK = "no earlier state was brought back"
UNNAMED = "an earlier state, without a line in the record of what was done"


@dataclass(frozen=True, slots=True, kw_only=True)
class Earlier:
    """A saved state. state: the name of its copy. at: when it was saved, UTC. words: what was done.

    whole: every copy it needs is there and is what it was.
    """

    state: str
    at: str
    words: str
    whole: bool

    @property
    def when(self) -> str:
        """When it was saved, as clocks here show it; "" when nobody knows."""
        with contextlib.suppress(ValueError):
            return datetime.fromisoformat(self.at).astimezone().strftime("%Y-%m-%d %H:%M")
        return ""


def opens(folder: Path) -> bool:
    """Tell whether the workbook in a folder can be opened as it is."""
    try:
        on_disk(folder).workbook()
    except (OSError, ClothwrightError):
        return False
    return True


def earlier(folder: Path, most: int = 0) -> tuple[Earlier, ...]:
    """Return the saved states that there are copies of, newest first, each once. most: 0 for all.

    The record tells of them; where it is damaged, or was, copies that it does not name are found
    among the others. Raises OSError.
    """
    record = read_record(folder)
    told: dict[str, Earlier] = {}
    for s in reversed(record.lines):
        told.setdefault(s.state, Earlier(state=s.state, at=s.at, words=said_of(s), whole=True))
    found = list(told.values())
    if record.damaged or not record.lines or any(a.was == RECORD for a in all_aside(folder)):
        found += _unnamed(folder, set(told))
        found.sort(key=lambda e: e.at, reverse=True)
    sound: dict[str, bool] = {}
    shown = found[:most] if most else found
    return tuple(replace(e, whole=_is_whole(folder, e.state, sound)) for e in shown)


def _unnamed(folder: Path, named: set[str]) -> Iterator[Earlier]:
    """Yield the states among the copies that the record does not name."""
    for file in (folder / COPIES).glob("*.gz"):
        name = file.stem
        if name in named or copies.OURS.fullmatch(file.name) is None:
            continue
        with contextlib.suppress(ClothwrightError, OSError, ValueError):
            kept(folder, name).text  # noqa: B018 (raises for the copy of a drawing)
            saved = datetime.fromtimestamp(file.stat().st_mtime, UTC)
            at = saved.isoformat(timespec="seconds")
            yield Earlier(state=name, at=at, words=UNNAMED, whole=True)


def _is_whole(folder: Path, state: str, sound: dict[str, bool]) -> bool:
    """Tell whether a state's copies are sound. sound: what is known of copies, by name."""
    try:
        names = copies.parts_of(folder, state)[0].values()
    except (ClothwrightError, OSError, ValueError):
        return False
    for name in names:
        if name not in sound:
            sound[name] = False
            with contextlib.suppress(ClothwrightError, OSError):
                copies.copy_of(folder, name)
                sound[name] = True
    return all(sound[name] for name in names)


def bring_back(folder: Path, state: str = "") -> Saved:
    """Bring a saved state back into a workbook that cannot be opened; return its step.

    state: the name of its copy, "" for the newest that is whole. What lies in the place of its
    files is set aside. Undo goes on from there. Raises CannotDo, and BadInput.
    """
    with held(folder, NOT_BACK):
        if opens(folder):
            raise CannotDo(
                what=NOT_BACK,
                why="the workbook can be opened as it is",
                nearest="to undo what was done last",
            )
        name, it, book = _chosen(folder, state)
        record = mended(folder, read_record(folder))
        if record.pending:
            record = mark(folder, record, done=True)
        line = _line(record, name, book)
        _make_room(folder, it)
        record = add_line(folder, record, line)
        try:
            _write(folder, it)
        except OSError:
            mark(folder, record, done=False)
            raise
        mark(folder, record, done=True)
        remember(it, book)
        return line


def _chosen(folder: Path, state: str) -> tuple[str, State, Workbook]:
    """Return the state that is asked for, or the newest that can be read, with its workbook."""
    there = [e.state for e in earlier(folder) if e.whole and state in ("", e.state)]
    for name in there:
        with contextlib.suppress(ClothwrightError, ValueError):
            it = kept(folder, name)
            return name, it, it.workbook()
    raise CannotDo(
        what=NOT_BACK,
        why="the copy of that state is gone or damaged"
        if state
        else f"there is no whole copy of an earlier state in {COPIES}",
        nearest="to choose another state"
        if state
        else f"to mend the workbook's files by hand; {BOOK_FILE} is text",
    )


def _line(record: Record, state: str, book: Workbook) -> Saved:
    """Return the line of a state brought back: a place on the way that undo goes, or a new one."""
    number, last = record.last_number + 1, record.last
    line = Saved(
        number=number,
        at=time_now(),
        kind="back",
        words=UNNAMED,
        state=state,
        node=number,
        tip=number,
        parent=0 if last is None else last.node,
        ids=tuple(f"c{number}-{k + 1}" for k in range(len(book.steps))),
        touches=EVERYTHING,
    )
    told = next((s for s in reversed(record.lines) if s.state == state), None)
    if told is None or last is None:
        return line
    line = replace(line, words=told.words, ids=told.ids)
    if any(s.number == told.node for s in record.chain()):
        return replace(line, node=told.node, tip=last.tip, parent=0)
    return line


def _make_room(folder: Path, it: State) -> None:
    """Set aside what lies in the place of a state's files and is something else. OSError."""
    pieces = folder / PIECES
    if pieces.exists() and not pieces.is_dir():
        set_aside(folder, pieces, "replaced")
        pieces.unlink()
    for file, data in {**it.drawings, BOOK_FILE: it.book}.items():
        own = OURS.fullmatch(file) or file == BOOK_FILE
        there = folder / file
        if not (own and there.is_dir()):
            there = placed(folder, file) if file != BOOK_FILE else there
        if there.exists() and not (there.is_file() and there.read_bytes() == data):
            set_aside(folder, there, "replaced")


def _write(folder: Path, it: State) -> None:
    """Write a state's drawings, and then workbook.toml, which names them. Raises OSError."""
    like = folder / RECORD
    for file, data in it.drawings.items():
        there = folder / file
        if not there.exists() or readable(there).read_bytes() != data:
            write_whole(there, data, like=like)
    book = folder / BOOK_FILE
    if not book.exists() or readable(book).read_bytes() != it.book:
        write_book(folder, it.book, like=like)
