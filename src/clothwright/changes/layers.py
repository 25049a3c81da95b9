"""What is worn one inside the other: the garment, its facing, its interfacing and its lining.

Each goes once round the body. What all of a garment gains is shared over the edges of one layer,
never over those of two.
"""

from __future__ import annotations

from collections.abc import Iterable

from clothwright.pattern.companions import LAID, companions
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.together import kind_of
from clothwright.words import Sentence, listed

GARMENT = ""
"""The layer of what shows, bands and collars among it."""


def layer_of(pattern: Pattern, piece: str) -> str:
    """Return "facing", "interfacing" or "lining" for a piece that is one, as said or named."""
    said = next((c.kind for c in companions(pattern) if c.piece == piece), "")
    kind = said or kind_of(pattern, pattern.piece(piece))
    return kind if kind in LAID else GARMENT


def each_layer(layers: Iterable[str]) -> str:
    """Return ", the garment and its lining each", where there is more than one; else ""."""
    found = sorted(set(layers))
    names = [f"its {layer}" if layer else "the garment" for layer in found]
    return f", {listed(names)} each" if len(found) > 1 else ""


def longer_in_all(pattern: Pattern, grown: Iterable[tuple[str, float]]) -> Sentence:
    """Say by how much edges are longer in all, each layer by itself. grown: piece and mm of each.

    "4 longer", or "4 longer, those of the lining 3 shorter".
    """
    sums: dict[str, float] = {}
    for piece, by in grown:
        layer = layer_of(pattern, piece)
        sums[layer] = sums.get(layer, 0.0) + by
    said: list[str | float] = []
    for layer, by in sums.items():
        lead = f", those of the {layer or 'garment'} " if said else ""
        said += [lead, abs(by), " longer" if by > 0 else " shorter"]
    return tuple(said)
