"""Which edges are sewn together? Pairs laid along each other, for the maker to say."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode
from zlib import crc32

from starlette.responses import Response

from clothwright.web.answering import words
from clothwright.web.page import Asked, PageFile, post
from clothwright.workroom.pieces.seam_cards import pairs_of, say_to_pair, sew_all
from clothwright.workroom.pieces.seam_choices import forget_refused
from clothwright.workroom.pieces.seam_form import said_in
from clothwright.workroom.pieces.seam_named import set_seam
from clothwright.workroom.pieces.together import add_together, say_together, together_of

SIDES = (("a", "a2"), ("b", "b2"))


def render(asked: Asked) -> Mapping[str, object]:
    """Return pairs as cards, the seams that are named, edges to choose from, what goes together."""
    turns = {t for t in asked.query.get("turn", "").split("|") if t}
    own = tuple(tuple(filter(None, (asked.query.get(k) for k in side))) for side in SIDES)
    pattern = asked.replayed.pattern
    folder = asked.opened.folder

    def turn_href(key: str) -> str:
        query = {k: v for k, v in asked.query.items() if k != "part"}
        return "?" + urlencode({**query, "turn": "|".join(sorted(turns ^ {key}))})

    return {
        "it": pairs_of(folder, asked.book, pattern, own=(own[0], own[1]), turns=turns),
        "turn_href": turn_href,
        "id_of": lambda key: f"pair-{crc32(key.encode()):x}",
        "pieces": len(pattern.pieces),
        "together": together_of(asked.book),
        "typed": {k: asked.query.get(k, "") for side in SIDES for k in side},
    }


def say_to_one(asked: Asked) -> Response:
    """POST key, do=confirm or refuse, name, ease, turn: what is said to one pair. BadInput."""
    done = say_to_pair(asked.opened, asked.form, asked.revision)
    if done.revision == asked.revision:
        asked.opened.tell("book", revision=asked.revision)
    return words(asked, "seams", done.words, revision=done.revision)


def set_one(asked: Asked) -> Response:
    """POST seam and the fields of its form: a named seam is set anew. Raises BadInput."""
    name = asked.form.get("seam", "")
    done = set_seam(asked.opened, name, said_in(asked.form), asked.revision)
    return words(asked, "seams", done.words, revision=done.revision)


def go_together(asked: Asked) -> Response:
    """POST piece, or several with "|", that go with what is proposed; or piece, other and kind."""
    form, book = asked.form, asked.opened
    if form.get("other"):
        piece, other, kind = (form.get(name, "") for name in ("piece", "other", "kind"))
        done = add_together(book, piece, other, kind, asked.revision)
    else:
        done = say_together(book, form.get("piece", "").split("|"), asked.revision)
    return words(asked, "seams", done.words, revision=done.revision)


def say_to_all(asked: Asked) -> Response:
    """POST: every proposal that is shown becomes a seam, as one edit. Raises CannotDo."""
    done = sew_all(asked.opened, asked.revision)
    return words(asked, "seams", done.words, revision=done.revision)


def again(asked: Asked) -> Response:
    """POST: what has been refused is proposed again."""
    forget_refused(asked.opened.folder)
    asked.opened.tell("book", revision=asked.revision)
    return words(asked, "seams", "Everything is proposed again.", revision=asked.revision)


PAGE = PageFile(
    render=render,
    doors=(
        post("one", say_to_one),
        post("all", say_to_all),
        post("again", again),
        post("set", set_one),
        post("together", go_together),
    ),
    modules=("seams.js",),
)
