"""Landmarks of a piece: a level, a point, a name for a corner or a notch."""

from __future__ import annotations

from dataclasses import replace

from clothwright.errors import BadInput
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Level, Mark, Piece
from clothwright.pattern.trail import named_points


def with_level(piece: Piece, name: str, at: str, above: float = 0.0) -> Piece:
    """Return a piece with a level through a named point, or so many mm above it. BadInput."""
    if any(lv.name == name for lv in piece.levels):
        raise _taken(piece, name)
    place = _near(piece, at, 0.0, above)
    return replace(piece, levels=(*piece.levels, Level(name=_plain(piece, name), at=place)))


def with_point(piece: Piece, name: str, at: str, *, aside: float = 0.0, up: float = 0.0) -> Piece:
    """Return a piece with a point marked: mm from a named point, to its right and up. BadInput."""
    if name in named_points(piece):
        raise _taken(piece, name)
    mark = Mark(name=_plain(piece, name), at=_near(piece, at, aside, up))
    return replace(piece, marks=(*piece.marks, mark))


def with_corner(piece: Piece, edge: str, name: str) -> Piece:
    """Return a piece whose corner where an edge starts is called so. Raises BadInput."""
    now = piece.edge(edge)
    if name != now.corner and name in named_points(piece):
        raise _taken(piece, name)
    return piece.with_edge(replace(now, corner=_plain(piece, name)))


def with_notch(piece: Piece, edge: str, number: int, name: str) -> Piece:
    """Return a piece whose notch of an edge, counted from its start, is called so. BadInput."""
    now = piece.edge(edge)
    if not 1 <= number <= len(now.notches):
        count = len(now.notches)
        raise BadInput(
            where=f'piece "{piece.name}"',
            what=f"there is no notch {number} on its {edge}",
            expected=f"a number from 1 to {count}" if count else "an edge that has notches",
        )
    others = (n.name for k, n in enumerate(now.notches, start=1) if k != number)
    if name in others:
        raise _taken(piece, name)
    named = replace(now.notches[number - 1], name=_plain(piece, name))
    notches = (*now.notches[: number - 1], named, *now.notches[number:])
    return piece.with_edge(replace(now, notches=notches))


def _near(piece: Piece, at: str, aside: float, up: float) -> Vec:
    """Return a place beside a named point: to its right, with the grain pointing up, and up."""
    right = piece.up.perp * -1.0
    return piece.point(at) + right * aside + piece.up * up


def _plain(piece: Piece, name: str) -> str:
    plain = " ".join(name.split())
    if not plain or "." in plain:
        raise BadInput(
            where=f'piece "{piece.name}"',
            what=f'"{name}" cannot name anything',
            expected="a name without a dot",
        )
    return plain


def _taken(piece: Piece, name: str) -> BadInput:
    what = f'piece "{piece.name}" has "{name}" already'
    return BadInput(what=what, expected="another name")
