"""Patches: pieces that are sewn flat on another, where a line marked on it shows their outline."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Mark, Piece

NEAR_MM = 1.0
"""mm: a patch lies where a line is marked when its corners come so near to the line."""
JOINING = ("plain", "cap")
"""Kinds of seam that hold a piece by its edge; such a piece is no patch."""


def held_by_seams(pattern: Pattern) -> set[str]:
    """Return the pieces that a seam holds by an edge."""
    return {name for s in pattern.seams if s.kind in JOINING for name in s.pieces}


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchPlace:
    """A patch at a line marked on another piece.

    piece lies on `on`; point: its corner that lies on the line's start. move: from the patch as
    drawn to its place on the other piece as drawn, mm. nth: which place of the same patch it is,
    from 0.
    """

    piece: str
    on: str
    mark: str
    point: str
    move: Vec
    nth: int = 0

    @property
    def name(self) -> str:
        """What it is called: "pocket on front"."""
        return f"{self.piece} on {self.on}"

    @property
    def on_point(self) -> str:
        """The point of the other piece that the corner lies on."""
        return f"{self.mark} start"


def patch_places(pattern: Pattern) -> Iterator[PatchPlace]:
    """Yield each place marked for each piece that no seam holds by an edge."""
    held = held_by_seams(pattern)
    marked = [(p, m) for p in pattern.pieces for m in p.marks if m.path is not None]
    for patch in (p for p in pattern.pieces if p.name not in held):
        found = 0
        for onto, mark in marked:
            corner = _corner_on(patch, onto, mark) if onto is not patch else None
            if corner is not None:
                yield PatchPlace(
                    piece=patch.name,
                    on=onto.name,
                    mark=mark.name,
                    point=corner[0],
                    move=corner[1],
                    nth=found,
                )
                found += 1


def _corner_on(patch: Piece, onto: Piece, mark: Mark) -> tuple[str, Vec] | None:
    """Return the corner of a patch that lies on the start of a marked line, and its move there.

    The patch lies with its grain along the other's, and all its corners on the line.
    """
    line = mark.path
    if line is None or abs(patch.up.cross(onto.up)) > 1e-3 or patch.up.dot(onto.up) < 0:
        return None
    low, high = line.bounds()
    corners = {e.corner or f"{e.name} start": e.path.start for e in patch.edges}
    for name, corner in corners.items():
        move = line.start - corner
        there = [c + move for c in corners.values()]
        inside = all(
            low.x - NEAR_MM <= c.x <= high.x + NEAR_MM
            and low.y - NEAR_MM <= c.y <= high.y + NEAR_MM
            for c in there
        )
        if inside and all(line.nearest(c)[1] <= NEAR_MM for c in there):
            return name, move
    return None
