"""Copies of what was saved, each under a name made from its contents, so that none is kept twice.

A copy is a file that any unpacker opens (gzip). A state of the workbook is one copy too: a line
that names the copy of every drawing, and then workbook.toml as it stood, to the letter.
"""

from __future__ import annotations

import contextlib
import gzip
import hashlib
import json
import re
import zlib
from collections import OrderedDict
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from clothwright.errors import BadInput
from clothwright.store.book.file import COPIES, drawing, piece_of, read_text
from clothwright.store.book.format import read_book, read_table
from clothwright.store.disk import BOOK_FILE, Stamp, readable, stamp_of, write_whole
from clothwright.workbook import Workbook

OURS = re.compile(r"[0-9a-f]{40}\.gz")
"""The names of copies; others in the folder are not ours to remove."""
MOST_READ = 8
"""How many workbooks that were read are remembered, by what they were read from."""
MOST_BYTES = 100_000_000
"""A copy that unpacks to more is none of ours."""
_READ: OrderedDict[str, Workbook] = OrderedDict()
_AT_ONCE = Lock()
_SOUND: dict[Path, Stamp] = {}
"""Copies that were found to be what their names say, and the stamp of the file then."""


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """A saved state, to the letter. book: workbook.toml; drawings: file name -> its bytes."""

    book: bytes
    drawings: Mapping[str, bytes]

    @property
    def head(self) -> bytes:
        """The line that names the copy of every drawing."""
        names = {file: name_of(data) for file, data in sorted(self.drawings.items())}
        return json.dumps(names, ensure_ascii=False).encode() + b"\n"

    @property
    def id(self) -> str:
        """The name of this state's own copy: two states alike to the letter have the same."""
        return name_of(self.head + self.book)

    @property
    def text(self) -> str:
        """workbook.toml as text, line ends as the program reads them."""
        return self.book.decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")

    def drawing(self, file: str) -> bytes:
        """Return a drawing. Raises BadInput: a copy from elsewhere may lack one."""
        if file not in self.drawings:
            raise BadInput(where=BOOK_FILE, what=f"{file} is not among the copies of its drawings")
        return self.drawings[file]

    def workbook(self) -> Workbook:
        """Return the workbook; the last few read are remembered. Raises BadInput, Mistakes."""
        known = self.id
        with _AT_ONCE:
            book = _READ.get(known)
        if book is None:
            book = read_book(
                self.text, BOOK_FILE, lambda name, file: piece_of(self.drawing(file), name, file)
            )
        remember(self, book)
        return book


def remember(state: State, book: Workbook) -> None:
    """Remember the workbook that a state is read as: what was just written is not read again."""
    with _AT_ONCE:
        _READ[state.id] = book
        _READ.move_to_end(state.id)
        while len(_READ) > MOST_READ:
            _READ.popitem(last=False)


def name_of(data: bytes) -> str:
    """Return the name that a copy of these bytes has."""
    return hashlib.sha256(data).hexdigest()[:40]


def on_disk(folder: Path) -> State:
    """Return the state that lies in the folder now. Raises BadInput, Mistakes."""
    text = read_text(folder)
    raw = readable(folder / BOOK_FILE).read_bytes()
    rows = read_table(text, BOOK_FILE).pieces
    drawings = {row.file: drawing(folder, row.name, row.file) for row in rows}
    return State(book=raw, drawings=drawings)


def is_still(folder: Path, state: State) -> bool:
    """Tell whether the folder holds a state to the letter. Raises OSError."""
    if readable(folder / BOOK_FILE).read_bytes() != state.book:
        return False
    drawings = state.drawings.items()
    return all(readable(folder / file).read_bytes() == data for file, data in drawings)


def keep(folder: Path, state: State) -> str:
    """Keep copies of a state and of its drawings; return the state's name. Raises OSError."""
    for data in state.drawings.values():
        _keep(folder, data)
    return _keep(folder, state.head + state.book)


def _keep(folder: Path, data: bytes) -> str:
    name = name_of(data)
    file = _file(folder, name)
    if not _holds(file, data):
        write_whole(file, gzip.compress(data, 6, mtime=0))
    _SOUND[file] = stamp_of(file.stat())
    return name


def _holds(file: Path, data: bytes) -> bool:
    """Tell whether a file is a sound copy; looked into once, and again when it was touched."""
    if not file.exists():
        return False
    return _SOUND.get(file) == stamp_of(file.stat()) or _unpacked(file) == data


def _unpacked(file: Path) -> bytes | None:
    """Return what a copy holds; None when it is gone or damaged, or more than we ever wrote."""
    with contextlib.suppress(OSError, EOFError, zlib.error), gzip.open(readable(file)) as packed:
        data = packed.read(MOST_BYTES + 1)
        return data if len(data) <= MOST_BYTES else None
    return None


def _file(folder: Path, name: str) -> Path:
    return folder / COPIES / f"{name}.gz"


def kept(folder: Path, name: str) -> State:
    """Return a state from its copies. Raises BadInput when one is gone or damaged."""
    names, book = parts_of(folder, name)
    return State(book=book, drawings={file: copy_of(folder, n) for file, n in names.items()})


def parts_of(folder: Path, name: str) -> tuple[Mapping[str, str], bytes]:
    """Return the copies of a state's drawings, by file, and its workbook.toml.

    Raises BadInput when its own copy is gone or damaged; ValueError when that is no state's.
    """
    head, _, book = copy_of(folder, name).partition(b"\n")
    names = json.loads(head)
    if not isinstance(names, dict):
        raise ValueError(f"{name} is no copy of a state")
    return names, book


def copy_of(folder: Path, name: str) -> bytes:
    """Return what a copy holds. Raises BadInput when it is gone or damaged."""
    own = OURS.fullmatch(f"{name}.gz") is not None
    data = _unpacked(_file(folder, name)) if own else None
    if data is None or name_of(data) != name:
        raise BadInput(
            where=f"{COPIES}/{name}.gz",
            what="the copy of an earlier state is gone or damaged",
            expected="the file as it was written",
            try_="to go on from the state you have; it is whole",
        )
    return data


def drop_unnamed(folder: Path, states: Collection[str]) -> int:
    """Remove every copy that none of these states needs; return how many. Raises OSError."""
    needed = set(states)
    for name in states:
        with contextlib.suppress(BadInput, ValueError):
            needed |= set(parts_of(folder, name)[0].values())
    gone = 0
    for file in (folder / COPIES).iterdir():
        if OURS.fullmatch(file.name) and file.stem not in needed:
            with contextlib.suppress(OSError):
                file.unlink()
                gone += 1
    return gone
