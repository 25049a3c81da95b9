"""A seam walked: both stitching lines straightened and laid along each other, with the words."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.drawing.walked import walked_picture
from clothwright.pattern.fullness import planned_words
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.walk import Span, Walk, run_is, run_name, walk_seam
from clothwright.picture.picture import Picture
from clothwright.units import Unit
from clothwright.words import is_met, show_difference, show_length

MUCH = 8.0
"""A difference is looked at closely when the seam is more than this many times as long."""
CAPTION = "Both stitching lines straightened, darts folded out, to scale."


@dataclass(frozen=True, slots=True, kw_only=True)
class Walked:
    """A walked seam, drawn. picture: its whole length; close: the end that differs, where it does.

    above, below: what the two sides are called, with their lengths; they stand over and under it.
    words: what is drawn, for who cannot see it. caption: how to read it.
    """

    picture: Picture
    close: Picture | None
    above: str
    below: str
    words: str
    caption: str


def walked(pattern: Pattern, seam: Seam, unit: Unit, agree: float) -> Walked:
    """Return a seam's two sides laid along each other. agree: mm that is no difference.

    Raises BadInput for edges that are not there.
    """
    walk = walk_seam(pattern, seam)
    longest = max(walk.a.length, walk.b.length)
    looked_at = abs(walk.off) > agree and longest > MUCH * abs(walk.off)
    eased = walk.meant != (0.0, 0.0)
    a, b = show_length(walk.a.length, unit), show_length(walk.b.length, unit)
    return Walked(
        picture=walked_picture(pattern, seam, unit, agree=agree),
        close=walked_picture(pattern, seam, unit, agree=agree, close=True) if looked_at else None,
        above=f"{run_name(seam.a)}: {a}",
        below=f"{run_name(seam.b)}: {b}",
        words=f"Seam {seam.name}: above {a}, below {b}; {difference_words(seam, walk, unit)}",
        caption=CAPTION + (f" The part in green is {_planned(seam)}." if eased else ""),
    )


def _planned(seam: Seam) -> str:
    words = planned_words(seam)
    return f"the {words} that is planned" if words == "ease" else f"what is planned {words}"


def difference_words(seam: Seam, walk: Walk, unit: Unit) -> str:
    """Say by how much the second side is off, ease allowed for, and what ease is planned."""
    eased = walk.meant != (0.0, 0.0)
    ease = f"{ease_words(walk.meant, unit)} {planned_words(seam)}" if eased else "no ease"
    if is_met(walk.off):
        return f"as planned, with {ease}" if eased else "same length, no ease planned"
    longer = "too long" if walk.off > 0 else "too short"
    off = show_difference(abs(walk.off), unit)
    return f"{run_is(seam.b)} {off} {longer}; {ease} is planned"


def ease_words(meant: Span, unit: Unit) -> str:
    """Say by how much the sides are planned to differ."""
    least, most = sorted(map(abs, meant))
    if least == most:
        return show_length(least, unit) if least else "none"
    return f"{show_length(least, unit)} to {show_length(most, unit)}"
