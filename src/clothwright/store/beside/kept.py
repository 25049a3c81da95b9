"""The one reader and the one writer of what is kept as JSON beside the workbook.

Each format is a frozen dataclass of its own with the name and number of its format. A file is
written whole or not at all. One that cannot be used is `Damaged`, with the reason; nothing is
raised, and nothing is lost: `sound` lets it count as a file that is not there, and what it held is
set aside before anything is written over it. An entry that is not known is passed over, so that a
newer program's file is still of use.
"""

from __future__ import annotations

import contextlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath
from types import MappingProxyType
from typing import Any, ClassVar, Protocol, TypeVar

from clothwright.errors import Said, put
from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line
from clothwright.geometry.vec import Vec
from clothwright.store.aside import How, set_aside
from clothwright.store.book.file import holds_workbook
from clothwright.store.book.places import place_words
from clothwright.store.disk import disk_told, readable, write_whole
from clothwright.store.values import FileShape, Own, Place, Reading, Writing
from clothwright.units import Unit


class Format(Protocol):
    """What a kept dataclass says of itself: the name and number of its format.

    It may have KEYS, too: what entries are called that have not the name of their field.
    """

    FORMAT: ClassVar[str]


K = TypeVar("K", bound=Format)
T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Damaged:
    """A kept file that cannot be used. why: the reason, for the maker.

    data: what it holds, None when it could not be read at all. how: of its format, or of another.
    """

    file: FilePath
    why: str
    data: bytes | None
    how: How = "damaged"

    def set_aside(self) -> None:
        """Keep what it holds where nothing is written over it. Raises OSError."""
        set_aside(_workbook_of(self.file), self.file, self.how, self.data)

    def still_says(self, entry: str) -> str:
        """Return the text that an entry can still be seen to have; "" when none can."""
        said = re.search(rb'"%s": ?("(?:[^"\\]|\\.)*")' % entry.encode(), self.data or b"")
        with contextlib.suppress(ValueError):
            return str(json.loads(said[1])) if said else ""
        return ""


def _workbook_of(file: FilePath) -> FilePath:
    return next((p for p in file.parents[:DEEP] if holds_workbook(p)), file.parent)


DEEP = 3
"""How deep in the workbook a kept file lies at most (`inbox/DRAWING/sitting.json`)."""


def read_kept(
    file: FilePath, kind: type[K], own: Mapping[Any, Own] = MappingProxyType({})
) -> K | Damaged | None:
    """Return what a file keeps; None when there is none, Damaged when it cannot be used.

    kind: the dataclass of its format. own: kinds of value in it that are written in a way of their
    own. Raises nothing.
    """
    try:
        raw = readable(file).read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        return Damaged(file=file, why=f"it cannot be read ({error.strerror})", data=None)
    try:
        data = json.loads(raw.decode("utf-8"))
    except (ValueError, RecursionError):
        return Damaged(file=file, why="it is damaged, or only a part of it is there", data=raw)
    if isinstance(data, dict) and data.get("format", kind.FORMAT) != kind.FORMAT:
        why = f'its format is {data["format"]!r}, not "{kind.FORMAT}"'
        return Damaged(file=file, why=why, data=raw, how="newer")
    reading = Reading(shapes=_shapes(kind), own={**OWN, **own}, strict=False)
    value: K = reading.table(kind, data, ())
    if reading.slips:
        first = reading.slips[0]
        return Damaged(file=file, why=f"{place_words(first.place)}: {put(first.what)}", data=raw)
    return value


def sound(found: T | Damaged | None) -> T | None:
    """Return what was kept; None also for a damaged file, which is then set aside and noticed."""
    if not isinstance(found, Damaged):
        return found
    if found.data is not None:
        with contextlib.suppress(OSError):  # before it is written over it has to work
            found.set_aside()
    return None


def write_kept(
    file: FilePath, value: Format, own: Mapping[Any, Own] = MappingProxyType({})
) -> None:
    """Keep a value, whole or not at all; what cannot be used in its place is set aside first.

    own: as in `read_kept`. Raises BadInput when the disk fails.
    """
    kind = type(value)
    writing = Writing(shapes=_shapes(kind), own={**OWN, **own}, whole=True)
    write_plain(file, kind, {"format": kind.FORMAT, **writing.table(kind, value)}, own)


def write_plain(
    file: FilePath,
    kind: type[Format],
    data: Mapping[str, object],
    own: Mapping[Any, Own] = MappingProxyType({}),
) -> None:
    """Keep plain data that is read again as `kind` (a lay's report), as `write_kept` does.

    Raises BadInput.
    """
    with disk_told(str(_workbook_of(file)), "it could not be saved"):
        before = read_kept(file, kind, own)
        if isinstance(before, Damaged):
            before.set_aside()
        write_whole(file, json.dumps(data, ensure_ascii=False, indent=1).encode())


def _shapes(kind: Any) -> dict[type, FileShape]:
    return {kind: FileShape(keys=getattr(kind, "KEYS", {}))}


def row_of(kind: Any) -> Own:
    """Return how a named tuple with one place in it stands in a file: x and y side by side.

    `PhotoDoubt("gap", Vec(1, 2), "...")` is kept as `["gap", 1, 2, "..."]`. Last lists that are
    empty are left out.
    """
    names = list(kind._fields)
    n = names.index("at")
    last = [name for name in names if kind._field_defaults.get(name) == ()]

    def read(reading: Reading, data: Any, at: Place) -> Any:
        if isinstance(data, list):
            data = [*data[:n], data[n : n + 2], *data[n + 2 :]]
            data += [[] for name in names[len(data) :] if name in last]
        return reading.row(kind, data, at)

    def write(value: Any, _: Unit) -> list[object]:
        rest = [v for name, v in zip(names, value, strict=True) if v or name not in last]
        return [*rest[:n], *rest[n], *rest[n + 1 :]]

    return Own(read, write)


def _read_path(reading: Reading, data: Any, at: Place) -> Path | None:
    rows = reading.value(tuple[tuple[Vec, ...], ...], data, at)
    if not rows or any(len(row or ()) not in (2, 4) for row in rows):
        reading.slip(at, "it is no line", "lists of two or four points")
        return None
    try:
        return Path(tuple(Line(*row) if len(row) == 2 else Cubic(*row) for row in rows))
    except (TypeError, ValueError):
        reading.slip(at, "it is no line", "points, each where the one before it ends")
        return None


def _write_path(path: Path, _: Unit) -> list[list[list[float]]]:
    return [[[p.x, p.y] for p in s.controls()] for s in path.segments]


def _read_said(reading: Reading, data: Any, at: Place) -> Said | None:
    if isinstance(data, str):
        return data
    if isinstance(data, list) and all(isinstance(d, str | float | int) for d in data):
        return tuple(data)
    reading.slip(at, f"found {data!r}", "text, or text and lengths in a list")
    return None


def _write_said(said: Said, _: Unit) -> Said:
    return said


OWN: Mapping[Any, Own] = {
    Path: Own(_read_path, _write_path),
    Said: Own(_read_said, _write_said),
}
"""Kinds of value that stand in every file in a way of their own."""
