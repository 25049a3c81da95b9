"""What the photo of a cloth says: said, drawn, proposed to be typed over, and taken as one edit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from clothwright.cloth.cloth import Cloth
from clothwright.drawing.cloth import phases
from clothwright.errors import BadInput
from clothwright.photo.cloth_print import PrintFound
from clothwright.photo.repeat import Measured
from clothwright.store.book.pictures import keep_picture
from clothwright.units import Unit
from clothwright.words import show_length, show_size
from clothwright.words.exact import length_text
from clothwright.workroom.cloth.photos import (
    KEPT_SIDE,
    PhotoLies,
    PhotoRead,
    as_jpeg,
    photo_of,
    straightened,
)

SIXTY_FOURTH_MM = 25.4 / 64


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintTyped:
    """The print as it is to be taken, lengths as the maker typed them; "" leaves one out.

    borders: name, side, base, height, repeat of each. axes: mirror lines, counted from where the
    repeat begins.
    """

    borders: tuple[Mapping[str, str], ...] = ()
    repeat_along: str = ""
    repeat_across: str = ""
    origin_along: str = ""
    origin_across: str = ""
    axes_along: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundLine:
    """What was found, over the straightened picture, mm, y down: a band, or a repeat's line."""

    kind: str
    x: float
    y: float
    w: float
    h: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadShown:
    """The straightened picture (mm) and what was found: lines, words with a label, doubts.

    proposed: the same to be typed over.
    """

    wide: float
    tall: float
    size: str
    lines: tuple[FoundLine, ...]
    found: tuple[tuple[str, str], ...]
    doubts: tuple[str, ...]
    proposed: PrintTyped


def read_shown(folder: Path, cloth: Cloth, laid: PhotoLies, unit: Unit) -> ReadShown:
    """Return the photo of a cloth straightened, with border, repeat and axes found in it.

    Lengths are shown in `unit`. Raises BadInput.
    """
    read = straightened(photo_of(folder, cloth.name), laid)
    wide, tall = read.straight.width, read.straight.height
    return ReadShown(
        wide=wide,
        tall=tall,
        size=show_size(wide, tall, unit),
        lines=tuple(_lines(read)),
        found=tuple(_words(read.found, unit)),
        doubts=read.found.doubts,
        proposed=proposed(read.found, laid, cloth, unit),
    )


def _lines(read: PhotoRead) -> Iterator[FoundLine]:
    found, wide, tall = read.found, read.straight.width, read.straight.height
    for b in found.borders:
        base, height = b.band.base.mm, b.band.height.mm
        top = tall - base - height if b.band.side == "lower" else base
        yield FoundLine(kind="band", x=0, y=top, w=wide, h=height)
    along = found.along
    if along:
        first = found.axes_along[0].at if found.axes_along else 0.0
        for at in phases(first, along.mm, 0.0, wide):
            yield FoundLine(kind="repeat", x=at, y=0, w=0, h=tall)
    if found.repeat_across:
        for at in phases(0.0, found.repeat_across.mm, 0.0, tall)[1:]:
            yield FoundLine(kind="repeat", x=0, y=tall - at, w=wide, h=0)


def _words(found: PrintFound, unit: Unit) -> Iterator[tuple[str, str]]:
    """Yield what was measured and how sure it is."""

    def said(m: Measured) -> str:
        step = Fraction(1, 20) if unit.is_metric else Fraction(1, 32)
        give = max(m.give, float(step * unit.exact_mm))
        mm, more = (show_length(v, unit, nearest=step) for v in (m.mm, give))
        return f"{mm}, give or take {more}"

    for n, b in enumerate(found.borders, start=1):
        name = f"Border {n}, along the {b.band.side} selvedge"
        yield f"{name}: base line, from the picture's edge", said(b.band.base)
        yield f"{name}: height", said(b.band.height)
        if b.repeat:
            yield f"{name}: its pattern repeats every", said(b.repeat)
    if found.repeat_along:
        yield "The pattern repeats along the cloth every", said(found.repeat_along)
    if found.repeat_across:
        yield "The pattern repeats across the cloth every", said(found.repeat_across)
    if found.axes_along:
        yield "The pattern mirrors", "in two lines each repeat"
    elif found.along:
        yield "The pattern mirrors", "nowhere that could be seen"


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
    axes = () if not found.axes_along or along is None else ("0 mm", text(along.mm / 2))
    return PrintTyped(
        borders=tuple(borders),
        repeat_along=text(found.repeat_along.mm) if found.repeat_along else "",
        repeat_across=text(found.repeat_across.mm) if found.repeat_across else "",
        origin_along=text(begins % along.mm) if along else "",
        origin_across=text(laid.across) if found.repeat_across else "",
        axes_along=axes,
    )


def edit_of(folder: Path, cloth: Cloth, laid: PhotoLies, said: PrintTyped) -> dict[str, object]:
    """Return the one edit that takes print and picture over, as plain data. Raises BadInput.

    The straightened picture is kept with the workbook first; without the edit nothing names it.
    """
    straight = straightened(photo_of(folder, cloth.name), laid).straight
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
