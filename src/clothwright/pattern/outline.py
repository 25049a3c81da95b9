"""From stitching line to cutting line: an allowance per edge, corners as the trade turns them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from clothwright.geometry.intersect import crossings, meet
from clothwright.geometry.offset import parallel, trim_or_extend
from clothwright.geometry.path import Path, join_all
from clothwright.geometry.segment import Line
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Edge, Join, Piece, Role

MITRE_RATIO = 1.0
"""A mitred corner is cut off at this many times the larger allowance from the corner."""
ON_HEM_MM = 0.01
"""mm: an allowance that ends this near to its own image in the hem line ends on that line."""
RUNS_ON = 0.05
"""Sine of the angle up to which an edge runs on into the hem beside it: nothing is folded there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutEdge:
    """The part of the cutting line that belongs to one edge, from corner to corner."""

    name: str
    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingLine:
    """The closed cutting line, in the order of the piece's edges."""

    edges: tuple[CutEdge, ...]

    @property
    def outline(self) -> Path:
        """The whole closed path."""
        return join_all([e.path for e in self.edges])

    def edge(self, name: str) -> Path:
        """Return the part that belongs to a named edge."""
        return next(e.path for e in self.edges if e.name == name)


@lru_cache(maxsize=4096)
def cutting_line(piece: Piece) -> CuttingLine:
    """Return the cutting line of a piece (mm), derived from its stitching line.

    Length of each part = stitching length + allowance x turning angle on a convex run, minus on a
    concave one (plane geometry), before the corners are joined.
    """
    edges = piece.edges
    offs = [parallel(e.path, e.allowance) for e in edges]
    for i in range(len(edges)):
        h = i - 1
        offs[h], offs[i] = _join(edges[h], edges[i], offs[h], offs[i])
    return CuttingLine(
        edges=tuple(CutEdge(name=e.name, path=p) for e, p in zip(edges, offs, strict=True))
    )


def _join(before: Edge, after: Edge, a: Path, b: Path) -> tuple[Path, Path]:
    """Make cutting line a end where b starts, as the corner at the start of `after` asks."""
    join = after.join
    if join is Join.FOLDED and Role.HEM in (before.role, after.role):
        return _folded(before, after, a, b)
    if join is Join.SQUARED_BEFORE and before.allowance > 0:
        return _squared(before, a, b)
    if join is Join.SQUARED_AFTER and after.allowance > 0:
        return _squared_reversed(after, a, b)
    if join is Join.MITRED:
        limit = MITRE_RATIO * max(before.allowance, after.allowance)
        return trim_or_extend(a, b, limit=limit)
    return trim_or_extend(a, b)


def _squared(before: Edge, a: Path, b: Path) -> tuple[Path, Path]:
    """End a's allowance square to its stitching line, where that line run on meets b."""
    corner, along = before.path.end, before.path.end_tangent
    q = _line_to(b, corner, along)
    if q is None:
        return trim_or_extend(a, b)
    at, point, rest = q
    outward = -along.perp
    r = point + outward * before.allowance
    longer = a.joined(Path((Line(a.end, r),))) if not a.end.is_near(r, JOIN_MM) else a
    if (r - a.end).dot(along) < -JOIN_MM:  # b lies short of the corner: trim a instead
        return trim_or_extend(a, b)
    return longer.joined(Path((Line(r, point),))), rest if at >= 0 else b


def _squared_reversed(after: Edge, a: Path, b: Path) -> tuple[Path, Path]:
    """Do the same for the edge after the corner, seen in a mirror."""
    mirror = reflection((0.0, 0.0), (0.0, 1.0))
    flipped = Edge(
        name=after.name,
        path=after.path.reversed().transformed(mirror),
        allowance=after.allowance,
    )
    fb, fa = b.reversed().transformed(mirror), a.reversed().transformed(mirror)
    out_b, out_a = _squared(flipped, fb, fa)
    return out_a.transformed(mirror).reversed(), out_b.transformed(mirror).reversed()


def _line_to(path: Path, p: Vec, u: Vec) -> tuple[float, Vec, Path] | None:
    """Where the line p + t u (t >= 0) meets a path or its run-on start; the path from there on."""
    far = 10 * (path.length + p.distance(path.start) + 1)
    probe = Path((Line(p, p + u * far),))
    found = sorted(crossings(probe, path), key=lambda c: c.at_a)
    if found:
        at = found[0].at_b
        if at < JOIN_MM:
            return 0.0, path.start, path
        if at > path.length - JOIN_MM:
            return None
        rest = path.split_at(at)[1]
        return at, rest.start, rest
    t = path.start_tangent
    point = meet(p, u, path.start, t)
    if point is None or (point - p).dot(u) < 0:
        return None
    return 0.0, point, Path((Line(point, path.start), *path.segments))


def _folded(before: Edge, after: Edge, a: Path, b: Path) -> tuple[Path, Path]:
    """Mirror the neighbour's cutting line in the hem line, down to the hem's depth."""
    if after.role is Role.HEM and before.role is not Role.HEM:
        return _folded_into_hem(before, after, a, b)
    mirror = reflection((0.0, 0.0), (0.0, 1.0))

    def seen(e: Edge) -> Edge:
        return Edge(
            name=e.name,
            path=e.path.reversed().transformed(mirror),
            role=e.role,
            allowance=e.allowance,
        )

    fa, fb = a.reversed().transformed(mirror), b.reversed().transformed(mirror)
    out_b, out_a = _folded_into_hem(seen(after), seen(before), fb, fa)
    return out_a.transformed(mirror).reversed(), out_b.transformed(mirror).reversed()


def _folded_into_hem(side: Edge, hem: Edge, a: Path, b: Path) -> tuple[Path, Path]:
    if hem.allowance <= 0:
        return trim_or_extend(a, b)
    corner, along = hem.path.start, hem.path.start_tangent
    if abs(along.cross(side.path.end_tangent)) < RUNS_ON:
        return trim_or_extend(a, b)
    far = 4 * (side.allowance + hem.allowance) + 10
    hem_line = Path((Line(corner - along * far, corner + along * far),))
    above = _until(a, hem_line)
    folded = above.transformed(reflection(corner, corner + along)).reversed()
    if above.end.distance(folded.start) > ON_HEM_MM:  # it never comes to the hem line
        return trim_or_extend(a, b)
    folded = folded.with_ends(start=above.end)
    found = sorted(crossings(folded, b), key=lambda c: c.at_a)
    reach = min(folded.length, 3 * hem.allowance)
    usable = [c for c in found if c.at_a <= reach]
    if usable:
        c = usable[0]
        down = folded.between(0.0, max(c.at_a, 10 * JOIN_MM))
        rest = b.split_at(c.at_b)[1] if JOIN_MM < c.at_b < b.length - JOIN_MM else b
        return above.joined(down).with_ends(end=rest.start), rest
    folded = folded.between(0.0, min(folded.length, hem.allowance))
    down, rest = trim_or_extend(folded, b)
    return above.joined(down), rest


def _until(path: Path, line: Path) -> Path:
    """Return the path up to its last crossing with a line, run on straight if it falls short."""
    found = sorted(crossings(path, line), key=lambda c: c.at_a)
    if found and found[-1].at_a > JOIN_MM:
        at = found[-1].at_a
        return path.split_at(at)[0] if at < path.length - JOIN_MM else path
    u = path.end_tangent
    point = meet(path.end, u, line.start, (line.end - line.start).unit)
    if point is None or (point - path.end).dot(u) < 0:
        return path
    return path.joined(Path((Line(path.end, point),)))
