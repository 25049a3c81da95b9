"""What is said about the photos of a piece while they wait, written as soon as it is said.

It lies in the piece's folder of the inbox, beside the first photo.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from typing import NamedTuple

from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.vec import Vec
from clothwright.photo.correct import Correction
from clothwright.photo.flatten import check_bar
from clothwright.photo.markers import find_markers
from clothwright.photo.read import Photo, read_photo
from clothwright.photo.sheet import BAR_MM
from clothwright.store.book.file import write_whole
from clothwright.store.book.lock import held
from clothwright.workroom.pieces.inbox import Waiting, one_waiting
from clothwright.workroom.pieces.photographing import bar_length, is_photo

FORMAT = "clothwright-photos/1"
PHOTOS = "photos.json"
MOST, MOST_KEPT = 5, 12
"""Photos that are put together; photos that are kept, those left out counted."""
Moves = tuple[Correction, ...]
Frame = Mapping[int, tuple[Vec, ...]]
"""Where sheets lie: the corners of each."""


class Taken(NamedTuple):
    """A photo. file: in the folder. name: as it was called. used: False when it is left out."""

    file: str
    name: str
    used: bool


class Tick(NamedTuple):
    """What was said of a doubt: "right" or "moved"."""

    code: str
    at: Vec
    said: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Photos:
    """What was said about the photos of a piece. All places as printed (bar of 200 mm), mm.

    bar: as typed, "" while it is not measured. before, after: corrections to go back to, and to do
    again. frame: where the sheets lay when places were said. inside: a place in the piece that is
    meant, on the whole table, and where the sheets lay there; None for the largest.
    """

    taken: tuple[Taken, ...]
    bar: str = ""
    moves: Moves = ()
    before: tuple[Moves, ...] = ()
    after: tuple[Moves, ...] = ()
    ticks: tuple[Tick, ...] = ()
    frame: Frame = field(default_factory=dict)
    inside: tuple[Vec, Frame] | None = None

    @property
    def used(self) -> tuple[Taken, ...]:
        """The photos that count."""
        return tuple(t for t in self.taken if t.used)

    @property
    def share(self) -> float:
        """What one mm as printed is by the measured bar."""
        return bar_length(self.bar) / BAR_MM


def of_photos(one: Waiting) -> bool:
    """Tell whether what waits is a piece in photos."""
    return is_photo(one.stored.name)


def photos_of(one: Waiting) -> Photos:
    """Return what was said about the photos of a waiting piece."""
    return read_said(one.stored.parent, one)


# --- photos --------------------------------------------------------------------------------------


def check_photo(data: bytes, name: str) -> Photo:
    """Return a photo that shows marker sheets. Raises BadInput, naming it."""
    photo = read_photo(data, name)
    find_markers(photo)
    return photo


def add_photo(folder: FilePath, key: str, name: str, data: bytes) -> Photos:
    """Put one more photo to those of a waiting piece. Raises BadInput, CannotDo; all else stays."""
    tidy = " ".join(name.split())[:120]
    if not is_photo(tidy):
        raise BadInput(where=tidy, what="it is no photo", expected="a JPEG, PNG or HEIC photo")
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
            what=f'"{name}" was not taken in',
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
            t._replace(used=used) if k == number else t for k, t in enumerate(photos.taken, start=1)
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
        raise BadInput(where=one.file, what="it is no photo", expected="a piece in photos")
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
    plain = {
        "format": FORMAT,
        "photos": [t._asdict() for t in photos.taken],
        "bar": photos.bar,
        "moves": _plain(photos.moves),
        "before": [_plain(m) for m in photos.before],
        "after": [_plain(m) for m in photos.after],
        "ticks": [[t.code, *t.at, t.said] for t in photos.ticks],
        "frame": frame_plain(photos.frame),
        "inside": photos.inside and [list(photos.inside[0]), frame_plain(photos.inside[1])],
    }
    try:
        write_whole(place / PHOTOS, json.dumps(plain).encode())
    except OSError as error:
        raise BadInput(
            where="inbox",
            what=f"it could not be kept ({error.strerror or error})",
            expected="a disk that can be written to",
            try_="again when there is room",
        ) from None


def frame_plain(frame: Frame) -> dict[str, list[list[float]]]:
    """Return where sheets lie as plain data."""
    return {str(n): [list(p) for p in at] for n, at in frame.items()}


def frame_of(data: object) -> Frame:
    """Read where sheets lie. Raises ValueError, TypeError."""
    if not isinstance(data, dict):
        raise TypeError("no sheets")
    return {int(n): tuple(_vec(p) for p in at) for n, at in data.items()}


def _plain(moves: Moves) -> list[list[object]]:
    return [[list(m.at), None if m.to is None else list(m.to)] for m in moves]


def read_said(place: FilePath, one: Waiting | None) -> Photos:
    """What the file says; without it, or when it is damaged, only the first photo counts."""
    try:
        data = json.loads((place / PHOTOS).read_text(encoding="utf-8"))
        if data["format"] == FORMAT:
            return _photos(data)
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        pass
    first = _first(place)
    name = one.file if one else _called(place, first)
    return Photos(taken=(Taken(first, name, used=True),))


def _first(place: FilePath) -> str:
    try:
        return next(p.name for p in sorted(place.iterdir()) if p.stem == "drawing")
    except (OSError, StopIteration):
        raise BadInput(
            what="these photos are not waiting here any more", try_="taking them in again"
        ) from None


def _called(place: FilePath, first: str) -> str:
    try:
        return str(json.loads((place / "sitting.json").read_text(encoding="utf-8"))["file"])
    except (OSError, ValueError, KeyError, TypeError):
        return first


def _photos(data: Mapping[str, object]) -> Photos:
    def table(name: str) -> list[list[object]]:
        rows = data[name]
        if not isinstance(rows, list):
            raise TypeError(name)
        return rows

    rows, inside = data["photos"], data.get("inside")
    if not isinstance(rows, list) or not rows or not isinstance(inside, list | None):
        raise TypeError("not tables")
    taken = tuple(
        Taken(FilePath(str(r["file"])).name, str(r["name"]), bool(r["used"])) for r in rows
    )
    return Photos(
        taken=taken,
        bar=str(data["bar"]),
        moves=_moves_of(table("moves")),
        before=tuple(_moves_of(m) for m in table("before")),
        after=tuple(_moves_of(m) for m in table("after")),
        ticks=tuple(Tick(str(c), _vec([x, y]), str(s)) for c, x, y, s in table("ticks")),
        frame=frame_of(data["frame"]),
        inside=(_vec(inside[0]), frame_of(inside[1])) if inside else None,
    )


def _moves_of(rows: Sequence[object]) -> Moves:
    out = []
    for row in rows:
        if not isinstance(row, list):
            raise TypeError("no correction")
        at, to = row
        out.append(Correction(_vec(at), None if to is None else _vec(to)))
    return tuple(out)


def _vec(row: object) -> Vec:
    if not isinstance(row, list):
        raise TypeError("no place")
    x, y = row
    return Vec(float(x), float(y))
