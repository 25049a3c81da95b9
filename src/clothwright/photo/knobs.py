"""The points of an outline in photos to take hold of, each with its place in words."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.geometry.vec import Vec
from clothwright.photo.photographed import place_words
from clothwright.photo.standing import InPhotos
from clothwright.units import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineKnob:
    """A point to take hold of, or one that was taken out (kind "gone"; else "hand" or "found").

    at: on the outline as found, which names it; now: where it is, mm, y up. words, place: aloud.
    """

    at: Vec
    now: Vec
    kind: str
    corner: bool
    words: str
    place: str


def knobs_of(view: InPhotos, unit: Unit) -> tuple[OutlineKnob, ...]:
    """Return the points to take hold of, and those taken out, in order along the outline."""
    holds = view.mended.holds
    path, found = view.now.outline.path, view.found.outline.path
    out = []
    for k, h in enumerate(holds, start=1):
        words = f"{'corner' if h.corner else 'point'} {k} of {len(holds)}"
        out.append(
            OutlineKnob(
                at=h.at,
                now=h.now,
                kind="hand" if h.by_hand else "found",
                corner=h.corner,
                words=words + (", put by hand" if h.by_hand else ""),
                place=place_words(h.now, unit),
            )
        )
    for at in view.mended.taken:
        now = path.point_at(path.nearest(at)[0])
        words = "a point that was taken away"
        place = place_words(now, unit)
        out.append(OutlineKnob(at=at, now=now, kind="gone", corner=False, words=words, place=place))
    return tuple(sorted(out, key=lambda k: found.nearest(k.at)[0]))
