"""Plain seams: two edges, right sides together."""

from __future__ import annotations

from clothwright.errors import Sentence
from clothwright.pattern.pattern import Seam
from clothwright.sewing.operation import Operation, edge_words, seams_of, side


def _said(seam: Seam) -> Sentence:
    """Say which edges are sewn; a piece that is sewn to itself, or to its twin, is named once."""
    pieces = seam.pieces
    if len(pieces) > 1 or len(seam.a) + len(seam.b) > 2:
        return (f"Sew {side(seam.a)} to {side(seam.b)}.",)
    (piece,) = pieces
    one, two = edge_words(seam.a[0].edge), edge_words(seam.b[0].edge)
    if one == two:
        return (f"Sew the two {piece} pieces together ({one}).",)
    return (f"Sew the {piece} together: {one} to {two}.",)


OPERATION = Operation(id="seams", steps=seams_of("plain", _said), sews="plain")
