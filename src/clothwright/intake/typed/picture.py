"""Typed measurements drawn as far as they go: lines, measured diagonals, points with names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwright.drawing.named import bare_picture
from clothwright.drawing.words import CHAR
from clothwright.errors import ClothwrightError
from clothwright.geometry.box import Box, box_round
from clothwright.geometry.fit import arc
from clothwright.geometry.path import join_all, polyline
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import NONE, Answers
from clothwright.intake.typed.pieces import piece_of
from clothwright.intake.typed.sheet import TypedPiece
from clothwright.picture.picture import DrawnRole, Fill, Item, Picture, Stroke, Text
from clothwright.units import Unit

NAME_SHARE = 0.035
"""Size of a point's name, as a share of the drawing's longer side."""
LEAST_MM = 6.0
"""mm: the smallest name of a point."""


def typed_picture(one: TypedPiece) -> Picture:
    """Return a piece as far as it goes: its lines, measured diagonals, points with their names."""
    items: list[Item] = []
    if one.edges:
        items.append(Fill(path=join_all([e.path for e in one.edges]), role=DrawnRole.PIECE))
        items += _inner(one)
    for checked in one.checks:
        ends = checked.check.ends
        if ends:
            line = polyline([one.points[p] for p in ends])
            items.append(
                Stroke(path=line, role=DrawnRole.DART if checked.agrees else DrawnRole.FAULT)
            )
    items += [Stroke(path=path, role=DrawnRole.CUT, group=name) for name, path in one.paths]
    return Picture(items=(*items, *_points(one)))


def _inner(one: TypedPiece) -> list[Item]:
    """Return what lies on the outline (notches, darts, grain), drawn as on any piece."""
    answers = Answers(allowance=NONE) if one.included is None else Answers()
    try:
        plain = replace(one, included=False, own={}, width=0.0)
        picture = bare_picture(piece_of(plain, answers, Unit.mm))
    except ClothwrightError:
        return []
    return list(
        picture.only(
            (DrawnRole.NOTCH, DrawnRole.DART, DrawnRole.GRAIN, DrawnRole.FOLD, DrawnRole.MARK)
        ).items
    )


def _points(one: TypedPiece) -> list[Item]:
    at = list(one.points.values())
    if not at:
        return []
    whole = box_round(at)
    size = max(NAME_SHARE * max(whole.size), LEAST_MM)
    dot, middle = Vec(size, size) * 0.2, whole.middle
    out: list[Item] = [Fill(path=arc(p, dot.x, 0, 360), role=DrawnRole.MARK) for p in at]
    taken = [Box(p - dot, p + dot) for p in at]
    for name, p in one.points.items():
        box = _free(p, p - middle, Vec(CHAR * size * len(name), 0.75 * size), size, taken)
        taken.append(box)
        out.append(Text(words=name, at=box.low, size=size, role=DrawnRole.MEASURE))
    return out


def _free(p: Vec, away: Vec, room: Vec, size: float, taken: Sequence[Box]) -> Box:
    """Return the box of a point's name beside it, outwards, where no other name stands."""
    sides = (1 if away.x >= 0 else -1, 1 if away.y >= 0 else -1)
    first: Box | None = None
    for far in (0.35, 1.4, 2.5, 3.6):
        for x, y in ((sides[0], sides[1]), (0, sides[1]), (-sides[0], sides[1]), (sides[0], 0)):
            low = Vec(
                p.x + x * size * 0.35 + room.x * (x - 1) / 2,
                p.y + y * size * far + room.y * (y - 1) / 2,
            )
            box = Box(low, low + room)
            first = first or box
            if not any(box.meets(other) for other in taken):
                return box
    return first or Box(p, p + room)
