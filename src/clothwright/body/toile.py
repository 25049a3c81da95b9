"""What the trial garment showed, as it was noted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from clothwright.units.kinds import Extent, Name, OneOf

SIDES = ("both", "left", "right")
"""On which side of the body it was seen."""

ANSWERS = ("open", "left")


@dataclass(frozen=True, slots=True, kw_only=True)
class ToileNote:
    """One thing that a trial garment showed.

    name: lasting, given in the order of noting ("1", "2"). where: "PIECE.PLACE", the place an edge,
    a level or a point, or the piece alone. seen: the id of a sign. by: measured on the body, mm.
    day: "2026-11-25" or "". words: what she adds. answer: "left", she
    leaves it as it is.
    """

    name: Name
    where: Name
    seen: Name
    by: Extent
    side: Annotated[str, OneOf(SIDES)] = "both"
    day: str = ""
    words: str = ""
    answer: Annotated[str, OneOf(ANSWERS)] = "open"
