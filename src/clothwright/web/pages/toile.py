"""What did the trial garment show? Noted at its place, and the changes that would answer it."""

from __future__ import annotations

from collections.abc import Mapping

from clothwright.web.page import Asked, PageFile
from clothwright.workroom.toile.noting import form_of_toile
from clothwright.workroom.toile.proposed import notes_shown


def render(asked: Asked) -> Mapping[str, object]:
    """Return the form of a new note, and every note with its proposals."""
    book, done = asked.book, asked.replayed
    return {
        "form": form_of_toile(done.pattern),
        "notes": asked.opened.once("toile", asked.revision, lambda: notes_shown(book, done)),
    }


PAGE = PageFile(render=render, modules=("walk.js",))
