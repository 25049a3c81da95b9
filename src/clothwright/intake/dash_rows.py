"""Dashes that were drawn as short lines one by one: a row of them is the dashed line it was."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from clothwright.geometry.path import Path
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import turn_between_deg
from clothwright.intake.dashes import FEWEST, Dash, dashes_of, goes_on, headed, whole_line
from clothwright.intake.pen import ALIKE_DASHES, DrawnPen, LineRead, PenLine, alike, dashes_apart

DASH_MM = 25.0
"""mm: no dash of a row is longer."""
SURE = 8
"""Lines that are a row of dashes by themselves; fewer are one beside a row of the same dashes."""
MOSTLY = 0.7
"""Share of the dashes and gaps that are alike, and in the run of the line."""
BENT_DEG = 12.0
ASIDE_DEG = 25.0


class _Row(NamedTuple):
    """The pen of a row, and how long its dashes and gaps are, mm."""

    pen: DrawnPen
    dash: tuple[float, ...]


class _Stroke(NamedTuple):
    """Lines drawn without a break between them. dash: None when they are no dash."""

    dash: Dash | None
    read: tuple[LineRead, ...]


def with_rows(read: Sequence[LineRead]) -> tuple[LineRead, ...]:
    """Return the lines with every row of dashes as the one line that it was."""
    runs = [(run, _row(run)) for run in _runs(_strokes(read))]
    sure = [row for run, row in runs if row and len(run) >= SURE]
    out: list[LineRead] = []
    for run, row in runs:
        if row and (len(run) >= SURE or any(_is_like(row, known) for known in sure)):
            out.append(LineRead(whole_line(_dashes(run)), run[0].read[0].number))
        else:
            out += (x for stroke in run for x in stroke.read)
    return tuple(out)


def _strokes(read: Sequence[LineRead]) -> list[_Stroke]:
    """Return the lines in their order, those that run on from one another together."""
    groups: list[list[LineRead]] = []
    for x in read:
        if groups and _runs_on(groups[-1][-1].line, x.line):
            groups[-1].append(x)
        else:
            groups.append([x])
    return [_Stroke(_dash([x.line for x in g]), tuple(g)) for g in groups]


def _runs_on(a: PenLine, b: PenLine) -> bool:
    if (
        a.closed
        or b.closed
        or not alike(a.pen, b.pen)
        or a.path.end.distance(b.path.start) > JOIN_MM
    ):
        return False
    return abs(turn_between_deg(a.path.end_tangent, b.path.start_tangent)) < BENT_DEG


def _dash(lines: Sequence[PenLine]) -> Dash | None:
    first = lines[0]
    long = sum(x.path.length for x in lines)
    if first.closed or first.pen.filled or first.pen.dash or not 0.0 < long <= DASH_MM:
        return None
    path = first.path
    if len(lines) > 1:
        path = Path(tuple(s for x in lines for s in x.path.segments))
    return Dash(path, first.pen.width, first)


def _runs(strokes: Iterable[_Stroke]) -> list[list[_Stroke]]:
    runs: list[list[_Stroke]] = []
    dashes: list[Dash] = []
    for x in strokes:
        if x.dash and dashes and goes_on(dashes, x.dash):
            runs[-1].append(x)
        else:
            runs.append([x])
            dashes.clear()
        dashes += [x.dash] if x.dash else []
    return runs


def _dashes(run: Sequence[_Stroke]) -> list[Dash]:
    return [x.dash for x in run if x.dash]


def _row(run: Sequence[_Stroke]) -> _Row | None:
    """Return what short lines are drawn with that run one after the other like dashes, else None.

    They are alike in length, with gaps that are alike, each on its way to the next.
    """
    if len(run) < FEWEST:
        return None
    dashes = _dashes(run)
    paths = headed([x.path for x in dashes], one_way=True)
    known = dashes_of(paths)
    longest = max(p.length for p in paths)
    like = [any(abs(p.length - d) <= 0.15 * d + 0.2 for d in known[::2]) for p in paths]
    steps = [(a, b, b.start - a.end) for a, b in pairwise(paths)]
    even = [abs(way.norm - known[1]) <= 0.35 * known[1] + 0.2 for *_, way in steps]
    ahead = [
        way.norm <= JOIN_MM
        or max(abs(turn_between_deg(u, way)) for u in (a.end_tangent, b.start_tangent)) < ASIDE_DEG
        for a, b, way in steps
    ]
    shares = [sum(found) / len(found) for found in (like, even, ahead)]
    is_row = longest <= 1.3 * known[0] and known[1] <= 2 * known[0] and min(shares) >= MOSTLY
    return _Row(dashes[0].drawn.pen, known) if is_row else None


def _is_like(one: _Row, other: _Row) -> bool:
    return alike(one.pen, other.pen) and dashes_apart(one.dash, other.dash) <= ALIKE_DASHES
