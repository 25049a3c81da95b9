"""What a change did in figures: lengths as sewn, allowances and darts, before and after."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

from clothwright.pattern.measure import dart_intake, net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.units import Unit
from clothwright.words import edge_name, show_length

LEAST_MM = 0.5
"""mm: less is not told."""
MOST = 4
"""Rows told of one change, those that differ most."""


class LengthNow(NamedTuple):
    """One figure. what: an edge as sewn, an allowance, a dart; before, after: in her unit."""

    what: str
    before: str
    after: str


def figures(before: Pattern, after: Pattern, unit: Unit) -> tuple[LengthNow, ...]:
    """Return what differs between two states of a pattern, the largest difference first.

    Edges are measured along the stitching line with their darts folded out. What only one of the
    states has is left out; the change's sentence tells it.
    """
    was = {p.name: p for p in before.pieces}
    rows: list[tuple[float, str, float, float]] = []
    for piece in after.pieces:
        old = was.get(piece.name)
        if old is None or old is piece:
            continue
        then = dict(_measured(old))
        for what, now in _measured(piece):
            if what in then and abs(now - then[what]) >= LEAST_MM:
                rows.append((-abs(now - then[what]), what, then[what], now))
    rows.sort(key=lambda row: row[0])
    said = (LengthNow(w, show_length(a, unit), show_length(b, unit)) for _, w, a, b in rows)
    return tuple(islice((m for m in said if m.before != m.after), MOST))


def _measured(piece: Piece) -> Iterator[tuple[str, float]]:
    """Yield every figure of a piece, mm, with what it is called."""
    for edge in piece.edges:
        yield edge_name(piece.name, edge.name), net_length(piece, edge.name)
        yield f"{edge_name(piece.name, edge.name)}, allowance", edge.allowance
    for dart in piece.darts:
        yield f"{piece.name}, {dart.name}, width", dart_intake(piece, dart)
