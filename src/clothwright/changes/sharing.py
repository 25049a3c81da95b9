"""What is let out all round a garment, shared over its edges: once round each layer of it.

Above a seam that runs round along the line and below it are two ways round: a dress with a waist
seam goes round the waist as bodice and as skirt. A line of an arm or a leg goes round one of them.
Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from clothwright.changes.layers import layer_of
from clothwright.pattern.girth import LIMBS
from clothwright.pattern.level_height import ON_SEAM_MM, level_height
from clothwright.pattern.parts import is_pair
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Piece
from clothwright.pattern.refs import EdgeRef


class _Round(NamedTuple):
    """How many edges and darts lie round one layer: through the line, only above or below it."""

    through: int = 0
    above: int = 0
    below: int = 0

    @property
    def most(self) -> int:
        return self.through + max(self.above, self.below)

    def share(self, by: float, way: int) -> float:
        """Return what each gets of `by`. way: 1 above the line, -1 below it, 0 through it."""
        each = by / self.most
        return (by - each * self.through) / (self.above if way > 0 else self.below) if way else each


def shares(
    pattern: Pattern,
    refs: Sequence[EdgeRef],
    darts: Sequence[tuple[Piece, Dart]],
    level: str,
    by: float,
) -> dict[str, float]:
    """Return of each piece what each of its edges and darts gets, mm."""
    ways = _ways(pattern, refs, level)
    pieces = [*(r.piece for r in refs), *(p.name for p, _ in darts)]
    rounds = _rounds(pattern, pieces, ways, level)
    return {p: rounds[layer_of(pattern, p)].share(by, way) for p, way in ways.items()}


def times_round(pattern: Pattern, refs: Sequence[EdgeRef], level: str) -> int:
    """Return how often edges of one layer are in the garment round a line."""
    ways = _ways(pattern, refs, level)
    return max(r.most for r in _rounds(pattern, [r.piece for r in refs], ways, level).values())


def _ways(pattern: Pattern, refs: Sequence[EdgeRef], level: str) -> dict[str, int]:
    """Return of each piece 1 where its edges begin at the line and go up, -1 where down, else 0."""
    found: dict[str, set[int]] = {}
    for ref in refs:
        piece = pattern.piece(ref.piece)
        at = level_height(pattern, piece, ref.edge, level)
        low, high = sorted(piece.up.dot(p) - at for p in pattern.edge(ref).path.ends)
        way = int(low >= -ON_SEAM_MM) - int(high <= ON_SEAM_MM)
        found.setdefault(ref.piece, set()).add(way)
    return {piece: ways.pop() if len(ways) == 1 else 0 for piece, ways in found.items()}


def _rounds(
    pattern: Pattern, pieces: Iterable[str], ways: dict[str, int], level: str
) -> dict[str, _Round]:
    """Return how often each layer is moved. pieces: of each edge and dart, its piece."""
    found: dict[str, _Round] = {}
    for piece in pieces:
        layer, way = layer_of(pattern, piece), ways[piece]
        n = copies(pattern.piece(piece), level)
        old = found.get(layer, _Round())
        found[layer] = _Round(
            old.through + (n if not way else 0),
            old.above + (n if way > 0 else 0),
            old.below + (n if way < 0 else 0),
        )
    return found


def copies(piece: Piece, level: str) -> int:
    """Return how often an edge of a piece is round a line: of a pair one goes round each limb."""
    pair = is_pair(piece) and level not in LIMBS
    return 2 if pair or piece.fold is not None else 1
