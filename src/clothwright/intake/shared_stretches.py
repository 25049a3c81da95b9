"""Edges that all sizes share and one size alone draws: each size has to have them, to be whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.intake.chains import JOIN_MM, chains, hanging_together
from clothwright.intake.drawing import DrawnLine

FLAT_MM = 0.5
"""mm: how far from a curve points along it may stand, to see how far one line gets from another."""


class _Stretch(NamedTuple):
    """A part of another size's line between two lone ends. rest: what else that size draws there.

    across: whether it joins lines of ours that do not hang together. away: mm, how far the lines
    of ours that it joins get from it.
    """

    path: Path
    ends: tuple[Vec, Vec]
    rest: tuple[DrawnLine, ...]
    across: bool = False
    away: float = 0.0


def shared_stretches(own: Sequence[DrawnLine], others: Sequence[DrawnLine]) -> list[DrawnLine]:
    """Return the stretches of other sizes' lines that a size's own lines need to close.

    own: the lines of a size and of all sizes; others: those of the other sizes, mm. A stretch runs
    between two ends that nothing of ours meets. Where lines of ours run between these ends too, the
    size that draws it has two ways from one to the other, its own and the shared one: the shared
    one is what ours keep farthest from. A size with one way only draws its own. What closes
    already, as where an edge of ours runs on beyond a corner, needs none.
    """
    drawn = [x for x in own if not x.closed]
    still = set(map(id, chains(drawn)[1]))
    ends = [e for x in drawn if id(x) in still for e in x.path.ends]
    ends = [e for e in ends if _is_lone(e, own)]
    if len(ends) < 2:
        return []
    groups = hanging_together(drawn)
    found = [
        told
        for line in others
        for stretch in _stretches(line, ends)
        if not _is_drawn(stretch.path, own)
        for told in [_told(stretch, groups)]
        if told.across or _has_another_way(told, line, others)
    ]
    out: list[DrawnLine] = []
    for stretch in sorted(found, key=lambda s: (not s.across, -s.away)):
        if all(e in ends for e in stretch.ends):
            ends = [e for e in ends if e not in stretch.ends]
            out.append(DrawnLine(path=stretch.path, closed=False))
    return out


def _is_lone(end: Vec, own: Sequence[DrawnLine]) -> bool:
    """Tell whether an end, one of these lines', meets no other end and no other line."""
    near = [x for x in own if _is_near(end, x.path)]
    return sum(x.path.nearest(end)[1] <= JOIN_MM for x in near) == 1


def _is_near(place: Vec, path: Path) -> bool:
    """Tell whether a place lies in the box round a line, or as good as."""
    return path.bounds().holds(place, JOIN_MM)


def _stretches(line: DrawnLine, ends: Sequence[Vec]) -> Iterator[_Stretch]:
    """Yield the parts of a line between ends that it meets; of a closed one all the way round."""
    path = line.path
    near = [(path.nearest(e), e) for e in ends if _is_near(e, path)]
    met = sorted(((at, e) for (at, away), e in near if away <= JOIN_MM), key=lambda m: m[0])
    if len(met) < 2:
        return
    spans = [(a, b, path.between(a[0], b[0])) for a, b in pairwise(met) if b[0] - a[0] > JOIN_MM]
    outer = [
        path.between(*s)
        for s in ((met[-1][0], path.length), (0.0, met[0][0]))
        if s[1] - s[0] > 1e-6
    ]
    if line.closed and outer:
        spans.append((met[-1], met[0], outer[0].joined(outer[1]) if len(outer) > 1 else outer[0]))
        outer = []
    for k, (a, b, part) in enumerate(spans):
        rest = (*outer, *(p for n, (_, _, p) in enumerate(spans) if n != k))
        lines = tuple(DrawnLine(path=p, closed=False) for p in rest)
        yield _Stretch(part, (a[1], b[1]), lines)


def _is_drawn(path: Path, own: Sequence[DrawnLine]) -> bool:
    """Tell whether a stretch is drawn in this size, too."""
    return any(x.path.nearest(path.middle)[1] <= JOIN_MM for x in own)


def _told(stretch: _Stretch, groups: Sequence[Sequence[DrawnLine]]) -> _Stretch:
    """Return a stretch with how it lies to the lines of ours that it joins."""
    joined = [g for g in groups if any(_ends_at(g, e) for e in stretch.ends)]
    points = (p for g in joined for x in g for p in x.path.flatten(FLAT_MM))
    away = max((stretch.path.nearest(p)[1] for p in points), default=0.0)
    return stretch._replace(across=len(joined) > 1, away=away)


def _has_another_way(stretch: _Stretch, line: DrawnLine, others: Sequence[DrawnLine]) -> bool:
    """Tell whether the size that draws a stretch joins its ends without it, too.

    Or, where the line runs on beyond its own size's corner, two places with most of it between.
    """
    same = [x for x in others if x.size == line.size and x is not line and not x.closed]
    groups = hanging_together([*same, *stretch.rest])
    if any(all(_ends_at(g, e) for e in stretch.ends) for g in groups):
        return True
    return not line.closed and any(_spans(g, stretch, line.path) for g in hanging_together(same))


def _spans(lines: Sequence[DrawnLine], stretch: _Stretch, path: Path) -> bool:
    """Tell whether lines end on a path in two places that have half of a stretch between them."""
    ends = [e for x in lines for e in x.path.ends if _is_near(e, path)]
    at = [place for place, away in map(path.nearest, ends) if away <= JOIN_MM]
    if len(at) < 2:
        return False
    low, high = sorted(path.nearest(e)[0] for e in stretch.ends)
    return min(max(at), high) - max(min(at), low) > (high - low) / 2


def _ends_at(lines: Sequence[DrawnLine], place: Vec) -> bool:
    """Tell whether one of several lines ends at a place."""
    return any(place.distance(end) <= JOIN_MM for x in lines for end in x.path.ends)
