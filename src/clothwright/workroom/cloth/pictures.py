"""The picture of a cloth that its print is drawn by, as the workbook has it."""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO
from pathlib import Path

from clothwright.errors import BadInput
from clothwright.picture.picture import PhotoFiles
from clothwright.store import picture, pictures_in, pictures_named
from clothwright.store.book.picture_name import picture_type
from clothwright.store.book.pictures import is_as_kept, picture_mark
from clothwright.workbook import Workbook
from clothwright.workroom.apart.asking import Unread, apart

LOST = (
    "The photo of “{0}” is not in the workbook's folder “pictures”, or cannot be read, so its "
    "print is drawn as lines and motifs. Put the file back, or take the print from the photo again."
)


def picture_of(book: Workbook, folder: Path, file: str) -> tuple[bytes, str]:
    """Return a picture that a cloth of the workbook names, and its content type.

    Raises BadInput for any other.
    """
    if file not in pictures_named(book):
        raise BadInput(
            where="picture",
            what="no cloth of this workbook is drawn from such a picture",
            expected="one that a cloth names",
        )
    return picture(folder, file), picture_type(file)


def photos_in(folder: Path) -> PhotoFiles:
    """Return what is in each photo of a workbook's cloths, for files that show them.

    b"" for one that is not there or cannot be read as a picture.
    """
    found = pictures_in(folder)
    return lambda name: found(name) if _is_there(folder, name) else b""


def _is_there(folder: Path, name: str) -> bool:
    """Tell whether a photo is there whole; what was found out once holds while its file does."""
    mark = picture_mark(folder, name)
    return mark is not None and _is_whole(folder, name, mark)


@lru_cache(maxsize=64)
def _is_whole(folder: Path, name: str, _: tuple[str, int, int]) -> bool:
    """Tell whether a photo is the one that was kept, which was whole; another is read, apart."""
    data = pictures_in(folder)(name)
    if not data or is_as_kept(name, data):
        return bool(data)
    try:
        return apart(name, can_be_read, data)
    except Unread:
        return False


def can_be_read(data: bytes) -> bool:
    """Tell whether a JPEG or PNG picture can be read to its end."""
    from PIL import Image  # noqa: PLC0415 (the server starts without it)

    try:
        with Image.open(BytesIO(data)) as image:
            image.load()
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        return False
    return True


def lost_words(book: Workbook, folder: Path) -> tuple[str, ...]:
    """Return a sentence for every cloth whose photo is not in the workbook's folder any more."""
    named = ((c.name, c.print.picture) for c in book.cloths)
    return tuple(
        LOST.format(name) for name, p in named if p is not None and not _is_there(folder, p.file)
    )
