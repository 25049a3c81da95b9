"""Levels, points, corners and notches named as they are typed: "hip=hem start + 20 cm"."""

from __future__ import annotations

from collections.abc import Sequence

from clothwright.errors import BadInput
from clothwright.units import is_count
from clothwright.words import with_lengths
from clothwright.workroom.editing.edit import Edit
from clothwright.workroom.editing.edits.names import AddLevel, AddPoint, NameCorner, NameNotch
from clothwright.workroom.editing.edits.whole import as_one
from clothwright.workroom.editing.opened import OpenBook, Result


def level_said(piece: str, text: str) -> Edit:
    """Read "NAME=POINT" or "NAME=POINT, LENGTH above". Raises BadInput."""
    name, rest = _equal(text, "--level", "hip=hem start, 20 cm")
    at, above = (*(part.strip() for part in rest.split(",")), "")[:2]
    return AddLevel(piece=piece, name=name, at=at, above=above)


def point_said(piece: str, text: str) -> Edit:
    """Read "NAME=POINT" or "NAME=POINT, LENGTH to the right, LENGTH up". Raises BadInput."""
    name, rest = _equal(text, "--point", "bust point=neck point, 2 cm, -26 cm")
    at, right, up = (*(part.strip() for part in rest.split(",")), "", "")[:3]
    return AddPoint(piece=piece, name=name, at=at, right=right, up=up)


def corner_said(piece: str, text: str) -> Edit:
    """Read "NAME=EDGE", the edge that starts there. Raises BadInput."""
    name, edge = _equal(text, "--corner", "underarm=armhole")
    return NameCorner(piece=piece, edge=edge, name=name)


def notch_said(piece: str, text: str) -> Edit:
    """Read "NAME=EDGE NUMBER". Raises BadInput."""
    name, rest = _equal(text, "--notch", "waist=side 2")
    edge, _, number = rest.rpartition(" ")
    if not edge or not is_count(number):
        raise _wrong(text, "--notch", "waist=side 2")
    return NameNotch(piece=piece, edge=edge.strip(), notch=int(number), name=name)


def name_all(book: OpenBook, edits: Sequence[Edit], base: int) -> Result:
    """Make several of them as one step, against revision `base`. Raises BadInput, CannotDo."""
    return book.edit(as_one(edits), base=base)


def _equal(text: str, option: str, example: str) -> tuple[str, str]:
    name, equals, rest = (part.strip() for part in text.partition("="))
    if not equals or not name or not rest:
        raise _wrong(text, option, example)
    return name, rest


def _wrong(text: str, option: str, example: str) -> BadInput:
    what = f'"{text}" does not say what is called so'
    return BadInput(where=option, what=what, expected=with_lengths(f'such as "{example}"'))
