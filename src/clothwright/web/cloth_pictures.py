"""The door through which pages get the pictures of a workbook's cloths."""

from __future__ import annotations

from urllib.parse import quote

from markupsafe import Markup
from starlette.responses import Response

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import picture_spots
from clothwright.errors import BadInput
from clothwright.picture.paths import decimal
from clothwright.store import picture, pictures_named
from clothwright.store.book.picture_name import picture_type
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


def photo_on(cloth: Cloth, long: float, book: str) -> Markup:
    """Return the photo of the cloth wherever it comes again on `long` mm of it; "" without one."""
    picture = cloth.print.picture
    if picture is None:
        return Markup("")
    spots = picture_spots(cloth.print, long, cloth.width)
    if not spots:
        return Markup("")
    size = Markup('width="{}" height="{}" preserveAspectRatio="none"').format(
        decimal(picture.width), decimal(picture.height)
    )
    address = picture_address(book, picture.file)
    return Markup("").join(
        Markup('<image href="{}" x="{}" y="{}" {}/>').format(
            address, decimal(x), decimal(-y - picture.height), size
        )
        for x, y in spots
    )
