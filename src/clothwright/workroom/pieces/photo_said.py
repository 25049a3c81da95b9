"""What is said about the photos of a piece while they wait, written as soon as it is said.

It lies in the piece's folder of the inbox, beside the first photo.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path as FilePath

from clothwright.errors import BadInput, CannotDo
from clothwright.intake.waiting.said import Waiting
from clothwright.photo.flatten import check_bar
from clothwright.photo.markers import find_markers
from clothwright.photo.photographed import bar_length, is_photo
from clothwright.photo.read import read_photo
from clothwright.photo.said import DoubtTick, Photos, Taken
from clothwright.store.beside.kept import read_kept, row_of, sound, write_kept
from clothwright.store.beside.places import said_file, stored_drawing
from clothwright.store.book.lock import held
from clothwright.store.disk import write_whole
from clothwright.workroom.apart.asking import apart
from clothwright.workroom.pieces.inbox import file_of, one_waiting

MOST, MOST_KEPT = 5, 12
"""Photos that are put together; photos that are kept, those left out counted."""


def of_photos(one: Waiting) -> bool:
    """Tell whether what waits is a piece in photos."""
    return is_photo(one.stored.name)


def photos_of(one: Waiting) -> Photos:
    """Return what was said about the photos of a waiting piece."""
    return read_said(one.stored.parent, one)


def how_many(one: Waiting) -> int:
    """Return how many files are read for what waits: the photos that are used, or itself."""
    return max(1, len(photos_of(one).used)) if is_photo(one.stored.name) else 1


# --- photos --------------------------------------------------------------------------------------


def check_photo(data: bytes, name: str) -> None:
    """See that a photo shows marker sheets. Raises BadInput, naming it; Unread; Left."""
    apart(name, _check_photo, data, name)


def _check_photo(data: bytes, name: str) -> None:
    find_markers(read_photo(data, name))


def add_photo(folder: FilePath, key: str, name: str, data: bytes) -> Photos:
    """Put one more photo to those of a waiting piece. Raises BadInput, CannotDo; all else stays."""
    tidy = " ".join(name.split())[:120]
    if not is_photo(tidy):
        raise BadInput(
            where=tidy, what="it could not be read as a photo", expected="a JPEG, PNG or HEIC photo"
        )
    check_photo(data, tidy)
    with held(folder):
        one = piece_waiting(folder, key)
        photos = photos_of(one)
        _check_room(photos, tidy)
        number = len(photos.taken) + 1
        file = f"photo-{number}{FilePath(tidy).suffix.lower()}"
        write_whole(one.stored.parent / file, data)
        after = replace(photos, taken=(*photos.taken, Taken(file, tidy, used=True)))
        _write(one.stored.parent, after)
    return after


def _check_room(photos: Photos, name: str) -> None:
    if len(photos.used) >= MOST or len(photos.taken) >= MOST_KEPT:
        raise CannotDo(
            what=f'"{name}" was not added',
            why=f"{len(photos.used)} photos of this piece are here, and {MOST} is the most",
            nearest="to leave another one out first",
        )


def use_photo(folder: FilePath, key: str, number: int, *, used: bool) -> Photos:
    """Let a photo count (number from 1), or leave it out; it stays in the folder. Raises."""

    def change(photos: Photos) -> Photos:
        if not 1 <= number <= len(photos.taken):
            raise BadInput(where="photo", what=f"there is no photo {number}", expected="one shown")
        if used and not photos.taken[number - 1].used:
            _check_room(replace(photos, taken=photos.used), photos.taken[number - 1].name)
        taken = tuple(
            replace(t, used=used) if k == number else t for k, t in enumerate(photos.taken, start=1)
        )
        if not any(t.used for t in taken):
            raise CannotDo(what="the photo stays", why="one photo has to be left")
        return replace(photos, taken=taken)

    return changed(folder, key, change)


def set_bar(folder: FilePath, key: str, text: str) -> Photos:
    """Keep the measured length of the bar. Raises BadInput for one that cannot be right."""
    text = text.strip()
    if not text:
        raise BadInput(where="the bar", what="no length is said", expected="what the ruler says")
    mm = bar_length(text, "the bar")
    check_bar(mm)
    return changed(folder, key, lambda photos: replace(photos, bar=text))


# --- the file ------------------------------------------------------------------------------------


def piece_waiting(folder: FilePath, key: str) -> Waiting:
    """Return a piece in photos of the inbox. Raises BadInput."""
    one = one_waiting(folder, key)
    if not of_photos(one):
        raise BadInput(
            where=one.file, what="it did not come from photos", expected="a piece in photos"
        )
    return one


def changed(folder: FilePath, key: str, change: Callable[[Photos], Photos]) -> Photos:
    """Keep what is said otherwise now; two devices answer one after the other."""
    with held(folder):
        one = piece_waiting(folder, key)
        before = photos_of(one)
        after = change(before)
        if after != before:
            _write(one.stored.parent, after)
    return after


def _write(place: FilePath, photos: Photos) -> None:
    write_kept(said_file(place), photos, ROWS)


def read_said(place: FilePath, one: Waiting | None) -> Photos:
    """Return what is kept of what was said; without it, or damaged, only the first photo counts.

    Raises BadInput when the photos are gone.
    """
    kept = sound(read_kept(said_file(place), Photos, ROWS))
    if kept is not None:
        inside = tuple(replace(t, file=FilePath(t.file).name) for t in kept.taken)
        return replace(kept, taken=inside)
    first = stored_drawing(place)
    if first is None:
        raise BadInput(what="these photos are not waiting here any more", try_="adding them again")
    name = one.file if one else file_of(place) or first.name
    return Photos(taken=(Taken(first.name, name, used=True),))


ROWS = {DoubtTick: row_of(DoubtTick)}
