"""The photo of a cloth that its print is drawn by: its file, and where it comes again."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import picture_spots
from clothwright.errors import BadInput
from clothwright.store import picture, pictures_named
from clothwright.store.book.picture_name import picture_type
from clothwright.workbook import Workbook


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoOn:
    """A photo on its cloth. file: its name in the workbook; wide, tall: mm of one copy.

    spots: the upper left corner of every copy, mm, y turned down.
    """

    file: str
    wide: float
    tall: float
    spots: tuple[tuple[float, float], ...]


def photo_on(cloth: Cloth, long: float) -> PhotoOn | None:
    """Return the photo of a cloth wherever it comes again on `long` mm of it; None without one."""
    shown = cloth.print.picture
    spots = picture_spots(cloth.print, long, cloth.width)
    if shown is None or not spots:
        return None
    return PhotoOn(
        file=shown.file,
        wide=shown.width,
        tall=shown.height,
        spots=tuple((x, -y - shown.height) for x, y in spots),
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
