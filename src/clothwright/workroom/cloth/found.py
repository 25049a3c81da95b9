"""What the photo of a cloth says: said, drawn, proposed to be typed over, and taken as one edit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.top_choices import TopChoice, photo_choices
from clothwright.errors import BadInput
from clothwright.photo.cloth_print import PrintFound
from clothwright.photo.print_said import FoundLine, lines_of, words_of
from clothwright.store.book.pictures import keep_picture
from clothwright.units import Unit
from clothwright.words import show_size
from clothwright.words.exact import length_text
from clothwright.workroom.apart.asking import apart
from clothwright.workroom.cloth.photos import (
    KEPT_SIDE,
    KeptPhoto,
    PhotoLies,
    as_jpeg,
    photo_of,
    straightened,
    the_photo,
)

SIXTY_FOURTH_MM = 25.4 / 64


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintTyped:
    """The print as it is to be taken, lengths as the maker typed them; "" leaves one out.

    borders: name, side, base, height, repeat of each. axes: mirror lines, counted from where the
    repeat begins. up: as in `Print.up`.
    """

    borders: tuple[Mapping[str, str], ...] = ()
    repeat_along: str = ""
    repeat_across: str = ""
    origin_along: str = ""
    origin_across: str = ""
    axes_along: tuple[str, ...] = ()
    up: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadShown:
    """The straightened picture (mm) and what was found: lines, words with a label, doubts.

    proposed: the same to be typed over. tops: the ways it may be up, each drawn on the picture.
    """

    wide: float
    tall: float
    size: str
    lines: tuple[FoundLine, ...]
    found: tuple[tuple[str, str], ...]
    doubts: tuple[str, ...]
    proposed: PrintTyped
    tops: tuple[TopChoice, ...]


def read_shown(folder: Path, cloth: Cloth, laid: PhotoLies, unit: Unit) -> ReadShown:
    """Return the photo of a cloth straightened, with border, repeat and axes found in it.

    Lengths are shown in `unit`. Raises BadInput.
    """
    return apart(cloth.name, _read_shown, the_photo(folder, cloth.name), cloth, laid, unit)


def _read_shown(photo: KeptPhoto, cloth: Cloth, laid: PhotoLies, unit: Unit) -> ReadShown:
    read = straightened(photo_of(photo), laid)
    wide, tall = read.straight.width, read.straight.height
    return ReadShown(
        wide=wide,
        tall=tall,
        size=show_size(wide, tall, unit),
        lines=tuple(lines_of(read.found, wide, tall)),
        found=tuple(words_of(read.found, unit)),
        doubts=read.found.doubts,
        proposed=proposed(read.found, laid, cloth, unit),
        tops=photo_choices(wide, tall),
    )


def proposed(found: PrintFound, laid: PhotoLies, cloth: Cloth, unit: Unit) -> PrintTyped:
    """Return what was found as lengths of the cloth in `unit`, rounded to what can be measured."""

    def text(mm: float) -> str:
        step = 0.1 if unit.is_metric else SIXTY_FOURTH_MM
        return length_text(round(mm / step) * step, unit)

    upper = max(0.0, cloth.width - laid.across - laid.height)
    borders = []
    for n, b in enumerate(found.borders):
        base = b.band.base.mm + (laid.across if b.band.side == "lower" else upper)
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
    axes: tuple[str, ...] = ()
    if found.axes_along and along:
        between = () if cloth.print.drop == "brick" else (text(along.mm / 2),)
        axes = ("0 mm", *between)
    return PrintTyped(
        borders=tuple(borders),
        repeat_along=text(found.repeat_along.mm) if found.repeat_along else "",
        repeat_across=text(found.repeat_across.mm) if found.repeat_across else "",
        origin_along=text(begins % along.mm) if along else "",
        origin_across=text(laid.across) if found.repeat_across else "",
        axes_along=axes,
        up=laid.up,
    )


def edit_of(folder: Path, cloth: Cloth, laid: PhotoLies, said: PrintTyped) -> dict[str, object]:
    """Return the one edit that takes print and picture over, as plain data. Raises BadInput.

    The straightened picture is kept with the workbook first; without the edit nothing names it.
    """
    photo = the_photo(folder, cloth.name)
    return apart(cloth.name, _edit_of, folder, photo, cloth, laid, said)


def _edit_of(
    folder: Path, photo: KeptPhoto, cloth: Cloth, laid: PhotoLies, said: PrintTyped
) -> dict[str, object]:
    straight = straightened(photo_of(photo), laid).straight
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
        typed = getattr(said, key)
        if typed:
            values[key] = typed
    if said.up:
        values["up"] = said.up
    measured = said.repeat_along or any(b["repeat"] for b in said.borders)
    if said.axes_along or measured:
        values["axes_along"] = list(said.axes_along)
    if said.borders:
        old = {b.name: b for b in cloth.print.borders}
        values["border"] = [
            {
                **{k: v for k, v in b.items() if v},
                "down": old[b["name"]].down if b["name"] in old else "selvedge",
            }
            for b in said.borders
        ]
    return {"edit": "set-cloth", "cloth": cloth.name, "values": {"print": values}}
