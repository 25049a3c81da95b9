"""What does the photo say? A photo of the cloth straightened, its print measured and taken over.

Everything that was answered stands in the address, so that a reload shows the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.cloth.cloth import Cloth
from clothwright.errors import BadInput, ClothwrightError
from clothwright.photo.read import Photo
from clothwright.photo.repeat import Measured
from clothwright.units import Unit, parse_length
from clothwright.web.page import Asked, Door, Page
from clothwright.words import show_length, told
from clothwright.workroom.cloth.photos import (
    KEPT_SIDE,
    LARGEST,
    SHOWN_SIDE,
    Figures,
    Laid,
    Read,
    as_jpeg,
    corners_from,
    edit_of,
    keep_photo,
    photo_of,
    proposed,
    read_cloth,
    throw_photo,
)

HERE = "/b/{book}/cloth/photo"
START = "0.15,0.85 0.85,0.85 0.85,0.15 0.15,0.15"
NAMES = ("lower left", "lower right", "upper right", "upper left")
ASKED_FOR = ("corners", "width", "height", "dpi", "across", "along", "how")


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A handle on a corner. x, y: shares of the photo."""

    number: int
    name: str
    x: float
    y: float


def render(asked: Asked) -> Mapping[str, object]:
    """Return the photo with its corners, and what was found once its size is known."""
    unit = asked.book.unit
    cloth = _cloth(asked, asked.query.get("cloth", ""))
    if cloth is None:
        return {"one": None, "cloths": [c.name for c in asked.book.cloths]}
    shared: dict[str, object] = {
        "one": cloth.name,
        "cloths": [c.name for c in asked.book.cloths],
        "picture": cloth.print.picture is not None,
        "trouble": "",
        "photo": None,
        "said": {k: asked.query.get(k, "") for k in ASKED_FOR},
        "read": None,
    }
    try:
        photo = photo_of(asked.opened.folder, cloth.name)
        if photo is None:
            return shared
        corners = _corners(asked.query.get("corners", START))
        shared |= {
            "photo": {"width": photo.width, "height": photo.height},
            "corners": corners,
            "ring": " ".join(f"{c.x * photo.width:.1f},{c.y * photo.height:.1f}" for c in corners),
            "said": {**_said(asked), "corners": asked.query.get("corners", START)},
            "knob": max(photo.width, photo.height) / 40,
            "source": _door(asked, "shown.jpg", cloth),
        }
        laid = _laid(asked.query, unit)
        if laid is not None:
            shared["read"] = _read(asked, photo, laid, cloth, unit)
    except ClothwrightError as error:
        shared["trouble"] = told(error, unit)
    return shared


def _said(asked: Asked) -> dict[str, str]:
    said = {k: asked.query.get(k, "") for k in ASKED_FOR}
    return {**said, "how": said["how"] or "corners"}


def _door(asked: Asked, file: str, cloth: Cloth, **more: str) -> str:
    address = HERE.replace("{book}", asked.opened.name)
    return f"{address}/{file}?" + urlencode({"cloth": cloth.name, **more})


def _cloth(asked: Asked, name: str) -> Cloth | None:
    cloths = asked.book.cloths
    if not name:
        return cloths[0] if cloths else None
    return asked.book.cloth(name)


def _corners(text: str) -> tuple[Corner, ...]:
    return tuple(
        Corner(number=k, name=NAMES[k], x=x, y=y) for k, (x, y) in enumerate(corners_from(text))
    )


def _laid(query: Mapping[str, str], unit: Unit) -> Laid | None:
    """Return how the photo lies, None while that is not said. Raises BadInput."""

    def length(name: str, words: str) -> float:
        text = query.get(name, "").strip()
        return parse_length(text, unit=unit, where=words) if text else 0.0

    across, along = length("across", "from the lower selvedge"), length("along", "from the end")
    if query.get("how") == "scan":
        text = query.get("dpi", "").strip()
        if not text:
            return None
        try:
            dpi = float(text.replace(",", "."))
        except ValueError:
            raise BadInput(where="dots an inch", what=f'"{text}"', expected="a number") from None
        return Laid(dpi=dpi, across=across, along=along)
    width, height = length("width", "along the cloth"), length("height", "across the cloth")
    if not width or not height:
        return None
    corners = corners_from(query.get("corners", START))
    return Laid(corners=corners, width=width, height=height, across=across, along=along)


def _read(asked: Asked, photo: Photo, laid: Laid, cloth: Cloth, unit: Unit) -> Mapping[str, object]:
    """Return the straightened picture with what was found drawn on it, and its figures."""
    read = read_cloth(photo, laid)
    wide, tall = read.straight.width, read.straight.height
    query = {k: v for k, v in asked.query.items() if k in ASKED_FOR}
    return {
        "source": _door(asked, "straight.jpg", cloth, **query),
        "wide": wide,
        "tall": tall,
        "size": f"{show_length(wide, unit)} by {show_length(tall, unit)}",
        "lines": tuple(_lines(read)),
        "found": tuple(_words(read, unit)),
        "doubts": read.found.doubts,
        "figures": proposed(read.found, laid, cloth, unit),
    }


def _lines(read: Read) -> list[dict[str, object]]:
    """Return bands, repeat lines and axes over the straightened picture, mm, y down."""
    found, wide, tall = read.found, read.straight.width, read.straight.height
    out: list[dict[str, object]] = []
    for b in found.borders:
        low = b.band.side == "lower"
        top = tall - b.band.base.mm - b.band.height.mm if low else b.band.base.mm
        out.append({"kind": "band", "x": 0, "y": top, "w": wide, "h": b.band.height.mm})
    along = found.along
    start = found.axes_along[0].at if found.axes_along else 0.0
    if along:
        at = start % along.mm
        while at < wide:
            out.append({"kind": "repeat", "x": at, "y": 0, "w": 0, "h": tall})
            at += along.mm
    if found.repeat_across:
        at = found.repeat_across.mm
        while at < tall:
            out.append({"kind": "repeat", "x": 0, "y": tall - at, "w": wide, "h": 0})
            at += found.repeat_across.mm
    return out


def _words(read: Read, unit: Unit) -> list[tuple[str, str]]:
    """Return each figure found and how sure it is."""
    found = read.found

    def say(m: Measured) -> str:
        return f"{show_length(m.mm, unit)} ({m.mm:.1f} mm), give or take {m.give:.1f} mm"

    out = []
    for n, b in enumerate(found.borders, start=1):
        name = f"Border {n}, along the {b.band.side} selvedge"
        out.append((f"{name}: base line, from the picture's edge", say(b.band.base)))
        out.append((f"{name}: height", say(b.band.height)))
        if b.repeat:
            out.append((f"{name}: its figure comes again after", say(b.repeat)))
    if found.repeat_along:
        out.append(("The ground comes again, along", say(found.repeat_along)))
    if found.repeat_across:
        out.append(("The ground comes again, across", say(found.repeat_across)))
    if found.axes_along:
        out.append(("The figure mirrors", "in two lines each repeat"))
    elif found.along:
        out.append(("The figure mirrors", "nowhere that could be seen"))
    return out


# --- doors ---------------------------------------------------------------------------------------


def take_in(asked: Asked) -> Response:
    """POST ?cloth=&name= with the photo as the body. Raises BadInput."""
    cloth = _needed(asked)
    name = asked.query.get("name", "").strip()[:120] or "photo.jpg"
    keep_photo(asked.opened.folder, cloth.name, asked.sent, name.replace("/", "-"))
    address = _door(asked, "", cloth).replace("/?", "?")
    return JSONResponse({"words": f"{name} has come in.", "address": address})


def shown(asked: Asked) -> Response:
    """Return the photo, small enough to be looked at."""
    return _jpeg(as_jpeg(_photo(asked).pixels, SHOWN_SIDE))


def straight(asked: Asked) -> Response:
    """Return the straightened picture."""
    laid = _laid(asked.query, asked.book.unit)
    if laid is None:
        raise BadInput(where="photo", what="its size is not said yet", expected="width and height")
    return _jpeg(as_jpeg(read_cloth(_photo(asked), laid).straight.image, KEPT_SIDE))


def take(asked: Asked) -> Response:
    """POST with the address's figures and the form's: picture and figures, as one edit."""
    cloth = _needed(asked)
    laid = _laid(asked.query, asked.book.unit)
    if laid is None:
        raise BadInput(where="photo", what="its size is not said yet", expected="width and height")
    edit = edit_of(asked.opened.folder, cloth, _photo(asked), laid, _figures(asked.form))
    done = asked.opened.edit(edit, base=asked.revision)
    address = f"/b/{asked.opened.name}/cloth?" + urlencode({"cloth": cloth.name})
    if asked.form.get("by") == "script":
        return JSONResponse({"words": done.words, "revision": done.revision, "address": address})
    return RedirectResponse(address, status_code=303)


def throw(asked: Asked) -> Response:
    """POST ?cloth=: throw the photo away; what was taken from it stays."""
    cloth = _needed(asked)
    throw_photo(asked.opened.folder, cloth.name)
    address = _door(asked, "", cloth).replace("/?", "?")
    if asked.form.get("by") == "script":
        return JSONResponse({"words": "The photo is gone.", "address": address})
    return RedirectResponse(address, status_code=303)


def _figures(form: Mapping[str, str]) -> Figures:
    borders: list[dict[str, str]] = []
    for n in range(4):
        row = {
            k: form.get(f"border.{n}.{k}", "").strip()
            for k in ("name", "side", "base", "height", "repeat")
        }
        if row["base"] and row["height"] and form.get(f"border.{n}.take", "on") == "on":
            borders.append(row)
    axes = tuple(a.strip() for a in form.get("axes_along", "").split(";") if a.strip())
    lengths = ("repeat_along", "repeat_across", "origin_along", "origin_across")
    return Figures(
        borders=tuple(borders),
        axes_along=axes,
        **{k: form.get(k, "").strip() for k in lengths},
    )


def _needed(asked: Asked) -> Cloth:
    cloth = _cloth(asked, asked.query.get("cloth", ""))
    if cloth is None:
        raise BadInput(where="cloth", what="there is no cloth yet", expected="a cloth first")
    return cloth


def _photo(asked: Asked) -> Photo:
    photo = photo_of(asked.opened.folder, _needed(asked).name)
    if photo is None:
        raise BadInput(where="photo", what="there is none", expected="a photo first")
    return photo


def _jpeg(data: bytes) -> Response:
    return Response(data, media_type="image/jpeg", headers={"cache-control": "no-store"})


PAGE = Page(
    name="cloth-photo",
    path=HERE,
    question="What does the photo say?",
    render=render,
    doors=(
        Door(path=HERE + "/file", answer=take_in, methods=("POST",), takes=LARGEST),
        Door(path=HERE + "/shown.jpg", answer=shown),
        Door(path=HERE + "/straight.jpg", answer=straight),
        Door(path=HERE + "/take", answer=take, methods=("POST",)),
        Door(path=HERE + "/throw", answer=throw, methods=("POST",)),
    ),
    modules=("photo.js",),
)
