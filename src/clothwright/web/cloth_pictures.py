"""The door through which pages get the pictures of a workbook's cloths."""

from __future__ import annotations

from urllib.parse import quote

from starlette.responses import Response

from clothwright.errors import BadInput
from clothwright.store import picture, pictures_named
from clothwright.store.picture_name import picture_type
from clothwright.web.page import Asked, Door

PATH = "/b/{book}/pictures/{file}"


def picture_address(book: str, file: str) -> str:
    """Return the address of a picture. book: the workbook's name in addresses."""
    return PATH.replace("{book}", quote(book)).replace("{file}", quote(file))


def send_picture(asked: Asked) -> Response:
    """Return a picture that a cloth of the workbook names. Raises BadInput for any other."""
    file = asked.path["file"]
    if file not in pictures_named(asked.book):
        raise BadInput(
            where="picture",
            what="no cloth of this workbook is drawn from such a picture",
            expected="one that a cloth names",
        )
    data = picture(asked.opened.folder, file)
    return Response(
        data, media_type=picture_type(file), headers={"cache-control": "private, max-age=86400"}
    )


PICTURES = Door(path=PATH, answer=send_picture)
