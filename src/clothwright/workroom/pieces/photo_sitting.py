"""A paper piece in photos while it waits: put together, corrected, its doubts ticked."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path as FilePath

from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Question
from clothwright.intake.drawing import Drawing
from clothwright.intake.waiting.said import Waiting
from clothwright.photo.correct import Correction
from clothwright.photo.outline import check_followed
from clothwright.photo.photographed import bar_length, corrected, is_photo, note_words, with_bar
from clothwright.photo.said import Moves, Photos
from clothwright.photo.standing import (
    InPhotos,
    standing,
    with_move,
    with_moves,
)
from clothwright.store.beside.places import found_file, said_file
from clothwright.units import Unit
from clothwright.workroom.pieces.adding import outline_drawing
from clothwright.workroom.pieces.photo_said import (
    changed,
    of_photos,
    photos_of,
    piece_waiting,
    read_said,
)
from clothwright.workroom.pieces.photo_solving import found_in, whole_table


def stamp_of(stored: FilePath) -> int:
    """Return a number that changes when a waiting file changes, or what is said of its photos."""
    stamp = stored.stat().st_mtime_ns
    if not is_photo(stored.name):
        return stamp
    parts = [str(stamp).encode()]
    files = (said_file(stored.parent), found_file(stored.parent))
    parts += [file.read_bytes() if file.exists() else b"" for file in files]
    return int.from_bytes(hashlib.sha256(b"|".join(parts)).digest()[:8])


def bar_question(one: Waiting) -> Question | None:
    """Return the question of the bar while it is not answered; None for other drawings."""
    if not of_photos(one) or photos_of(one).bar:
        return None
    return Question(id="bar", words="how long the bar on your printed sheet is must be measured")


# --- corrections ---------------------------------------------------------------------------------


def tried(one: Waiting, at: Vec, to: Vec | None) -> InPhotos:
    """Return the outline with one more correction (mm); nothing is saved. Raises BadInput."""
    view = view_of(one)
    return standing(view.photos, view.found, with_move(view, Correction(at, to)))


def say(folder: FilePath, key: str, change: Callable[[Photos, InPhotos], Photos]) -> InPhotos:
    """Keep what is said otherwise of the piece as it stands; return how it stands then.

    Raises BadInput, and what the change raises; then nothing is kept.
    """
    view = view_of(piece_waiting(folder, key))
    return standing(changed(folder, key, lambda photos: change(photos, view)), view.found)


def correct(folder: FilePath, key: str, make: Callable[[InPhotos], Moves]) -> InPhotos:
    """Keep the corrections (mm by the measured bar) that a function makes of those that stand.

    What was before can be gone back to. Raises BadInput, CannotDo: what cannot be drawn.
    """

    def change(photos: Photos, view: InPhotos) -> Photos:
        moves = make(view)
        corrected(view.found, moves)  # what cannot be drawn is not kept
        return with_moves(photos, view, moves)

    return say(folder, key, change)


def point_at(folder: FilePath, key: str, at: Vec | None) -> InPhotos:
    """Say which piece is meant, by a place in it; None for the largest.

    at: mm by the bar, from the lower left of the whole table. Raises BadInput when no piece is
    found there; then the one before stays.
    """
    place = piece_waiting(folder, key).stored.parent

    def change(photos: Photos) -> Photos:
        if at is None:
            return replace(photos, inside=None)
        table = whole_table(place, photos)
        if table is None:
            raise BadInput(what="the photos are not put together yet", expected="a picture first")
        spot = at * (1 / photos.share)
        if not (0 <= spot.x <= table.size[0] and 0 <= spot.y <= table.size[1]):
            raise BadInput(
                where="the place", what="it is not in the picture", expected="one in the piece"
            )
        return replace(photos, inside=(Vec(round(spot.x, 1), round(spot.y, 1)), table.sheets))

    return _found_anew(folder, key, change)


def follow(folder: FilePath, key: str, by: str) -> InPhotos:
    """Say what the outline is: a drawn "line", the "edge" of the paper, "" for whichever is there.

    Raises BadInput when none is found so; then all stays as it was.
    """
    check_followed(by)
    return _found_anew(folder, key, lambda photos: replace(photos, follow=by))


def _found_anew(folder: FilePath, key: str, change: Callable[[Photos], Photos]) -> InPhotos:
    """Find the outline anew after a change of what is meant; without one it is taken back."""
    one = piece_waiting(folder, key)
    before = photos_of(one)
    changed(folder, key, change)
    try:
        return view_of(one)
    except BadInput:
        inside, follow = before.inside, before.follow
        changed(folder, key, lambda photos: replace(photos, inside=inside, follow=follow))
        raise


# --- what stands ---------------------------------------------------------------------------------


def view_of(one: Waiting) -> InPhotos:
    """Return the piece as it stands. Raises BadInput: what is wrong with the photos."""
    try:
        return _viewed(one.stored, stamp_of(one.stored))
    except OSError as error:
        raise BadInput(where=one.file, what=f"it cannot be read ({error.strerror})") from None


@lru_cache(maxsize=2)
def _viewed(stored: FilePath, stamp: int) -> InPhotos:
    """The piece as it stands; kept until something else is said. stamp: changes then."""
    del stamp
    place = stored.parent
    photos = read_said(place, None)
    return standing(photos, with_bar(found_in(place, photos), bar_length(photos.bar)))


def drawing_in(stored: FilePath, unit: Unit) -> Drawing:
    """Return the outline as corrected as a drawing. stored: the first photo. Raises BadInput."""
    view = _viewed(stored, stamp_of(stored))
    doubts = tuple(d.doubt for d in view.open)
    return outline_drawing(
        replace(view.now, outline=replace(view.now.outline, doubts=doubts)), unit
    )


def note_of(one: Waiting, unit: Unit) -> str:
    """Return what a piece says of how it came from photos; "" when it did not."""
    if not of_photos(one):
        return ""
    view = view_of(one)
    return note_words(view.now, len(view.photos.used), len(view.open), unit)
