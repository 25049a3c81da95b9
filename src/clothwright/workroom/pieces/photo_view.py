"""A paper piece in photos as it is shown: the outline over the flat photo, the doubts."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

from clothwright.errors import ClothwrightError
from clothwright.intake.waiting.said import Waiting
from clothwright.photo.knobs import OutlineKnob, knobs_of
from clothwright.photo.photographed import (
    error_words,
    fine_length,
    followed,
    places_words,
)
from clothwright.photo.said import Photos
from clothwright.photo.standing import MEND, MOVED, RIGHT, DoubtSaid, InPhotos
from clothwright.units import Unit
from clothwright.words import say
from clothwright.workroom.pieces.photo_found import found_stamp
from clothwright.workroom.pieces.photo_said import MOST, of_photos, photos_of
from clothwright.workroom.pieces.photo_sitting import view_of
from clothwright.workroom.pieces.photo_solving import whole_table

STATES = {"": "not looked at yet", RIGHT: "looked at: it is right", MOVED: "moved by hand"}


@dataclass(frozen=True, slots=True, kw_only=True)
class OverPhoto:
    """The outline over the flat photo, all places mm from its lower left corner, y up.

    of: the piece as it stands. mark: another one when the photo is another. wide, tall: of it.
    doubts: each with its place and state, in words; open: those not looked at. error, by_hand
    ("" without), how, spoiled: in words.
    """

    of: InPhotos
    mark: str
    wide: float
    tall: float
    knobs: tuple[OutlineKnob, ...]
    doubts: tuple[tuple[DoubtSaid, str, str], ...]
    open: int
    error: str
    how: str
    by_hand: str
    spoiled: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotosView:
    """The photos of a waiting piece and what was said of them.

    said: which photos, the bar, the place pointed at. room: one more may be added, of `most`.
    over: the outline, None while it cannot be put together. table: width and height (mm by the
    bar) of the picture of the whole table, None while there is none.
    """

    id: str
    said: Photos
    room: bool
    over: OverPhoto | None
    table: tuple[float, float] | None
    most: int = MOST


def photos_view(one: Waiting | None, unit: Unit) -> PhotosView | None:
    """Return everything about the photos of a waiting piece; None for other drawings."""
    if one is None or not of_photos(one):
        return None
    over = None
    try:
        photos = photos_of(one)
        with suppress(ClothwrightError, OSError):  # the sitting itself says what is wrong
            over = _over(one, view_of(one), unit)
        table = whole_table(one.stored.parent, photos)
    except ClothwrightError:
        return None  # thrown away or added meanwhile
    return PhotosView(
        id=one.id,
        said=photos,
        room=len(photos.used) < MOST,
        over=over,
        table=(table.size[0] * photos.share, table.size[1] * photos.share) if table else None,
    )


def _over(one: Waiting, view: InPhotos, unit: Unit) -> OverPhoto:
    wide, tall = view.found.size_mm
    by_hand = view.now.by_hand_mm
    return OverPhoto(
        of=view,
        mark=found_stamp(one.stored.parent),
        wide=wide,
        tall=tall,
        knobs=knobs_of(view, unit),
        doubts=tuple((d, places_words(d.doubt.places, unit), STATES[d.said]) for d in view.doubts),
        open=len(view.open),
        error=error_words(view.found.error_mm, unit),
        how=followed(view.found.outline),
        by_hand="" if by_hand is None else fine_length(by_hand, unit),
        spoiled=f"{say(view.spoiled, unit)} {MEND}" if view.spoiled else "",
    )
