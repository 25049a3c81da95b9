"""Signs at one place: a fold pinned out, a seam let out, a line or point that lies wrong."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.changes.sharing import times_round
from clothwright.pattern.finding import Mend
from clothwright.workroom.toile.round_body import SEWN_WITH, level_with, shared_level
from clothwright.workroom.toile.sign import SeenAt, Sign, Ways
from clothwright.workroom.toile.upper import CP
from clothwright.workroom.toile.ways import hem_round, opening

PINNED = "At the place itself"


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
            yield from _at_edge(seen, by)

    return ways


def _height(direction: str) -> Ways:
    """Move an edge or a point up or down; a hem all round, an opening along its ends, first."""
    down = 1.0 if direction == "down" else -1.0

    def ways(seen: SeenAt) -> Iterator[Mend]:
        yield from hem_round(seen, down)
        yield from opening(seen, down)
        field = "edge" if seen.kind == "edge" else "corner"
        params = {field: seen.ref, "by": seen.by, "direction": direction}
        yield Mend(change="move-edge", params=params)

    return ways


def _at_edge(seen: SeenAt, by: float) -> Iterator[Mend]:
    """Yield what gives an edge `by` mm: at a seam both its sides, half each, in one change."""
    seams = seen.pattern.seams_of(seen.piece.name, seen.place)
    sewn = next((s for s in seams if s.kind in SEWN_WITH), None)
    if sewn is None:
        yield Mend(change="move-edge", params={"edge": seen.ref, "by": by})
        return
    refs = dict.fromkeys((r.piece, r.edge) for r in sewn.refs)
    edges = tuple(f"{piece}.{edge}" for piece, edge in refs)
    level = shared_level(seen.pattern, sewn)
    if not level:
        for edge in edges:
            yield Mend(change="move-edge", params={"edge": edge, "by": by / 2})
        return
    round_ = by / 2 * times_round(seen.pattern, sewn.refs, level)
    params = {"edges": edges, "by": round_, "level": level, "full": "both"}
    yield Mend(change="let-out", params=params)


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
