"""Where everything lies that is kept beside the workbook."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from clothwright.errors import BadInput

FLAT, WHOLE = "flat.jpg", "whole.jpg"
"""Pictures of a piece in photos: straightened, and of the whole table."""


def lay_file(folder: Path, plan: str) -> Path:
    """Return where the best lay of a plan is kept."""
    return folder / "lays" / f"{plain_name(plan)}.json"


def ways_file(folder: Path, plan: str) -> Path:
    """Return where the ways to fit of a plan are kept."""
    return folder / "lays" / f"{plain_name(plan)}.ways-to-fit.json"


def ticks_file(folder: Path, plan: str, lay: str) -> Path:
    """Return where the ticks of a plan's lay are kept. lay: its digest. Raises BadInput."""
    if not re.fullmatch(r"[A-Za-z0-9]{1,64}", lay):
        raise BadInput(where="ticks", what=f'"{lay[:64]}" names no lay', expected="its digest")
    return folder / "ticks" / f"{plain_name(plan)}.{lay}.json"


def cut_file(folder: Path) -> Path:
    """Return where it is kept what is cut already, of whatever plan."""
    return folder / "ticks" / "cut.json"


def plain_name(plan: str) -> str:
    """Return what files of a plan are called: its letters and figures."""
    return "".join(c if c.isalnum() else "-" for c in plan).strip("-") or "free"


def yardage_file(folder: Path) -> Path:
    """Return where the entries of the yardage chart are kept."""
    return folder / "chart.json"


def inbox(folder: Path) -> Path:
    """Return the folder of the drawings that wait, each in a folder of its own."""
    return folder / "inbox"


def refused_file(folder: Path) -> Path:
    """Return where the refused proposals of seams are kept."""
    return inbox(folder) / "refused-seams.json"


def sitting_file(place: Path) -> Path:
    """Return where the answers about a waiting drawing are kept. place: its own folder."""
    return place / "sitting.json"


def said_file(place: Path) -> Path:
    """Return where what was said about a waiting piece's photos is kept."""
    return place / "photos.json"


def found_file(place: Path) -> Path:
    """Return where what was found in a waiting piece's photos is kept."""
    return place / "found.json"


def table_file(place: Path) -> Path:
    """Return where it is kept how the whole table of a waiting piece's photos lies."""
    return place / "table.json"


def stored_drawing(place: Path) -> Path | None:
    """Return the drawing, or the first photo, of a waiting folder; None when it is gone."""
    try:
        return next((p for p in sorted(place.iterdir()) if p.stem == "drawing"), None)
    except OSError:
        return None


def typed_folder(folder: Path) -> Path:
    """Return the folder of the texts of typed pieces that were added."""
    return folder / "typed"


def typed_file(folder: Path, piece: str) -> Path:
    """Return where the text is kept that a typed piece came from. piece: the first in it."""
    plain = " ".join(re.sub(r"[^\w -]", " ", piece).split())[:40]
    return typed_folder(folder) / f"{plain} {hashlib.sha256(piece.encode()).hexdigest()[:6]}.txt"


def cloth_photos(folder: Path, cloth: str) -> Path:
    """Return the folder of the photo that a cloth's print is taken from."""
    return folder / "photos" / f"cloth-{hashlib.sha256(cloth.encode()).hexdigest()[:16]}"
