"""A photo of a cloth, kept beside the workbook: its corners, straightened, read.

It is looked at in the process that reads files (`apart`), and what was read stays there.
Nothing of it is part of the workbook until the maker takes over what was found (`found.py`).
"""

from __future__ import annotations

import io
from collections import deque
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any, NamedTuple

from PIL import Image as PillowImage

from clothwright.errors import BadInput
from clothwright.photo.cloth_print import PrintFound, print_in
from clothwright.photo.corners import ClothPhoto, by_corners, by_scan
from clothwright.photo.read import Photo, read_photo
from clothwright.store.beside.places import cloth_photos
from clothwright.store.book.lock import held
from clothwright.store.disk import write_whole
from clothwright.workroom.apart.asking import apart

SHOWN_SIDE = 1200
"""Pixels of the longer side of a photo while its corners are put in place."""
KEPT_SIDE = 2000
"""Pixels of the longer side of the straightened picture that stays with the workbook."""
LARGEST = 25_000_000
"""Bytes of a photo at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoLies:
    """How a photo shows a cloth.

    corners: as shares of the photo's width and height (x right, y down), lower left, lower right,
    upper right, upper left of a rectangle measured on the cloth; () for a flat scan, then dpi is
    its dots an inch. width, height: mm of the rectangle. across, along: mm on the cloth where its
    lower left corner lies, from the lower selvedge and from the cut end.
    """

    corners: tuple[tuple[float, float], ...] = ()
    width: float = 0.0
    height: float = 0.0
    dpi: float = 0.0
    across: float = 0.0
    along: float = 0.0

    @property
    def up(self) -> str:
        """Where the top of the photo points on the cloth, as in `Print.up`."""
        if not self.corners:
            return "upper"
        (x, y), right, _, over = self.corners
        a, b = (right[0] - x, right[1] - y), (over[0] - x, over[1] - y)
        turned = a[0] * b[1] - a[1] * b[0]
        along, across = b[0] * self.width / turned, -a[0] * self.height / turned
        if abs(along) > abs(across):
            return "end" if along > 0 else "start"
        return "upper" if across > 0 else "lower"


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoRead:
    """A photo straightened, and what was found in it."""

    straight: ClothPhoto
    found: PrintFound


_LAST: deque[tuple[Photo, tuple[PhotoLies, PhotoRead]]] = deque(maxlen=3)
"""What was read last: the page asks for the picture and for what was found, one after the other."""


def keep_photo(folder: FilePath, cloth: str, data: bytes, name: str) -> None:
    """Keep a photo of a cloth beside the workbook, instead of one kept before. Raises BadInput."""
    apart(name, _check, data, name)
    new = cloth_photos(folder, cloth).with_suffix(FilePath(name).suffix.lower() or ".jpg")
    with held(folder):
        write_whole(new, data)
        for old in set(_kept(folder, cloth)) - {new}:
            old.unlink(missing_ok=True)


def _check(data: bytes, name: str) -> None:
    read_photo(data, name)


def photo_size(folder: FilePath, cloth: str) -> tuple[int, int] | None:
    """Return width and height of the photo kept of a cloth, pixels; None without one.

    Raises BadInput when it is broken.
    """
    return apart(cloth, _size, one) if (one := kept_photo(folder, cloth)) else None


def _size(one: KeptPhoto) -> tuple[int, int]:
    photo = photo_of(one)
    return photo.width, photo.height


class KeptPhoto(NamedTuple):
    """The photo kept of a cloth: its file, and a number that another one under its name has not."""

    file: FilePath
    stamp: int


def kept_photo(folder: FilePath, cloth: str) -> KeptPhoto | None:
    """Return the photo kept of a cloth, None without one."""
    for file in _kept(folder, cloth):
        return KeptPhoto(file, file.stat().st_mtime_ns)
    return None


def the_photo(folder: FilePath, cloth: str) -> KeptPhoto:
    """Return the photo kept of a cloth. Raises BadInput when there is none."""
    one = kept_photo(folder, cloth)
    if one is None:
        raise BadInput(where="photo", what="there is none", expected="a photo first")
    return one


def shown_jpeg(folder: FilePath, cloth: str) -> bytes:
    """Return the photo of a cloth, small enough to be looked at. Raises BadInput."""
    return apart(cloth, _shown, the_photo(folder, cloth))


def _shown(one: KeptPhoto) -> bytes:
    return as_jpeg(photo_of(one).pixels, SHOWN_SIDE)


def straight_jpeg(folder: FilePath, cloth: str, laid: PhotoLies) -> bytes:
    """Return the straightened picture of a cloth. Raises BadInput."""
    return apart(cloth, _straight, the_photo(folder, cloth), laid)


def _straight(one: KeptPhoto, laid: PhotoLies) -> bytes:
    return as_jpeg(straightened(photo_of(one), laid).straight.image, KEPT_SIDE)


def throw_photo(folder: FilePath, cloth: str) -> None:
    """Throw the photo of a cloth away. Raises BadInput."""
    with held(folder):
        for old in _kept(folder, cloth):
            old.unlink(missing_ok=True)


def _kept(folder: FilePath, cloth: str) -> list[FilePath]:
    """Return the photo; two where it was cut off while one took the other's place, newest first."""
    stem = cloth_photos(folder, cloth)
    found = [f for f in stem.parent.glob(f"{stem.name}.*") if f.stem == stem.name]
    return sorted(found, key=lambda f: f.stat().st_mtime_ns, reverse=True)


@lru_cache(maxsize=2)
def photo_of(one: KeptPhoto) -> Photo:
    """Return a kept photo, in the process that reads files. Raises BadInput: a broken one."""
    return read_photo(one.file.read_bytes(), one.file.name)


def straightened(photo: Photo, laid: PhotoLies) -> PhotoRead:
    """Return the photo straightened, and border, repeat and axes found in it. Raises BadInput."""
    for kept, known in _LAST:
        if kept is photo and known[0] == laid:
            return known[1]
    if laid.dpi:
        straight = by_scan(photo, laid.dpi)
    else:
        spots = [(x * photo.width, y * photo.height) for x, y in laid.corners]
        straight = by_corners(photo, spots, laid.width, laid.height)
    made = PhotoRead(straight=straight, found=print_in(straight))
    _LAST.appendleft((photo, (laid, made)))
    return made


def as_jpeg(pixels: Any, most: int) -> bytes:
    """Return pixels (height, width, 3) as a JPEG picture whose longer side has `most` pixels."""
    image = PillowImage.fromarray(pixels)
    image.thumbnail((most, most))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=88)
    return out.getvalue()


def corners_from(text: str) -> tuple[tuple[float, float], ...]:
    """Return four corners from "x,y x,y x,y x,y", shares from 0 to 1. Raises BadInput."""
    spots: list[tuple[float, float]] = []
    for part in text.split():
        x, _, y = part.partition(",")
        try:
            spots.append((float(x), float(y)))
        except ValueError:
            raise BadInput(
                where="corners", what=f'"{part[:20]}" is no place', expected="0.1,0.9"
            ) from None
    if len(spots) != 4 or not all(-0.05 <= v <= 1.05 for s in spots for v in s):
        raise BadInput(where="corners", what="not four places in the photo", expected="four")
    return tuple(spots)
