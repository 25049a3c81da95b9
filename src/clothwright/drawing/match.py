"""Both edges of a seam laid together, straightened, with the design as it will meet there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from clothwright.cloth.cloth import Cloth
from clothwright.cloth.motions import Motions, band, ground
from clothwright.cloth.prints import Print
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
    """Return a short line wherever the seam crosses one that begins a repeat of the print.

    Every place that is like the beginning of a repeat has its own, by drops, mirror lines and half
    turns (`Motions.images`): along the cloth in a border's band by the border, elsewhere by the
    ground, a level and an upright one.
    """
    design, points = cloth.print, np.array([(p.x, p.y) for _, p in side])
    bands = [(b.span(cloth.width), band(b, design)) for b in design.borders]
    in_band = np.zeros(len(side), dtype=bool)
    found: set[tuple[int, float]] = set()
    for (low, high), motions in bands:
        inside = (low <= points[:, 1]) & (points[:, 1] <= high)
        in_band |= inside
        found |= {(0, s) for axis, s in _crossed(side, motions, design, inside) if axis == 0}
    found |= set(_crossed(side, ground(design), design, ~in_band))
    out: list[Item] = []
    for axis, s in sorted(found):
        reach = SIDE_MM * (0.6 if axis else 1.0)
        path = polyline(((0.0, s), (sign * reach, s)))
        out.append(Stroke(path=path, role=DrawnRole.MOTIF if axis else DrawnRole.LEVEL))
    return out


def _crossed(
    side: Walked, motions: Motions, design: Print, there: NDArray[np.bool_]
) -> Iterator[tuple[int, float]]:
    """Yield the axis of each line that a seam crosses, and where, mm along the seam.

    there: which places of the seam lie on what has these motions.
    """
    points = np.array([(p.x, p.y) for _, p in side])
    for place in motions.images((design.origin_along, design.origin_across)):
        off = motions.apart(points - np.asarray(place))
        for axis, period in enumerate(motions.period):
            a, b = off[:-1, axis], off[1:, axis]
            over = (a < 0) != (b < 0)
            near = np.abs(a - b) < (period or 0.0) / 2  # else it is half a repeat from the line
            for k in np.flatnonzero(over & near & there[:-1] & there[1:]).tolist():
                s = side[k][0] + (side[k + 1][0] - side[k][0]) * a[k] / (a[k] - b[k])
                yield axis, round(float(s), 6)
