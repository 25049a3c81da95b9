"""The picture of a cloth that its print is drawn by, as the workbook has it."""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO
from pathlib import Path

from clothwright.errors import BadInput
from clothwright.picture.picture import PhotoFiles
from clothwright.store import picture, pictures_in, pictures_named
from clothwright.store.book.picture_name import picture_type
from clothwright.workbook import Workbook

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

    def readable(name: str) -> bytes:
        data = found(name)
        return data if data and _is_whole(data) else b""

    return readable


@lru_cache(maxsize=8)
def _is_whole(data: bytes) -> bool:
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
    photos = photos_in(folder)
    named = ((c.name, c.print.picture) for c in book.cloths)
    return tuple(LOST.format(name) for name, p in named if p is not None and not photos(p.file))
