"""What lies together and is compared: seams, patches on what they lie on, and where it opens.

Every kind of join has a name, the half of the body, and the copies along their sides a and b.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from clothwright.geometry.transform import Transform, translation
from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import halves, patch_halves
from clothwright.lay.meeting.landmarks import closing_marks, landmarks_of
from clothwright.lay.meeting.values import SeamMark
from clothwright.lay.result import Placement
from clothwright.lay.sewn import (
    BothSides,
    SeamJoin,
    Sewn,
    joins_of,
    laid_path,
    placement_move,
    sewn,
)
from clothwright.pattern.closing import Closing, closes, closings
from clothwright.pattern.patches import PatchPlace, patch_places
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import unfolded


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchJoin(BothSides):
    """A patch on one half of the body. a: what it lies on; b: the patch; compared all round."""

    place: PatchPlace
    half: int

    @property
    def name(self) -> str:
        """What it is called: "pocket on front"."""
        return self.place.name


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingJoin(BothSides):
    """The line on which a left and a right piece lie on each other when the garment is closed."""

    closing: Closing
    half: int = 0

    @property
    def name(self) -> str:
        """What the line is called."""
        return self.closing.name


Join = SeamJoin | PatchJoin | ClosingJoin


def joins(pattern: Pattern, compiled: Compiled, placed: Mapping[str, Placement]) -> Iterator[Join]:
    """Yield what meets of pieces that are placed: where it opens, then every seam and patch.

    Seams and patches come for each half of the body.
    """
    opens = closings(pattern)
    for closing in opens:
        mine = halves(compiled.copies, closing.piece.name)
        if len(mine) == 2 and all(h.shape in placed for h in mine.values()):
            yield ClosingJoin(closing=closing, a=(mine[0],), b=(mine[1],))
    for join in joins_of(pattern, compiled, placed):
        if not any(closes(join.seam, c.piece) for c in opens):
            yield join
    yield from patch_joins(pattern, compiled, placed)


def patch_joins(
    pattern: Pattern, compiled: Compiled, placed: Mapping[str, Placement]
) -> Iterator[PatchJoin]:
    """Yield every patch that is placed, for each half of the body that it can be sewn on.

    One whose wrong side would be seen there is left out.
    """
    for place in patch_places(pattern):
        for half, (under, over) in patch_halves(compiled.copies, place).items():
            join = PatchJoin(place=place, half=half, a=(under,), b=(over,))
            if all(shape in placed for shape in join.shapes):
                below, above = patch_moves(compiled, placed, join)
                if below.mirrors is above.mirrors:
                    yield join


def laid_together(
    pattern: Pattern,
    compiled: Compiled,
    placed: Mapping[str, Placement],
    join: Join,
    *,
    step: float,
) -> Sewn:
    """Return both sides of a join from its start to its end, at most `step` mm apart on side a."""
    if isinstance(join, SeamJoin):
        return sewn(pattern, compiled, placed, join, step=step)
    if isinstance(join, ClosingJoin):
        line = join.closing.line
        moves = tuple(placement_move(compiled.copy(s), placed[s]) for s in join.shapes)
    else:
        line = unfolded(pattern.piece(join.place.piece)).outline
        moves = patch_moves(compiled, placed, join)
    at = np.linspace(0.0, line.length, max(2, math.ceil(line.length / step)) + 1)
    a, b = (laid_path(line, at, move) for move in moves)
    return Sewn(at=at, a=a, b=b)


def marks_of(pattern: Pattern, join: Join) -> tuple[SeamMark, ...]:
    """Return what a maker finds a place of a join by, in order, mm on side a."""
    if isinstance(join, SeamJoin):
        return landmarks_of(pattern, join.seam, join.marks)
    if isinstance(join, ClosingJoin):
        return closing_marks(join.closing)
    return tuple(_corners(unfolded(pattern.piece(join.place.piece))))


def patch_moves(
    compiled: Compiled, placed: Mapping[str, Placement], join: PatchJoin
) -> tuple[Transform, Transform]:
    """Return the moves from the patch as drawn to what lies under it, and to its own cloth."""
    (under,), (over,) = join.a, join.b
    below = placement_move(compiled.copy(under.shape), placed[under.shape], twin=under.twin)
    above = placement_move(compiled.copy(over.shape), placed[over.shape])
    return translation(join.place.move).then(below), above


def _corners(piece: Piece) -> Iterator[SeamMark]:
    """Yield the corners of a piece in order round it; the first stands at the end again."""
    at = 0.0
    for edge in (*piece.edges, piece.edges[0]):
        yield SeamMark(at=at, name=f"the {edge.corner or f'corner before {edge.name}'}")
        at += edge.length
