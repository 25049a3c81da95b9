"""Dashes that were drawn as little filled areas, put together to the dashed line they were.

Some programs print a dashed line as one filled area for each dash. Such an area has two short ends
as long as the pen is wide and two long sides; half-way between the sides runs the line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median

from clothwright.geometry.fit import fit_curve
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Cubic, Line, Segment
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.intake.pen import PenLine

WIDEST_MM = 3.0
"""mm: a pen is no wider."""
LONGEST_MM = 60.0
"""mm: no dash is longer, nor a gap between two."""
FIT_MM = 0.02
JOINT_DEG = 4.0
CORNER_DEG = 12.0
"""Bends that are corners: within a dash or between two straight ones; between curved ones."""
FEWEST = 3
"""Dashes that make a line."""


def with_dashes(lines: Sequence[PenLine]) -> tuple[PenLine, ...]:
    """Return the lines with runs of filled dashes replaced by the lines they make, dashed."""
    out: list[PenLine] = []
    run: list[tuple[Path, float, PenLine]] = []
    for line in lines:
        hint = run[-1][1] if run else 0.0
        found = None
        if line.pen.filled and line.closed:
            found = centre_line(line.path, hint) or centre_line(line.path)
        if found is None:
            out += _ended(run)
            run = []
            out.append(line)
            continue
        if run and not _goes_on(run, found, line):
            out += _ended(run)
            run = []
        run.append((*found, line))
    return tuple(out + _ended(run))


def centre_line(area: Path, hint: float = 0.0) -> tuple[Path, float] | None:
    """Return the line along the middle of a dash and its pen's width (mm); None if it is none.

    hint: the width of the dashes before it, which tells the ends of a short dash from its sides.
    """
    segments = area.segments
    if not 4 <= len(segments) <= 60 or area.length > 2 * (LONGEST_MM + 2 * WIDEST_MM):
        return None
    best: tuple[float, float, _Sides] | None = None
    for i, j in _ends(segments, hint):
        width = (segments[i].length + segments[j].length) / 2
        sides = _Sides.of(segments[i + 1 : j], (*segments[j + 1 :], *segments[:i]), width)
        if sides is None:
            continue
        if best is None or sides.skew < best[0]:
            best = (sides.skew, width, sides)
    return None if best is None else (best[2].middle(), best[1])


def _ends(segments: Sequence[Segment], hint: float) -> list[tuple[int, int]]:
    """Return the pairs of lines that may be the two ends of a dash: short, equally long."""
    n = len(segments)
    size = {k: s.length for k, s in enumerate(segments) if isinstance(s, Line)}
    short = {k: w for k, w in size.items() if 0.02 < w < WIDEST_MM}
    if hint:
        short = {k: w for k, w in short.items() if abs(w - hint) < 0.04 * hint + 0.01}
    return [
        (i, j)
        for i in short
        for j in short
        if i + 1 < j
        and not (i == 0 and j == n - 1)
        and abs(short[i] - short[j]) < 0.03 * short[i] + 0.01
    ]


@dataclass(frozen=True, slots=True)
class _Sides:
    """The two sides of a dash, running the same way.

    turns: points of the middle line that a side names, where the pen turned a corner: the inner
    side runs to it and back out.
    """

    one: Path
    other: Path
    turns: tuple[Vec, ...]
    spans: tuple[Path, ...]
    width: float

    @classmethod
    def of(cls, one: Sequence[Segment], back: Sequence[Segment], width: float) -> _Sides | None:
        first, second = Path(tuple(one)), Path(tuple(back)).reversed()
        spans, turns = _turns(first, width)
        others, more = _turns(second, width)
        if len(more) > len(turns):
            spans, turns = others, more
        made = cls(first, second, turns, spans, width)
        inner = sum(s.length for s in spans) if turns else first.length
        outer = (second if turns and spans is not others else first).length
        if not turns:
            outer = second.length
            longer = max(inner, outer)
            if longer < width * 0.999 and longer > 0.9 * width:
                return None
        allowed = len(turns) * 4 * width + 0.1 * max(inner, outer) + 0.05
        return made if abs(inner - outer) <= allowed else None

    @property
    def skew(self) -> float:
        """How unlike the sides are: the less, the likelier the ends are the right ones."""
        inner = sum(s.length for s in self.spans) if self.turns else self.one.length
        return abs(inner - self.other.length) - len(self.turns) * self.width - inner * 1e-3

    def middle(self) -> Path:
        """The line half-way between the sides."""
        start = (self.one.start + self.other.start) / 2
        end = (self.one.end + self.other.end) / 2
        if not self.turns:
            return _between(self.one, self.other)
        knots = (start, *self.turns, end)
        parts = [_placed(s, a, b) for s, (a, b) in zip(self.spans, pairwise(knots), strict=True)]
        return Path(tuple(x for p in parts for x in p))


def _turns(side: Path, width: float) -> tuple[tuple[Path, ...], tuple[Vec, ...]]:
    """Part a side where it runs half a width in to a corner and out again."""
    spans: list[list[Segment]] = [[]]
    turns: list[Vec] = []
    todo = list(side.segments)
    while todo:
        now = todo.pop(0)
        after = todo[0] if todo else None
        half = all(
            isinstance(s, Line) and abs(s.length - width / 2) < 0.02 * width + 0.003
            for s in (now, after)
        )
        if half and after is not None and spans[-1] and len(todo) > 1 and now.end != after.end:
            turns.append(now.end)
            todo.pop(0)
            spans.append([])
        else:
            spans[-1].append(now)
    if any(not s for s in spans):
        return (side,), ()
    return tuple(Path(tuple(s)) for s in spans), tuple(turns)


def _placed(span: Path, start: Vec, end: Vec) -> tuple[Segment, ...]:
    """Return a stretch of a side moved so that it runs from start to end."""
    chord, wanted = span.end - span.start, end - start
    if chord.norm < 1e-9 or all(isinstance(s, Line) for s in span.segments):
        return (Line(start, end),)
    a = chord.dot(wanted) / chord.dot(chord)
    b = chord.cross(wanted) / chord.dot(chord)
    turn = Transform(a, b, -b, a)
    shift = start - turn.apply(span.start)
    moved = span.transformed(turn.then(Transform(e=shift.x, f=shift.y)))
    return moved.with_ends(start=start, end=end).segments


def _between(first: Path, second: Path) -> Path:
    """Return the line half-way between two sides that run alike."""
    pairs = tuple(zip(first.segments, second.segments, strict=False))
    alike = len(first.segments) == len(second.segments)
    if alike and all(type(a) is type(b) for a, b in pairs):
        made: list[Segment] = []
        for a, b in pairs:
            at = [(p + q) / 2 for p, q in zip(a.controls(), b.controls(), strict=True)]
            made.append(Line(*at) if len(at) == 2 else Cubic(*at))
        return Path(tuple(made))
    count = 8
    return polyline(
        (first.point_at(first.length * k / count) + second.point_at(second.length * k / count)) / 2
        for k in range(count + 1)
    )


def _goes_on(
    run: list[tuple[Path, float, PenLine]], found: tuple[Path, float], line: PenLine
) -> bool:
    """Tell whether a dash is the next one of a run."""
    last, width, before = run[-1]
    path = found[0]
    if (before.pen.colour, before.pen.layer) != (line.pen.colour, line.pen.layer):
        return False
    if abs(found[1] - width) > 0.15 * width + 0.02:
        return False
    gap = min(p.distance(q) for p in (last.start, last.end) for q in (path.start, path.end))
    if gap > LONGEST_MM:
        return False
    if len(run) < FEWEST:
        return gap <= 3 * max(last.length, path.length, 1.0)
    return gap <= 1.6 * _typical_gap(run) + 0.2


def _typical_gap(run: Sequence[tuple[Path, float, PenLine]]) -> float:
    return median(
        min(p.distance(q) for p in (a.start, a.end) for q in (b.start, b.end))
        for (a, _, _), (b, _, _) in pairwise(run[-9:])
    )


def _ended(run: list[tuple[Path, float, PenLine]]) -> list[PenLine]:
    """Return the line that a run of dashes makes, or the areas as they were."""
    if len(run) < FEWEST:
        return [line for _, _, line in run]
    paths = _headed([path for path, _, _ in run])
    gaps = [a.end.distance(b.start) for a, b in pairwise(paths)]
    gap = median(gaps)
    closed = len(paths) > FEWEST and paths[-1].end.distance(paths[0].start) <= 1.6 * gap + 0.2
    first = run[0][2]
    pen = replace(
        first.pen,
        width=round(median(width for _, width, _ in run), 4),
        dash=(round(median(p.length for p in paths), 2), round(gap, 2)),
        filled=False,
    )
    return [PenLine(path=_whole(paths, closed=closed), closed=closed, pen=pen)]


def _headed(paths: Sequence[Path]) -> list[Path]:
    """Turn dashes so that each goes on where the one before ends."""
    first, second = paths[0], paths[1]
    ends = (second.start, second.end)
    if min(first.start.distance(q) for q in ends) < min(first.end.distance(q) for q in ends):
        first = first.reversed()
    out = [first]
    for path in paths[1:]:
        here = out[-1].end
        out.append(
            path if here.distance(path.start) <= here.distance(path.end) else path.reversed()
        )
    return out


def _whole(paths: Sequence[Path], *, closed: bool) -> Path:
    """Return one line along all dashes, gaps bridged, with its corners."""
    points: list[Vec] = []
    corners: list[int] = []
    ring = [*paths, paths[0]] if closed else list(paths)
    for k, path in enumerate(ring):
        if k == len(paths):
            points.append(path.start)
            break
        for n, segment in enumerate(path.segments):
            if n and _bends(path.segments[n - 1], segment):
                corners.append(len(points))
            points += [segment.start, *segment.flatten(0.005)[:-1]]
        points.append(path.end)
        if k + 1 < len(ring):
            corner = _corner_between(path, ring[k + 1])
            if corner is not None:
                corners.append(len(points))
                points.append(corner)
    if closed:
        points, corners = _from_corner(points, corners)
    fitted = fit_curve(points, FIT_MM, corners=corners)
    return fitted.with_ends(end=fitted.start) if closed else fitted


def _bends(before: Segment, after: Segment) -> bool:
    return abs(turn_between_deg(before.tangent(1.0), after.tangent(0.0))) > JOINT_DEG


def _corner_between(a: Path, b: Path) -> Vec | None:
    """Return where the line turns in the gap between two dashes; None where it runs on."""
    u, v = a.end_tangent, b.start_tangent
    straight = isinstance(a.segments[-1], Line) and isinstance(b.segments[0], Line)
    if abs(turn_between_deg(u, v)) < (JOINT_DEG if straight else CORNER_DEG):
        return None
    across = u.cross(v)
    gap = b.start - a.end
    ahead, back = gap.cross(v) / across, gap.cross(u) / across
    reach = 2 * gap.norm + 0.1
    if -0.05 <= ahead <= reach and -reach <= back <= 0.05:
        return a.end + u * ahead
    return None


def _from_corner(points: list[Vec], corners: list[int]) -> tuple[list[Vec], list[int]]:
    """Let a closed line begin at its first corner."""
    if not corners:
        return points, corners
    open_ = points[:-1]
    k = corners[0]
    turned = [*open_[k:], *open_[:k], open_[k]]
    n = len(open_)
    return turned, sorted((c - k) % n for c in corners if c != k)


def straightened(path: Path) -> Path:
    """Return a line that runs there and back on itself as the one line it is."""
    if len(path.segments) == 2 and path.start.distance(path.end) < 1e-6:
        one, other = path.segments
        if isinstance(one, Line) and isinstance(other, Line):
            return Path((one,))
    return path
