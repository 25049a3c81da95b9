"""Copies put where a test wants them, or by chance: to look at the print, not to be cut."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from clothwright.lay.lying import lie, used_on
from clothwright.lay.result import Lay
from clothwright.pattern.piece import Piece
from clothwright.rules.weighing.laid import Laid
from clothwright.workbook import Workbook
from clothwright.workroom.searching.laying import compile_plan
from tests.outfits.sewn import on_cloth

TURNS = (0.0, 0.0, 180.0, 90.0, 270.0)
"""Degrees; along the grain as often as across it."""


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


def scattered(book: Workbook, seed: int, turns: Sequence[float] = TURNS) -> Laid:
    """Return a plan with every copy laid somewhere by chance, over each other as it may be.

    A lay to look at the print by; nobody could cut it.
    """
    rng = random.Random(seed)
    start = compile_plan(book, book.plans[-1])
    placements = []
    for shape in start.compiled.problem.shapes:
        cloth = start.compiled.cloth(shape.regions[0])
        placements.append(
            lie(
                shape,
                region=cloth.name,
                x=rng.uniform(300.0, 2000.0),
                y=rng.uniform(0.1, 0.9) * cloth.width,
                turn_deg=rng.choice(turns),
                flipped=shape.flips[0],
            )
        )
    regions = {p.region for p in placements}
    used = {name: used_on(name, placements) for name in regions}
    return replace(start, lay=Lay(placements=tuple(placements), used=used))
