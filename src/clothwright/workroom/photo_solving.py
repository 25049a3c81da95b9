"""Photos of a paper piece put together, once: what was found in them is kept beside them."""

from __future__ import annotations

import threading
from pathlib import Path as FilePath

from clothwright.errors import BadInput
from clothwright.photo.read import Photo, read_photo
from clothwright.workroom.photo_found import keep_found, kept_found
from clothwright.workroom.photo_said import Photos
from clothwright.workroom.photographing import Photographed, photographed

MOST_PIXELS = 120_000_000
"""Of all photos of one piece together."""

_SOLVING = threading.Lock()
_TROUBLE: dict[tuple[str, tuple[str, ...]], BadInput] = {}
"""Photos that cannot be put together: worked out once."""


def found_in(place: FilePath, photos: Photos) -> Photographed:
    """What was found in the photos, as printed; worked out when it is not kept. BadInput."""
    used = tuple(t.file for t in photos.used)
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
            found = photographed(_all_read(place, photos), name=_title(photos))
        except BadInput as error:
            if len(_TROUBLE) > 50:
                _TROUBLE.clear()
            _TROUBLE[key] = error
            raise
        keep_found(place, found, used)
    return kept_found(place, used) or found


def _title(photos: Photos) -> str:
    return FilePath(photos.used[0].name).stem


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
