"""What a field of a value holds, said beside its type: a length, a share, one of some words.

`Annotated[float, Amount("length")]` is a float to everybody else; what reads and writes values
(store.values) finds here how the maker writes it and what cannot be.
"""

from __future__ import annotations

from typing import Annotated, Literal, NamedTuple

Measured = Literal["length", "angle", "share", "count"]
"""A number: mm inside, degrees, 0 to 1, a whole number."""
Named = Literal["piece", "pieces", "edge", "edges", "point", "place", "dart", "seam"]
"""What is named among the pieces: "PIECE", "PIECE.EDGE"; lists of them; a place is either."""
Within = Literal["level", "line", "point of each"]
"""What several pieces have: a level; a level, a marked line or "fold"; a point of this name."""
OfPiece = Literal["own edge", "own point", "material"]
"""In a placing rule, of the piece in the field `piece`; a field `point_a` goes with `piece_a`."""
OfCloth = Literal["border", "figure", "cloth"]
Sized = Literal["size", "sizes"]
"""A size; "bust 14, hip 16"."""
Plain = Literal["flag", "text", "choice", ""]
"""One of its declared choices; "" is what a form asks for beside the declared fields."""
Kind = Measured | Named | Within | OfPiece | OfCloth | Sized | Plain
"""What a field of a change or a placing rule holds (`units.params`): every kind there is."""


class Amount(NamedTuple):
    """A number the maker writes. kind: "length" (mm inside), "share" (0.03), "number", "whole".

    over: it has to be more than this; least, most: the smallest and largest that can be. In mm for
    a length.
    """

    kind: Literal["length", "share", "number", "whole"]
    over: float | None = None
    least: float | None = None
    most: float | None = None


class OneOf(NamedTuple):
    """Text that is one of some words."""

    words: tuple[str, ...]


class NoFewer(NamedTuple):
    """Text of at least so many letters, a list of at least so many entries."""

    size: int


Length = Annotated[float, Amount("length")]
"""mm; may be negative."""
Extent = Annotated[float, Amount("length", over=0.0)]
"""mm; more than nothing."""
Clearance = Annotated[float, Amount("length", least=0.0)]
"""mm; nothing or more."""
Count = Annotated[int, Amount("whole", least=0)]
"""How many: a whole number, none or more."""
Shrinkage = Annotated[float, Amount("share", least=0.0, most=0.5)]
"""A share of a length, up to a half."""
Stretch = Annotated[float, Amount("share", least=0.0, most=3.0)]
"""A share of a width. A knit may stretch to four times it; more is a slip of the hand."""
Name = Annotated[str, NoFewer(1)]
"""Text that is not empty."""
