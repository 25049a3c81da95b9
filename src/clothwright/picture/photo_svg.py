"""Photos in SVG: what is in each file once, and a reference to it for every copy."""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterator

from clothwright.picture.paths import decimal, matrix, path_data
from clothwright.picture.picture import DrawnPhoto, Picture

Address = Callable[[DrawnPhoto], str]
"""Where what is in a photo's file is found, as SVG names it; "" where there is none."""


def no_photos(_: DrawnPhoto) -> str:
    """Say of any photo that it is nowhere."""
    return ""


def photo_images(picture: Picture, key: str, address: Address, told: str = "href") -> str:
    """Return each photo of a picture once, to be referred to by `photo_copies`; "" without one.

    key: letters that tell the picture from others of a page. told: the attribute of a reference.
    """
    photos = {_image_id(i, key): i for i in picture.items if isinstance(i, DrawnPhoto)}
    images = "".join(
        f'<image id="{id_}" {told}="{where}" width="{decimal(item.wide)}" '
        f'height="{decimal(item.tall)}" preserveAspectRatio="none"/>'
        for id_, item in photos.items()
        if (where := address(item))
    )
    return f"<defs>{images}</defs>" if images else ""


def photo_copies(item: DrawnPhoto, key: str, told: str = "href") -> str:
    """Return every copy of a photo (`photo_images`), seen through its path."""
    clip = f"{key}-{_digest(item)}"
    image = _image_id(item, key)
    return (
        f'<clipPath id="{clip}"><path d="{path_data(item.clip, closed=True)}"/></clipPath>'
        f'<g clip-path="url(#{clip})"><g transform="{matrix(item.move)}">'
        f"{''.join(_uses(item, image, told))}</g></g>"
    )


def photo_key(picture: Picture, key: str = "") -> str:
    """Return letters that tell a picture with photos from any other of another title or key."""
    photos = (i for i in picture.items if isinstance(i, DrawnPhoto))
    return f"photo-{_digest(key, picture.title, *photos)}"


def _uses(item: DrawnPhoto, image: str, told: str) -> Iterator[str]:
    for x, y in item.spots:
        yield f'<use {told}="#{image}" x="{decimal(x)}" y="{decimal(-y - item.tall)}"/>'


def _image_id(item: DrawnPhoto, key: str) -> str:
    return f"{key}-{_digest(item.file, item.wide, item.tall)}"


def _digest(*things: object) -> str:
    said = " ".join(
        f"{t.file} {t.spots} {t.move} {t.clip}" if isinstance(t, DrawnPhoto) else str(t)
        for t in things
    )
    return f"{zlib.crc32(said.encode()):08x}"
