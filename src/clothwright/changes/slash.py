"""Cut a piece into parts: where the cuts reach its outline, and what lies between them.

Plane geometry that several changes share; `rejoin` moves the parts and joins them again. Part k
lies on the outline after opening k, up to the next one. All lengths in mm along the stitching line
as drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from clothwright.geometry.area import polygon_area
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Piece, Role

BLEND_MM = 0.5
"""mm: two ends nearer than this are drawn together when parts are joined; more is refused."""


class Opening(NamedTuple):
    """Where a cut reaches the outline: a = b for a plain cut; what lies between a < b goes."""

    edge: str
    a: float
    b: float


class Stretch(NamedTuple):
    """A part of an edge that stays in one piece: from `start` to `end` mm, in part `part`."""

    edge: str
    start: float
    end: float
    part: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Slash:
    """Cuts through a piece.

    openings: in their order round the outline (counter-clockwise), two or more, the first one any.
    inner: of each part the corners inside the piece, from the end of its stretch of the outline
        back to its start.
    """

    piece: Piece
    openings: tuple[Opening, ...]
    inner: tuple[tuple[Vec, ...], ...]

    @property
    def ranks(self) -> tuple[int, ...]:
        """The numbers of the openings in the order of the edges as they are listed."""
        ways = [(self.piece.index(o.edge), o.a, o.b) for o in self.openings]
        return tuple(sorted(range(len(ways)), key=lambda k: ways[k]))


def cut_in_two(piece: Piece, first: Opening, second: Opening, inner: tuple[Vec, ...] = ()) -> Slash:
    """Return one cut from an opening through inner points to a second opening."""
    return Slash(piece=piece, openings=(first, second), inner=(inner[::-1], inner))


def stretches(slash: Slash) -> tuple[Stretch, ...]:
    """Return the stretches of the outline in the order of its edges, empty ones among them."""
    part = slash.ranks[-1]
    out: list[Stretch] = []
    for edge in slash.piece.edges:
        at = 0.0
        for k in slash.ranks:
            if slash.openings[k].edge == edge.name:
                out.append(Stretch(edge.name, at, slash.openings[k].a, part))
                part, at = k, slash.openings[k].b
        out.append(Stretch(edge.name, at, edge.length, part))
    return tuple(out)


def part_outline(slash: Slash, part: int) -> tuple[Vec, ...]:
    """Return the corners of a closed polygon (0.5 mm) round one part of a cut piece."""
    runs = stretches(slash)
    starts = [i for i, s in enumerate(runs) if s.part == part and runs[i - 1].part != part]
    turned = (*runs[starts[0] :], *runs[: starts[0]]) if starts else runs
    points: list[Vec] = []
    for run in (s for s in turned if s.part == part):
        path = slash.piece.edge(run.edge).path
        points.append(path.point_at(run.start))
        if run.end - run.start > JOIN_MM:
            points.extend(path.between(run.start, run.end).flatten(0.5))
    return (*points, *slash.inner[part])


def lips(slash: Slash) -> tuple[tuple[Vec, ...], ...]:
    """Return of each part its line along the cuts, from the end of its stretch to its start."""
    ends = [
        (slash.piece.edge(o.edge).path.point_at(o.a), slash.piece.edge(o.edge).path.point_at(o.b))
        for o in slash.openings
    ]
    after = (*ends[1:], ends[0])
    return tuple(
        (then[0], *inner, now[1]) for now, then, inner in zip(ends, after, slash.inner, strict=True)
    )


def is_inside(points: tuple[Vec, ...], p: Vec) -> bool:
    """Tell whether p lies inside a closed polygon (even number of crossings = outside)."""
    inside = False
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        if (a.y > p.y) != (b.y > p.y) and p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x):
            inside = not inside
    return inside


def part_that_stays(slash: Slash) -> int:
    """Return which part keeps its place, so that the garment hangs as before.

    The one with the whole fold edge, else the whole centre edge, else the whole grain line (the
    middle of it, if it is cut), else the larger one.
    """
    runs = stretches(slash)
    for role in (Role.FOLD, Role.CENTRE):
        names = [e.name for e in slash.piece.edges if e.role is role]
        parts = {s.part for s in runs if s.edge in names and s.end - s.start > JOIN_MM}
        if len(parts) == 1:
            return parts.pop()
    outlines = [part_outline(slash, i) for i in range(len(slash.openings))]
    grain = slash.piece.grain
    if grain is not None:
        for p in (grain.start.lerp(grain.end, 0.5), grain.start, grain.end):
            inside = [is_inside(o, p) for o in outlines]
            if inside.count(True) == 1:
                return inside.index(True)
    return max(range(len(outlines)), key=lambda k: abs(polygon_area(outlines[k])))
