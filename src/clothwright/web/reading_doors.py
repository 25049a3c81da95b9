"""What is answered about how a file is read: the order of its pages, moves, its layers."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from urllib.parse import urlencode

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.errors import BadInput
from clothwright.intake.answers import NONE, Answers
from clothwright.intake.dxf_layers import NAMES, NUMBERED
from clothwright.intake.pdf.said_tiles import said_tiles
from clothwright.units import parse_length
from clothwright.web.page import Asked, Door
from clothwright.workroom.pieces import inbox, sitting
from clothwright.workroom.pieces.inbox import Waiting
from clothwright.workroom.pieces.sitting_reading import with_reading

WAYS = ("found", "grid", "rows", NONE)


def read_so(asked: Asked) -> Response:
    """POST ?drawing=ID with what= (pages, move, back, layers) and its fields. Raises BadInput.

    An answer by which the file cannot be read is not kept.
    """
    key = asked.query.get("drawing", "")
    what = asked.form.get("what", "")
    if what not in ANSWERS:
        raise BadInput(where="answer", what=f'"{what[:40]}" was not asked', expected="a question")
    bought, unit = asked.book.bought, asked.book.unit

    def change(one: Waiting) -> Waiting:
        return with_reading(one, bought, unit, ANSWERS[what](asked, one.how))

    before = inbox.one_waiting(asked.opened.folder, key)
    after = inbox.answer(asked.opened.folder, key, change)
    asked.opened.tell("inbox")
    seen = sitting.look(after, bought, unit)
    words = seen.trouble or "Read anew."
    if before.said and not after.said and not seen.trouble:
        words += " Its outlines are others now: their questions are asked again."
    if asked.form.get("by") == "script":
        return JSONResponse({"words": words})
    query = urlencode({"drawing": key})
    return RedirectResponse(f"/b/{asked.opened.name}/add?{query}#reading", status_code=303)


def _pages(asked: Asked, how: Answers) -> Answers:
    form = asked.form
    way = form.get("way", "")
    if way not in WAYS:
        raise BadInput(where="pages", what="no way was chosen", expected="one of those shown")
    if way in ("found", NONE):
        return replace(how, tiles="" if way == "found" else NONE, shift="", moved="")
    if way == "grid":
        across, down = form.get("across", "").strip(), form.get("down", "").strip()
        tiles = f"{across}x{down}" + (" by columns" if form.get("order") == "columns" else "")
    else:
        tiles = " / ".join(r.strip() for r in form.get("rows", "").splitlines() if r.strip())
        tiles = f"{tiles} /" if tiles and not re.search(r"[\s/]", tiles) else tiles
    given = [form.get(k, "").strip() for k in ("shift-across", "shift-down")]
    if any(given) and not all(given):
        raise BadInput(
            where="from a page to the next",
            what="only one length is typed",
            expected="both, across and down, or neither",
        )
    shift = ", ".join(_mm(asked, text, least=1.0) for text in given) if all(given) else ""
    said_tiles(tiles, shift)
    return replace(how, tiles=tiles, shift=shift)


def _move(asked: Asked, how: Answers) -> Answers:
    page = _page(asked)
    right, up = (_mm(asked, asked.form.get(k, "") or "0") for k in ("right", "up"))
    kept = [p for p in _moves(how) if p[0] != page]
    return replace(how, moved="; ".join(f"{n}: {m}" for n, m in (*kept, (page, f"{right}, {up}"))))


def _back(asked: Asked, how: Answers) -> Answers:
    page = _page(asked)
    return replace(how, moved="; ".join(f"{n}: {m}" for n, m in _moves(how) if n != page))


def _layers(asked: Asked, how: Answers) -> Answers:
    value = asked.form.get("layers", "")
    if value not in (NUMBERED, NAMES):
        raise BadInput(where="layers", what="no answer was chosen", expected="one of those shown")
    return replace(how, layers=value)


def _page(asked: Asked) -> str:
    page = asked.form.get("page", "")
    if not re.fullmatch(r"[0-9]{1,4}", page):
        raise BadInput(where="page", what=f'"{page[:20]}" is no page', expected="its number")
    return page


def _moves(how: Answers) -> list[tuple[str, str]]:
    parts = (p.partition(":") for p in how.moved.split(";") if p.strip())
    return [(n.strip(), m.strip()) for n, _, m in parts]


def _mm(asked: Asked, text: str, least: float | None = None) -> str:
    """Return a length, typed in any unit, in mm as the reader takes it."""
    length = parse_length(text, unit=asked.book.unit, where="length", least_mm=least)
    return f"{length:.4f}".rstrip("0").rstrip(".") + " mm"


ANSWERS: Mapping[str, Callable[[Asked, Answers], Answers]] = {
    "pages": _pages,
    "move": _move,
    "back": _back,
    "layers": _layers,
}
DOORS = (Door(path="/b/{book}/add/reading", answer=read_so, methods=("POST",)),)
