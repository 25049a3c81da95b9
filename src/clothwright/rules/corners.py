"""One figure of a border at every corner of what it goes round, told before anything is laid."""

from __future__ import annotations

from clothwright.errors import Sentence
from clothwright.pattern.band import corners_agree
from clothwright.pattern.piece import Edge, Piece


def edge_ending_at(piece: Piece, point: str) -> Edge | None:
    """Return the edge whose end a point is by its name ("lower edge end"), None for others."""
    name, _, spot = point.rpartition(" ")
    edge = next((e for e in piece.edges if e.name == name), None)
    return edge if spot in ("start", "end") else None


def corner_words(one: Edge, two: Edge, repeat: float) -> Sentence:
    """Say whether a border that comes again every `repeat` mm can show one figure at each corner.

    one, two: the sides that meet there, each with a mirror line of the border in its middle.
    """
    a, b = one.length, two.length
    if any(corners_agree(a, b, repeat, other_line=other) for other in (False, True)):
        return ("With a mirror line of the border in the middle of each, all corners are alike.",)
    off = abs(a - b) % repeat
    return (
        "All corners are alike only when one of the two is ",
        min(off, repeat - off),
        " shorter or longer: the border repeats every ",
        repeat,
        ".",
    )
