"""Strokes that a program turned into the areas they cover, as the lines they were.

A closed line becomes a ring (two closed lines, in one path or in two, filled or white inside), an
open one an area, a dashed one many. Each is read along its middle, where the pen went.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from clothwright.intake.dash_rows import with_rows
from clothwright.intake.dashes import FEWEST, Dash, goes_on, whole_line
from clothwright.intake.middle_line import Middle, of_area, of_ring, widest
from clothwright.intake.pen import LineRead, PenLine

LARGE_MM = 15.0
"""mm: rings smaller than this, from corner to corner, are looked for among neighbours alone."""
MOST_LARGE = 1_500
MOST_OTHERS = 800
"""After so many areas that no pen painted (letters drawn as areas) no more are looked at."""
LONE = 3.0
"""Widths of the pen: a lone area is a line when it is as long; a shorter one is a mark."""


def with_lines(lines: Sequence[PenLine], *, scale_known: bool = True) -> tuple[LineRead, ...]:
    """Return the lines (mm, or the drawing's own units) with strokes read along their middle.

    Rows of dashes, whether areas or lines, are the dashed lines they were.
    """
    rings, inner = _rings(lines, scale_known=scale_known)
    out: list[LineRead] = []
    run: list[tuple[Dash, int]] = []
    others = 0
    for k, line in enumerate(lines):
        if k in inner:
            continue
        looked = k not in rings and line.pen.filled and line.closed and others < MOST_OTHERS
        dash = _dash(line, run, scale_known=scale_known) if looked else None
        others += looked and dash is None
        if run and (dash is None or not goes_on([d for d, _ in run], dash)):
            out += _ended(run)
            run = []
        if dash is not None:
            run.append((dash, k))
        else:
            out.append(LineRead(_drawn(line, rings[k], closed=True) if k in rings else line, k))
    return with_rows(out + _ended(run))


def _dash(line: PenLine, run: Sequence[tuple[Dash, int]], *, scale_known: bool) -> Dash | None:
    most = widest(line.path, scale_known=scale_known)
    hint = run[-1][0].width if run else 0.0
    found = (of_area(line.path, most, hint) if hint else None) or of_area(line.path, most)
    return None if found is None else Dash(*found, line)


def _ended(run: Sequence[tuple[Dash, int]]) -> list[LineRead]:
    """Return the dashed line of a run of areas, or those few one by one."""
    dashes = [d for d, _ in run]
    if len(run) >= FEWEST:
        return [LineRead(whole_line(dashes), run[0][1])]
    out = []
    for dash, k in run:
        lone = dash.path.length >= LONE * dash.width
        line = _drawn(dash.drawn, Middle(dash.path, dash.width), closed=False)
        out.append(LineRead(line if lone else dash.drawn, k))
    return out


def _drawn(area: PenLine, middle: Middle, *, closed: bool) -> PenLine:
    pen = replace(area.pen, width=round(middle.width, 4), filled=False)
    return PenLine(path=middle.path, closed=closed, pen=pen)


def _rings(
    lines: Sequence[PenLine], *, scale_known: bool
) -> tuple[dict[int, Middle], frozenset[int]]:
    """Return the middles of closed strokes by the numbers of their outer sides, and the inner ones.

    From the outside in, so that of several in each other each finds its own other side.
    """
    found: dict[int, Middle] = {}
    inner: set[int] = set()
    for a, b in _pairs(lines):
        if not {a, b} & (inner | found.keys()):
            most = widest(lines[a].path, scale_known=scale_known)
            middle = of_ring(lines[a].path, lines[b].path, most)
            if middle is not None:
                found[a] = middle
                inner.add(b)
    return found, frozenset(inner)


def _pairs(lines: Sequence[PenLine]) -> Iterator[tuple[int, int]]:
    """Yield the numbers of closed areas of which one may be the hole of the other, largest first.

    The box of a hole lies inside by as much on all four sides, but for corners that stand out.
    """
    own = [k for k, x in enumerate(lines) if x.pen.filled and x.closed]
    boxes = np.array([[*low, *high] for low, high in (lines[k].path.bounds() for k in own)])
    if len(own) < 2:
        return
    size = np.hypot(*(boxes[:, 2:] - boxes[:, :2]).T)
    order = np.argsort(-size, kind="stable")
    large = order[size[order] > LARGE_MM][:MOST_LARGE]
    for i in order:
        near = large if size[i] > LARGE_MM else np.array([i - 1, i + 1])
        near = near[(near >= 0) & (near < len(own)) & (near != i)]
        room = np.hstack([boxes[near, :2] - boxes[i, :2], boxes[i, 2:] - boxes[near, 2:]])
        fits = (room > 0).all(axis=1) & (room.min(axis=1) < 0.05 * size[i])
        for j in near[fits][np.argsort(-size[near[fits]], kind="stable")][:2]:
            yield own[i], own[j]
