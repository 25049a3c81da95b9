"""What the intake page takes of photos: one after the other, the bar, every correction at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from urllib.parse import urlencode

from starlette.responses import JSONResponse, RedirectResponse, Response

from clothwright.errors import BadInput, ClothwrightError
from clothwright.geometry.vec import Vec
from clothwright.outputs.paper import parse_paper
from clothwright.picture.paths import path_data
from clothwright.units import Unit, parse_length
from clothwright.web.page import Asked, Door, handed_over
from clothwright.web.photo_cards import mark_of
from clothwright.words import say, show_length
from clothwright.workroom.pieces import inbox, photo_said, photo_sitting, sitting_edges
from clothwright.workroom.pieces.photo_crossing import MEND
from clothwright.workroom.pieces.photo_found import kept_picture
from clothwright.workroom.pieces.photo_sitting import View
from clothwright.workroom.pieces.photographing import is_photo, place_words
from clothwright.workroom.pieces.sheets import sheets_pdf

LARGEST = 25_000_000
HERE = "/b/{book}/add"


def take_photo(asked: Asked) -> Response:
    """POST ?name=FILE[&drawing=ID] with the photo as the body: the first, or one more of a piece.

    It is looked at alone; `solve` puts all together. What is wrong with it is a sentence that
    names it; the others stay. Raises BadInput, CannotDo.
    """
    name, key = asked.query.get("name", "").strip(), asked.query.get("drawing", "")
    if not is_photo(name):
        raise BadInput(where=name or "file", what="it is no photo", expected="JPEG, PNG or HEIC")
    folder = asked.opened.folder
    if key:
        photo_said.add_photo(folder, key, name, asked.sent)
        inbox.answer(folder, key, lambda one: sitting_edges.with_scale(one, one.scale))
    else:
        photo_said.check_photo(asked.sent, name)
        key = inbox.put_in(folder, name, asked.sent).id
    asked.opened.tell("inbox")
    return JSONResponse({"words": f"{name} has come in.", "drawing": key, "address": _to(key)})


def flat(asked: Asked) -> Response:
    """Return the photos of ?drawing= put together, seen straight from above."""
    one = photo_said.piece_waiting(asked.opened.folder, asked.query.get("drawing", ""))
    photo_sitting.view_of(one)
    return _picture(one, whole=False)


def whole(asked: Asked) -> Response:
    """Return the whole table of ?drawing= seen straight from above. Raises BadInput."""
    one = photo_said.piece_waiting(asked.opened.folder, asked.query.get("drawing", ""))
    return _picture(one, whole=True)


def _picture(one: inbox.Waiting, *, whole: bool) -> Response:
    data = kept_picture(one.stored.parent, whole=whole)
    # The address names the photos it was made of.
    return Response(data, media_type="image/jpeg", headers={"cache-control": "private, max-age=60"})


def sheets(asked: Asked) -> Response:
    """Return ?count= marker sheets to print, on ?paper=. Raises BadInput."""
    count = asked.query.get("count", "8")
    if not count.isascii() or not count.isdigit() or len(count) > 2:
        raise BadInput(where="count", what=f'"{count[:20]}"', expected="a number of sheets")
    paper = parse_paper(asked.query.get("paper", "A4"), unit=Unit.mm, where="paper")
    data = sheets_pdf(range(int(count)), paper)
    return handed_over(data, "application/pdf", f"marker-sheets-{paper.slug}.pdf")


def tried(asked: Asked) -> Response:
    """POST ?drawing=ID with at= and to=: the outline as it would be. Raises BadInput."""
    one = photo_said.piece_waiting(asked.opened.folder, asked.query.get("drawing", ""))
    at, to = _spot(asked, "at"), _spot(asked, "to")
    view = photo_sitting.tried(one, at, to)
    return JSONResponse(
        {
            "line": path_data(view.now.outline.path, closed=True),
            "words": _moved(at, to)
            + (f" ({_spoiled(asked, view).rstrip('.')})" if view.spoiled else ""),
            "place": place_words(to, asked.book.unit),
        }
    )


def outline(asked: Asked) -> Response:
    """POST ?drawing=ID with what= and its fields: one thing said about the outline. BadInput."""
    key, what = asked.query.get("drawing", ""), asked.form.get("what", "")
    if what not in SAID:
        raise BadInput(where="outline", what=f'"{what[:20]}" was not asked', expected="a question")
    before = _path(asked, key)
    words = SAID[what](asked, key)
    _follow(asked, key, before)
    after = _path(asked, key)
    if after is not None and after.spoiled and what in BENDS:
        words = f"{words} {_spoiled(asked, after)} {MEND}"
    asked.opened.tell("inbox")
    if asked.form.get("by") == "script":
        mark = mark_of(photo_said.piece_waiting(asked.opened.folder, key))
        return JSONResponse({"words": words, "mark": mark})
    return RedirectResponse(f"/b/{asked.opened.name}/add{_to(key)}#outline", status_code=303)


def _to(key: str) -> str:
    return "?" + urlencode({"drawing": key})


def _moved(at: Vec, to: Vec) -> str:
    return f"moved by {show_length(at.distance(to), Unit.mm)}"


def _spoiled(asked: Asked, view: View) -> str:
    """What is wrong with the outline, in the maker's unit."""
    return say(view.spoiled, asked.book.unit)


# --- corners that were pressed go along ----------------------------------------------------------


def _path(asked: Asked, key: str) -> View | None:
    """The piece as it stands; None when it cannot be put together."""
    try:
        return photo_sitting.view_of(photo_said.piece_waiting(asked.opened.folder, key))
    except ClothwrightError:
        return None


def _follow(asked: Asked, key: str, before: View | None) -> None:
    """Lay the corners that were pressed where the outline is now; else they are found anew."""
    after = _path(asked, key)
    if before is None or after is None or before.now.outline.path == after.now.outline.path:
        return
    same = before.found.outline.path == after.found.outline.path

    def change(one: inbox.Waiting) -> inbox.Waiting:
        said = one.about(0)
        if not said.answers.corners.startswith("at "):
            return one
        if not same:
            return sitting_edges.with_scale(one, one.scale)
        return inbox.with_answers(one, 0, corners=photo_sitting.corners_after(before, after, said))

    inbox.answer(asked.opened.folder, key, change)


# --- what can be said ----------------------------------------------------------------------------


def _solve(asked: Asked, key: str) -> str:
    """Put the photos together; what is wrong with them is said on the page, and they stay."""
    one = photo_said.piece_waiting(asked.opened.folder, key)
    count = len(photo_said.photos_of(one).used)
    view = photo_sitting.view_of(one)
    lead = "The photo was flattened" if count == 1 else f"{count} photos were put together"
    error = show_length(view.found.error_mm, Unit.mm)
    return f"{lead}: by the photos the outline is right within {error}."


def _bar(asked: Asked, key: str) -> str:
    photos = photo_said.set_bar(asked.opened.folder, key, asked.form.get("bar", ""))
    return f"The bar is {photos.bar}: everything has its size by it now."


def _use(asked: Asked, key: str) -> str:
    number, used = _number(asked, "photo"), asked.form.get("use") == "yes"
    photos = photo_said.use_photo(asked.opened.folder, key, number, used=used)
    name = photos.taken[number - 1].name
    return f"{name} counts again." if used else f"{name} is left out; it stays here."


def _inside(asked: Asked, key: str) -> str:
    text = asked.form.get("at", "")
    unit = asked.book.unit
    if text == "largest":
        at = None
    elif text:
        at = _spot(asked, "at")
    else:
        at = Vec(
            *(
                parse_length(asked.form.get(name, ""), unit=unit, where=words, least_mm=0.0)
                for name, words in (("right", "from the left"), ("up", "from below"))
            )
        )
    view = photo_sitting.point_at(asked.opened.folder, key, at)
    low, high = view.now.outline.path.bounds()
    wide, tall = show_length(high.x - low.x, unit), show_length(high.y - low.y, unit)
    return f"This piece was found: {wide} wide, {tall} tall."


def _move(asked: Asked, key: str) -> str:
    at, to = _spot(asked, "at"), _spot(asked, "to")
    photo_sitting.correct(asked.opened.folder, key, at, to)
    return f"Kept: {_moved(at, to)}."


def _add(asked: Asked, key: str) -> str:
    photo_sitting.add_point(asked.opened.folder, key, _spot(asked, "at"))
    return "A point was added; the line stays as it is until you move it."


def _after(asked: Asked, key: str) -> str:
    photo_sitting.add_after(asked.opened.folder, key, _spot(asked, "at"))
    return "A point was added; the line stays as it is until you move it."


def _out(asked: Asked, key: str) -> str:
    photo_sitting.correct(asked.opened.folder, key, _spot(asked, "at"), None)
    return "The point was taken away; the line runs fair across."


def _back(asked: Asked, key: str) -> str:
    photo_sitting.give_back(asked.opened.folder, key, _spot(asked, "at"))
    return "There the line is as it was found again."


def _all_back(asked: Asked, key: str) -> str:
    photo_sitting.all_back(asked.opened.folder, key)
    return "The whole line is as it was found. Undo brings your corrections back."


def _undo(asked: Asked, key: str) -> str:
    photo_sitting.step(asked.opened.folder, key, back=True, have=_number(asked, "have"))
    return "The last correction was undone."


def _redo(asked: Asked, key: str) -> str:
    photo_sitting.step(asked.opened.folder, key, back=False, have=_number(asked, "have"))
    return "The correction was done again."


def _tick(asked: Asked, key: str) -> str:
    number = _number(asked, "doubt")
    photo_sitting.tick(asked.opened.folder, key, number, asked.form.get("said", ""))
    return "Kept."


def _across(asked: Asked, key: str) -> str:
    photo_sitting.across(asked.opened.folder, key, _number(asked, "doubt"))
    return "The line runs fair across that place. Look at it; undo takes it back."


SAID: Mapping[str, Callable[[Asked, str], str]] = {
    "solve": _solve,
    "bar": _bar,
    "use": _use,
    "inside": _inside,
    "move": _move,
    "add": _add,
    "after": _after,
    "out": _out,
    "back": _back,
    "all-back": _all_back,
    "undo": _undo,
    "redo": _redo,
    "tick": _tick,
    "across": _across,
}


BENDS = frozenset(("move", "add", "after", "out", "back", "undo", "redo", "across"))
"""What may spoil the outline, or leave it spoiled: then it is told at once."""


def _number(asked: Asked, field: str) -> int:
    text = asked.form.get(field, "")
    if not text.isascii() or not text.isdigit() or len(text) > 4:
        raise BadInput(where=field, what=f'"{text[:20]}" is no number', expected="1, 2, 3")
    return int(text)


def _spot(asked: Asked, field: str) -> Vec:
    text = asked.form.get(field, "")
    found = re.fullmatch(r"(-?\d{1,6}(?:\.\d{1,6})?),(-?\d{1,6}(?:\.\d{1,6})?)", text)
    if not found:
        raise BadInput(where="outline", what="it says no place", expected='"x,y" in mm')
    return Vec(float(found[1]), float(found[2]))


DOORS = (
    Door(path=f"{HERE}/photo", answer=take_photo, methods=("POST",), takes=LARGEST),
    Door(path=f"{HERE}/flat.jpg", answer=flat),
    Door(path=f"{HERE}/whole.jpg", answer=whole),
    Door(path=f"{HERE}/sheets.pdf", answer=sheets),
    Door(path=f"{HERE}/outline", answer=outline, methods=("POST",)),
    Door(path=f"{HERE}/outline/try", answer=tried, methods=("POST",)),
)
