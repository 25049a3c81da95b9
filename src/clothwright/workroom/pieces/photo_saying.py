"""What is said about a piece in photos: one more, the bar, every correction; saved at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath

from clothwright.errors import BadInput, ClothwrightError
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.waiting.answers import Fields, place_of
from clothwright.intake.waiting.edges import with_scale
from clothwright.intake.waiting.said import Waiting, with_answers
from clothwright.photo.correct import Correction
from clothwright.photo.photographed import (
    error_words,
    fine_length,
    followed,
    is_photo,
    place_words,
)
from clothwright.photo.said import Moves, Photos
from clothwright.photo.standing import (
    MEND,
    InPhotos,
    corners_after,
    fair_across,
    stepped,
    ticked,
    with_move,
    with_point,
    with_point_after,
    without_move,
)
from clothwright.units import Unit, is_count, parse_length
from clothwright.words import say, show_length
from clothwright.workroom.pieces import inbox, photo_said, photo_sitting
from clothwright.workroom.pieces.photo_found import kept_picture
from clothwright.workroom.pieces.photo_said import piece_waiting
from clothwright.workroom.pieces.photo_sitting import view_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Saying:
    """One thing being said of a waiting piece: the fields of its form."""

    folder: FilePath
    key: str
    unit: Unit
    fields: Fields

    def number(self, name: str) -> int:
        """Return a field that is a count. Raises BadInput."""
        text = self.fields.get(name, "")
        if not is_count(text) or len(text) > 4:
            raise BadInput(where=name, what=f'"{text[:20]}" is no number', expected="1, 2, 3")
        return int(text)

    def spot(self, name: str) -> Vec:
        """Return a place that was pressed, mm. Raises BadInput."""
        return place_of(self.fields.get(name, ""), "outline")


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedOutline:
    """An outline (mm) as it would be with one more correction; nothing of it is saved."""

    line: Path
    words: str
    place: str


def bring_photo(folder: FilePath, name: str, data: bytes, key: str = "") -> str:
    """Put a photo into the inbox, or to those of a waiting piece; return what the piece is called.

    It is looked at alone; "solve" puts all together. What is wrong with it is a sentence that
    names it; the others stay. Raises BadInput, CannotDo.
    """
    if not is_photo(name):
        raise BadInput(
            where=name or "file",
            what="it could not be read as a photo",
            expected="JPEG, PNG or HEIC",
        )
    if key:
        photo_said.add_photo(folder, key, name, data)
        inbox.answer(folder, key, lambda one: with_scale(one, one.scale))
        return key
    photo_said.check_photo(data, name)
    return inbox.put_in(folder, name, data).id


def flat_picture(folder: FilePath, key: str) -> bytes:
    """Return the piece seen straight from above, JPEG. Raises BadInput."""
    one = piece_waiting(folder, key)
    view_of(one)
    return kept_picture(one.stored.parent, whole=False)


def table_picture(folder: FilePath, key: str) -> bytes:
    """Return the whole table seen straight from above, JPEG. Raises BadInput."""
    return kept_picture(piece_waiting(folder, key).stored.parent, whole=True)


def tried(folder: FilePath, key: str, fields: Fields, unit: Unit) -> TriedOutline:
    """Return the outline with a point moved: fields `at`, `to`. Raises BadInput."""
    it = Saying(folder=folder, key=key, unit=unit, fields=fields)
    at, to = it.spot("at"), it.spot("to")
    view = photo_sitting.tried(piece_waiting(folder, key), at, to)
    wrong = f" ({say(view.spoiled, unit).rstrip('.')})" if view.spoiled else ""
    words = f"{_moved(at, to, unit)}{wrong}"
    return TriedOutline(line=view.now.outline.path, words=words, place=place_words(to, unit))


def say_of_photos(folder: FilePath, key: str, fields: Fields, unit: Unit) -> str:
    """Save one thing that is said: field `what` (`SAID`) and its own; return it in words.

    Raises BadInput, CannotDo.
    """
    what = fields.get("what", "")
    if what not in SAID:
        raise BadInput(where="outline", what=f'"{what[:20]}" was not asked', expected="a question")
    before = _standing(folder, key)
    words = SAID[what](Saying(folder=folder, key=key, unit=unit, fields=fields))
    after = _standing(folder, key)
    _follow(folder, key, before, after)
    if after is not None and after.spoiled and what in BENDS:
        words = f"{words} {say(after.spoiled, unit)} {MEND}"
    return words


def _moved(at: Vec, to: Vec, unit: Unit) -> str:
    return f"moved by {fine_length(at.distance(to), unit)}"


# --- corners that were pressed go along ----------------------------------------------------------


def _standing(folder: FilePath, key: str) -> InPhotos | None:
    """The piece as it stands; None when it cannot be put together."""
    try:
        return view_of(piece_waiting(folder, key))
    except ClothwrightError:
        return None


def _follow(folder: FilePath, key: str, before: InPhotos | None, after: InPhotos | None) -> None:
    """Lay the corners that were pressed where the outline is now; else they are found anew."""
    if before is None or after is None or before.now.outline.path == after.now.outline.path:
        return
    same = before.found.outline.path == after.found.outline.path

    def change(one: Waiting) -> Waiting:
        said = one.about(0)
        if not said.answers.corners.startswith("at "):
            return one
        if not same:
            return with_scale(one, one.scale)
        return with_answers(one, 0, corners=corners_after(before, after, said.answers.corners))

    inbox.answer(folder, key, change)


# --- what can be said ----------------------------------------------------------------------------


def _solve(it: Saying) -> str:
    """Put the photos together; what is wrong with them is said on the page, and they stay."""
    one = piece_waiting(it.folder, it.key)
    count = len(photo_said.photos_of(one).used)
    view = view_of(one)
    lead = "The photo was flattened" if count == 1 else f"{count} photos were put together"
    error = error_words(view.found.error_mm, it.unit)
    return f"{lead}: by the photos the outline is right within {error}."


def _bar(it: Saying) -> str:
    photos = photo_said.set_bar(it.folder, it.key, it.fields.get("bar", ""))
    return f"The bar is {photos.bar}: everything has its size by it now."


def _use(it: Saying) -> str:
    number, used = it.number("photo"), it.fields.get("use") == "yes"
    photos = photo_said.use_photo(it.folder, it.key, number, used=used)
    name = photos.taken[number - 1].name
    return f"{name} counts again." if used else f"{name} is left out; it stays here."


def _inside(it: Saying) -> str:
    text = it.fields.get("at", "")
    if text == "largest":
        at = None
    elif text:
        at = it.spot("at")
    else:
        named = (("right", "from the left"), ("up", "from below"))
        at = Vec(
            *(
                parse_length(it.fields.get(name, ""), unit=it.unit, where=words, least_mm=0.0)
                for name, words in named
            )
        )
    box = photo_sitting.point_at(it.folder, it.key, at).now.outline.path.bounds()
    wide, tall = (show_length(x, it.unit) for x in box.size)
    return f"This piece was found: {wide} wide, {tall} tall."


def _follow_what(it: Saying) -> str:
    view = photo_sitting.follow(it.folder, it.key, it.fields.get("by", ""))
    return f"The outline follows {followed(view.found.outline)} now."


def _move(it: Saying) -> str:
    at, to = it.spot("at"), it.spot("to")
    photo_sitting.correct(it.folder, it.key, lambda view: with_move(view, Correction(at, to)))
    return f"Saved: {_moved(at, to, it.unit)}."


def _step(it: Saying, *, back: bool) -> str:
    """Undo the last correction, or do it again; nothing when there are others to undo by now.

    Then it was sent twice, or another device was quicker.
    """
    have = it.number("have")

    def change(photos: Photos, view: InPhotos) -> Photos:
        return stepped(photos, view, back=back) if len(photos.before) == have else photos

    photo_sitting.say(it.folder, it.key, change)
    return "The last correction was undone." if back else "The correction was done again."


def _tick(it: Saying) -> str:
    number, said = it.number("doubt"), it.fields.get("said", "")
    photo_sitting.say(it.folder, it.key, lambda photos, view: ticked(photos, view, number, said))
    return "Saved."


def _corrected(make: Callable[[InPhotos, Saying], Moves], words: str) -> Callable[[Saying], str]:
    """Return what keeps the corrections that are made so, and says always the same of it."""

    def told(it: Saying) -> str:
        photo_sitting.correct(it.folder, it.key, lambda view: make(view, it))
        return words

    return told


ADDED = "A point was added; the line stays as it is until you move it."
SAID: Mapping[str, Callable[[Saying], str]] = {
    "solve": _solve,
    "bar": _bar,
    "use": _use,
    "inside": _inside,
    "follow": _follow_what,
    "move": _move,
    "add": _corrected(lambda view, it: with_point(view, it.spot("at")), ADDED),
    "after": _corrected(lambda view, it: with_point_after(view, it.spot("at")), ADDED),
    "out": _corrected(
        lambda view, it: with_move(view, Correction(it.spot("at"), None)),
        "The point was taken away; the line runs fair across.",
    ),
    "back": _corrected(
        lambda view, it: without_move(view, it.spot("at")),
        "There the line is as it was found again.",
    ),
    "all-back": _corrected(
        lambda _view, _it: (),
        "The whole line is as it was found. Undo brings your corrections back.",
    ),
    "undo": lambda it: _step(it, back=True),
    "redo": lambda it: _step(it, back=False),
    "tick": _tick,
    "across": _corrected(
        lambda view, it: fair_across(view, it.number("doubt")),
        "The line runs fair across that place. Look at it; undo takes it back.",
    ),
}
"""What can be said, by name. Each raises BadInput, some CannotDo."""
BENDS = frozenset(("move", "add", "after", "out", "back", "undo", "redo", "across"))
"""What may spoil the outline, or leave it spoiled: then it is told at once."""
