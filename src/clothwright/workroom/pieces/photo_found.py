"""What was found in the photos of a piece, kept as files so that it is not worked out again."""

from __future__ import annotations

import io
import json
from pathlib import Path as FilePath

import numpy as np
from PIL import Image

from clothwright.geometry.path import Path
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.vec import Vec
from clothwright.photo.doubts import PhotoDoubt
from clothwright.photo.outline import Outlined
from clothwright.photo.read import Pixels
from clothwright.store.book.file import write_whole
from clothwright.workroom.pieces.photo_said import frame_of, frame_plain
from clothwright.workroom.pieces.photographing import Photographed

FORMAT = "clothwright-found/1"
FOUND, PICTURE = "found.json", "flat.jpg"


def keep_found(place: FilePath, found: Photographed, used: tuple[str, ...]) -> None:
    """Keep what was found in a folder. used: files of the photos it was found in."""
    out = io.BytesIO()
    Image.fromarray(found.picture).save(out, "JPEG", quality=90)
    write_whole(place / PICTURE, out.getvalue())
    plain = {
        "format": FORMAT,
        "used": list(used),
        "name": found.name,
        "px_per_mm": found.px_per_mm,
        "size": [int(n) for n in found.picture.shape[1::-1]],
        "path": _plain(found.outline.path),
        "inner": [_plain(p) for p in found.outline.inner],
        "doubts": [[d.code, d.at.x, d.at.y, d.words] for d in found.outline.doubts],
        "error_mm": found.outline.error_mm,
        "by_line": found.outline.by_line,
        "notes": list(found.notes),
        "sheets": frame_plain(found.sheets),
    }
    write_whole(place / FOUND, json.dumps(plain).encode())


def kept_found(place: FilePath, used: tuple[str, ...]) -> Photographed | None:
    """Return what was found in these photos; None when that is not kept, or damaged.

    Its picture has the right size and no content: `kept_picture` has that.
    """
    try:
        data = json.loads((place / FOUND).read_text(encoding="utf-8"))
        if data["format"] != FORMAT or tuple(data["used"]) != used:
            return None
        if not (place / PICTURE).exists():
            return None
        wide, tall = (int(n) for n in data["size"])
        outline = Outlined(
            path=_path(data["path"]),
            inner=tuple(_path(p) for p in data["inner"]),
            doubts=tuple(
                PhotoDoubt(str(code), Vec(float(x), float(y)), str(words))
                for code, x, y, words in data["doubts"]
            ),
            error_mm=float(data["error_mm"]),
            by_line=bool(data["by_line"]),
        )
        return Photographed(
            name=str(data["name"]),
            outline=outline,
            picture=_blank(wide, tall),
            px_per_mm=float(data["px_per_mm"]),
            notes=tuple(map(str, data["notes"])),
            sheets=frame_of(data["sheets"]),
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return None


def _blank(wide: int, tall: int) -> Pixels:
    """Pixels of this size that take no room."""
    return np.broadcast_to(np.zeros(3, np.uint8), (tall, wide, 3))


def _plain(path: Path) -> list[list[list[float]]]:
    return [[[p.x, p.y] for p in s.controls()] for s in path.segments]


def _path(rows: list[list[list[float]]]) -> Path:
    segments: list[Segment] = []
    for row in rows:
        points = [Vec(float(x), float(y)) for x, y in row]
        segments.append(Line(*points) if len(points) == 2 else Cubic(*points))
    return Path(tuple(segments))
