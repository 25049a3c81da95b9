"""Signs at one place: a fold pinned out, a seam let out, a line or point that lies wrong."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.changes.alike import pieces_alike
from clothwright.pattern.finding import Mend
from clothwright.pattern.pattern import Pattern
from clothwright.workroom.toile.sign import SeenAt, Sign, Ways

PINNED = "At the place itself"
CP = "common practice"
SEWN_WITH = ("plain", "closure")
"""Kinds of seam across which a level runs on to the next piece."""


def _width(sign: float) -> Ways:
    """Take out (-1) or give (+1) what was measured: at a seam half at each side of it."""

    def ways(seen: SeenAt) -> Iterator[Mend]:
        by = sign * seen.by
        if seen.kind == "level":
            pieces = level_with(seen.pattern, seen.piece.name, seen.place)
            yield Mend(change="lengthen", params={"pieces": pieces, "level": seen.place, "by": by})
        elif seen.kind == "point":
            yield Mend(change="move-edge", params={"corner": seen.ref, "by": by})
        else:
            for ref, share in _sides(seen):
                yield Mend(change="move-edge", params={"edge": ref, "by": by * share})

    return ways


def _height(direction: str) -> Ways:
    """Move an edge or a point up or down by what was measured."""

    def ways(seen: SeenAt) -> Iterator[Mend]:
        field = "edge" if seen.kind == "edge" else "corner"
        params = {field: seen.ref, "by": seen.by, "direction": direction}
        yield Mend(change="move-edge", params=params)

    return ways


def _sides(seen: SeenAt) -> Iterator[tuple[str, float]]:
    """Yield the edges that a fold pinned at an edge goes over, with the share of each."""
    seams = seen.pattern.seams_of(seen.piece.name, seen.place)
    sewn = next((s for s in seams if s.kind in SEWN_WITH), None)
    if sewn is None:
        yield seen.ref, 1.0
        return
    refs = dict.fromkeys((r.piece, r.edge) for r in (*sewn.a, *sewn.b))
    for piece, edge in sorted(refs, key=lambda r: r != (seen.piece.name, seen.place)):
        yield f"{piece}.{edge}", 0.5


def level_with(pattern: Pattern, piece: str, level: str) -> tuple[str, ...]:
    """Return the pieces that a fold along a level goes round: sewn to it, with that level too.

    Their companions (linings, facings) with that level go with them.
    """
    having = {p.name for p in pattern.pieces if any(v.name == level for v in p.levels)}
    found = [piece]
    for name in found:
        for seam in (s for s in pattern.seams if s.kind in SEWN_WITH):
            sewn = {r.piece for r in (*seam.a, *seam.b)}
            found += sorted((sewn & having) - set(found)) if name in sewn else []
    return (*found, *(n for n in pieces_alike(pattern, found) if n in having))


AT_A_PLACE: tuple[Sign, ...] = (
    Sign(
        id="pinned-out",
        group=PINNED,
        said="too much cloth, a fold was pinned out",
        measure="the whole width of the fold, pinned flat: over both sides of a seam",
        cause="it is too wide or too long here",
        correction="take the fold out of the pieces",
        source=CP,
        at=("edge", "level", "point"),
        ways=_width(-1.0),
    ),
    Sign(
        id="let-out",
        group=PINNED,
        said="too little cloth, it had to be let out",
        measure="how far it gapes when it is opened: over both sides of a seam",
        cause="it is too narrow or too short here",
        correction="give the cloth to the pieces",
        source=CP,
        at=("edge", "level", "point"),
        ways=_width(1.0),
    ),
    Sign(
        id="too-high",
        group=PINNED,
        said="it lies too high and has to come down",
        measure="how far down it has to come",
        cause="the line or point was drawn too high for this body",
        correction="lower it",
        source=CP,
        at=("edge", "point"),
        ways=_height("down"),
    ),
    Sign(
        id="too-low",
        group=PINNED,
        said="it lies too low and has to go up",
        measure="how far up it has to go",
        cause="the line or point was drawn too low for this body",
        correction="raise it",
        source=CP,
        at=("edge", "point"),
        ways=_height("up"),
    ),
)
