"""The record of saves: one line each, added at the end, so that a crash costs one line at most.

A line is written before the workbook itself is replaced, and marked done afterwards. Whoever comes
next sees from the workbook whether an unmarked line came to pass.

Every line ends with a sum over its own letters. A damaged line is passed over and all others stand;
before anything else is written, the damaged file is set aside whole and the record written anew.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
import time
import zlib
from collections.abc import Iterable
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

from clothwright.store.aside import set_aside
from clothwright.store.disk import (
    Stamp,
    flush_folder,
    make_folder,
    open_own,
    readable,
    stamp_of,
    write_whole,
)

RECORD = "history/steps.jsonl"

Key = tuple[str, ...]
"""What a step touches: ("cloth", "linen", "width"). The shorter key holds all longer ones."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """One line of the record.

    number: the revision, counting up for ever. at: time, UTC. kind: "start", "save", "outside",
    "undo", "redo" or "back". state: the copy of the workbook after it. node: the number of the
    save whose state this is (its own, but for undo, redo and back). tip: the last save that can be
    redone.
    parent: the save that an undo of this one leads to, 0 for none. ids: the lasting names of the
    changes, in order. touches, leans: what it changed, and what it relies on. token: the sender's
    own mark, by which a message sent twice is known.
    """

    number: int
    at: str
    kind: str
    words: str
    state: str
    node: int
    tip: int
    parent: int = 0
    ids: tuple[str, ...] = ()
    touches: tuple[Key, ...] = ()
    leans: tuple[Key, ...] = ()
    token: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """The lines that stand. pending: the last one is not marked done. size: bytes that are whole.

    last_number: the highest revision ever given out, that of a void line too. damaged: something
    in the file, other than a torn end, is not as it was written.
    """

    lines: tuple[Saved, ...] = ()
    pending: bool = False
    size: int = 0
    last_number: int = 0
    damaged: bool = False

    @property
    def last(self) -> Saved | None:
        """The newest line."""
        return self.lines[-1] if self.lines else None

    def line(self, number: int) -> Saved | None:
        """Return the line of a revision, when it is still kept."""
        return next((s for s in reversed(self.lines) if s.number == number), None)

    def since(self, number: int) -> tuple[Saved, ...]:
        """Return the lines after a revision."""
        return tuple(s for s in self.lines if s.number > number)

    def chain(self) -> tuple[Saved, ...]:
        """Return the saves that undo and redo go along, oldest first.

        In the place of a save whose line is lost stands where the workbook was before it.
        """
        nodes = {s.number: s for s in self.lines if s.node == s.number}
        at = self.last.tip if self.last else 0
        out = []
        while at:
            if at in nodes:
                out.append(nodes[at])
                at = nodes[at].parent
            else:
                at = next((s.node for s in reversed(self.lines) if s.number < at), 0)
        return tuple(reversed(out))


def read_record(folder: Path) -> Record:
    """Return the record of a workbook; an empty one where there is none.

    Damaged lines are passed over, and a last line that was not written to its end. It is read once
    for each state of the file. Raises OSError.
    """
    file = folder / RECORD
    try:
        with readable(file).open("rb") as record:
            stamp = stamp_of(os.fstat(record.fileno()))
            known = _READ.get(file)
            if known is not None and known[0] == stamp:
                return known[1]
            data = record.read()
    except FileNotFoundError:
        return Record()
    except IsADirectoryError:
        return Record(damaged=True)
    said = _said_by(data)
    if stamp.is_of_old(time.time_ns()):
        _READ[file] = (stamp, said)
        for old in list(_READ)[:-MOST_READ]:
            _READ.pop(old, None)
    return said


MOST_READ = 64
"""How many records are remembered, of as many workbooks."""
_READ: dict[Path, tuple[Stamp, Record]] = {}


def _said_by(data: bytes) -> Record:
    """Return what the bytes of a record say."""
    first, *rows = BEGIN.split(data)
    lines: list[Saved] = []
    pending = False
    lost = first.count(b"\n")
    damaged = bool(first) and (bool(rows) or b"\n" in first)
    size = len(first)
    last_number = 0
    for n, row in enumerate(rows):
        if n == len(rows) - 1 and b"\n" not in row:
            break
        size += len(row)
        said, whole = _read(row)
        damaged = damaged or not whole
        lost += max(row.count(b"\n") - 1, 0)  # lines of which even the beginning is damaged
        if said is None:
            lost += 1
        elif isinstance(said, Saved):
            lines.append(said)
            last_number = max(last_number, said.number)
            pending = True
        else:
            word, number = said
            last_number = max(last_number, number)
            if pending and lines[-1].number == number:
                pending = False
                if word == "void":
                    lines.pop()
    return Record(
        lines=tuple(lines),
        pending=pending,
        size=size if rows else 0,
        last_number=last_number + lost,
        damaged=damaged,
    )


BEGIN = re.compile(rb'(?=\{"(?:number|done|void)":)')
"""Before each line. Nothing inside one looks so: a quote inside text is written with a stroke."""


def _read(row: bytes) -> tuple[Saved | tuple[str, int] | None, bool]:
    """Return what a line says, None when it is damaged; and whether nothing strange is behind it.

    A mark is its word and its number.
    """
    try:
        text = row.decode("utf-8", "surrogateescape")
        data, end = json.JSONDecoder().raw_decode(text)
        body = text[:end].encode("utf-8")
        whole = text[end:] in ("\n", "\r\n")
        if "sum" in data:
            said = data.pop("sum")
            if body != _sealed(body[: body.rindex(b', "sum"')] + b"}") or not isinstance(said, str):
                return None, False
        if "number" not in data:
            ((word, number),) = data.items()
            if word not in ("done", "void") or not isinstance(number, int):
                return None, False
            return (word, number), whole
        for key in ("touches", "leans"):
            data[key] = tuple(tuple(k) for k in data[key])
        data["ids"] = tuple(data["ids"])
        line = Saved(**data)
        numbers = (line.number, line.node, line.tip, line.parent)
        if not all(isinstance(n, int) for n in numbers) or line.node > line.number:
            return None, False
    except (ValueError, KeyError, TypeError, RecursionError):
        return None, False
    return line, whole


def _sealed(body: bytes) -> bytes:
    """Return a line's JSON with the sum over it as its last entry."""
    return body[:-1] + b', "sum": "%08x"}' % zlib.crc32(body)


def _mark(word: str, number: int) -> bytes:
    return _sealed(json.dumps({word: number}).encode()) + b"\n"


def mended(folder: Path, record: Record) -> Record:
    """Set a damaged record aside, whole, and write it anew from the lines that stand.

    Return the record as it then is; one that is not damaged is left alone. Raises OSError.
    """
    if not record.damaged:
        return record
    file = folder / RECORD
    set_aside(folder, file)
    rows = [_row(s) for s in record.lines]
    if record.lines and not record.pending:
        rows.append(_mark("done", record.lines[-1].number))
    if (record.lines and record.last_number > record.lines[-1].number) or not record.lines:
        rows.append(_mark("void", record.last_number))
    write_whole(file, b"".join(rows))
    return read_record(folder)


def _row(line: Saved) -> bytes:
    plain = {f.name: f.default for f in fields(Saved)}
    shown = {k: v for k, v in asdict(line).items() if v != plain[k] or k in ALWAYS}
    return _sealed(json.dumps(shown, ensure_ascii=False).encode()) + b"\n"


ALWAYS = ("touches", "leans", "ids")


def add_line(folder: Path, record: Record, line: Saved) -> Record:
    """Write a line, not marked done yet, and have it on the disk; return the record with it.

    Raises OSError.
    """
    row = _row(line)
    _append(folder, record.size, row, flush=True)
    return Record(
        lines=(*record.lines, line),
        pending=True,
        size=record.size + len(row),
        last_number=max(record.last_number, line.number),
    )


def mark(folder: Path, record: Record, *, done: bool) -> Record:
    """Mark the last line done, or void; return the record as it then is. Raises OSError."""
    word, lines = ("done", record.lines) if done else ("void", record.lines[:-1])
    row = _mark(word, record.lines[-1].number)
    _append(folder, record.size, row, flush=False)
    return replace(record, lines=lines, pending=False, size=record.size + len(row))


def _append(folder: Path, size: int, row: bytes, *, flush: bool) -> None:
    """Write a row behind the `size` bytes that are whole; what lies behind them was torn."""
    file = folder / RECORD
    make_folder(file.parent)
    fresh = not file.exists()
    handle = open_own(file, os.O_RDWR)
    try:
        if os.fstat(handle).st_size > size:
            os.ftruncate(handle, size)
        os.lseek(handle, size, os.SEEK_SET)
        try:
            _write_all(handle, row)
        except OSError:
            with contextlib.suppress(OSError):
                os.ftruncate(handle, size)
            raise
        if flush:
            os.fsync(handle)
    finally:
        os.close(handle)
    if fresh:
        flush_folder(file.parent)
        flush_folder(folder)


def _write_all(handle: int, row: bytes) -> None:
    while row:
        row = row[os.write(handle, row) :]


def rewrite(folder: Path, lines: Iterable[Saved]) -> None:
    """Replace the record by these lines, all done, in one step. Raises OSError."""
    kept = tuple(lines)
    data = b"".join(_row(s) for s in kept) + _mark("done", kept[-1].number)
    write_whole(folder / RECORD, data)
