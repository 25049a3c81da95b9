"""The record of saves: one line each, added at the end, so that a crash costs one line at most.

A line is written before the workbook itself is replaced, and marked done afterwards. Whoever comes
next sees from the workbook whether an unmarked line came to pass.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterable
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path
from typing import Any

from clothwright.store.disk import flush_folder, write_whole

RECORD = "history/steps.jsonl"

Key = tuple[str, ...]
"""What a step touches: ("cloth", "linen", "width"). The shorter key holds all longer ones."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """One line of the record.

    number: the revision, counting up for ever. at: time, UTC. kind: "start", "save", "outside",
    "undo" or "redo". state: the copy of the workbook after it. node: the number of the save whose
    state this is (its own, but for undo and redo). tip: the last save that can be redone.
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

    last_number: the highest revision ever given out, that of a void line too.
    """

    lines: tuple[Saved, ...] = ()
    pending: bool = False
    size: int = 0
    last_number: int = 0

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
        """Return the saves that undo and redo go along, oldest first."""
        nodes = {s.number: s for s in self.lines if s.node == s.number}
        at = self.last.tip if self.last else 0
        out = []
        while at in nodes:
            out.append(nodes[at])
            at = nodes[at].parent
        return tuple(reversed(out))


def read_record(folder: Path) -> Record:
    """Return the record of a workbook; an empty one where there is none. Damaged lines are not.

    Raises OSError.
    """
    try:
        data = (folder / RECORD).read_bytes()
    except FileNotFoundError:
        return Record()
    lines: list[Saved] = []
    pending = False
    size = last_number = 0
    for row in data.splitlines(keepends=True):
        said = _read(row)
        if said is None:
            break
        size += len(row)
        if isinstance(said, Saved):
            lines.append(said)
            last_number = max(last_number, said.number)
            pending = True
        elif pending:
            pending = False
            if "void" in said and lines[-1].number == said["void"]:
                lines.pop()
    return Record(lines=tuple(lines), pending=pending, size=size, last_number=last_number)


def _read(row: bytes) -> Saved | dict[str, Any] | None:
    """Return what a line says; None when it was not written whole."""
    if not row.endswith(b"\n"):
        return None
    try:
        data = json.loads(row)
        if not isinstance(data, dict):
            return None
        if "number" not in data:
            return data
        for key in ("touches", "leans"):
            data[key] = tuple(tuple(k) for k in data[key])
        data["ids"] = tuple(data["ids"])
        return Saved(**data)
    except (ValueError, KeyError, TypeError):
        return None


def _row(line: Saved) -> bytes:
    plain = {f.name: f.default for f in fields(Saved)}
    shown = {k: v for k, v in asdict(line).items() if v != plain[k] or k in ALWAYS}
    return json.dumps(shown, ensure_ascii=False).encode() + b"\n"


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
    row = json.dumps({word: record.lines[-1].number}).encode() + b"\n"
    _append(folder, record.size, row, flush=False)
    return replace(record, lines=lines, pending=False, size=record.size + len(row))


def _append(folder: Path, size: int, row: bytes, *, flush: bool) -> None:
    """Write a row behind the `size` bytes that are whole; what lies behind them was torn."""
    file = folder / RECORD
    file.parent.mkdir(parents=True, exist_ok=True)
    fresh = not file.exists()
    handle = os.open(file, os.O_CREAT | os.O_RDWR | getattr(os, "O_BINARY", 0), 0o666)
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
    data = b"".join(_row(s) for s in kept) + json.dumps({"done": kept[-1].number}).encode() + b"\n"
    write_whole(folder / RECORD, data)
