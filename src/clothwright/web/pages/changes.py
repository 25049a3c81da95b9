"""What do I change? The list of changes as cards, before and after, and the menu of changes."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import JSONResponse, Response

from clothwright.web.answering import made_edit
from clothwright.web.page import Asked, PageFile, post
from clothwright.web.rendering import macro
from clothwright.workroom.changing.again import Again, done_again
from clothwright.workroom.changing.alike import said_alike
from clothwright.workroom.changing.cards import States, drawn, preview, states
from clothwright.workroom.changing.forms import BY_TOPIC, ChangeForm, form_of, form_to_set, stated
from clothwright.workroom.changing.record import lines_of
from clothwright.workroom.editing.asking import FromForm
from clothwright.workroom.editing.reading import edit_from
from clothwright.workroom.walking.checking import findings_of

MEANT = "means."
"""Begins the name of a field that says what is meant by a name."""


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
        "again": _again(asked),
        "beside": _beside(asked, ids),
        "adding": form_of(asked.query.get("kind", ""), at[-1], unit),
    }


def _beside(asked: Asked, ids: tuple[str, ...]) -> Mapping[str, str]:
    """Return what the last change, and the one that is open, were not done to, by their names."""
    shown = {*ids[-1:], asked.query.get("open", "")} & set(ids)
    found = {n: said_alike(asked.book, ids.index(n) + 1, asked.replayed) for n in shown}
    return {name: words for name, words in found.items() if words}


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


def _again(asked: Asked) -> Mapping[str, object]:
    """Return the other workbooks, the one chosen, and what becomes of its changes here."""
    chosen = asked.query.get("again", "")
    others = tuple(b.name for b in asked.room.shelf() if b.name != asked.opened.name)
    found = _found_again(asked, chosen, asked.query) if chosen in others else None
    return {"others": others, "chosen": chosen, "found": found, "said": _answers(asked.query)}


def _answers(filled: Mapping[str, str]) -> dict[str, str]:
    """Return what is meant by each name, of the fields of the form."""
    said = {k.removeprefix(MEANT): v for k, v in filled.items() if k.startswith(MEANT)}
    return {there: here for there, here in said.items() if here}


def _found_again(asked: Asked, name: str, filled: Mapping[str, str]) -> Again:
    """Return what becomes here of another workbook's changes. Raises BadInput, Mistakes."""
    source = asked.room.book(name).look().book
    return done_again(source, asked.book, _answers(filled))


def _do_again(asked: Asked) -> Response:
    """POST again=NAME and answers: the edit that does what carries over. Raises BadInput."""
    found = _found_again(asked, asked.form.get("again", ""), asked.form)
    return made_edit(asked, FromForm(edit=found.plain), "changes")


def _preview(asked: Asked) -> Response:
    """POST an add-change or set-change edit: what it would do, drawn; nothing is saved."""
    edit = edit_from(asked.json, where="preview")
    found = len(findings_of(asked.book, asked.replayed))
    made = preview(asked.book, asked.replayed, edit, _ids(asked), found)
    html = macro("laid.html", "laid", made.drawn)
    return JSONResponse({"words": made.words, "html": html})


PAGE = PageFile(
    render=render,
    doors=(post("change", _change), post("again", _do_again), post("preview", _preview)),
    modules=("changes.js",),
)
