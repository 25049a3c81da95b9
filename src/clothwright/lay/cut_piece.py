"""A piece that is cut: what it was when it was cut, and where it was cut from."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from clothwright.pattern.piece import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """One copy that is cut.

    shape: what the lay called it; piece: as it was drawn then, whatever became of it since.
    cloth: its name then; called: what it was renamed to since, the last name last.
    x, y: mm, and turn_deg, flipped: as a placement has them, on the cloth as it lay for cutting.
    again: it is to be cut once more, for what was cut is of no use; where it lay is cloth no more.
    """

    shape: str
    piece: Piece
    copy: int
    material: str
    cloth: str
    x: float
    y: float
    turn_deg: float
    flipped: bool
    again: bool = False
    called: tuple[str, ...] = ()

    def cloth_among(self, names: Collection[str]) -> str:
        """Return what its cloth is called among cloths of these names; "" when it is not there."""
        return next((n for n in (*self.called[::-1], self.cloth) if n in names), "")
