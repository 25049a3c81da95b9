"""A paper piece in photos while it waits: put together, its outline corrected, its doubts ticked.

Corrections belong to the sheets that were seen with them: when a photo is added or left out and the
table is put together anew, they go along.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path as FilePath
from typing import NamedTuple

from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.intake import Drawing, Question
from clothwright.pattern.piece import Piece
from clothwright.photo.correct import REACH_MM, Correction, Mended, corners_along
from clothwright.units import Unit
from clothwright.workroom.inbox import Waiting
from clothwright.workroom.photo_found import FOUND
from clothwright.workroom.photo_said import (
    PHOTOS,
    Moves,
    Photos,
    Tick,
    changed,
    of_photos,
    photos_of,
    piece_waiting,
    read_said,
)
from clothwright.workroom.photo_solving import found_in
from clothwright.workroom.photographing import (
    Photographed,
    bar_length,
    corrected,
    corrections_of,
    holds_of,
    is_photo,
    outline_drawing,
    with_bar,
)

MOST_MOVES, MOST_STEPS = 400, 200
SAME_MM = 12.0
"""A doubt found anew this near to one that was looked at is the same."""
RIGHT, MOVED = "right", "moved"


class Said(NamedTuple):
    """A doubt and what was said of it: "right", "moved" or ""."""

    code: str
    at: Vec
    words: str
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A piece in photos as it stands, in mm by the measured bar.

    found: with the outline as it was found. now: as corrected. mended: its points to take hold of.
    lost: corrections that could not be carried over to other photos.
    """

    photos: Photos
    found: Photographed
    now: Photographed
    mended: Mended
    doubts: tuple[Said, ...]
    lost: int = 0

    @property
    def share(self) -> float:
        """What one mm as printed is by the measured bar."""
        return bar_length(self.photos.bar) / 200.0


def stamp_of(stored: FilePath) -> int:
    """Return a number that changes when a waiting file changes, or what is said of its photos."""
    stamp = stored.stat().st_mtime_ns
    if not is_photo(stored.name):
        return stamp
    parts = [str(stamp).encode()]
    for name in (PHOTOS, FOUND):
        file = stored.parent / name
        parts.append(file.read_bytes() if file.exists() else b"")
    return int.from_bytes(hashlib.sha256(b"|".join(parts)).digest()[:8])


def bar_question(one: Waiting) -> Question | None:
    """Return the question of the bar while it is not answered; None for other drawings."""
    if not of_photos(one) or photos_of(one).bar:
        return None
    return Question(id="bar", words="how long the bar on your printed sheet is must be measured")


# --- corrections ---------------------------------------------------------------------------------


def correct(folder: FilePath, key: str, at: Vec, to: Vec | None) -> View:
    """Put a place of the outline elsewhere, hold it (to is at), or take it out (None).

    at: on the outline as found. Both in mm by the measured bar. Raises BadInput.
    """
    return _corrected(folder, key, lambda view: _with(view, Correction(at, to)))


def give_back(folder: FilePath, key: str, at: Vec) -> View:
    """Take the correction of a place back: the outline is as found there. Raises BadInput."""
    return _corrected(folder, key, lambda view: _without(view, at))


def across(folder: FilePath, key: str, number: int) -> View:
    """Let the line run fair across a doubt (from 1): what was found there is taken out. BadInput.

    Corners within 12 mm of the doubt go with it; look at the line afterwards.
    """

    def make(view: View) -> Moves:
        doubt = _doubt(view, number)
        path = view.found.outline.path
        at = path.point_at(path.nearest(doubt.at)[0])
        places = [p for s in corners_along(path) if (p := path.point_at(s)).distance(at) <= SAME_MM]
        if all(p.distance(at) > 0.5 for p in places):
            places.append(at)
        kept = [m for m in _moves(view) if m.at.distance(at) > SAME_MM]
        return (*kept, *(Correction(p, None) for p in places))

    return _corrected(folder, key, make)


def all_back(folder: FilePath, key: str) -> View:
    """Take all corrections back; undo brings them again."""
    return _corrected(folder, key, lambda _: ())


def step(folder: FilePath, key: str, *, back: bool, have: int) -> View:
    """Undo the last correction, or do it again. have: how many there were to undo, as shown.

    When that has changed meanwhile (sent twice, another device) nothing is done.
    """
    one = piece_waiting(folder, key)
    view = view_of(one)

    def change(photos: Photos) -> Photos:
        if len(photos.before) != have:
            return photos
        now = _carried(photos, view.found, view.share)
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


def tick(folder: FilePath, key: str, number: int, said: str) -> View:
    """Say of a doubt (from 1) that it is right, that it was moved, or nothing (""). BadInput."""
    if said not in ("", RIGHT, MOVED):
        raise BadInput(where="doubt", what=f'"{said[:20]}"', expected="right, moved or nothing")
    view = view_of(piece_waiting(folder, key))
    doubt = _doubt(view, number)
    new = Tick(doubt.code, doubt.at * (1 / view.share), said)

    def change(photos: Photos) -> Photos:
        now = _carried(photos, view.found, view.share)
        return replace(now, ticks=(*(t for t in now.ticks if not _same(t, new)), new))

    changed(folder, key, change)
    return view_of(piece_waiting(folder, key))


def _doubt(view: View, number: int) -> Said:
    if not 1 <= number <= len(view.doubts):
        raise BadInput(where="doubt", what=f"there is no doubt {number}", expected="one shown")
    return view.doubts[number - 1]


def tried(one: Waiting, at: Vec, to: Vec | None) -> View:
    """Return the outline as it would be with one more correction; nothing is kept. BadInput."""
    view = view_of(one)
    return _seen(view.photos, view.found, _with(view, Correction(at, to)))


def _with(view: View, new: Correction) -> Moves:
    """The corrections (by the measured bar) and one more, instead of the one of that place."""
    moves = _moves(view)
    corrections_of(view.found, [new])
    path = view.found.outline.path
    at = path.point_at(path.nearest(new.at)[0])
    to = at if new.to is not None and new.to.distance(new.at) < 1e-6 else new.to
    kept = tuple(m for m in moves if m.at.distance(at) > 0.5)
    if len(kept) >= MOST_MOVES:
        raise CannotDo(what="the point was not kept", why=f"{MOST_MOVES} points were put already")
    return (*kept, Correction(at, to))


def _without(view: View, at: Vec) -> Moves:
    return tuple(m for m in _moves(view) if m.at.distance(at) > 0.5)


def _moves(view: View) -> Moves:
    return _scaled(_carried(view.photos, view.found, view.share).moves, view.share)


def _corrected(folder: FilePath, key: str, make: Callable[[View], Moves]) -> View:
    """Keep other corrections; what was before can be gone back to."""
    view = view_of(piece_waiting(folder, key))
    moves = make(view)
    corrected(view.found, moves)

    def change(photos: Photos) -> Photos:
        now = _carried(photos, view.found, view.share)
        new = _scaled(moves, 1 / view.share)
        if new == now.moves:
            return photos
        return replace(now, moves=new, before=(*now.before, now.moves)[-MOST_STEPS:], after=())

    return _seen(changed(folder, key, change), view.found)


# --- what stands ---------------------------------------------------------------------------------


def view_of(one: Waiting) -> View:
    """Return the piece as it stands. Raises BadInput: what is wrong with the photos."""
    place = one.stored.parent
    photos = photos_of(one)
    raw = found_in(place, photos)
    return _seen(photos, with_bar(raw, bar_length(photos.bar)))


def _seen(photos: Photos, found: Photographed, moves: Moves | None = None) -> View:
    share = bar_length(photos.bar) / 200.0
    carried = _carried(photos, found, share)
    made = _scaled(carried.moves, share) if moves is None else moves
    path = found.outline.path
    fits = [m for m in made if path.nearest(m.at)[1] < REACH_MM]
    near = [_put_on(path, m) for m in fits]
    spots = [p for m in near for p in (m.at, m.to) if p is not None and m.to != m.at]
    doubts = []
    for d in found.outline.doubts:
        mark = Tick(d.code, d.at * (1 / share), "")
        said = next((t.said for t in carried.ticks if _same(t, mark)), None)
        if said is None:
            said = MOVED if any(d.at.distance(p) < REACH_MM for p in spots) else ""
        doubts.append(Said(d.code, d.at, d.words, said))
    return View(
        photos=carried,
        found=found,
        now=corrected(found, near),
        mended=holds_of(found, near),
        doubts=tuple(doubts),
        lost=len(made) - len(fits),
    )


def _put_on(path: Path, one: Correction) -> Correction:
    """A correction with its place exactly on the outline; a point only held is held there."""
    at = path.point_at(path.nearest(one.at)[0])
    return Correction(at, at if one.to == one.at else one.to)


def drawing_in(stored: FilePath) -> Drawing:
    """Return the outline as corrected as a drawing. stored: the first photo. Raises BadInput."""
    place = stored.parent
    photos = read_said(place, None)
    view = _seen(photos, with_bar(found_in(place, photos), bar_length(photos.bar)))
    open_ = [d for d in view.doubts if not d.said]
    outline = replace(
        view.now.outline, doubts=tuple(d for d in view.found.outline.doubts if _open(d.at, open_))
    )
    return outline_drawing(replace(view.now, outline=outline), Unit.mm)


def _open(at: Vec, doubts: Sequence[Said]) -> bool:
    return any(d.at == at for d in doubts)


def note_of(one: Waiting) -> str:
    """Return what a piece made of these photos says of itself; "" for other drawings."""
    if not of_photos(one):
        return ""
    view = view_of(one)
    count = len(view.photos.used)
    words = [f"from {'a photo' if count == 1 else f'{count} photos'}"]
    words[0] += f", within {view.found.error_mm:.1f} mm"
    if view.now.by_hand_mm is not None:
        words.append(f"corrected by hand, by {view.now.by_hand_mm:.1f} mm at most")
    left = sum(not d.said for d in view.doubts)
    if left:
        words.append(f"{left} doubtful {'place' if left == 1 else 'places'} not looked at")
    return "; ".join(words)


def noted(one: Waiting, piece: Piece) -> Piece:
    """Return a piece with a note of how it came from photos, when it did."""
    words = note_of(one)
    return replace(piece, note="; ".join(w for w in (piece.note, words) if w)) if words else piece


# --- carried over --------------------------------------------------------------------------------


def _carried(photos: Photos, found: Photographed, share: float) -> Photos:
    """What was said, with places as the sheets lie in what is found now (as printed)."""
    frame = {n: tuple(p * (1 / share) for p in at) for n, at in found.sheets.items()}
    move = _between(photos.frame, frame)
    if move is None:
        return replace(photos, frame=frame)

    def moved(moves: Moves) -> Moves:
        return tuple(Correction(move.apply(m.at), m.to and move.apply(m.to)) for m in moves)

    return replace(
        photos,
        moves=moved(photos.moves),
        before=tuple(map(moved, photos.before)),
        after=tuple(map(moved, photos.after)),
        ticks=tuple(t._replace(at=move.apply(t.at)) for t in photos.ticks),
        frame=frame,
    )


def _between(
    old: Mapping[int, tuple[Vec, ...]], new: Mapping[int, tuple[Vec, ...]]
) -> Transform | None:
    """The shift and turn that lays sheets where they lie now; None when they lie there already."""
    pairs = [(p, q) for n in old if n in new for p, q in zip(old[n], new[n], strict=True)]
    if not pairs or all(p.distance(q) < 1e-6 for p, q in pairs):
        return None
    here = sum((complex(*p) for p, _ in pairs), 0j) / len(pairs)
    there = sum((complex(*q) for _, q in pairs), 0j) / len(pairs)
    turn = sum((complex(*q) - there) * (complex(*p) - here).conjugate() for p, q in pairs)
    turn /= abs(turn)
    shift = there - turn * here
    return Transform(turn.real, turn.imag, -turn.imag, turn.real, shift.real, shift.imag)


def _scaled(moves: Moves, share: float) -> Moves:
    if share == 1.0:
        return moves
    return tuple(Correction(m.at * share, None if m.to is None else m.to * share) for m in moves)


def _same(a: Tick, b: Tick) -> bool:
    return a.code == b.code and a.at.distance(b.at) < SAME_MM
