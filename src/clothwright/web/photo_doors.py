"""What the page for adding pieces takes of photos: each as it comes, every correction at once."""

from __future__ import annotations

from urllib.parse import urlencode

from starlette.responses import JSONResponse, Response

from clothwright.picture.paths import path_data
from clothwright.units import Unit
from clothwright.web.answering import words
from clothwright.web.page import Asked, Door, handed_over, post
from clothwright.workroom.pieces.photo_saying import (
    bring_photo,
    flat_picture,
    say_of_photos,
    table_picture,
    tried,
)
from clothwright.workroom.pieces.sheets import sheets_file

LARGEST = 25_000_000
"""Bytes of a photo, or of a file with a drawing."""


def sheet_links(unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return the marker sheets to take away: what they are, and the query of their address."""
    papers = ("A4", "Letter") if unit.is_metric else ("Letter", "A4")
    return tuple(
        (f"{count} sheets on {paper}", urlencode({"count": count, "paper": paper}))
        for paper in papers
        for count in (4, 8)
    )


def take_photo(asked: Asked) -> Response:
    """POST ?name=FILE[&drawing=ID] with the photo as the body: the first, or one more of a piece.

    Raises BadInput, CannotDo.
    """
    name, key = asked.query.get("name", "").strip(), _key(asked)
    key = bring_photo(asked.opened.folder, name, asked.sent, key)
    asked.opened.tell("inbox")
    return JSONResponse({"words": f"{name} is here.", "drawing": key, "address": _to(key)})


def flat(asked: Asked) -> Response:
    """Return the photos of ?drawing= put together, seen straight from above. Raises BadInput."""
    return _picture(flat_picture(asked.opened.folder, _key(asked)))


def whole(asked: Asked) -> Response:
    """Return the whole table of ?drawing= seen straight from above. Raises BadInput."""
    return _picture(table_picture(asked.opened.folder, _key(asked)))


def sheets(asked: Asked) -> Response:
    """Return ?count= marker sheets to print, on ?paper=. Raises BadInput."""
    name, data = sheets_file(asked.query.get("count", "8"), asked.query.get("paper", "A4"))
    return handed_over(data, name)


def try_outline(asked: Asked) -> Response:
    """POST ?drawing=ID with at= and to=: the outline as it would be. Raises BadInput."""
    it = tried(asked.opened.folder, _key(asked), asked.form, asked.book.unit)
    line = path_data(it.line, closed=True)
    return JSONResponse({"line": line, "words": it.words, "place": it.place})


def outline(asked: Asked) -> Response:
    """POST ?drawing=ID with what= and its fields: one thing said about the outline. BadInput."""
    key, folder = _key(asked), asked.opened.folder
    said = say_of_photos(folder, key, asked.form, asked.book.unit)
    asked.opened.tell("inbox")
    return words(asked, f"add{_to(key)}#outline", said)


def _key(asked: Asked) -> str:
    return asked.query.get("drawing", "")


def _to(key: str) -> str:
    return "?" + urlencode({"drawing": key})


def _picture(data: bytes) -> Response:
    # The address names the photos it was made of.
    return Response(data, media_type="image/jpeg", headers={"cache-control": "private, max-age=60"})


DOORS = (
    post("photo", take_photo, LARGEST),
    Door("flat.jpg", flat),
    Door("whole.jpg", whole),
    Door("sheets.pdf", sheets),
    post("outline", outline),
    post("outline/try", try_outline),
)
