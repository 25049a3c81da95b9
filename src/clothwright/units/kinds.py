"""What a field of a value holds, said beside its type: a length, a share, one of some words.

`Annotated[float, Amount("length")]` is a float to everybody else; what reads and writes values
(store.values) finds here how the maker writes it and what cannot be.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple


class Amount(NamedTuple):
    """A number the maker writes. kind: "length" (mm inside), "share" (0.03) or "number".

    over: it has to be more than this; least, most: the smallest and largest that can be. In mm for
    a length.
    """

    kind: str
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
Shrinkage = Annotated[float, Amount("share", least=0.0, most=0.5)]
"""A share of a length, up to a half."""
Stretch = Annotated[float, Amount("share", least=0.0, most=3.0)]
"""A share of a width. A knit may stretch to four times it; more is a slip of the hand."""
Name = Annotated[str, NoFewer(1)]
"""Text that is not empty."""
