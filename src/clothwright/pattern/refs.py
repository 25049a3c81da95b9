"""Names in text: "front.side" is edge "side" of piece "front"; "back.side reversed" runs back."""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.errors import BadInput


@dataclass(frozen=True, slots=True)
class EdgeRef:
    """One edge of one piece, travelled forward or reversed."""

    piece: str
    edge: str
    reversed: bool = False

    def __str__(self) -> str:
        """Return the text that `parse_edge` reads."""
        return f"{self.piece}.{self.edge}" + (" reversed" if self.reversed else "")


def parse_edge(text: str, *, where: str = "") -> EdgeRef:
    """Read "PIECE.EDGE" or "PIECE.EDGE reversed". Raises BadInput.

    >>> parse_edge("back.side reversed")
    EdgeRef(piece='back', edge='side', reversed=True)
    """
    words = text.strip()
    back = words.endswith(" reversed")
    if back:
        words = words[: -len(" reversed")].strip()
    piece, dot, edge = words.partition(".")
    if not dot or not piece.strip() or not edge.strip() or "." in edge:
        raise BadInput(
            where=where,
            what=f'"{text}" does not name an edge',
            expected="PIECE.EDGE, or PIECE.EDGE reversed",
        )
    return EdgeRef(piece.strip(), edge.strip(), back)


def parse_point(text: str) -> tuple[str, str]:
    """Read "PIECE.POINT" (point names: `Piece.points`). Raises BadInput."""
    piece, dot, point = text.strip().partition(".")
    if not dot or not piece.strip() or not point.strip():
        what = f'"{text}" does not name a point of a piece'
        raise BadInput(what=what, expected="PIECE.POINT")
    return piece.strip(), point.strip()
