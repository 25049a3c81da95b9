"""The ends of an edge, as she finds them: by the corner there, not by how the edge was drawn."""

from __future__ import annotations

from clothwright.pattern.piece import Piece


def end_words(piece: Piece, edge: str, end: str) -> str:
    """Say an end ("start" or "end") of an edge: its corner by name, or by the edge beside it.

    An edge that is a whole outline has no corner: then its own word is all there is.
    """
    own, beside = piece.edge(edge), piece.neighbours(edge)[end == "end"]
    if beside.name == own.name:
        return f"its {end}"
    corner = own.corner if end == "start" else beside.corner
    return f'the corner "{corner}"' if corner else f"the corner with {beside.name}"
