"""What was found in the photos of a piece, kept as files so that it is not worked out again."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import ClassVar

import numpy as np
from PIL import Image

from clothwright.errors import BadInput
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.photo.doubts import PhotoDoubt
from clothwright.photo.outline import Outlined
from clothwright.photo.photographed import Photographed
from clothwright.photo.read import Pixels
from clothwright.store.beside.kept import read_kept, row_of, sound, write_kept
from clothwright.store.beside.places import FLAT, WHOLE, found_file
from clothwright.store.disk import write_whole

ROWS = {PhotoDoubt: row_of(PhotoDoubt)}


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptFound:
    """What is kept of it; mm, y up. used: files of the photos. size: of the picture, pixels."""

    FORMAT: ClassVar[str] = "clothwright-found/1"
    used: tuple[str, ...]
    name: str
    px_per_mm: float
    size: tuple[int, int]
    path: Path
    inner: tuple[Path, ...]
    doubts: tuple[PhotoDoubt, ...]
    error_mm: float
    by_line: bool
    notes: tuple[str, ...]
    sheets: Mapping[int, tuple[Vec, ...]]


def keep_found(place: FilePath, found: Photographed, used: tuple[str, ...]) -> None:
    """Keep what was found in a folder. used: files of the photos it was found in. OSError."""
    out = io.BytesIO()
    Image.fromarray(found.picture).save(out, "JPEG", quality=90)
    write_whole(place / FLAT, out.getvalue())
    tall, wide = found.picture.shape[:2]
    kept = KeptFound(
        used=used,
        name=found.name,
        px_per_mm=found.px_per_mm,
        size=(int(wide), int(tall)),
        path=found.outline.path,
        inner=found.outline.inner,
        doubts=found.outline.doubts,
        error_mm=found.outline.error_mm,
        by_line=found.outline.by_line,
        notes=found.notes,
        sheets=found.sheets,
    )
    write_kept(found_file(place), kept, ROWS)


def kept_found(place: FilePath, used: tuple[str, ...]) -> Photographed | None:
    """Return what was found in these photos; None when that is not kept, or damaged.

    Its picture has the right size and no content: `FLAT` has that.
    """
    kept = sound(read_kept(found_file(place), KeptFound, ROWS))
    if kept is None or kept.used != used or not (place / FLAT).exists():
        return None
    outline = Outlined(
        path=kept.path,
        inner=kept.inner,
        doubts=kept.doubts,
        error_mm=kept.error_mm,
        by_line=kept.by_line,
    )
    return Photographed(
        name=kept.name,
        outline=outline,
        picture=_blank(*kept.size),
        px_per_mm=kept.px_per_mm,
        notes=kept.notes,
        sheets=kept.sheets,
    )


def found_stamp(place: FilePath) -> str:
    """Return text that is another one when something else was found. Raises OSError."""
    return f"{found_file(place).stat().st_mtime_ns:x}"


def kept_picture(place: FilePath, *, whole: bool) -> bytes:
    """Return the JPEG picture of a piece in photos, or of the whole table. Raises BadInput."""
    try:
        return (place / (WHOLE if whole else FLAT)).read_bytes()
    except OSError:
        raise BadInput(what="there is no such picture", expected="photos put together") from None


def _blank(wide: int, tall: int) -> Pixels:
    """Pixels of this size that take no room."""
    return np.broadcast_to(np.zeros(3, np.uint8), (tall, wide, 3))
