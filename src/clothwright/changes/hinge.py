"""Swing parts of a piece about hinges on its stitching line: what the fitting changes share.

A hinged opening of x at the distance r from the hinge is a turn of 2 asin(x / 2r); a seam line that
a cut meets only at its hinge keeps its length. Source: plane geometry. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from clothwright.changes.rejoin import Rejoined, rejoined
from clothwright.changes.slash import Opening, Slash, is_inside
from clothwright.errors import CannotDo, Said
from clothwright.geometry.intersect import crossings, line_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import Transform, rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.piece import Edge, Piece

NEAR_MM = 0.2
"""mm: a cut that meets the outline this near to its own end ends there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Swung:
    """A part of a piece between two openings: its corners inside the piece, and where it goes.

    inner: from the opening before it to the one after it, in the order in which they are listed.
    """

    inner: tuple[Vec, ...]
    move: Transform


def swung_apart(piece: Piece, openings: Sequence[Opening], parts: Sequence[Swung]) -> Rejoined:
    """Cut a piece into three or more parts, move each and join them again.

    openings: one after the other round the outline, whichever way; parts[k] lies between openings
    k and k + 1. The openings of what is returned stand in the same order. Raises CannotDo.
    """
    n = len(openings)
    ways = tuple(openings), tuple(p.inner[::-1] for p in parts)
    slash = Slash(piece=piece, openings=ways[0], inner=ways[1])
    at = slash.ranks.index(0)
    if (*slash.ranks[at:], *slash.ranks[:at]) == tuple(range(n)):
        return rejoined(slash, tuple(p.move for p in parts), bridged=True)
    back = [parts[(n - 2 - k) % n] for k in range(n)]
    slash = Slash(piece=piece, openings=ways[0][::-1], inner=tuple(p.inner for p in back))
    found = rejoined(slash, tuple(p.move for p in back), bridged=True)
    return replace(found, openings=found.openings[::-1])


def hinge_deg(opening: float, radius: float) -> float | None:
    """Return the turn that opens so much at a distance from the hinge, None where none does.

    >>> round(hinge_deg(10.0, 110.0), 2)
    5.21
    """
    if abs(opening) >= 2 * radius:
        return None
    return math.degrees(2 * math.asin(opening / (2 * radius)))


def turned_to_gain(arm: Vec, by: float, along: Vec) -> Vec | None:
    """Return an arm turned about its start so that it reaches `by` mm more along a direction.

    Square to that direction it stays on its side. None where it is too short for so much.
    """
    now, square = along.dot(arm) + by, along.perp.dot(arm)
    rest = arm.dot(arm) - now * now
    if rest < 0:
        return None
    return along * now + along.perp * math.copysign(math.sqrt(rest), square)


def apart(ends: tuple[Vec, Vec], radii: tuple[float, float], side: Vec) -> Vec | None:
    """Return the point so far (mm) from both ends, on that side of the line between them; or None.

    side: a point on the side that is meant.
    """
    chord = ends[1] - ends[0]
    along = (radii[0] ** 2 - radii[1] ** 2 + chord.dot(chord)) / (2 * chord.norm)
    rest = radii[0] ** 2 - along**2
    if rest < -(JOIN_MM**2):
        return None
    square = math.copysign(math.sqrt(max(0.0, rest)), chord.cross(side - ends[0]))
    return ends[0] + chord.unit * along + chord.unit.perp * square


def swing(hinge: Vec, arm: Vec, to: Vec) -> Transform:
    """Return the turn about a hinge that takes one arm to another."""
    return rotation_deg(turn_between_deg(arm, to), hinge)


def first_met(piece: Piece, start: Vec, way: Vec) -> tuple[Edge, float]:
    """Return the edge and the place on it, mm, that one meets first from a point inside a piece.

    Raises CannotDo where there is none: the point lies outside.
    """
    found = [
        (c.at_b, edge, c.at_a)
        for edge in piece.edges
        for c in line_crossings(edge.path, start, way)
        if c.at_b > 1.0
    ]
    if not found or not is_inside(tuple(piece.outline.flatten(0.5)), start):
        raise CannotDo(
            what=f'"{piece.name}" cannot be cut there',
            why="a point that the cut goes through lies outside the piece",
            nearest="a bust point or another pivot that lies on the piece",
        )
    _, edge, at = min(found, key=lambda f: f[0])
    return edge, at


def refuse_blocked(piece: Piece, line: Path, what: Said, but: Iterable[str] = ()) -> None:
    """Refuse a cut from inside a piece that leaves it, or runs through another dart.

    but: names of darts that are meant to be cut. Raises CannotDo.
    """
    if any(
        NEAR_MM < c.at_a < line.length - NEAR_MM for c in crossings(line, piece.outline)
    ) or not is_inside(tuple(piece.outline.flatten(0.5)), line.middle):
        raise CannotDo(
            what=what,
            why="a straight cut there would leave the piece",
            nearest="another place for the cut, one that can be seen from the point it starts at",
        )
    refuse_through_darts(piece, line, what, but)


def refuse_through_darts(piece: Piece, line: Path, what: Said, but: Iterable[str] = ()) -> None:
    """Refuse a cut that runs through a dart, those in `but` apart. Raises CannotDo."""
    skipped = set(but)
    for dart in (d for d in piece.darts if d.name not in skipped):
        path = piece.edge(dart.edge).path
        legs = polyline((path.point_at(dart.a), dart.point, path.point_at(dart.b)))
        met = [c for c in crossings(line, legs) if NEAR_MM < c.at_a < line.length - NEAR_MM]
        if met and not all(c.point.is_near(dart.point, NEAR_MM) for c in met):
            raise CannotDo(
                what=what,
                why=f'the cut would run through dart "{dart.name}"',
                nearest=f'dart "{dart.name}" moved first, or another place for the cut',
            )
