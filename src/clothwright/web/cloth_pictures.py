"""How pages get the pictures of a workbook's cloths."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import quote

from starlette.responses import Response

from clothwright.picture import DrawnPhoto
from clothwright.web.page import Asked
from clothwright.workroom.cloth.pictures import picture_of

PATH = "/b/{book}/pictures/{file}"


def picture_address(book: str, file: str) -> str:
    """Return the address of a picture. book: the workbook's name in addresses."""
    return PATH.replace("{book}", quote(book)).replace("{file}", quote(file))


def photos_of(book: str) -> Callable[[DrawnPhoto], str]:
    """Return where the photos in drawings of a workbook are found. book: as in addresses."""
    return lambda photo: picture_address(book, photo.file)


def send_picture(asked: Asked) -> Response:
    """Return a picture that a cloth of the workbook names. Raises BadInput for any other."""
    data, kind = picture_of(asked.book, asked.opened.folder, asked.path["file"])
    return Response(data, media_type=kind, headers={"cache-control": "private, max-age=86400"})
