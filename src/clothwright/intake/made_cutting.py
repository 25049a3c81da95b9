"""Whether the cutting line that a piece gets is the one that was drawn; corners turned as drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from clothwright.errors import ClothwrightError
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.outline import cutting_line
from clothwright.pattern.piece import Join, Piece
from clothwright.units import Unit
from clothwright.words import show_length

TOLD_MM = 1.0
"""mm: what lies no farther off is not told: drawings are no finer."""
NEAR_MM = 0.5
"""mm: a corner whose cutting line lies no farther off is as drawn."""
STEP_MM = 8.0
FINE_MM = 2.0
"""mm between the places that are looked at, all along and round a corner."""


@lru_cache(maxsize=256)
def with_corners_as_drawn(piece: Piece, drawn: Path) -> Piece:
    """Return the piece with every corner of its cutting line turned as the drawn one is.

    Each way to turn a corner (`Join`) is tried where the usual one leaves the drawn line, and the
    nearest is taken; a corner like none of them stays as it is.
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
        tries = [_joined(piece, k, join) for join in Join if join is not after.join]
        away, _, best = min((_miss(p, places), n, p) for n, p in enumerate(tries))
        if away < 0.5 * usual:
            piece = best
    return piece


def _joined(piece: Piece, k: int, join: Join) -> Piece:
    edges = list(piece.edges)
    edges[k] = replace(edges[k], join=join)
    return replace(piece, edges=tuple(edges))


def _round(whole: Sequence[Vec], corner: Vec, reach: float) -> list[Vec]:
    """Return places of a line, given as many points, that lie no farther than this from a corner.

    Long straight stretches are looked at every few mm.
    """
    return [p for p in _places(whole, FINE_MM) if p.distance(corner) <= reach]


def _places(whole: Sequence[Vec], step: float) -> list[Vec]:
    out = []
    for a, b in pairwise(whole):
        count = max(1, int(a.distance(b) / step))
        out += [a.lerp(b, k / count) for k in range(count)]
    return out


def _miss(piece: Piece, places: list[Vec]) -> float:
    """Return how far places of the drawn line lie from the piece's cutting line at most, mm."""
    try:
        made = cutting_line(piece).outline
    except ClothwrightError:
        return 1e9
    return float(_away(places, made).max()) if places else 0.0


def _away(places: Sequence[Vec], line: Path) -> NDArray[np.float64]:
    """Return how far each place lies from a line, mm, within a hundredth."""
    points = np.array(line.flatten(0.005))
    a, u = points[:-1], np.diff(points, axis=0)
    p = np.array(places)[:, None, :]
    along = ((p - a) * u).sum(axis=2) / np.maximum((u * u).sum(axis=1), 1e-12)
    foot = a + np.clip(along, 0.0, 1.0)[:, :, None] * u
    away: NDArray[np.float64] = np.sqrt(((p - foot) ** 2).sum(axis=2)).min(axis=1)
    return away


@lru_cache(maxsize=256)
def cutting_note(piece: Piece, drawn: Path, unit: Unit) -> str:
    """Say where a piece's cutting line leaves the one that was drawn; "" when it does not.

    An edge has one width of allowance. Where the drawn line and the stitching line are not
    parallel, the piece's own cutting line is another than the drawn one.
    """
    try:
        made = cutting_line(piece).outline
    except ClothwrightError:
        return ""
    places = _places(drawn.flatten(0.05), STEP_MM)
    away = _away(places, made)
    k = int(away.argmax())
    if away[k] <= TOLD_MM:
        return ""
    edge = min(piece.edges, key=lambda e: e.path.nearest(places[k])[1])
    return (
        f"the cutting line of these allowances lies up to {show_length(float(away[k]), unit)} off "
        f'the one that is drawn, near "{edge.name}": look at it before you cut'
    )
