"""How what goes with a front follows it over the bust: a lining as wide, a facing as long.

A lining is cut as its front is, about a point that drops as far. A facing lies beside the cut that
makes the front wider: it is cut level alone, as high as the front, and gains its length. In mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from clothwright.changes.alike import pieces_alike
from clothwright.changes.bust_cuts import bust_height, cut_below
from clothwright.changes.spread import lengthened
from clothwright.errors import CannotDo, ClothwrightError
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import LAID, companions
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.words import Sentence

LEVEL_MM = 2.0
"""mm: a marked line that passes the bust point so near goes with it."""


def longer_beside(piece: Piece, by: float | None, point: str) -> tuple[Piece, Sentence]:
    """Return a facing `by` mm longer below its bust line, and that said. CannotDo, BadInput."""
    if by is None:
        raise CannotDo(
            what=f'"{piece.name}" cannot be changed over the bust by itself',
            why="it has no armhole to turn about: it only becomes as much longer as its front does",
            nearest="to say how much longer it becomes: as much as the edge of the front beside it",
        )
    up, height = piece.up, bust_height(piece, point)
    lowest = min(up.dot(p) for p in piece.outline.flatten(1.0))
    below = cut_below(height - lowest)
    at = piece.edges[0].path.start
    cut = at + up * (height - below + max(0.0, -by) - up.dot(at))
    longer = lengthened(piece, cut, by)
    bust = at + up * (height - up.dot(at))
    said = (
        f"Made {piece.name} ", abs(by), " longer" if by > 0 else " shorter", ", cut ", below,
        " below the bust line.",
    )  # fmt: skip
    return bust_moved(piece, longer, bust, up * -by), said


def bust_moved(before: Piece, after: Piece, bust: Vec, shift: Vec) -> Piece:
    """Move marks at the bust point along, and the marked lines that pass it up or down with it.

    bust: where it was before. A line goes up or down as a whole, whichever part its place lies on.
    """
    up = before.up
    down = up * up.dot(shift)
    passes = {lv.name: lv.at for lv in before.levels if abs(up.dot(lv.at - bust)) <= LEVEL_MM}
    return replace(
        after,
        marks=tuple(
            replace(m, at=bust + shift) if m.at is not None and m.at.is_near(bust, 0.5) else m
            for m in after.marks
        ),
        levels=tuple(
            replace(lv, at=passes[lv.name] + down) if lv.name in passes else lv
            for lv in after.levels
        ),
    )


def followers(pattern: Pattern, front: str) -> Iterator[str]:
    """Yield the linings and facings that a front's change over the bust reaches.

    Those that have the bust within them: a neck facing ends above it.
    """
    for name in pieces_alike(pattern, (front,)):
        piece = pattern.piece(name)
        if any(c.piece == name and c.kind in LAID for c in companions(pattern)):
            try:
                height = bust_height(piece, "")
            except ClothwrightError:
                continue
            heights = [piece.up.dot(p) for p in piece.outline.flatten(1.0)]
            if min(heights) < height < max(heights):
                yield name
