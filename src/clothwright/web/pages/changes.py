"""What do I change? The list of changes as cards, before and after, and the menu of changes."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import JSONResponse, Response

from clothwright.web.answering import made_edit
from clothwright.web.page import Asked, PageFile, post
from clothwright.web.rendering import macro
from clothwright.workroom.changing.cards import States, drawn, preview, states
from clothwright.workroom.changing.forms import BY_TOPIC, ChangeForm, form_of, form_to_set, stated
from clothwright.workroom.changing.record import lines_of
from clothwright.workroom.editing.reading import edit_from
from clothwright.workroom.walking.checking import findings_of


def render(asked: Asked) -> Mapping[str, object]:
    """Return the cards, the form of the change that is open, the menu, the form to add one."""
    at, unit = states(asked.book, asked.replayed), asked.book.unit
    ids = _ids(asked)
    listed = lines_of(asked.book, asked.replayed, asked.opened.days())
    return {
        "cards": tuple(
            (name, card, drawn(at[n], at[n + 1], unit))
            for n, (name, card) in enumerate(zip(ids, listed, strict=True))
        ),
        "edited": asked.query.get("open", ""),
        "form": _edited(asked, at),
        "menu": BY_TOPIC,
        "adding": form_of(asked.query.get("kind", ""), at[-1], unit),
    }


def _ids(asked: Asked) -> tuple[str, ...]:
    return asked.at.ids if asked.at else ()


def _edited(asked: Asked, at: States) -> ChangeForm | None:
    """Return the form of the change that is open, on the pieces it is done on."""
    ids, name = _ids(asked), asked.query.get("open", "")
    if name not in ids:
        return None
    return form_to_set(asked.book, at, ids.index(name))


def _change(asked: Asked) -> Response:
    """POST a filled form: the edit that adds a change, or sets one anew. Raises BadInput."""
    at = states(asked.book, asked.replayed)
    return made_edit(asked, stated(asked.book, at, _ids(asked), asked.form), "changes")


def _preview(asked: Asked) -> Response:
    """POST an add-change or set-change edit: what it would do, drawn; nothing is saved."""
    edit = edit_from(asked.json, where="preview")
    found = len(findings_of(asked.book, asked.replayed))
    made = preview(asked.book, asked.replayed, edit, _ids(asked), found)
    html = macro("laid.html", "laid", made.drawn)
    return JSONResponse({"words": made.words, "html": html})


PAGE = PageFile(
    render=render,
    doors=(post("change", _change), post("preview", _preview)),
    modules=("changes.js",),
)
