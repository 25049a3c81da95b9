"""Templates: a whole page, or one named part of it for a page that is already open."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from clothwright.errors import BadInput
from clothwright.picture.inline import EM_MM
from clothwright.picture.paths import decimal
from clothwright.units import Unit
from clothwright.web.cloth_pictures import photos_of
from clothwright.web.page import Asked, Page
from clothwright.web.still import STILL, reached
from clothwright.web.svg import inline, inner
from clothwright.words import begun, say, show_length

TEMPLATES = Path(__file__).with_name("templates")
_LENGTH = re.compile(rf"\d[\d./]*(?: \d+/\d+)? (?:{'|'.join(u.value for u in Unit)})\b")


def unbroken(words: str) -> Markup:
    """Return a sentence for a page in which no length is parted from its unit by a new line.

    >>> unbroken("Shorten it by 28 3/4 in.")
    Markup('Shorten it by <span class="length">28 3/4 in</span>.')
    """
    out, at = Markup(""), 0
    for found in _LENGTH.finditer(words):
        out += Markup('{}<span class="length">{}</span>').format(
            words[at : found.start()], found[0]
        )
        at = found.end()
    return out + words[at:]


_env = Environment(
    loader=FileSystemLoader(TEMPLATES),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_env.filters["as_length"] = show_length
_env.filters["said"] = say
_env.filters["capital"] = begun
_env.filters["short"] = decimal
_env.filters["unbroken"] = unbroken
_env.globals |= {
    "inline": inline,
    "inner": inner,
    "em_mm": EM_MM,
    "photos_of": photos_of,
    "reached": reached,
    "still": STILL,
}


def whole(page: Page, asked: Asked, pages: Sequence[Page]) -> Markup:
    """Return a page as HTML, or only the parts the query names (?part=A,B: blocks part_A, part_B).

    When another request takes away a file that was there a moment ago, it is looked at anew. Raises
    BadInput when the page has no such part.
    """
    try:
        return _whole(page, asked, pages)
    except FileNotFoundError:
        return _whole(page, asked, pages)


def _whole(page: Page, asked: Asked, pages: Sequence[Page]) -> Markup:
    template = _env.get_template(f"{page.name}.html")
    shown = page.file.render(asked)  # before the rest: what it notices is told at once
    context = {**_common(page, asked, pages), **shown}
    parts = asked.query.get("part", "")
    if not parts:
        return Markup(template.render(context))
    blocks = {**_env.get_template("base.html").blocks, **template.blocks}
    out = []
    for part in parts.split(","):
        block = blocks.get(f"part_{part}")
        if block is None:
            raise BadInput(what=f'this page has no part "{part}"')
        out.append("".join(block(template.new_context(context))))
    return Markup("".join(out))


def macro(template: str, name: str, *args: object) -> Markup:
    """Return what one macro of a template makes of values, for a script that puts it in."""
    return Markup(getattr(_env.get_template(template).module, name)(*args))


def problem_page(words: str, book_name: str = "", states: Sequence[object] = ()) -> Markup:
    """Return a page that says what is wrong and leads back.

    states: those that can be brought back of a workbook that cannot be opened.
    """
    page = _env.get_template("problem.html")
    return Markup(page.render(words=words, book_name=book_name, states=states))


def _common(page: Page, asked: Asked, pages: Sequence[Page]) -> Mapping[str, object]:
    """Return what every template may use."""
    stages = tuple(p for p in pages if p.stage is not None)
    after = None
    if page.stage is not None:
        n = page.stage.number
        after = next((p for p in stages if p.stage is not None and p.stage.number > n), None)
    book = asked.open_book
    return {
        "page": page,
        "modules": ("main.js", *page.file.modules),
        "stages": stages,
        "after": after,
        "book_name": book.name if book else "",
        "title": asked.book.title if asked.at else "",
        "unit": asked.book.unit if asked.at else None,
        "revision": asked.revision,
        "can": _can(asked),
        "notices": book.notices() if book else (),
        "local": asked.local,
    }


def _can(asked: Asked) -> Mapping[str, str]:
    """Return the words of the step that undo and redo would take, "" for none."""
    if asked.open_book is None:
        return {"undo": "", "redo": ""}
    steps = asked.open_book.steps()
    done = [s for s in steps[1:] if not s.undone]
    gone = [s for s in steps if s.undone]
    return {"undo": done[-1].words if done else "", "redo": gone[0].words if gone else ""}
