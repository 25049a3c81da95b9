"""What do I change? The list of changes as cards, before and after, and the menu of changes."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from markupsafe import Markup
from starlette.responses import JSONResponse, Response

from clothwright.changes import CHANGES
from clothwright.errors import BadInput, CannotDo, Mistakes
from clothwright.pattern.pattern import Pattern
from clothwright.web.change_cards import TITLES, cards, drawn, states
from clothwright.web.change_forms import fields_of
from clothwright.web.page import Asked, Door, Page
from clothwright.words import say
from clothwright.workbook import Workbook, change_of, replay
from clothwright.workroom.editing import AddChange, SetChange, apply_edit, edit_from
from clothwright.workroom.walking.checking import findings_of

NO_PIECE = "No piece is drawn otherwise than before."


def render(asked: Asked) -> Mapping[str, object]:
    """Return the cards, the form of the change that is open, the menu, the form to add one."""
    at = _states(asked)
    ids = asked.at.ids if asked.at else ()
    kind, edited = asked.query.get("kind", ""), asked.query.get("open", "")
    adding = change_of(kind) if kind in TITLES else None
    return {
        "cards": cards(asked.book, asked.replayed.told, ids, at),
        "edited": edited,
        "fields": _edit_fields(asked, edited, at),
        "menu": tuple((c.id, c.title) for c in CHANGES),
        "adding": adding,
        "add_fields": fields_of(adding, at[-1], asked.book.unit, {}) if adding else (),
    }


def _states(asked: Asked) -> tuple[Pattern, ...]:
    return asked.opened.once("pattern states", asked.revision, lambda: states(asked.book))


def _edit_fields(asked: Asked, edited: str, at: tuple[Pattern, ...]) -> tuple[object, ...]:
    ids = asked.at.ids if asked.at else ()
    if edited not in ids:
        return ()
    n = ids.index(edited)
    step = asked.book.steps[n]
    if step.change not in TITLES:
        return ()
    return fields_of(change_of(step.change), at[n], asked.book.unit, step.params)


def _preview(asked: Asked) -> Response:
    """POST an add-change or set-change edit: what it would do, drawn; nothing is saved."""
    edit = edit_from(_sent(asked), where="preview")
    ids = asked.at.ids if asked.at else ()
    if isinstance(edit, AddChange):
        number = len(asked.book.steps) + 1
    elif isinstance(edit, SetChange) and edit.change in ids:
        number = ids.index(edit.change) + 1
    else:
        raise BadInput(where="preview", what="this is no change", expected="a change of the list")
    after = apply_edit(asked.book, edit, ids)
    done = replay(after)
    told = done.told[number - 1]
    if told.error:
        raise CannotDo(what=f"{told.step.change} cannot be done like this", why=told.error)
    before = asked.replayed.pattern
    items = Markup("").join(
        Markup('<li><span class="altered">{}<b>{}</b></span></li>').format(d.drawing, d.name)
        for d in drawn(before, done.pattern, asked.book.unit)
    )
    html = Markup('<ul class="laid">{}</ul>').format(items) if items else NO_PIECE
    words = f"{say(told.said, asked.book.unit)} {_findings(asked, after)}"
    return JSONResponse({"words": words, "html": str(html)})


def _findings(asked: Asked, after: Workbook) -> str:
    """Say how many findings the walk has now, and would have."""
    was = asked.opened.once("count of findings", asked.revision, lambda: _count(asked.book))
    return f"Findings of the walk: {was} now, {_count(after)} with it."


def _count(book: Workbook) -> int:
    return len(findings_of(book))


def _sent(asked: Asked) -> Any:
    try:
        return json.loads(asked.sent or b"null")
    except ValueError:
        raise BadInput(where="preview", what="this is no change", expected="JSON") from None


def _answered(asked: Asked) -> Response:
    try:
        return _preview(asked)
    except Mistakes as error:
        return JSONResponse({"sentence": str(error)}, status_code=400)


PAGE = Page(
    name="changes",
    path="/b/{book}/changes",
    question="What do I change?",
    render=render,
    doors=(Door(path="/b/{book}/changes/preview", answer=_answered, methods=("POST",)),),
    modules=("changes.js",),
)
