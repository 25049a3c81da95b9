"""A paper piece in photos as it stands: its outline corrected, its doubts looked at.

Corrections belong to the sheets that were seen with them: when a photo is added or left out and the
table is put together anew, they go along.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from clothwright.errors import BadInput, CannotDo
from clothwright.geometry.area import polygon_area
from clothwright.geometry.intersect import self_crossings
from clothwright.geometry.path import Path, ring
from clothwright.geometry.region import is_simple
from clothwright.geometry.vec import Vec
from clothwright.photo.correct import REACH_MM, Correction, Mended, corners_along
from clothwright.photo.doubts import PhotoDoubt
from clothwright.photo.photographed import Photographed, corrections_of, holds_of, with_outline
from clothwright.photo.said import (
    SAME_MM,
    DoubtTick,
    Moves,
    Photos,
    carried,
    same_doubt,
    scaled_moves,
)
from clothwright.words import Sentence

MOST_MOVES, MOST_STEPS = 400, 200
RIGHT, MOVED = "right", "moved"
MEND = "No piece can be made of it yet: put the points there right, or undo."
"""What to do about a spoiled outline; the correction is kept until then."""


class DoubtSaid(NamedTuple):
    """A doubt (places in mm by the bar), and what was said of it: "right", "moved" or ""."""

    doubt: PhotoDoubt
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

    @property
    def moves(self) -> Moves:
        """The corrections, by the measured bar."""
        return scaled_moves(self.photos.moves, self.share)

    @property
    def open(self) -> tuple[DoubtSaid, ...]:
        """The doubts that nobody has looked at."""
        return tuple(d for d in self.doubts if not d.said)

    def doubt(self, number: int) -> DoubtSaid:
        """Return a doubt (from 1). Raises BadInput."""
        if not 1 <= number <= len(self.doubts):
            raise BadInput(where="doubt", what=f"there is no doubt {number}", expected="one shown")
        return self.doubts[number - 1]


def standing(photos: Photos, found: Photographed, moves: Moves | None = None) -> InPhotos:
    """Return how a piece stands by what was said of it, or with other corrections (mm by the bar).

    found: by the measured bar. Raises BadInput: a correction out of the picture.
    """
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
            said = "" if d.away_from(spots, REACH_MM) else MOVED
        doubts.append(DoubtSaid(d, said))
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


def spoiled(found: Path, now: Path) -> Sentence:
    """Return what is wrong with an outline, with the place; () when a piece can be made of it.

    found: as it was found; now: as corrected. Both closed, mm, y up, (0, 0) at the lower left.
    """
    points = ring(now)
    if is_simple(points):
        turned = polygon_area(points) * polygon_area(ring(found)) < 0
        return ("The outline is turned inside out.",) if turned else ()
    at = next((c.point for c in self_crossings(now)), None)
    if at is None:  # only flattened lines touch
        return ("The outline crosses itself.",)
    return ("The outline crosses itself ", at.x, " from the left, ", at.y, " from below.")


# --- corrected -----------------------------------------------------------------------------------


def with_move(view: InPhotos, new: Correction) -> Moves:
    """Return the corrections and one more (mm by the bar), instead of the one of that place.

    Raises BadInput, CannotDo.
    """
    corrections_of(view.found, [new])
    at = _on(view.found.outline.path, new.at)
    to = at if new.to is not None and new.to.distance(new.at) < 1e-6 else new.to
    kept = without_move(view, at)
    if len(kept) >= MOST_MOVES:
        raise CannotDo(what="the point was not saved", why=f"{MOST_MOVES} points were put already")
    return (*kept, Correction(at, to))


def without_move(view: InPhotos, at: Vec) -> Moves:
    """Return the corrections without those of a place (mm): it is as found there again."""
    return tuple(m for m in view.moves if m.at.distance(at) > 0.5)


def with_point(view: InPhotos, at: Vec) -> Moves:
    """Return the corrections with a point held on the line, nearest to `at` (mm). BadInput."""
    now = view.now.outline.path
    if now.nearest(at)[1] > REACH_MM:
        raise BadInput(where="outline", what="that is not on the line", expected="a place on it")
    to = _on(now, at)
    return with_move(view, Correction(_on(view.found.outline.path, to), to))


def with_point_after(view: InPhotos, at: Vec) -> Moves:
    """Return the corrections with a point half-way from the one at `at` (mm) to the next."""
    holds, path = view.mended.holds, view.now.outline.path
    k = min(range(len(holds)), key=lambda n: holds[n].at.distance(at))
    here = path.nearest(holds[k].now)[0]
    there = path.nearest(holds[(k + 1) % len(holds)].now)[0]
    way = (there - here) % path.length
    return with_point(view, path.point_at((here + way / 2) % path.length))


def fair_across(view: InPhotos, number: int) -> Moves:
    """Return the corrections with all that was found at a doubt (from 1) taken out. BadInput.

    Corners within 12 mm of the doubt go with it; look at the line afterwards.
    """
    path = view.found.outline.path
    at = _on(path, view.doubt(number).doubt.at)
    places = [p for s in corners_along(path) if (p := path.point_at(s)).distance(at) <= SAME_MM]
    if all(p.distance(at) > 0.5 for p in places):
        places.append(at)
    kept = [m for m in view.moves if m.at.distance(at) > SAME_MM]
    return (*kept, *(Correction(p, None) for p in places))


def with_moves(photos: Photos, view: InPhotos, moves: Moves) -> Photos:
    """Return what was said with other corrections (mm by the bar of `view`), to be undone."""
    now = carried(photos, view.found, view.share)
    new = scaled_moves(moves, 1 / view.share)
    if new == now.moves:
        return photos
    return replace(now, moves=new, before=(*now.before, now.moves)[-MOST_STEPS:], after=())


def stepped(photos: Photos, view: InPhotos, *, back: bool) -> Photos:
    """Return what was said with the last correction undone, or done again."""
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


def ticked(photos: Photos, view: InPhotos, number: int, said: str) -> Photos:
    """Return what was said, with one doubt (from 1) "right", "moved" or "". Raises BadInput."""
    if said not in ("", RIGHT, MOVED):
        raise BadInput(where="doubt", what=f'"{said[:20]}"', expected="right, moved or nothing")
    doubt = view.doubt(number).doubt
    new = DoubtTick(doubt.code, doubt.at * (1 / view.share), said)
    now = carried(photos, view.found, view.share)
    return replace(now, ticks=(*(t for t in now.ticks if not same_doubt(t, new)), new))


def corners_after(before: InPhotos, after: InPhotos, corners: str) -> str:
    """Return corners that were pressed ("at x,y; ...", mm) where the line has gone since."""
    gone = {h.at: h.now for h in after.mended.holds}
    path = after.now.outline.path
    out = []
    for part in corners.removeprefix("at ").split(";"):
        place = Vec(*(float(n) for n in part.split(",")))
        near = min(before.mended.holds, key=lambda h: h.now.distance(place), default=None)
        if near is not None and near.at in gone and near.now.distance(place) < SAME_MM:
            place = place + gone[near.at] - near.now
        place = _on(path, place)
        out.append(f"{place.x:.3f},{place.y:.3f}")
    return "at " + "; ".join(out)


def _on(path: Path, at: Vec) -> Vec:
    """The place of a line nearest to another."""
    return path.point_at(path.nearest(at)[0])


def _put_on(path: Path, one: Correction) -> Correction:
    """A correction with its place exactly on the outline; a point only held is held there."""
    at = _on(path, one.at)
    return Correction(at, at if one.to == one.at else one.to)
