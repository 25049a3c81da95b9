"""Photos of a paper piece put together, once: what was found in them is kept beside them."""

from __future__ import annotations

import io
import threading
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import ClassVar

from PIL import Image

from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.photo.flatten import flatten
from clothwright.photo.photographed import Photographed, found_on
from clothwright.photo.read import Photo, read_photo
from clothwright.photo.said import Frame, Photos, between
from clothwright.store.beside.kept import read_kept, sound, write_kept
from clothwright.store.beside.places import WHOLE, table_file
from clothwright.store.disk import write_whole
from clothwright.workroom.apart.asking import apart_for
from clothwright.workroom.pieces.photo_found import keep_found, kept_found

MOST_PIXELS = 120_000_000
"""Of all photos of one piece together."""
WHOLE_SIDE = 1400
"""Pixels of the longer side of the picture of the whole table."""

_SOLVING = threading.Lock()
_TROUBLE: dict[tuple[str, tuple[str, ...]], BadInput] = {}
"""Photos that cannot be put together: worked out once."""


def found_in(place: FilePath, photos: Photos) -> Photographed:
    """What was found in the photos, as printed; worked out when it is not kept. BadInput."""
    used = _mark(photos)
    kept = kept_found(place, used)
    if kept is not None:
        return kept
    key = (str(place), used)
    with _SOLVING:
        kept = kept_found(place, used)
        if kept is not None:
            return kept
        if key in _TROUBLE:
            raise _TROUBLE[key]
        try:
            name, many = photos.used[0].name, len(photos.used)
            apart_for(many, name, _solve, place, photos, used)
        except BadInput as error:
            if len(_TROUBLE) > 50:
                _TROUBLE.clear()
            _TROUBLE[key] = error
            raise
    kept = kept_found(place, used)
    if kept is None:
        raise BadInput(what="what was found in the photos could not be kept", try_="again")
    return kept


def _solve(place: FilePath, photos: Photos, used: tuple[str, ...]) -> None:
    keep_found(place, _solved(place, photos), used)


def _mark(photos: Photos) -> tuple[str, ...]:
    """What the outline was found in: the files, the place pointed at, what it was to follow."""
    at, by = photos.inside, photos.follow
    said = ([f"at {at[0].x:.1f},{at[0].y:.1f}"] if at else []) + ([f"by {by}"] if by else [])
    return (*(t.file for t in photos.used), *said)


def _solved(place: FilePath, photos: Photos) -> Photographed:
    """Put the photos together, keep a picture of the whole table, find the outline. BadInput."""
    flat = flatten(_all_read(place, photos))
    frame = {n: tuple(Vec(float(x), float(y)) for x, y in at) for n, at in flat.sheets.items()}
    image = Image.fromarray(flat.image)
    wide, tall = image.width / flat.px_per_mm, image.height / flat.px_per_mm
    image.thumbnail((WHOLE_SIDE, WHOLE_SIDE))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=85)
    write_whole(place / WHOLE, out.getvalue())
    used = tuple(t.file for t in photos.used)
    write_kept(table_file(place), FlatTable(size=(wide, tall), sheets=frame, used=used))
    at = None
    if photos.inside is not None:
        move = between(photos.inside[1], frame)
        at = photos.inside[0] if move is None else move.apply(photos.inside[0])
    return found_on(flat, FilePath(photos.used[0].name).stem, at=at, by=photos.follow)


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatTable:
    """The whole flat table, kept as a picture. size: mm as printed. sheets: where they lie.

    used: files of the photos it was put together from.
    """

    FORMAT: ClassVar[str] = "clothwright-table/1"
    size: tuple[float, float]
    sheets: Frame
    used: tuple[str, ...]


def whole_table(place: FilePath, photos: Photos) -> FlatTable | None:
    """Return the whole table that these photos show; None when they were not put together."""
    kept = sound(read_kept(table_file(place), FlatTable))
    same = kept is not None and kept.used == tuple(t.file for t in photos.used)
    return kept if same and (place / WHOLE).exists() else None


def _all_read(place: FilePath, photos: Photos) -> tuple[Photo, ...]:
    """The photos that count, each under a name of its own. Raises BadInput."""
    names = [t.name for t in photos.used]
    out, pixels = [], 0
    for k, t in enumerate(photos.used, start=1):
        name = t.name if names.count(t.name) == 1 else f"photo {k} ({t.name})"
        try:
            photo = read_photo((place / t.file).read_bytes(), name)
        except OSError as error:
            raise BadInput(where=name, what=f"it cannot be read ({error.strerror})") from None
        pixels += photo.width * photo.height
        if pixels > MOST_PIXELS:
            raise BadInput(
                where=name,
                what="with it the photos have too many pixels together",
                expected=f"at most {MOST_PIXELS // 1_000_000} million in all",
                try_="the camera's usual setting, or one photo less",
            )
        out.append(photo)
    return tuple(out)
