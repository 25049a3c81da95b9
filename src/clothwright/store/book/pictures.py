"""Pictures of cloths in the workbook's folder "pictures": named by what they hold, never changed.

A picture is never written over: another one gets another name. So undo and redo find the picture
that a state names, and workbook.toml never names one that is not there whole.
"""

from __future__ import annotations

import contextlib
import hashlib
import re
import time
from collections.abc import Callable, Collection
from pathlib import Path

from clothwright.errors import BadInput
from clothwright.store.book.file import is_workbook
from clothwright.store.book.picture_name import is_picture_name
from clothwright.store.disk import disk_told, readable, write_whole
from clothwright.workbook import Workbook

PICTURES = "pictures"
MOST_BYTES = 8_000_000
"""A straightened picture larger than this is refused."""
OURS = re.compile(r"photo-[0-9a-f]{20}\.(?:jpg|png)")
"""The names that `keep_picture` gives; others in the folder are the maker's own."""
KINDS = ((b"\xff\xd8\xff", "jpg"), (b"\x89PNG\r\n\x1a\n", "png"))
"""The first bytes of a JPEG and of a PNG file."""


def keep_picture(folder: Path, data: bytes) -> str:
    """Keep a JPEG or PNG picture with the workbook; return the name to put into `PrintPicture`.

    The same picture twice is kept once. Raises BadInput: no workbook, no picture, too large, or a
    disk that cannot be written to.
    """
    kind = _kind(data)
    if kind is None or len(data) > MOST_BYTES:
        raise BadInput(
            where="picture",
            what="this is no JPEG or PNG picture" if kind is None else "the picture is too large",
            expected=f"a JPEG or PNG picture of at most {MOST_BYTES // 1_000_000} MB",
        )
    if not is_workbook(folder):
        raise BadInput(where=str(folder), what="there is no workbook in this folder")
    name = _name(data)
    file = folder / PICTURES / name
    with disk_told(str(file), "the picture could not be saved"):
        if not file.is_file() or file.read_bytes() != data:
            write_whole(file, data)
    return name


def picture(folder: Path, name: str) -> bytes:
    """Return the bytes of a picture of the workbook. Raises BadInput, also for one outside."""
    place = folder / PICTURES
    inside = is_picture_name(name) and not place.is_symlink() and not (place / name).is_symlink()
    data: bytes | None = None
    with contextlib.suppress(OSError):
        data = readable(place / name).read_bytes() if inside else None
    if data is None or _kind(data) is None:
        raise BadInput(
            where=f"{PICTURES}/{name[:80]}",
            what="there is no such picture in the workbook",
            expected="a JPEG or PNG file in its folder",
            try_="taking the print from the photo again",
        )
    return data


def picture_mark(folder: Path, name: str) -> tuple[str, int, int] | None:
    """Return what tells a picture of the workbook from what its file held before; None without one.

    Its path, its size in bytes and when it was written, in ns.
    """
    with contextlib.suppress(OSError):
        found = (folder / PICTURES / name).stat()
        return str(folder / PICTURES / name), found.st_size, found.st_mtime_ns
    return None


def is_as_kept(name: str, data: bytes) -> bool:
    """Tell whether a picture is, to the byte, the one that `keep_picture` gave this name."""
    return name == _name(data)


def _name(data: bytes) -> str:
    return f"photo-{hashlib.sha256(data).hexdigest()[:20]}.{_kind(data)}"


def pictures_in(folder: Path) -> Callable[[str], bytes]:
    """Return what is in a picture of the workbook by its name; b"" for one that is not there."""

    def found(name: str) -> bytes:
        with contextlib.suppress(BadInput):
            return picture(folder, name)
        return b""

    return found


def pictures_named(book: Workbook) -> tuple[str, ...]:
    """Return the file of every picture that a cloth of the workbook names, each once."""
    files = (c.print.picture.file for c in book.cloths if c.print.picture is not None)
    return tuple(dict.fromkeys(files))


def drop_pictures(folder: Path, texts: Collection[str]) -> int:
    """Remove pictures kept by `keep_picture` that none of these texts names; return how many.

    texts: workbook.toml of every state that can still be gone back to. A picture kept within the
    last hour stays: its edit may be on its way.
    """
    gone = 0
    since = time.time() - 3600.0
    place = folder / PICTURES
    for file in place.iterdir() if place.is_dir() and not place.is_symlink() else ():
        if OURS.fullmatch(file.name) and not any(file.name in text for text in texts):
            with contextlib.suppress(OSError):
                if file.stat().st_mtime < since:
                    file.unlink()
                    gone += 1
    return gone


def _kind(data: bytes) -> str | None:
    return next((kind for first, kind in KINDS if data.startswith(first)), None)
