"""What the page of typed measurements sends: the text as it stands, and one to be mended again."""

from __future__ import annotations

from urllib.parse import urlencode

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.web.page import Asked, Door
from clothwright.workroom.pieces import typing

LARGEST = 400_000
"""Bytes of a form with a text."""


def write(asked: Asked) -> Response:
    """POST ?drawing=ID with text= and base=: keep the text as typed. Without ID: a new one.

    Raises BadInput; a text with mistakes is kept all the same.
    """
    key, text = asked.query.get("drawing", ""), asked.form.get("text", "")
    text = text.replace("\r\n", "\n")
    folder = asked.opened.folder
    if key:
        one = typing.retype(folder, key, text, asked.form.get("base", ""))
    elif text.strip():
        one = typing.begin(folder, text)
    else:
        return _to(asked, "")
    asked.opened.tell("inbox")
    if asked.form.get("by") == "script":
        return JSONResponse(
            {"words": "Kept.", "drawing": one.id, "base": typing.digest(typing.notes_in(one))}
        )
    return _to(asked, one.id)


def again(asked: Asked) -> Response:
    """POST kept=KEY: take the notes of added pieces up once more. Raises BadInput, CannotDo."""
    present = {p.name: p for p in asked.book.bought.pieces}
    one = typing.again(asked.opened.folder, asked.form.get("kept", ""), present)
    asked.opened.tell("inbox")
    if asked.form.get("by") == "script":
        address = f"/b/{asked.opened.name}/add?{urlencode({'drawing': one.id})}"
        return JSONResponse({"words": "Taken up again.", "address": address})
    return _to(asked, one.id)


def _to(asked: Asked, key: str) -> Response:
    query = f"?{urlencode({'drawing': key})}" if key else ""
    return RedirectResponse(f"/b/{asked.opened.name}/add{query}#typed", status_code=303)


DOORS = (
    Door(path="/b/{book}/add/typed", answer=write, methods=("POST",), takes=LARGEST),
    Door(path="/b/{book}/add/typed/again", answer=again, methods=("POST",)),
)
