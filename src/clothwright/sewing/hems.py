"""Hems, last: those sewn to something, then those turned up by their own allowance."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.errors import Sentence
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece, Role
from clothwright.sewing.operation import Operation, SewStep, edge_words, seams_of, side

HANGS = frozenset({"skirt", "dress", "coat", "gown", "cape", "cloak"})
"""Words in the name of a piece whose hem is long enough to drop before it is sewn."""
KEEPS = frozenset({"sleeve", "cuff", "facing", "lining", "interfacing", "collar", "pocket", "hood"})
"""Words in the name of a piece whose hem does not, though it belongs to such a garment."""

_sewn_to = seams_of("hem", lambda seam: (f"Hem {side(seam.a)}, sewn to {side(seam.b)}.",))


def _steps(pattern: Pattern) -> Iterator[SewStep]:
    yield from _sewn_to(pattern)
    sewn = pattern.sewn
    for piece in pattern.pieces:
        for edge in piece.edges:
            if edge.role is Role.HEM and edge.allowance > 0 and (piece.name, edge.name) not in sewn:
                which = "" if edge.name == "hem" else f" ({edge_words(edge.name)})"
                lead = f"Hem the {piece.name}{which}: turn up "
                yield SewStep(
                    key=f"sew hem {piece.name}.{edge.name}",
                    words=(lead, edge.allowance, "."),
                    more=_hang(piece),
                )


def _hang(piece: Piece) -> Sentence:
    """Say that a hem hangs before it is measured, where it is long enough to drop."""
    words = set(piece.name.lower().split())
    inside = piece.cuts and all(c.material in ("lining", "interfacing") for c in piece.cuts)
    if inside or not words & HANGS or words & KEEPS:
        return ()
    return ("Let it hang for a day first, and measure from the floor.",)


OPERATION = Operation(id="hems", steps=_steps, sews="hem")
