"""What does the photo say? A photo of the cloth straightened, its print measured and taken over.

Everything that was answered stands in the address, so that a reload shows the same.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from urllib.parse import urlencode

from starlette.responses import JSONResponse, Response

from clothwright.errors import BadInput, ClothwrightError
from clothwright.units import Unit, parse_length
from clothwright.web.answering import words
from clothwright.web.page import Asked, Door, PageFile, post
from clothwright.words import told
from clothwright.workroom.cloth.found import PrintTyped, edit_of, read_shown
from clothwright.workroom.cloth.photos import (
    LARGEST,
    PhotoLies,
    corners_from,
    keep_photo,
    photo_size,
    shown_jpeg,
    straight_jpeg,
    throw_photo,
)

START = "0.15,0.85 0.85,0.85 0.85,0.15 0.15,0.15"
NAMES = ("lower left", "lower right", "upper right", "upper left")
ASKED_FOR = ("corners", "width", "height", "dpi", "across", "along", "how")


def render(asked: Asked) -> Mapping[str, object]:
    """Return the photo with its corners, and what was found once its size is known."""
    names = [c.name for c in asked.book.cloths]
    if not names:
        return {"one": None, "cloths": names}
    name, unit = _cloth(asked), asked.book.unit
    said = {k: asked.query.get(k, "") for k in ASKED_FOR}
    said |= {"corners": said["corners"] or START, "how": said["how"] or "corners"}
    shown: dict[str, object] = {
        "one": name,
        "cloths": names,
        "said": said,
        "trouble": "",
        "photo": None,
        "read": None,
        "source": asked.address(_door("shown.jpg", name)),
        "straight": asked.address(_door("straight.jpg", name, **_answered(asked))),
    }
    try:
        size = photo_size(asked.opened.folder, name)
        if size is None:
            return shown
        corners = corners_from(said["corners"])
        shown |= {
            "photo": size,
            "corners": tuple(zip(NAMES, corners, strict=True)),
            "ring": " ".join(f"{x * size[0]:.1f},{y * size[1]:.1f}" for x, y in corners),
            "knob": max(size) / 40,
        }
        laid = _laid(asked.query, unit)
        if laid is not None:
            cloth = asked.book.cloth(name)
            shown["read"] = read_shown(asked.opened.folder, cloth, laid, unit)
            shown["up"] = cloth.print.up if cloth.print.up_deg is not None else ""
            shown["in_drawing"] = lambda _: shown["straight"]
    except ClothwrightError as error:
        shown["trouble"] = told(error, unit)
    return shown


def _answered(asked: Asked) -> dict[str, str]:
    return {k: v for k, v in asked.query.items() if k in ASKED_FOR}


def _door(file: str, cloth: str, **more: str) -> str:
    return f"cloth/photo{'/' if file else ''}{file}?" + urlencode({"cloth": cloth, **more})


def _cloth(asked: Asked) -> str:
    """Return the name of the cloth that is asked for, the first without one. Raises BadInput."""
    name = asked.query.get("cloth", "")
    if name or not asked.book.cloths:
        return asked.book.cloth(name).name
    return asked.book.cloths[0].name


def _laid(query: Mapping[str, str], unit: Unit) -> PhotoLies | None:
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
            if not math.isfinite(dpi):
                raise ValueError
        except ValueError:
            raise BadInput(where="dots an inch", what=f'"{text}"', expected="a number") from None
        return PhotoLies(dpi=dpi, across=across, along=along)
    width, height = length("width", "along the cloth"), length("height", "across the cloth")
    if not width or not height:
        return None
    corners = corners_from(query.get("corners", START))
    return PhotoLies(corners=corners, width=width, height=height, across=across, along=along)


# --- doors ---------------------------------------------------------------------------------------


def send(asked: Asked) -> Response:
    """POST ?cloth=&name= with the photo as the body. Raises BadInput."""
    cloth = _cloth(asked)
    name = asked.query.get("name", "").strip()[:120] or "photo.jpg"
    keep_photo(asked.opened.folder, cloth, asked.sent, name.replace("/", "-"))
    return JSONResponse({"words": f"{name} is added.", "address": asked.address(_door("", cloth))})


def shown(asked: Asked) -> Response:
    """Return the photo, small enough to be looked at."""
    return _jpeg(shown_jpeg(asked.opened.folder, _cloth(asked)))


def straight(asked: Asked) -> Response:
    """Return the straightened picture."""
    return _jpeg(straight_jpeg(asked.opened.folder, _cloth(asked), _needed(asked)))


def take(asked: Asked) -> Response:
    """POST with what the address says and the form's fields: picture and print, as one edit."""
    cloth = asked.book.cloth(_cloth(asked))
    edit = edit_of(asked.opened.folder, cloth, _needed(asked), _typed(asked.form))
    done = asked.opened.edit(edit, base=asked.revision)
    page = "cloth?" + urlencode({"cloth": cloth.name})
    address = asked.address(page)
    return words(asked, page, done.words, revision=done.revision, address=address)


def throw(asked: Asked) -> Response:
    """POST ?cloth=: throw the photo away; what was taken from it stays."""
    cloth = _cloth(asked)
    throw_photo(asked.opened.folder, cloth)
    page = _door("", cloth)
    return words(asked, page, "The photo is gone.", address=asked.address(page))


def _needed(asked: Asked) -> PhotoLies:
    laid = _laid(asked.query, asked.book.unit)
    if laid is None:
        raise BadInput(where="photo", what="its size is not said yet", expected="width and height")
    return laid


def _typed(form: Mapping[str, str]) -> PrintTyped:
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
    return PrintTyped(
        borders=tuple(borders),
        axes_along=axes,
        up=form.get("up", ""),
        **{k: form.get(k, "").strip() for k in lengths},
    )


def _jpeg(data: bytes) -> Response:
    return Response(data, media_type="image/jpeg", headers={"cache-control": "no-store"})


PAGE = PageFile(
    render=render,
    doors=(
        post("file", send, LARGEST),
        Door("shown.jpg", shown),
        Door("straight.jpg", straight),
        post("take", take),
        post("throw", throw),
    ),
    modules=("photo.js",),
)
