"""What is sewn together and compared: the seams, and the outlines of patches on what they lie on.

Both kinds of join have a name, the half of the body, and the copies along their sides a and b.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from clothwright.geometry.transform import Transform, translation
from clothwright.lay.compiled import Compiled
from clothwright.lay.copies import Half, patch_halves
from clothwright.lay.meeting.landmarks import landmarks_of
from clothwright.lay.meeting.values import SeamMark
from clothwright.lay.result import Placement
from clothwright.lay.sewn import SeamJoin, Sewn, joins_of, laid_path, placement_move, sewn
from clothwright.pattern.patches import PatchPlace, patch_places
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import unfolded


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchJoin:
    """A patch on one half of the body. a: what it lies on; b: the patch; compared all round."""

    place: PatchPlace
    half: int
    a: tuple[Half, ...]
    b: tuple[Half, ...]

    @property
    def name(self) -> str:
        """What it is called: "pocket on front"."""
        return self.place.name

    @property
    def shapes(self) -> tuple[str, ...]:
        """The copies joined, what lies under the patch first."""
        return tuple(h.shape for h in (*self.a, *self.b))


Join = SeamJoin | PatchJoin


def joins(pattern: Pattern, compiled: Compiled, placed: Mapping[str, Placement]) -> Iterator[Join]:
    """Yield every seam and patch between pieces that are placed, for each half of the body."""
    yield from joins_of(pattern, compiled, placed)
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
    outline = unfolded(pattern.piece(join.place.piece)).outline
    at = np.linspace(0.0, outline.length, max(2, math.ceil(outline.length / step)) + 1)
    a, b = (laid_path(outline, at, move) for move in patch_moves(compiled, placed, join))
    return Sewn(at=at, a=a, b=b)


def marks_of(pattern: Pattern, join: Join) -> tuple[SeamMark, ...]:
    """Return what a maker finds a place of a join by, in order, mm on side a."""
    if isinstance(join, SeamJoin):
        return landmarks_of(pattern, join.seam, join.marks)
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
