"""The picture of a cloth that its print is drawn by, as the workbook has it."""

from __future__ import annotations

from pathlib import Path

from clothwright.errors import BadInput
from clothwright.store import picture, pictures_named
from clothwright.store.book.picture_name import picture_type
from clothwright.workbook import Workbook


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
