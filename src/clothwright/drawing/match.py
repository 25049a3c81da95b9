"""Both edges of a seam laid together, straightened, with the design as it will meet there."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from clothwright.cloth.cloth import Cloth
from clothwright.geometry.path import polyline, rectangle
from clothwright.geometry.vec import Vec
from clothwright.lay.compiled import Compiled
from clothwright.lay.meeting.joins import joins, laid_together
from clothwright.lay.meeting.values import SeamMeeting
from clothwright.lay.result import Lay
from clothwright.pattern.pattern import Pattern
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text

STEP_MM = 2.0
"""mm between the places along a seam where it is drawn, at most."""
SIDE_MM = 60.0
"""mm of each piece shown beside the seam."""
LETTERS_MM = 9.0

Walked = Sequence[tuple[float, Vec]]


def match_picture(pattern: Pattern, compiled: Compiled, lay: Lay, met: SeamMeeting) -> Picture:
    """Return the seam as a line upwards from its start, side a on its left, side b on its right.

    Bands of a border and lines of a repeat are drawn on each side where they cross the stitching
    line, true to scale along the seam (mm), so that a step at the line is the difference itself.
    Above stands along how much of it what crosses the seam meets.
    """
    placed = {p.shape: p for p in lay.placements}
    cloth = compiled.cloth(placed[met.shapes[0]].region)
    found = joins(pattern, compiled, placed)
    join = next(j for j in found if (j.name, j.shapes) == (met.seam, met.shapes))
    both = laid_together(pattern, compiled, placed, join, step=STEP_MM)
    names = (", ".join(met.shapes[: met.a_count]), ", ".join(met.shapes[met.a_count :]))
    items: list[Item] = []
    for sign, laid, words in ((-1.0, both.a, names[0]), (1.0, both.b, names[1])):
        points = laid.points.tolist()
        side = [(s, Vec(x, y)) for s, (x, y) in zip(both.at.tolist(), points, strict=True)]
        items += _side(side, cloth, sign, words)
    items.append(Stroke(path=polyline(((0.0, 0.0), (0.0, met.length))), role=DrawnRole.STITCH))
    items += _told(met)
    return Picture(items=tuple(items), title=f"The print at the {met.seam}")


def _side(side: Walked, cloth: Cloth, sign: float, words: str) -> list[Item]:
    """Return one side of a seam, to its left (sign -1) or right (1), with its name below."""
    at, anchor = Vec(sign * 4.0, -2.2 * LETTERS_MM), "end" if sign < 0 else "start"
    return [
        Fill(path=rectangle((0.0, 0.0), (sign * SIDE_MM, side[-1][0])), role=DrawnRole.PIECE),
        *_bands(side, cloth, sign),
        *_lines(side, cloth, sign),
        Text(words=words, at=at, size=LETTERS_MM, role=DrawnRole.LABEL, anchor=anchor),
    ]


def _told(met: SeamMeeting) -> list[Item]:
    """Return the name of the seam with how much of it meets, above, and its marks on the right."""
    size = LETTERS_MM
    words = f"{met.seam}: meets along {met.share:.0%}"
    out: list[Item] = [
        Text(
            words=words,
            at=Vec(0.0, met.length + 1.8 * size),
            size=size,
            role=DrawnRole.MEASURE,
            anchor="middle",
        )
    ]
    for mark in met.marks:
        at = Vec(SIDE_MM + 4.0, mark.at - size / 3)
        out.append(Text(words=mark.name, at=at, size=size, role=DrawnRole.LABEL))
    return out


def _bands(side: Walked, cloth: Cloth, sign: float) -> list[Item]:
    """Return the sections of the seam that lie inside a border, as filled bands."""
    out: list[Item] = []
    for border in cloth.print.borders:
        low, high = border.span(cloth.width)
        start: float | None = None
        for s, p in side:
            inside = low <= p.y <= high
            if inside and start is None:
                start = s
            if start is not None and (not inside or s == side[-1][0]):
                out.append(
                    Fill(path=rectangle((0.0, start), (sign * SIDE_MM, s)), role=DrawnRole.BORDER)
                )
                start = None
    return out


def _lines(side: Walked, cloth: Cloth, sign: float) -> list[Item]:
    """Return a short line at every place where the seam crosses a line of the repeat."""
    design = cloth.print
    out: list[Item] = []
    for axis, repeat in ((0, design.repeat("along")), (1, design.repeat("across"))):
        if repeat is None:
            continue
        origin = design.origin("along" if axis == 0 else "across")
        reach = SIDE_MM if axis == 0 else SIDE_MM * 0.6
        for (s0, p0), (s1, p1) in itertools.pairwise(side):
            a, b = (p0[axis] - origin) / repeat, (p1[axis] - origin) / repeat
            if math.floor(a) == math.floor(b):
                continue
            if axis == 0 and design.repeat_along is None and not _in_a_band(p0.y, cloth):
                continue
            line = math.floor(max(a, b))
            s = s0 + (s1 - s0) * (line - a) / (b - a)
            path = polyline(((0.0, s), (sign * reach, s)))
            out.append(Stroke(path=path, role=DrawnRole.MOTIF if axis else DrawnRole.LEVEL))
    return out


def _in_a_band(y: float, cloth: Cloth) -> bool:
    """Tell whether a height on the cloth lies inside one of its borders."""
    spans = (border.span(cloth.width) for border in cloth.print.borders)
    return any(low <= y <= high for low, high in spans)
