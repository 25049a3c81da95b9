"""A photo of a cloth: kept beside the workbook, straightened, read, and its figures taken over.

Nothing of it is part of the workbook until the maker takes the figures; then the straightened
picture goes with them, as one edit.
"""

from __future__ import annotations

import io
from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any

from PIL import Image as PillowImage

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput
from clothwright.photo.cloth_print import PrintFound, print_in
from clothwright.photo.corners import ClothPhoto, by_corners, by_scan
from clothwright.photo.read import Photo, read_photo
from clothwright.store.beside.places import cloth_photos
from clothwright.store.book.file import write_whole
from clothwright.store.book.pictures import keep_picture
from clothwright.store.book.plain import length_text
from clothwright.units import Unit

SHOWN_SIDE = 1200
"""Pixels of the longer side of a photo while its corners are put in place."""
KEPT_SIDE = 2000
"""Pixels of the longer side of the straightened picture that stays with the workbook."""
LARGEST = 25_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """A photo straightened, and what was found in it."""

    straight: ClothPhoto
    found: PrintFound


_LAST: deque[tuple[Photo, tuple[Laid, Read]]] = deque(maxlen=3)
"""What was read last: the page asks for the picture and for the figures, one after the other."""


def keep_photo(folder: FilePath, cloth: str, data: bytes, name: str) -> None:
    """Keep a photo of a cloth beside the workbook, instead of one kept before. Raises BadInput."""
    read_photo(data, name)
    for old in _kept(folder, cloth):
        old.unlink(missing_ok=True)
    suffix = FilePath(name).suffix.lower() or ".jpg"
    write_whole(cloth_photos(folder, cloth).with_suffix(suffix), data)


def photo_of(folder: FilePath, cloth: str) -> Photo | None:
    """Return the photo kept of a cloth; None without one. Raises BadInput when it is broken."""
    for file in _kept(folder, cloth):
        return _read(str(file), file.stat().st_mtime_ns)
    return None


def throw_photo(folder: FilePath, cloth: str) -> None:
    """Throw the photo of a cloth away."""
    for old in _kept(folder, cloth):
        old.unlink(missing_ok=True)


def _kept(folder: FilePath, cloth: str) -> list[FilePath]:
    stem = cloth_photos(folder, cloth)
    return sorted(stem.parent.glob(stem.name + ".*")) if stem.parent.is_dir() else []


@lru_cache(maxsize=2)
def _read(file: str, stamp: int) -> Photo:
    del stamp  # it makes another photo under the same name another thing
    return read_photo(FilePath(file).read_bytes(), FilePath(file).name)


def read_cloth(photo: Photo, laid: Laid) -> Read:
    """Return the photo straightened, and border, repeat and axes found in it. Raises BadInput."""
    for kept, known in _LAST:
        if kept is photo and known[0] == laid:
            return known[1]
    if laid.dpi:
        straight = by_scan(photo, laid.dpi)
    else:
        spots = [(x * photo.width, y * photo.height) for x, y in laid.corners]
        straight = by_corners(photo, spots, laid.width, laid.height)
    made = Read(straight=straight, found=print_in(straight))
    _LAST.appendleft((photo, (laid, made)))
    return made


def as_jpeg(pixels: Any, most: int) -> bytes:
    """Return pixels (height, width, 3) as a JPEG picture whose longer side has `most` pixels."""
    image = PillowImage.fromarray(pixels)
    image.thumbnail((most, most))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=88)
    return out.getvalue()


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """The figures as they are to be taken, as the maker typed them; "" leaves one out.

    borders: name, side, base, height, repeat of each. axes: mirror lines, counted from where the
    repeat begins, with semicolons.
    """

    borders: tuple[Mapping[str, str], ...] = ()
    repeat_along: str = ""
    repeat_across: str = ""
    origin_along: str = ""
    origin_across: str = ""
    axes_along: tuple[str, ...] = ()


def proposed(found: PrintFound, laid: Laid, cloth: Cloth, unit: Unit) -> Figures:
    """Return what was found as figures of the cloth, rounded to what can be measured on it."""

    def text(mm: float) -> str:
        return length_text(round(mm, 1), unit if unit.is_metric else Unit.mm)

    borders = []
    for n, b in enumerate(found.borders):
        low = b.band.side == "lower"
        base = b.band.base.mm + laid.across if low else b.band.base.mm + _above(found, laid, cloth)
        names = [x.name for x in cloth.print.borders]
        borders.append(
            {
                "name": names[n] if n < len(names) else f"border {n + 1}",
                "side": b.band.side,
                "base": text(base),
                "height": text(b.band.height.mm),
                "repeat": text(b.repeat.mm) if b.repeat and not found.repeat_along else "",
            }
        )
    begins = laid.along + (found.axes_along[0].at if found.axes_along else 0.0)
    along = found.along
    axes = () if not found.axes_along or along is None else ("0 mm", text(along.mm / 2))
    return Figures(
        borders=tuple(borders),
        repeat_along=text(found.repeat_along.mm) if found.repeat_along else "",
        repeat_across=text(found.repeat_across.mm) if found.repeat_across else "",
        origin_along=text(begins % along.mm) if along else "",
        origin_across=text(laid.across) if found.repeat_across else "",
        axes_along=axes,
    )


def _above(found: PrintFound, laid: Laid, cloth: Cloth) -> float:
    """Return how far the picture's upper edge lies below the upper selvedge, mm."""
    del found
    return max(0.0, cloth.width - laid.across - laid.height)


def edit_of(
    folder: FilePath, cloth: Cloth, photo: Photo, laid: Laid, figures: Figures
) -> dict[str, object]:
    """Return the one edit that takes figures and picture over, as plain data. Raises BadInput.

    The straightened picture is kept with the workbook first; without the edit nothing names it.
    """
    straight = read_cloth(photo, laid).straight
    if not laid.dpi and (laid.width <= 0 or laid.height <= 0):
        raise BadInput(where="photo", what="its size is not known", expected="width and height")
    name = keep_picture(folder, as_jpeg(straight.image, KEPT_SIDE))
    values: dict[str, object] = {
        "picture": {
            "file": name,
            "width": f"{straight.width:.2f} mm",
            "height": f"{straight.height:.2f} mm",
            "along": f"{laid.along:.2f} mm",
            "across": f"{laid.across:.2f} mm",
        },
    }
    for key in ("repeat_along", "repeat_across", "origin_along", "origin_across"):
        typed = getattr(figures, key)
        if typed:
            values[key] = typed
    measured = figures.repeat_along or any(b["repeat"] for b in figures.borders)
    if figures.axes_along or measured:
        values["axes_along"] = list(figures.axes_along)
    if figures.borders:
        old = {b.name: b for b in cloth.print.borders}
        values["border"] = [
            {
                **{k: v for k, v in b.items() if v},
                "down": old[b["name"]].down if b["name"] in old else "selvedge",
            }
            for b in figures.borders
        ]
    return {"edit": "set-cloth", "cloth": cloth.name, "values": {"print": values}}


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
