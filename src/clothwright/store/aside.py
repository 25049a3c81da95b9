"""What cannot be used is kept under a clear name before anything is written in its place.

Everything that was set aside lies in one folder of the workbook, below the path it had:
`ticks/all hems.ff00.json` becomes `set-aside/ticks/all hems.ff00.json.damaged-1`. No name
there ends as those that are read do, so nothing of it is ever taken for what it was.
"""

from __future__ import annotations

import contextlib
import os
import re
from pathlib import Path
from typing import Literal, NamedTuple

from clothwright.store.disk import flush_folder, make_folder, readable, write_whole

ASIDE = "set-aside"
How = Literal["damaged", "newer", "replaced"]
"""Why: it could not be read; another program's format; something earlier was brought back."""
OURS = re.compile(r"(.+)\.(damaged|newer|replaced)-([0-9]{1,9})")


class SetAside(NamedTuple):
    """A file that was set aside. was, lies: its path in the workbook then and now, with "/"."""

    was: str
    how: str
    lies: str


def set_aside(folder: Path, file: Path, how: How = "damaged", data: bytes | None = None) -> Path:
    """Keep what lies in a file's place, whole, and return where; kept once already, it is enough.

    A file stays where it is besides; what can be no file, a folder in its place, is moved. folder:
    the workbook's. data: what was read from it already. Raises OSError: then nothing may be written
    over it.
    """
    if data is None:
        with contextlib.suppress(OSError):
            data = readable(file).read_bytes()
    for place in _places(folder, file, how):
        if not place.exists() and not place.is_symlink():
            break
        if data is not None and place.is_file() and place.read_bytes() == data:
            return place
    make_folder(place.parent)
    if data is None:
        file.replace(place)
        flush_folder(place.parent)
    else:
        write_whole(place, data)
    return place


def _places(folder: Path, file: Path, how: How) -> list[Path]:
    """Return where it may lie: under the first number that nobody has, or one that was given."""
    place = folder / ASIDE / file.relative_to(folder)
    taken = [int(m[3]) for n in _names(place.parent) if (m := OURS.fullmatch(n))]
    numbers = range(1, max(taken, default=0) + 2)
    return [place.with_name(f"{place.name}.{how}-{n}") for n in numbers]


def _names(place: Path) -> list[str]:
    with contextlib.suppress(OSError):
        return [p.name for p in place.iterdir()]
    return []


def all_aside(folder: Path) -> tuple[SetAside, ...]:
    """Return everything that was set aside in a workbook, by name; quick where nothing was."""
    root = folder / ASIDE
    out = []
    for at, folders, files in os.walk(root):
        names = [*folders, *files]
        folders[:] = [n for n in folders if not OURS.fullmatch(n)]
        for name in names:
            found = OURS.fullmatch(name)
            if found:
                below = Path(at, name).relative_to(folder)
                was = below.relative_to(ASIDE).with_name(found[1]).as_posix()
                out.append(SetAside(was, found[2], below.as_posix()))
    return tuple(sorted(out))
