"""A paper piece in photos while it waits: put together, its outline corrected, its doubts ticked.

Corrections belong to the sheets that were seen with them: when a photo is added or left out and the
table is put together anew, they go along.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path as FilePath
from typing import NamedTuple

from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake import Drawing, Question
from clothwright.pattern.piece import Piece
from clothwright.photo.correct import REACH_MM, Correction, Mended, corners_along
from clothwright.store.beside.places import found_file, said_file
from clothwright.units import Unit
from clothwright.words import Sentence
from clothwright.workroom.pieces.inbox import Answered, Waiting
from clothwright.workroom.pieces.photo_carried import SAME_MM, carried, same_doubt, scaled_moves
from clothwright.workroom.pieces.photo_crossing import spoiled
from clothwright.workroom.pieces.photo_said import (
    DoubtTick,
    Moves,
    Photos,
    changed,
    of_photos,
    photos_of,
    piece_waiting,
    read_said,
)
from clothwright.workroom.pieces.photo_solving import found_in, whole_table
from clothwright.workroom.pieces.photographing import (
    Photographed,
    bar_length,
    corrected,
    corrections_of,
    holds_of,
    is_photo,
    note_words,
    outline_drawing,
    with_bar,
    with_outline,
)

MOST_MOVES, MOST_STEPS = 400, 200
RIGHT, MOVED = "right", "moved"


class DoubtSaid(NamedTuple):
    """A doubt, its place (mm by the bar), what was said of it: "right", "moved" or ""."""

    code: str
    at: Vec
    words: str
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InPhotos:
    """A piece in photos as it stands, in mm by the measured bar.

    found: with the outline as it was found. now: as corrected. mended: its points to take hold of.
    lost: corrections that could not be carried over to other photos. spoiled: how the outline
    crosses itself as it stands, or is turned inside out, and where; () when it is not.
    """

    photos: Photos
    found: Photographed
    now: Photographed
    mended: Mended
    doubts: tuple[DoubtSaid, ...]
    lost: int = 0
    spoiled: Sentence = ()

    @property
    def share(self) -> float:
        """What one mm as printed is by the measured bar."""
        return self.photos.share


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


def correct(folder: FilePath, key: str, at: Vec, to: Vec | None) -> InPhotos:
    """Put a place of the outline elsewhere, hold it (to is at), or take it out (None).

    at: on the outline as found. Both in mm by the measured bar. Raises BadInput.
    """
    return _corrected(folder, key, lambda view: _with(view, Correction(at, to)))


def add_point(folder: FilePath, key: str, at: Vec) -> InPhotos:
    """Add a point at the place of the line nearest to `at` (mm); the line stays. BadInput."""

    def make(view: InPhotos) -> Moves:
        now, found = view.now.outline.path, view.found.outline.path
        if now.nearest(at)[1] > REACH_MM:
            raise BadInput(
                where="outline", what="that is not on the line", expected="a place on it"
            )
        to = now.point_at(now.nearest(at)[0])
        return _with(view, Correction(found.point_at(found.nearest(to)[0]), to))

    return _corrected(folder, key, make)


def add_after(folder: FilePath, key: str, at: Vec) -> InPhotos:
    """Add a point half-way from the one at `at` (mm, on the found line) to the next. BadInput."""
    view = view_of(piece_waiting(folder, key))
    holds, path = view.mended.holds, view.now.outline.path
    k = min(range(len(holds)), key=lambda n: holds[n].at.distance(at))
    here = path.nearest(holds[k].now)[0]
    there = path.nearest(holds[(k + 1) % len(holds)].now)[0]
    way = (there - here) % path.length
    return add_point(folder, key, path.point_at((here + way / 2) % path.length))


def corners_after(before: InPhotos, after: InPhotos, answered: Answered) -> str:
    """Return corners that were pressed ("at x,y; ...") where the line has gone since."""
    old, new = before.mended.holds, after.mended.holds
    gone = {h.at: h.now for h in new}
    out = []
    for part in answered.answers.corners.removeprefix("at ").split(";"):
        place = Vec(*(float(n) for n in part.split(",")))
        near = min(old, key=lambda h: h.now.distance(place), default=None)
        if near is not None and near.at in gone and near.now.distance(place) < SAME_MM:
            place = place + gone[near.at] - near.now
        path = after.now.outline.path
        place = path.point_at(path.nearest(place)[0])
        out.append(f"{place.x:.3f},{place.y:.3f}")
    return "at " + "; ".join(out)


def give_back(folder: FilePath, key: str, at: Vec) -> InPhotos:
    """Take the correction of a place (mm) back: it is as found there again. Raises BadInput."""
    return _corrected(folder, key, lambda view: _without(view, at))


def across(folder: FilePath, key: str, number: int) -> InPhotos:
    """Let the line run fair across a doubt (from 1): what was found there is taken out. BadInput.

    Corners within 12 mm of the doubt go with it; look at the line afterwards.
    """

    def make(view: InPhotos) -> Moves:
        doubt = _doubt(view, number)
        path = view.found.outline.path
        at = path.point_at(path.nearest(doubt.at)[0])
        places = [p for s in corners_along(path) if (p := path.point_at(s)).distance(at) <= SAME_MM]
        if all(p.distance(at) > 0.5 for p in places):
            places.append(at)
        kept = [m for m in _moves(view) if m.at.distance(at) > SAME_MM]
        return (*kept, *(Correction(p, None) for p in places))

    return _corrected(folder, key, make)


def all_back(folder: FilePath, key: str) -> InPhotos:
    """Take all corrections back; undo brings them again."""
    return _corrected(folder, key, lambda _: ())


def step(folder: FilePath, key: str, *, back: bool, have: int) -> InPhotos:
    """Undo the last correction, or do it again. have: how many there were to undo, as shown.

    When that has changed meanwhile (sent twice, another device) nothing is done.
    """
    one = piece_waiting(folder, key)
    view = view_of(one)

    def change(photos: Photos) -> Photos:
        if len(photos.before) != have:
            return photos
        now = carried(photos, view.found, view.share)
        if back and now.before:
            return replace(
                now, moves=now.before[-1], before=now.before[:-1], after=(*now.after, now.moves)
            )
        if not back and now.after:
            return replace(
                now, moves=now.after[-1], after=now.after[:-1], before=(*now.before, now.moves)
            )
        return photos

    changed(folder, key, change)
    return view_of(piece_waiting(folder, key))


def tick(folder: FilePath, key: str, number: int, said: str) -> InPhotos:
    """Say of a doubt (from 1) that it is right, that it was moved, or nothing (""). BadInput."""
    if said not in ("", RIGHT, MOVED):
        raise BadInput(where="doubt", what=f'"{said[:20]}"', expected="right, moved or nothing")
    view = view_of(piece_waiting(folder, key))
    doubt = _doubt(view, number)
    new = DoubtTick(doubt.code, doubt.at * (1 / view.share), said)

    def change(photos: Photos) -> Photos:
        now = carried(photos, view.found, view.share)
        return replace(now, ticks=(*(t for t in now.ticks if not same_doubt(t, new)), new))

    changed(folder, key, change)
    return view_of(piece_waiting(folder, key))


def _doubt(view: InPhotos, number: int) -> DoubtSaid:
    if not 1 <= number <= len(view.doubts):
        raise BadInput(where="doubt", what=f"there is no doubt {number}", expected="one shown")
    return view.doubts[number - 1]


def tried(one: Waiting, at: Vec, to: Vec | None) -> InPhotos:
    """Return the outline with one more correction (mm); nothing is saved. Raises BadInput."""
    view = view_of(one)
    return _seen(view.photos, view.found, _with(view, Correction(at, to)))


def _with(view: InPhotos, new: Correction) -> Moves:
    """The corrections (by the measured bar) and one more, instead of the one of that place."""
    moves = _moves(view)
    corrections_of(view.found, [new])
    path = view.found.outline.path
    at = path.point_at(path.nearest(new.at)[0])
    to = at if new.to is not None and new.to.distance(new.at) < 1e-6 else new.to
    kept = tuple(m for m in moves if m.at.distance(at) > 0.5)
    if len(kept) >= MOST_MOVES:
        raise CannotDo(what="the point was not saved", why=f"{MOST_MOVES} points were put already")
    return (*kept, Correction(at, to))


def _without(view: InPhotos, at: Vec) -> Moves:
    return tuple(m for m in _moves(view) if m.at.distance(at) > 0.5)


def _moves(view: InPhotos) -> Moves:
    return scaled_moves(carried(view.photos, view.found, view.share).moves, view.share)


def _corrected(folder: FilePath, key: str, make: Callable[[InPhotos], Moves]) -> InPhotos:
    """Keep other corrections; what was before can be gone back to."""
    view = view_of(piece_waiting(folder, key))
    moves = make(view)
    corrected(view.found, moves)  # what cannot be drawn is not kept

    def change(photos: Photos) -> Photos:
        now = carried(photos, view.found, view.share)
        new = scaled_moves(moves, 1 / view.share)
        if new == now.moves:
            return photos
        return replace(now, moves=new, before=(*now.before, now.moves)[-MOST_STEPS:], after=())

    return _seen(changed(folder, key, change), view.found)


def point_at(folder: FilePath, key: str, at: Vec | None) -> InPhotos:
    """Say which piece is meant, by a place in it; None for the largest.

    at: mm by the bar, from the lower left of the whole table. Raises BadInput when no piece is
    found there; then the one before stays.
    """
    one = piece_waiting(folder, key)
    place = one.stored.parent
    before = photos_of(one)

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

    changed(folder, key, change)
    try:
        return view_of(one)
    except BadInput:
        changed(folder, key, lambda photos: replace(photos, inside=before.inside))
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
    return _seen(photos, with_bar(found_in(place, photos), bar_length(photos.bar)))


def _seen(photos: Photos, found: Photographed, moves: Moves | None = None) -> InPhotos:
    share = photos.share
    seen = carried(photos, found, share)
    made = scaled_moves(seen.moves, share) if moves is None else moves
    path = found.outline.path
    fits = [m for m in made if path.nearest(m.at)[1] < REACH_MM]
    near = [_put_on(path, m) for m in fits]
    spots = [p for m in near for p in (m.at, m.to) if p is not None and m.to != m.at]
    doubts = []
    for d in found.outline.doubts:
        mark = DoubtTick(d.code, d.at * (1 / share), "")
        said = next((t.said for t in seen.ticks if same_doubt(t, mark)), None)
        if said is None:
            said = MOVED if any(d.at.distance(p) < REACH_MM for p in spots) else ""
        doubts.append(DoubtSaid(d.code, d.at, d.words, said))
    mended = holds_of(found, corrections_of(found, near))
    now = with_outline(found, near, mended) if near else found
    return InPhotos(
        photos=seen,
        found=found,
        now=now,
        mended=mended,
        doubts=tuple(doubts),
        lost=len(made) - len(fits),
        spoiled=spoiled(path, now.outline.path),
    )


def _put_on(path: Path, one: Correction) -> Correction:
    """A correction with its place exactly on the outline; a point only held is held there."""
    at = path.point_at(path.nearest(one.at)[0])
    return Correction(at, at if one.to == one.at else one.to)


def drawing_in(stored: FilePath, unit: Unit) -> Drawing:
    """Return the outline as corrected as a drawing. stored: the first photo. Raises BadInput."""
    view = _viewed(stored, stamp_of(stored))
    open_ = [d for d in view.doubts if not d.said]
    outline = replace(
        view.now.outline, doubts=tuple(d for d in view.found.outline.doubts if _open(d.at, open_))
    )
    return outline_drawing(replace(view.now, outline=outline), unit)


def _open(at: Vec, doubts: Sequence[DoubtSaid]) -> bool:
    return any(d.at == at for d in doubts)


def noted(one: Waiting, piece: Piece, unit: Unit) -> Piece:
    """Return a piece with a note of how it came from photos, when it did."""
    if not of_photos(one):
        return piece
    view = view_of(one)
    left = sum(not d.said for d in view.doubts)
    words = note_words(view.now, len(view.photos.used), left, unit)
    return replace(piece, note="; ".join(w for w in (piece.note, words) if w))
