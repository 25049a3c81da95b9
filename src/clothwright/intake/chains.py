"""Open lines whose ends meet, joined into closed ones: always the way round the outside."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from clothwright.geometry.box import Box
from clothwright.geometry.path import Path, ring
from clothwright.geometry.region import Ring, inside
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.drawing import DrawnLine

JOIN_MM = 0.5
"""mm: ends of open lines nearer than this are taken to meet."""


MOST_CUT = 200
"""Loose lines of which it is tried whether one runs on beyond a corner."""
LARGE_MM = 60.0
"""mm: a line closed that way is no smaller, each way."""
MOST_WORK = 400_000
"""Lines looked at in one group of lines before the rest of it counts as a grid, not as pieces."""


class _Way(NamedTuple):
    """An open line between two places where ends meet, by their numbers."""

    line: DrawnLine
    a: int
    b: int


def chains(open_lines: Sequence[DrawnLine]) -> tuple[list[DrawnLine], list[DrawnLine]]:
    """Return the closed lines that open lines make, and the lines that stayed loose.

    Where more than two ends meet (a level line that ends at a corner), the outermost way is taken;
    what is left inside may close once more or stays loose. An edge that runs on beyond a corner, as
    one that several sizes share does, is cut there.
    """
    made = [x for x in open_lines if _shuts(x)]
    ways = _ways([x for x in open_lines if not _shuts(x)])
    closed = [DrawnLine(path=_shut(x.path), closed=True, label=x.label) for x in made]
    loose: list[DrawnLine] = []
    for group in _groups(ways):
        more, rest = _closed(group)
        closed += more
        loose += rest
    more, loose = _cut_short(closed, loose)
    return [*closed, *more], loose


def hanging_together(lines: Sequence[DrawnLine]) -> list[list[DrawnLine]]:
    """Return open lines in groups that hang together by ends that meet."""
    return [[w.line for w in group] for group in _groups(_ways(lines))]


def _cut_short(
    closed: Sequence[DrawnLine], loose: Sequence[DrawnLine]
) -> tuple[list[DrawnLine], list[DrawnLine]]:
    """Return the large closed lines that loose ones make where ends meet another's middle.

    And what stays loose. Lines inside a closed one are left as they are.
    """
    rings = [(x.path.bounds(), ring(x.path)) for x in closed]
    free = [x for x in loose if not _is_within(x, rings)]
    if not 2 <= len(free) <= MOST_CUT:
        return [], list(loose)
    parts = [
        (x, DrawnLine(path=p, closed=False, label=x.label)) for x in free for p in _cut(x, free)
    ]
    made: list[DrawnLine] = []
    rest: set[int] = set()
    for group in _groups(_ways([p for _, p in parts])):
        more, left = _closed(group)
        if any(min(x.path.bounds().size) >= LARGE_MM for x in more):
            made += more
            rest |= set(map(id, left))
        else:
            rest |= {id(w.line) for w in group}
    if not made:
        return [], list(loose)
    free_ids = set(map(id, free))
    out = [x for x in loose if id(x) not in free_ids]
    for line in free:
        mine = [p for x, p in parts if x is line]
        left = [p for p in mine if id(p) in rest]
        out += [line] if len(left) == len(mine) else left
    return made, out


def _cut(line: DrawnLine, others: Sequence[DrawnLine]) -> list[Path]:
    """Return a line cut where ends of others meet it, off its own ends."""
    box = line.path.bounds()
    ends = (e for x in others if x is not line for e in x.path.ends if box.holds(e, JOIN_MM))
    ats = [
        at
        for at, away in map(line.path.nearest, ends)
        if away <= JOIN_MM < at < line.path.length - JOIN_MM
    ]
    kept: list[float] = []
    for at in sorted(ats):
        if not kept or at - kept[-1] > JOIN_MM:
            kept.append(at)
    return list(line.path.split_many(kept)) if kept else [line.path]


def _is_within(line: DrawnLine, rings: Sequence[tuple[Box, Ring]]) -> bool:
    p = line.path.middle
    return any(box.holds(p) and inside(p, points) for box, points in rings)


def _closed(ways: Sequence[_Way]) -> tuple[list[DrawnLine], list[DrawnLine]]:
    """Return the closed lines and the loose ones of lines that hang together."""
    closed: list[DrawnLine] = []
    loose: list[DrawnLine] = []
    rest = list(ways)
    work = 0
    while rest:
        work += len(rest)
        if work > MOST_WORK:
            loose += [w.line for w in rest]
            break
        kept = _pruned(rest)
        on = {id(w) for w in kept}
        loose += [w.line for w in rest if id(w) not in on]
        if not kept:
            break
        loop = _loop(kept)
        used = {id(w) for w, _ in loop}
        if len(loop) < 2:
            loose += [w.line for w, _ in loop]
        else:
            closed.append(_joined(loop))
        rest = [w for w in kept if id(w) not in used]
    return closed, loose


def _groups(ways: Sequence[_Way]) -> list[list[_Way]]:
    """Return the lines in groups that hang together, in the order of their first lines."""
    at = _by_place(ways)
    seen: set[int] = set()
    groups = []
    for first in ways:
        if id(first) in seen:
            continue
        seen.add(id(first))
        group, ahead = [], [first]
        while ahead:
            w = ahead.pop()
            group.append(w)
            for other in (*at[w.a], *at[w.b]):
                if id(other) not in seen:
                    seen.add(id(other))
                    ahead.append(other)
        groups.append(group)
    return groups


def _by_place(ways: Sequence[_Way]) -> dict[int, list[_Way]]:
    at: dict[int, list[_Way]] = defaultdict(list)
    for w in ways:
        at[w.a].append(w)
        if w.b != w.a:
            at[w.b].append(w)
    return at


def _shuts(line: DrawnLine) -> bool:
    path = line.path
    return path.start.distance(path.end) <= JOIN_MM and len(path.segments) > 1


def _shut(path: Path) -> Path:
    return path.with_ends(end=path.start)


def _ways(lines: Sequence[DrawnLine]) -> list[_Way]:
    """Number the places where ends meet; ends in one cell of a grid or in a neighbour's meet."""
    places: list[Vec] = []
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)

    def place(p: Vec) -> int:
        x, y = int(p.x // JOIN_MM), int(p.y // JOIN_MM)
        near = [n for i in (-1, 0, 1) for j in (-1, 0, 1) for n in cells[x + i, y + j]]
        best = min(near, key=lambda n: places[n].distance(p), default=None)
        if best is not None and places[best].distance(p) <= JOIN_MM:
            return best
        places.append(p)
        cells[x, y].append(len(places) - 1)
        return len(places) - 1

    return [_Way(x, place(x.path.start), place(x.path.end)) for x in lines]


def _pruned(ways: Sequence[_Way]) -> list[_Way]:
    """Leave out the lines that end where nothing goes on, again and again."""
    at = _by_place(ways)
    left = {place: len(there) for place, there in at.items()}
    gone = {id(w) for w in ways if w.a == w.b}
    for w in ways:
        if w.a == w.b:
            left[w.a] -= 1
    ends = [place for place, n in left.items() if n == 1]
    while ends:
        for w in at[ends.pop()]:
            if id(w) in gone:
                continue
            gone.add(id(w))
            for place in (w.a, w.b):
                left[place] -= 1
                if left[place] == 1:
                    ends.append(place)
    return [w for w in ways if id(w) not in gone]


def _loop(ways: Sequence[_Way]) -> list[tuple[_Way, Path]]:
    """Return the way round the outside, counter-clockwise, from the lowest line on.

    At every place the sharpest turn to the right is taken. When the way comes back to a place it
    has passed, the part from there on is returned.
    """
    at = _by_place(ways)
    first, here, path = _lowest(ways, at)
    out = [(first, path)]
    passed = {first.a if here == first.b else first.b: 0}
    while here not in passed:
        passed[here] = len(passed)
        back = out[-1][0]
        options = [_from(w, here) for w in at[here] if w is not back]
        if not options:
            return out
        u = out[-1][1].end_tangent
        way, here, path = min(options, key=lambda o: turn_between_deg(u, o[2].start_tangent))
        out.append((way, path))
    return out[passed[here] :]


def _lowest(ways: Sequence[_Way], at: Mapping[int, Sequence[_Way]]) -> tuple[_Way, int, Path]:
    """Return the line to begin with, where it leads to, and it as it is travelled.

    At its lowest point it runs to the right. Where lines meet there, it is the rightmost of them.
    """
    low = min(ways, key=lambda w: w.line.path.bounds().low.y)
    path = low.line.path
    points = path.flatten(0.5)
    k = min(range(len(points)), key=lambda i: points[i].y)
    if 0 < k < len(points) - 1:
        return _from(low, low.a if points[k + 1].x >= points[k - 1].x else low.b)
    place = low.a if k == 0 else low.b
    tries = [_from(w, place) for w in at[place]]
    down = Vec(0.0, -1.0)
    return min(tries, key=lambda o: turn_between_deg(down, o[2].start_tangent) % 360.0)


def _from(way: _Way, place: int) -> tuple[_Way, int, Path]:
    """Return a line, where it leads to from one of its places, and it as it is travelled."""
    if way.a == place:
        return way, way.b, way.line.path
    return way, way.a, way.line.path.reversed()


def _joined(loop: Sequence[tuple[_Way, Path]]) -> DrawnLine:
    path = loop[0][1]
    for _, part in loop[1:]:
        path = path.joined(part.with_ends(start=path.end))
    label = next((w.line.label for w, _ in loop if w.line.label), "")
    return DrawnLine(path=_shut(path), closed=True, label=label)
