"""What the maker says about how pages lie together."""

from __future__ import annotations

import re
from typing import NamedTuple

from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.units import Unit, parse_length

NONE = "none"
MOST = 100


class SaidTiles(NamedTuple):
    """How pages lie together. across, down: 0 when not said. apart: each page is by itself.

    step: from a page to the next, across and down, mm; None when not said.
    """

    across: int = 0
    down: int = 0
    apart: bool = False
    step: Vec | None = None


def said_tiles(tiles: str, shift: str) -> SaidTiles:
    """Read "3x2" and "190 mm, 277 mm" (plain numbers are mm). Raises BadInput.

    >>> said_tiles("3 x 2", "")
    SaidTiles(across=3, down=2, apart=False, step=None)
    """
    plain = tiles.strip().lower()
    if plain == NONE:
        return SaidTiles(apart=True)
    step = _step(shift) if shift.strip() else None
    if not plain:
        if step is not None:
            raise BadInput(
                where="--shift",
                what="it does not say how the pages lie",
                expected='--tiles with it, such as --tiles "3x2"',
            )
        return SaidTiles()
    found = re.fullmatch(r"([0-9]{1,3})\s*[x×*]\s*([0-9]{1,3})", plain)
    across, down = (int(n) for n in found.groups()) if found else (0, 0)
    if not (0 < across <= MOST and 0 < down <= MOST):
        raise BadInput(
            where="--tiles",
            what=f'"{tiles}" does not say how pages lie together',
            expected='pages across and down, such as "3x2", or none',
        )
    return SaidTiles(across, down, step=step)


def _step(text: str) -> Vec:
    parts = re.split(r"\s*;\s*|,\s+", text.strip())
    if len(parts) == 1:
        parts = text.split(",")
    if len(parts) != 2:
        raise BadInput(
            where="--shift",
            what=f'"{text}" is not two lengths',
            expected='across and down, such as "190 mm, 277 mm"',
        )
    across, down = (parse_length(p, unit=Unit.mm, where="--shift", least_mm=1.0) for p in parts)
    return Vec(across, down)
