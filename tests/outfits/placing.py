"""Copies put where a test wants them: a named point of a piece on a place of the cloth."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from clothwright.pattern.piece import Piece
from tests.outfits.sewn import on_cloth


def put(
    piece: Piece,
    at: str | tuple[float, float],
    on: tuple[float, float],
    *,
    copy: int = 1,
    turn_deg: float = 0.0,
    flipped: bool = False,
    twin: bool = False,
    cloth: str = "cloth",
) -> Mapping[str, object]:
    """Return a placement as in the JSON of a lay, with a point of the piece on a place (mm).

    at: the point's name, or mm in the piece as drawn; twin: its mirror image in the fold is meant.
    """
    point = tuple(piece.point(at)) if isinstance(at, str) else at
    several = sum(c.count * (2 if c.how == "pair" else 1) for c in piece.cuts) > 1
    found = {
        "piece": piece.name,
        "copy": copy,
        "shape": f"{piece.name} {copy}" if several else piece.name,
        "material": piece.cuts[0].material,
        "cloth": cloth,
        "turn_deg": turn_deg,
        "flipped": flipped,
        "x_mm": 0.0,
        "y_mm": 0.0,
    }
    [[x, y]], _ = on_cloth(piece, np.array([point]), found, twin)
    return {**found, "x_mm": on[0] - x, "y_mm": on[1] - y}
