"""Typed measurements on the page: the text, what is wrong in it, and what it draws as it stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from markupsafe import Markup

from clothwright.drawing.piece import piece_picture
from clothwright.drawing.words import CHAR
from clothwright.errors import BadInput, ClothwrightError
from clothwright.geometry.fit import arc
from clothwright.geometry.path import join_all, polyline
from clothwright.geometry.vec import Vec
from clothwright.intake.answers import Answers
from clothwright.intake.typed.pieces import piece_of
from clothwright.intake.typed.sheet import TypedPiece
from clothwright.picture.picture import Fill, Item, Picture, Role, Stroke, Text
from clothwright.units import Unit
from clothwright.web.page import Asked
from clothwright.web.svg import inline
from clothwright.workroom.pieces import typing
from clothwright.workroom.pieces.inbox import Waiting

EXAMPLE = """piece pocket
unit cm
allowance not included
A is the start
B is 18 down from A
C is 15 right of B
D is 15 right of A
hem from A to D, straight, allowance 3 cm
side from D to C, straight, allowance 1,5 cm
bottom from C to B, curve 2 cm out, allowance 1,5 cm
front from B to A, straight, allowance 1,5 cm
grain up
cut 2 shell, pair
check A to C 23,4
"""
NAME_SHARE = 0.035


def typed_context(asked: Asked, one: Waiting | None) -> Mapping[str, object] | None:
    """Return what the page shows of typed measurements; None while another file is answered."""
    if one is not None and not typing.is_notes(one):
        return None
    text, base = "", ""
    pieces: tuple[Mapping[str, object], ...] = ()
    slips: tuple[tuple[int, str], ...] = ()
    if one is not None:
        text = typing.notes_in(one)
        base = typing.digest(text)
        typed = typing.typed_of(one, asked.book.unit)
        pieces = tuple(_piece(p) for p in typed.pieces)
        slips = tuple((s.line, _bare(s.error)) for s in typed.slips)
    present = {p.name: p for p in asked.book.bought.pieces}
    return {
        "id": one.id if one else "",
        "text": text,
        "base": base,
        "pieces": pieces,
        "slips": slips,
        "state": _state(text, len(pieces), len(slips)),
        "example": EXAMPLE,
        "kept": typing.kept(asked.opened.folder, present) if one is None else (),
        "unit": asked.book.unit.plural,
    }


def _state(text: str, pieces: int, slips: int) -> str:
    if not text.strip():
        return "Nothing is typed yet."
    if slips:
        return f"{slips} {'line' if slips == 1 else 'lines'} to look at."
    return f"All lines are read; {pieces} {'piece' if pieces == 1 else 'pieces'} drawn."


def _bare(error: BadInput) -> str:
    """Return what is wrong without the line, which stands before it."""
    words = str(BadInput(what=error.what, expected=error.expected, try_=error.try_))
    return words[:1].upper() + words[1:]


def _piece(one: TypedPiece) -> Mapping[str, object]:
    picture = typed_picture(one)
    count = f"{len(one.points)} points, {len(one.paths)} edges"
    whole = "the outline is whole" if one.edges else "the outline is not whole yet"
    return {
        "name": one.name,
        "words": f"{count}; {whole}",
        "checks": tuple((c.words, c.agrees) for c in one.checks),
        "took": tuple(t[:1].upper() + t[1:] for t in one.took),
        "drawing": inline(
            picture, alt=f"{one.name} as typed: {count}; {whole}", margin=16.0, to_scale=False
        )
        if picture.items
        else Markup(""),
    }


def typed_picture(one: TypedPiece) -> Picture:
    """Return a piece as far as it goes: its lines, measured diagonals, points with their names."""
    items: list[Item] = []
    if one.edges:
        items.append(Fill(path=join_all([e.path for e in one.edges]), role=Role.PIECE))
        items += _inner(one)
    for checked in one.checks:
        ends = checked.check.ends
        if ends:
            line = polyline([one.points[p] for p in ends])
            items.append(Stroke(path=line, role=Role.DART if checked.agrees else Role.FAULT))
    items += [Stroke(path=path, role=Role.CUT, group=name) for name, path in one.paths]
    return Picture(items=(*items, *_points(one)))


def _inner(one: TypedPiece) -> list[Item]:
    """Return what lies on the outline (notches, darts, grain), drawn as on any piece."""
    answers = Answers(allowance="none") if one.included is None else Answers()
    try:
        plain = replace(one, included=False, own={}, width=0.0)
        picture = piece_picture(piece_of(plain, answers, Unit.mm), Unit.mm, words=False)
    except ClothwrightError:
        return []
    wanted = (Role.NOTCH, Role.DART, Role.GRAIN, Role.FOLD, Role.MARK)
    return [i for i in picture.items if i.role in wanted and not isinstance(i, Text)]


def _points(one: TypedPiece) -> list[Item]:
    at = list(one.points.values())
    if not at:
        return []
    low = Vec(min(p.x for p in at), min(p.y for p in at))
    high = Vec(max(p.x for p in at), max(p.y for p in at))
    size = max(NAME_SHARE * max(high.x - low.x, high.y - low.y), 6.0)
    middle, taken = (low + high) / 2, list[tuple[Vec, Vec]]()
    out: list[Item] = []
    for p in at:
        out.append(Fill(path=arc(p, size * 0.2, 0, 360), role=Role.MARK))
        taken.append((p - Vec(size, size) * 0.2, p + Vec(size, size) * 0.2))
    for name, p in one.points.items():
        box = _free(p, p - middle, Vec(CHAR * size * len(name), 0.75 * size), size, taken)
        taken.append(box)
        out.append(Text(words=name, at=box[0], size=size, role=Role.MEASURE))
    return out


def _free(
    p: Vec, away: Vec, room: Vec, size: float, taken: Sequence[tuple[Vec, Vec]]
) -> tuple[Vec, Vec]:
    """Return the box of a point's name beside it, outwards, where no other name stands."""
    sides = (1 if away.x >= 0 else -1, 1 if away.y >= 0 else -1)
    first: tuple[Vec, Vec] | None = None
    for far in (0.35, 1.4, 2.5, 3.6):
        for x, y in ((sides[0], sides[1]), (0, sides[1]), (-sides[0], sides[1]), (sides[0], 0)):
            low = Vec(
                p.x + x * size * 0.35 + room.x * (x - 1) / 2,
                p.y + y * size * far + room.y * (y - 1) / 2,
            )
            box = (low, low + room)
            first = first or box
            if not any(_meet(box, other) for other in taken):
                return box
    return first or (p, p + room)


def _meet(a: tuple[Vec, Vec], b: tuple[Vec, Vec]) -> bool:
    return a[0].x < b[1].x and b[0].x < a[1].x and a[0].y < b[1].y and b[0].y < a[1].y
