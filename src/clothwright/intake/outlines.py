"""Which lines of a drawing go round a piece, which lie inside one, which are left out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from clothwright.geometry.area import polygon_area
from clothwright.geometry.box import Box, box_round
from clothwright.geometry.path import Path, ring
from clothwright.geometry.region import all_inside, contains, grown, inside
from clothwright.intake.chains import chains
from clothwright.intake.dart_lines import REACH_MM, corners_of_dart, opened
from clothwright.intake.drawing import DrawnLine
from clothwright.intake.specks import unspecked

SMALL_MM2 = 400.0
"""mm2: closed lines with less area (marks, holes, letters) are no pieces."""
MOST_MARKS = 200
"""More inner lines than this in one piece are a shading, not marks."""


NESTED = "left out, large closed lines inside another outline"


class Found(NamedTuple):
    """Outlines, the largest first, counter-clockwise; other lines; what was done, in words.

    nested: large closed lines inside each outline (another size, a stitching line), largest first.
    """

    outlines: tuple[DrawnLine, ...]
    others: tuple[DrawnLine, ...]
    notes: tuple[str, ...]
    nested: tuple[tuple[DrawnLine, ...], ...] = ()


def outlines(lines: Sequence[DrawnLine]) -> Found:
    """Sort lines (mm) into closed outlines that may be pieces and all others.

    Open lines whose ends meet are joined. Large closed lines inside another (another size, the
    stitching line inside the cutting line, a copy) are left out and told.
    """
    drawn = [x for x in lines if not x.closed]
    joined, loose = chains(drawn)
    notes = [f"outlines joined from open lines: {len(joined)}"] if joined else []
    over = len(loose)
    whole = set(map(id, drawn))
    loose = [x for x in loose if id(x) in whole]
    if over > len(loose):
        notes.append(f"edges that run on beyond a corner, cut off there: {over - len(loose)}")
    sized = [
        (abs(polygon_area(ring(x.path))), x) for x in (*(x for x in lines if x.closed), *joined)
    ]
    small = [x for area, x in sized if area < SMALL_MM2]
    darts: list[DrawnLine] = []
    kept: list[DrawnLine] = []
    rings: list[_Ring] = []
    nested: list[list[DrawnLine]] = []
    for _, line in sorted((s for s in sized if s[0] >= SMALL_MM2), key=lambda s: -s[0]):
        dart = _as_dart(kept, line)
        if dart is not None:
            darts.append(dart)
            continue
        mine = _ringed(line.path)
        around = next((n for n, k in enumerate(rings) if _holds(k, mine)), None)
        if around is not None:
            nested[around].append(turned(line))
        else:
            kept.append(turned(line))
            rings.append(mine)
            nested.append([])
    within = sum(map(len, nested))
    if within:
        notes.append(f"{NESTED}: {within}")
    others = (*loose, *small, *darts)
    return Found(tuple(kept), others, tuple(notes), tuple(tuple(n) for n in nested))


def _as_dart(kept: Sequence[DrawnLine], line: DrawnLine) -> DrawnLine | None:
    """Return a closed triangle with its mouth along the edge of a larger line as a dart's legs."""
    if len(line.path.segments) != 3:
        return None
    for outline in kept:
        corners = corners_of_dart(outline.path, line)
        if corners and inside(corners[1], ring(outline.path)):
            return opened(line, corners)
    return None


class _Ring(NamedTuple):
    """A polygon and the box around it."""

    points: list[tuple[float, float]]
    box: Box


def _ringed(path: Path) -> _Ring:
    points = ring(path)
    return _Ring(points, box_round(points))


def _holds(outer: _Ring, inner: _Ring) -> bool:
    """Tell whether a polygon lies inside another, within 0.01 mm; boxes first, they are quick."""
    return outer.box.holds(inner.box, 0.1) and contains(outer.points, inner.points, tol=0.01)


def shared_out(found: Found) -> tuple[tuple[tuple[DrawnLine, ...], ...], tuple[DrawnLine, ...]]:
    """Return the other lines that lie inside each outline, and those that lie in none.

    One that lies in none and leads out over an outline by `REACH_MM` at most is in that.
    """
    groups = [line.path.flatten(0.5) for line in found.others]
    free = list(range(len(groups)))
    within: list[list[int]] = [[] for _ in found.outlines]
    for reach in (0.0, REACH_MM):
        for outline, mine in zip(found.outlines, within, strict=True):
            near = [i for i in free if not reach or _has_middle(outline, found.others[i])]
            if not near:
                continue
            room = grown(ring(outline.path), reach) if reach else ring(outline.path)
            held = all_inside([groups[i] for i in near], room)
            mine += [i for i, yes in zip(near, held, strict=True) if yes]
            taken = set(mine)
            free = [i for i in free if i not in taken]
    inside_each = tuple(tuple(found.others[i] for i in sorted(mine)) for mine in within)
    return inside_each, tuple(found.others[i] for i in free)


def _has_middle(outline: DrawnLine, line: DrawnLine) -> bool:
    """Tell whether the middle of a line lies inside an outline."""
    p = line.path.middle
    return outline.path.bounds().holds(p) and inside(p, ring(outline.path))


def turned(line: DrawnLine) -> DrawnLine:
    """Return a closed line counter-clockwise, its end exactly on its start, without specks."""
    path = unspecked(line.path) or line.path
    if path.start.distance(path.end) > 1e-9:
        path = path.with_ends(end=path.start)
    if polygon_area(ring(path)) < 0:
        path = path.reversed()
    return DrawnLine(path=path, closed=True, label=line.label, kind=line.kind)
