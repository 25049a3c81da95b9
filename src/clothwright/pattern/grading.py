"""Pieces between sizes: one size throughout, or one size here and another there, faired between."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwright.errors import BadInput
from clothwright.geometry.fit import fit_curve
from clothwright.geometry.path import Path, join_all, polyline
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.piece import Dart, Edge, Grain, Mark, Piece

FIT_MM = 0.02
"""Curves between sizes stay this near to the points that lie between."""
STEP_MM = 4.0
"""Distance of those points along an edge, at most."""
KINK_DEG = 3.0
"""A bend inside an edge that is kept as a corner."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeStation:
    """A level at which a size is wanted. at: its place in the range (SizeRange.position)."""

    level: str
    at: float


def graded(sizes: Sequence[Piece], at: float) -> Piece:
    """Return a piece at one place of its sizes (0 the first, 1 the second, 1.5 half-way on).

    sizes: the piece in each size (SizeRange.each). Every corner, notch, dart, level and mark lies
    on the straight line between its places in the two neighbouring sizes; at a whole number the
    piece is returned as drawn. Raises BadInput beyond the range.
    """
    if not 0 <= at <= len(sizes) - 1:
        raise BadInput(what=f"a place {at} in a range of {len(sizes)} sizes", expected="one inside")
    if at == int(at):
        return sizes[int(at)]
    return _mixed(sizes, lambda _: at)


def blended(sizes: Sequence[Piece], stations: Sequence[SizeStation]) -> Piece:
    """Return a piece that has one size at one level and another at another.

    Between two levels the size goes over smoothly (without a bend at either level); above the
    highest and below the lowest it stays. A level's height, square to the grain, is taken in each
    size for itself. Raises BadInput for a level the piece has not, or none at all.
    """
    if not stations:
        raise BadInput(what="no level with a size", expected="at least one")
    heights = [_heights(p) for p in sizes]
    marks = sorted(
        (_mean([h[1][s.level] for h in heights], s.level, sizes[0]), s.at) for s in stations
    )
    if len({s.at for s in stations}) == 1:
        return graded(sizes, stations[0].at)
    common = {name: sum(h[1][name] for h in heights) / len(heights) for name in heights[0][1]}

    def size_at(points: Sequence[Vec]) -> float:
        height = sum(
            _carried(up.dot(p), own, common) for p, (up, own) in zip(points, heights, strict=True)
        ) / len(points)
        return _between(height, marks)

    return _mixed(sizes, size_at)


def _mean(found: Sequence[float], level: str, piece: Piece) -> float:
    piece.level(level)
    return sum(found) / len(found)


def _heights(piece: Piece) -> tuple[Vec, dict[str, float]]:
    """Return a piece's way up and the height of each of its levels."""
    return piece.up, {lv.name: piece.up.dot(lv.at) for lv in piece.levels}


def _carried(height: float, own: dict[str, float], common: dict[str, float]) -> float:
    """Carry a height of one size over to the heights that all sizes share, level by level."""
    if not own:
        return height
    names = sorted(own, key=lambda n: own[n])
    xs, ys = [own[n] for n in names], [common[n] for n in names]
    if height <= xs[0]:
        return ys[0] + height - xs[0]
    if height >= xs[-1]:
        return ys[-1] + height - xs[-1]
    k = bisect_right(xs, height) - 1
    return ys[k] + (ys[k + 1] - ys[k]) * (height - xs[k]) / (xs[k + 1] - xs[k])


def _between(height: float, marks: Sequence[tuple[float, float]]) -> float:
    """Return the size at a height: constant outside, a smooth step from mark to mark inside."""
    if height <= marks[0][0]:
        return marks[0][1]
    for (h0, s0), (h1, s1) in pairwise(marks):
        if height <= h1:
            share = (height - h0) / (h1 - h0) if h1 > h0 else 1.0
            return s0 + (s1 - s0) * share * share * (3 - 2 * share)
    return marks[-1][1]


SizeAt = Callable[[Sequence[Vec]], float]
"""Which size a point has, given where it lies in each size."""


def _mixed(sizes: Sequence[Piece], size_at: SizeAt) -> Piece:
    def point(at: Sequence[Vec]) -> Vec:
        return _weighed(at, size_at(at))

    def measure(at: Sequence[Vec], values: Sequence[float]) -> float:
        low, share = _neighbours(size_at(at), len(values))
        return values[low] if share == 0 else values[low] * (1 - share) + values[low + 1] * share

    base = sizes[0]
    edges = tuple(
        _edge([p.edges[k] for p in sizes], size_at, measure) for k in range(len(base.edges))
    )
    edges = _closed(edges)
    of = {e.name: e for e in edges}
    return replace(
        base,
        edges=edges,
        darts=tuple(
            _dart([p.darts[k] for p in sizes], sizes, of, point) for k in range(len(base.darts))
        ),
        grain=_grain([p.grain for p in sizes if p.grain], size_at),
        levels=tuple(
            replace(lv, at=point([p.levels[k].at for p in sizes]))
            for k, lv in enumerate(base.levels)
        ),
        marks=tuple(_mark([p.marks[k] for p in sizes], size_at) for k in range(len(base.marks))),
    )


def _grain(drawn: Sequence[Grain], size_at: SizeAt) -> Grain | None:
    """Return the grain line in the size of its middle, so that it keeps its direction."""
    if not drawn:
        return None
    size = size_at([(g.start + g.end) / 2 for g in drawn])
    return Grain(
        start=_weighed([g.start for g in drawn], size), end=_weighed([g.end for g in drawn], size)
    )


def _neighbours(at: float, count: int) -> tuple[int, float]:
    """Return the lower of two neighbouring sizes and how far on the place is."""
    low = min(max(math.floor(at), 0), count - 1)
    return (low, 0.0) if low == count - 1 else (low, at - low)


def _weighed(at: Sequence[Vec], size: float) -> Vec:
    low, share = _neighbours(size, len(at))
    return at[low] if share == 0 else at[low] * (1 - share) + at[low + 1] * share


Measure = Callable[[Sequence[Vec], Sequence[float]], float]


def _edge(drawn: Sequence[Edge], size_at: SizeAt, measure: Measure) -> Edge:
    path = between_paths([e.path for e in drawn], size_at)
    middles = [e.path.point_at(e.length / 2) for e in drawn]
    notches = []
    for k, notch in enumerate(drawn[0].notches):
        on = [e.path.point_at(e.notches[k].at) for e in drawn]
        notches.append(replace(notch, at=path.nearest(_weighed(on, size_at(on)))[0]))
    return replace(
        drawn[0],
        path=path,
        allowance=measure(middles, [e.allowance for e in drawn]),
        notches=tuple(notches),
    )


def between_paths(paths: Sequence[Path], size_at: SizeAt) -> Path:
    """Return the path whose points lie between corresponding points of a path in each size (mm).

    Points correspond by their share of the length, from corner to corner within the path.
    """
    straight = all(p.is_straight for p in paths)
    ends = [size_at([p.start for p in paths]), size_at([p.end for p in paths])]
    same = abs(ends[0] - ends[1]) < 1e-9
    if same and _drawn_alike(paths):
        return _by_controls(paths, ends[0])
    if same and straight:
        return polyline(
            _weighed(at, ends[0]) for at in ([p.start for p in paths], [p.end for p in paths])
        )
    parts = [_smooth_parts(p) for p in paths]
    if len({len(p) for p in parts}) > 1:
        parts = [(p,) for p in paths]
    return join_all([_fitted(each, size_at) for each in zip(*parts, strict=True)])


def _drawn_alike(paths: Sequence[Path]) -> bool:
    kinds = [tuple(type(s) for s in p.segments) for p in paths]
    return len(set(kinds)) == 1


def _by_controls(paths: Sequence[Path], at: float) -> Path:
    """Mix curves that were drawn with the same segments in every size, point by point."""
    made: list[Segment] = []
    for each in zip(*(p.segments for p in paths), strict=True):
        points = [_weighed(at_, at) for at_ in zip(*(s.controls() for s in each), strict=True)]
        made.append(Line(*points) if len(points) == 2 else Cubic(*points))
    return Path(tuple(made))


def _smooth_parts(path: Path) -> tuple[Path, ...]:
    """Cut a path where it bends."""
    parts: list[list[Segment]] = [[path.segments[0]]]
    for before, after in pairwise(path.segments):
        bend = turn_between_deg(before.tangent(1.0), after.tangent(0.0))
        if abs(bend) > KINK_DEG:
            parts.append([])
        parts[-1].append(after)
    return tuple(Path(tuple(p)) for p in parts)


def _fitted(paths: Sequence[Path], size_at: SizeAt) -> Path:
    lengths = [p.length for p in paths]
    count = max(12, math.ceil(max(lengths) / STEP_MM))
    points = []
    for k in range(count + 1):
        at = [p.point_at(n * k / count) for p, n in zip(paths, lengths, strict=True)]
        points.append(_weighed(at, size_at(at)))
    return fit_curve(points, FIT_MM)


def _closed(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """Let every edge start exactly where the one before ends."""
    before = (edges[-1], *edges)
    return tuple(
        replace(e, path=e.path.with_ends(start=b.path.end))
        for b, e in zip(before, edges, strict=False)
    )


def _dart(
    drawn: Sequence[Dart],
    sizes: Sequence[Piece],
    of: dict[str, Edge],
    point: Callable[[Sequence[Vec]], Vec],
) -> Dart:
    path = of[drawn[0].edge].path

    def on(ats: Sequence[float]) -> float:
        own = [p.edge(d.edge).path.point_at(at) for p, d, at in zip(sizes, drawn, ats, strict=True)]
        return path.nearest(point(own))[0]

    return replace(
        drawn[0],
        a=on([d.a for d in drawn]),
        b=on([d.b for d in drawn]),
        point=point([d.point for d in drawn]),
    )


def _mark(drawn: Sequence[Mark], size_at: SizeAt) -> Mark:
    first = drawn[0]
    if first.at is not None:
        at = [m.at for m in drawn if m.at is not None]
        first = replace(first, at=_weighed(at, size_at(at)))
    if first.path is not None:
        first = replace(first, path=between_paths([m.path for m in drawn if m.path], size_at))
    return first
