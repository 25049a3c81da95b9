"""The outline over the flat photo: what the page shows of a paper piece in photos."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from urllib.parse import urlencode

from clothwright.errors import ClothwrightError
from clothwright.geometry.vec import Vec
from clothwright.photo.correct import Hold
from clothwright.picture.paths import path_data
from clothwright.units import Unit
from clothwright.web.page import Asked
from clothwright.words import say, show_length
from clothwright.workroom.pieces.inbox import Waiting
from clothwright.workroom.pieces.photo_crossing import MEND
from clothwright.workroom.pieces.photo_found import found_stamp
from clothwright.workroom.pieces.photo_said import MOST, Photos, of_photos, photos_of
from clothwright.workroom.pieces.photo_sitting import MOVED, RIGHT, Said, View, stamp_of, view_of
from clothwright.workroom.pieces.photo_solving import whole_table
from clothwright.workroom.pieces.photographing import followed, place_words

RING_MM = 9.0
"""Radius of the ring round a doubt."""
STATES = {"": "not looked at yet", RIGHT: "looked at: it is right", MOVED: "moved by hand"}


def card(asked: Asked, one: Waiting | None) -> Mapping[str, object] | None:
    """Return everything about the photos of a waiting piece; None for other drawings."""
    if one is None or not of_photos(one):
        return None
    try:
        photos = photos_of(one)
    except ClothwrightError:
        return None  # thrown away or added meanwhile
    shown: dict[str, object] = {
        "id": one.id,
        "mark": mark_of(one),
        "taken": tuple(
            {"number": k, "name": t.name, "used": t.used}
            for k, t in enumerate(photos.taken, start=1)
        ),
        "count": len(photos.used),
        "room": len(photos.used) < MOST,
        "most": MOST,
        "bar": photos.bar,
        "outline": None,
        "whole": None,
        "pointed": photos.inside is not None,
    }
    with suppress(ClothwrightError, OSError):  # the sitting itself says what is wrong
        shown["outline"] = _outline(asked, one, view_of(one))
    table = whole_table(one.stored.parent, photos)
    if table is not None:
        query = urlencode({"drawing": one.id, "of": "-".join(t.file for t in photos.used)})
        shown["whole"] = {
            "href": f"/b/{asked.opened.name}/add/whole.jpg?{query}",
            "wide": table.size[0] * photos.share,
            "tall": table.size[1] * photos.share,
        }
    return shown


def mark_of(one: Waiting) -> str:
    """Return what tells one state of the photos and corrections from another."""
    try:
        return f"{stamp_of(one.stored):016x}"
    except OSError:
        return ""


def sheet_links(unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return the marker sheets to take away: what they are, and the query of their address."""
    papers = ("A4", "Letter") if unit.is_metric else ("Letter", "A4")
    return tuple(
        (f"{words} on {paper}", urlencode({"count": count, "paper": paper}))
        for paper in papers
        for count, words in ((4, "4 sheets"), (8, "8 sheets"))
    )


def _outline(asked: Asked, one: Waiting, view: View) -> Mapping[str, object]:
    """Return the drawing over the photo, the doubts, and what was corrected."""
    wide, tall = view.found.size_mm
    photos: Photos = view.photos
    query = urlencode({"drawing": one.id, "of": _mark(one)})
    by_hand = view.now.by_hand_mm
    return {
        "href": f"/b/{asked.opened.name}/add/flat.jpg?{query}",
        "wide": wide,
        "tall": tall,
        "line": path_data(view.now.outline.path, closed=True),
        "found": "" if by_hand is None else path_data(view.found.outline.path, closed=True),
        "inner": tuple(path_data(p) for p in view.found.outline.inner),
        "knobs": _knobs(view, asked.book.unit),
        "doubts": tuple(_doubt(k, d, asked.book.unit) for k, d in enumerate(view.doubts, start=1)),
        "open": sum(not d.said for d in view.doubts),
        "error": show_length(view.found.error_mm, Unit.mm),
        "how": followed(view.found.outline),
        "by_hand": "" if by_hand is None else show_length(by_hand, Unit.mm),
        "notes": view.found.notes,
        "lost": view.lost,
        "spoiled": f"{say(view.spoiled, asked.book.unit)} {MEND}" if view.spoiled else "",
        "undo": len(photos.before),
        "redo": len(photos.after),
        "moves": len(photos.moves),
        "unit": "in" if not asked.book.unit.is_metric else "mm",
    }


def _mark(one: Waiting) -> str:
    """What changes when another picture is shown: browsers keep one by its address."""
    return found_stamp(one.stored.parent)


def _doubt(number: int, one: Said, unit: Unit) -> Mapping[str, object]:
    r = RING_MM
    return {
        "number": number,
        "words": one.words,
        "said": one.said,
        "state": STATES[one.said],
        "place": place_words(one.at, unit),
        "x": f"{one.at.x:.1f}",
        "y": f"{one.at.y:.1f}",
        "ring": f"M {one.at.x - r:.1f} {-one.at.y:.1f} a {r} {r} 0 1 0 {2 * r} 0"
        f" a {r} {r} 0 1 0 {-2 * r} 0",
        "label_x": f"{one.at.x + r * 1.15:.1f}",
        "label_y": f"{-one.at.y - r * 0.6:.1f}",
    }


def _knobs(view: View, unit: Unit) -> tuple[Mapping[str, object], ...]:
    """Return the points to take hold of, and those taken out, in order along the outline."""
    holds = view.mended.holds
    path, found = view.now.outline.path, view.found.outline.path
    out = [(h.at, _knob(k, h, len(holds), unit)) for k, h in enumerate(holds, start=1)]
    for at in view.mended.taken:
        now = path.point_at(path.nearest(at)[0])
        words = "a point that was taken away"
        out.append((at, _one(at, now, "gone", words, unit)))
    return tuple(knob for _, knob in sorted(out, key=lambda o: found.nearest(o[0])[0]))


def _knob(number: int, hold: Hold, count: int, unit: Unit) -> Mapping[str, object]:
    words = f"{'corner' if hold.corner else 'point'} {number} of {count}"
    if hold.by_hand:
        words += ", put by hand"
    kind = "hand" if hold.by_hand else "found"
    return {**_one(hold.at, hold.now, kind, words, unit), "corner": hold.corner}


def _one(at: Vec, now: Vec, kind: str, words: str, unit: Unit) -> Mapping[str, object]:
    return {
        "at": f"{at.x:.3f},{at.y:.3f}",
        "x": f"{now.x:.3f}",
        "y": f"{now.y:.3f}",
        "down": f"{-now.y:.3f}",
        "kind": kind,
        "corner": False,
        "words": words,
        "place": place_words(now, unit),
    }
