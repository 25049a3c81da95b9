"""Add pattern pieces: drawings come in, are looked at, asked about, and become pieces."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode

from markupsafe import Markup
from starlette.responses import JSONResponse, Response

from clothwright.picture.paths import path_data
from clothwright.units import is_count
from clothwright.web import photo_doors
from clothwright.web.answering import words
from clothwright.web.page import Asked, PageFile, post
from clothwright.web.pressed import base_line, corner_button, line_link
from clothwright.workroom.apart.asking import warm
from clothwright.workroom.pieces import inbox, sitting, typing
from clothwright.workroom.pieces.adding import FILES
from clothwright.workroom.pieces.answering import add_pieces, answer, bring_in
from clothwright.workroom.pieces.cards import EDGE_WORDS, OutlineView, SittingView, sitting_view
from clothwright.workroom.pieces.photo_view import photos_view
from clothwright.workroom.pieces.typed_view import typed_view

LONGEST = 400_000
"""Bytes of a form with a text."""


def render(asked: Asked) -> Mapping[str, object]:
    """Return the inbox, the chosen drawing to scale, and the questions about its chosen outline."""
    folder, book = asked.opened.folder, asked.book
    warm()
    waiting = inbox.waiting(folder)
    wanted = asked.query.get("drawing", "")
    one = next((w for w in waiting if w.id == wanted), None)
    seen = None
    if one and asked.query.get("part") != "outline":  # that part shows nothing of the questions
        look = sitting.look(one, book.bought, book.unit)
        seen = sitting_view(look, _number(asked.query.get("piece", "")), book.unit)
    return {
        "waiting": waiting,
        "chosen": wanted,
        "href": _href,
        "suffixes": tuple(s for _, suffixes in FILES for s in suffixes),
        "titles": tuple(f"{title} ({', '.join(suffixes)})" for title, suffixes in FILES),
        "missing": bool(wanted) and one is None,
        "added": _number(asked.query.get("added", "")),
        "have": len(book.bought.pieces),
        "seen": seen,
        "over": _links(seen) if seen else "",
        "handles": _handles(seen.one) if seen and seen.one else "",
        "edge_words": EDGE_WORDS,
        "typed": typed_view(folder, book, one),
        "photo": photos_view(one, book.unit),
        "path_data": path_data,
        "sheet_links": photo_doors.sheet_links(book.unit),
        "metric": book.unit.is_metric,
    }


def _number(text: str) -> int:
    return int(text) if is_count(text) else 0


def _href(drawing: str, piece: int | None = None) -> str:
    query = {"drawing": drawing} if piece is None else {"drawing": drawing, "piece": str(piece)}
    return "?" + urlencode(query)


def _links(seen: SittingView) -> Markup:
    """Return a link over every outline of the drawing."""
    return Markup("").join(
        line_link(
            o.drawn,
            href=_href(seen.of.waiting.id, o.number),
            swap="table sitting",
            words=o.name if o.wanted else f"{o.name}, said to be no piece",
            key=f"o{o.number}",
            chosen=seen.one is not None and o.number == seen.one.of.number,
        )
        for o in seen.of.outlines
        if o.drawn is not None
    )


def _handles(one: OutlineView) -> Markup:
    """Return a button on every corner of an outline, and on every bend that is none."""
    it = one.preview
    if it.base is None:
        return Markup("")
    return base_line(it.base) + Markup("").join(
        corner_button(c.at, words=c.words, on=c.on) for c in it.corners
    )


# --- what it takes -------------------------------------------------------------------------------


def take_file(asked: Asked) -> Response:
    """POST ?name=FILE with the file as the body: put it into the inbox. Raises BadInput."""
    one = bring_in(asked.opened.folder, asked.book, asked.query.get("name", ""), asked.sent)
    asked.opened.tell("inbox")
    return JSONResponse({"words": f"{one.file} is here.", "address": asked.address(_page(one.id))})


def take_answer(asked: Asked) -> Response:
    """POST ?drawing=ID&piece=N with what= and the fields of that question. Raises BadInput."""
    key, number = asked.query.get("drawing", ""), _number(asked.query.get("piece", "0"))
    said = answer(asked.opened.folder, asked.book, key, number, asked.form)
    asked.opened.tell("inbox")
    return words(asked, f"{_page(key)}&piece={number}#sitting", said)


def confirm(asked: Asked) -> Response:
    """POST ?drawing=ID: add its pieces, as one edit. Raises BadInput, CannotDo: what is missing."""
    done = add_pieces(asked.opened, asked.query.get("drawing", ""), asked.revision)
    asked.opened.tell("inbox")
    to = f"{_page()}?{urlencode({'added': done.count})}"
    return words(asked, to, done.words, revision=done.revision, address=asked.address(to))


def throw(asked: Asked) -> Response:
    """POST ?drawing=ID: take a drawing out of the inbox. Raises BadInput."""
    inbox.throw_away(asked.opened.folder, asked.query.get("drawing", ""))
    asked.opened.tell("inbox")
    return words(asked, _page(), "Thrown away.", address=asked.address(_page()))


def take_text(asked: Asked) -> Response:
    """POST ?drawing=ID with text= and base=: keep the text as typed. Without ID: a new one.

    Raises BadInput; a text with mistakes is kept all the same.
    """
    key, text = asked.query.get("drawing", ""), asked.form.get("text", "").replace("\r\n", "\n")
    folder = asked.opened.folder
    if not key and not text.strip():
        return words(asked, f"{_page()}#typed", "Nothing is typed yet.")
    if key:
        one = typing.retype(folder, key, text, asked.form.get("base", ""))
    else:
        one = typing.begin(folder, text)
    asked.opened.tell("inbox")
    base = typing.digest(typing.notes_in(one))
    return words(asked, f"{_page(one.id)}#typed", "Saved.", drawing=one.id, base=base)


def text_again(asked: Asked) -> Response:
    """POST kept=KEY: take the notes of added pieces up once more. Raises BadInput, CannotDo."""
    present = {p.name: p for p in asked.book.bought.pieces}
    one = typing.again(asked.opened.folder, asked.form.get("kept", ""), present)
    asked.opened.tell("inbox")
    address = asked.address(_page(one.id))
    return words(asked, f"{_page(one.id)}#typed", "Ready to be corrected.", address=address)


def _page(key: str = "") -> str:
    return "add" + (_href(key) if key else "")


PAGE = PageFile(
    render=render,
    doors=(
        post("file", take_file, photo_doors.LARGEST),
        post("answer", take_answer),
        post("confirm", confirm),
        post("throw", throw),
        post("typed", take_text, LONGEST),
        post("typed/again", text_again),
        *photo_doors.DOORS,
    ),
    modules=("add.js", "typed.js", "outline.js"),
)
