"""Corners of a piece's cutting line, turned as the drawn one turns them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import numpy as np

from clothwright.errors import ClothwrightError
from clothwright.geometry.path import Path
from clothwright.geometry.region import distances
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Join, Piece, Role

NEAR_MM = 0.5
"""mm: a corner whose cutting line lies no farther off is as drawn."""
FINE_MM = 2.0
"""mm between the places of a long straight stretch that are looked at."""


@lru_cache(maxsize=256)
def with_corners_as_drawn(piece: Piece, drawn: Path) -> Piece:
    """Return the piece with every corner of its cutting line turned as the drawn one is.

    Each way to turn a corner (`Join`) is tried where the usual one leaves the drawn line, and the
    nearest is taken; a corner like none of them stays as it is. Folded back are corners of a hem:
    where one is drawn so, the wider of its edges becomes one (`Role.HEM`).
    """
    whole = drawn.flatten(0.05)
    for k in range(len(piece.edges)):
        before, after = piece.edges[k - 1], piece.edges[k]
        reach = 2.5 * max(before.allowance, after.allowance)
        if reach <= 0.0:
            continue
        places = _round(whole, after.path.start, reach)
        usual = _miss(piece, places)
        if usual <= NEAR_MM:
            continue
        tries = [_joined(piece, k, join) for join in Join]
        away, _, best = min((_miss(p, places), n, p) for n, p in enumerate(tries))
        if away < 0.5 * usual:
            piece = best
    return piece


def hems_told(before: Piece, after: Piece) -> list[str]:
    """Say which edges became hems by the corners that were drawn."""
    pairs = zip(before.edges, after.edges, strict=True)
    return [
        f'"{new.name}" taken as a hem: its corner is drawn folded back'
        for old, new in pairs
        if new.role is not old.role
    ]


def _joined(piece: Piece, k: int, join: Join) -> Piece:
    edges = list(piece.edges)
    edges[k] = replace(edges[k], join=join)
    if join is Join.FOLDED and Role.HEM not in (edges[k - 1].role, edges[k].role):
        hem = k - 1 if edges[k - 1].allowance > edges[k].allowance else k
        if edges[hem].role is Role.SEAM:
            edges[hem] = replace(edges[hem], role=Role.HEM)
    return replace(piece, edges=tuple(edges))


def _round(whole: Sequence[Vec], corner: Vec, reach: float) -> list[Vec]:
    """Return places of a line, given as many points, that lie no farther than this from a corner.

    Long straight stretches are looked at every few mm.
    """
    out = []
    for a, b in pairwise(whole):
        count = max(1, int(a.distance(b) / FINE_MM))
        out += [a.lerp(b, k / count) for k in range(count)]
    return [p for p in out if p.distance(corner) <= reach]


def _miss(piece: Piece, places: list[Vec]) -> float:
    """Return how far places of the drawn line lie from the piece's cutting line at most, mm."""
    try:
        made = cutting_line(piece).outline
    except ClothwrightError:
        return 1e9
    if not places:
        return 0.0
    return float(distances(np.array(places), np.array(made.flatten(0.005))).max())
