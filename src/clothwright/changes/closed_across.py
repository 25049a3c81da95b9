"""A wedge that points beyond a piece, closed wholly across it: a facing after what it lies on.

Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from clothwright.changes.bust_cuts import SEAM_MM, bust_of
from clothwright.changes.hinge import first_met
from clothwright.changes.pivot import bust_at
from clothwright.changes.rejoin import rejoined
from clothwright.changes.slash import Opening, cut_in_two, is_inside, part_that_stays
from clothwright.changes.smooth_line import REACH_MM, drawn_fair, sharpest
from clothwright.changes.upper import laid_along
from clothwright.errors import CannotDo
from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.transform import IDENTITY, rotation_deg
from clothwright.geometry.vec import Vec, turn_between_deg
from clothwright.pattern.companions import PART
from clothwright.pattern.measure import net_at, net_length
from clothwright.pattern.pattern import Along, Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import parse_point

PLACES = 9
"""Places along an edge by which it is laid on another."""
SAME_MM, INSIDE_MM = 1e-6, 0.1
ROUNDS = 40
"""How often a width is made better until an edge is just so much shorter."""
Made = TypeVar("Made")
REACH = REACH_MM / 2
"""mm to each side of a closed wedge that its lines are drawn anew."""
FAIR_DEG = 5.0
"""degrees: a line that turns by less in one place runs fair (as over a seam)."""


def bust_for(pattern: Pattern, piece: Piece, text: str) -> Vec:
    """Return the bust point of a piece; of a facing or lining without one, that of what it lies on.

    text: "PIECE.POINT", of the piece or of what it lies on; "" for what is called bust. BadInput.
    """
    of = parse_point(text)[0] if text else ""
    if of != piece.name and (text or bust_at(piece) is None):
        for name in dict.fromkeys(a.piece for a in _ties(pattern, piece.name)):
            there = pattern.piece(name)
            if of == name or (not text and bust_at(there) is not None):
                return laid(pattern, there, piece, bust_of(there, text))
    return bust_of(piece, text)


def _ties(pattern: Pattern, piece: str) -> Iterator[Along]:
    return (of for _, of in laid_along(pattern, piece) if of.edge)


def laid(pattern: Pattern, there: Piece, piece: Piece, p: Vec) -> Vec:
    """Return where a place of a piece lies on a facing or lining that is laid on it.

    It is laid on by all edges that lie along each other whole, either way up. Raises CannotDo.
    """
    onto, one, over = [], [], []
    for a in _ties(pattern, piece.name):
        own, its = piece.edge(a.edge).path, there.edge(a.edge_of).path
        if a.piece == there.name and abs(own.length - its.length) < PART * its.length:
            for k in range(PLACES):
                share = k / (PLACES - 1)
                onto.append(own.point_at(own.length * share))
                one.append(its.point_at(its.length * share))
                over.append(_mirrored(its.point_at(its.length * (1.0 - share))))
    if not onto:
        raise CannotDo(
            what=f'where "{piece.name}" lies on "{there.name}" is not known',
            why="no edge of it lies along the whole of one there",
            nearest="a facing that is said to lie along the edge it faces",
        )
    ways = (rigid_fit(one, onto), p), (rigid_fit(over, onto), _mirrored(p))
    (move, _), place = min(ways, key=lambda way: way[0][1])
    return move.apply(place)


def _mirrored(p: Vec) -> Vec:
    return Vec(-p.x, p.y)


def lies_beyond(piece: Piece, p: Vec) -> bool:
    """Tell whether a place lies well outside a piece."""
    return not is_inside(piece.outline.flatten(0.5), p) and piece.outline.nearest(p)[1] > SEAM_MM


def across_from(piece: Piece, edge: Edge, at: float, beyond: Vec) -> tuple[Edge, float]:
    """Return by which edge, and where on it, the way from a place to a point leaves a piece.

    Places are in mm. Raises CannotDo where the way does not go into the piece.
    """
    p = edge.path.point_at(at)
    way = (beyond - p).unit
    return first_met(piece, p + way * INSIDE_MM, way)


def closed_across(piece: Piece, edge: Edge, at: float, by: float, beyond: Vec) -> Piece:
    """Return a piece that a wedge to a point beyond it is closed on, its edge `by` mm shorter.

    Raises CannotDo where the wedge has no room on both edges.
    """
    long = net_length(piece, edge.name)
    return just_by(
        by,
        lambda wide: _closed(piece, edge, (at - wide / 2, at + wide / 2), beyond),
        lambda out: long - net_length(out, edge.name),
    )


def just_by(by: float, made: Callable[[float], Made], taken: Callable[[Made], float]) -> Made:
    """Return what is made with the width that takes just `by` mm; drawn fair, it takes another.

    made: what a width, mm, makes; taken: by how many mm an edge of that is the shorter.
    """
    wide, out = by, made(by)
    for _ in range(ROUNDS):
        off = by - taken(out)
        if abs(off) < SAME_MM:
            break
        wide += off
        out = made(wide)
    return out


def _closed(piece: Piece, edge: Edge, ends: tuple[float, float], beyond: Vec) -> Piece:
    (other, high), (also, low) = (across_from(piece, edge, at, beyond) for at in ends)
    if other.name != also.name or other.name == edge.name or ends[0] < 0.0 or ends[1] > edge.length:
        raise CannotDo(
            what=f'"{piece.name}" cannot be closed across from its {edge.name} there',
            why="what is to go lies over a corner",
            nearest="a place farther from its ends, or a smaller amount",
        )
    a, b = (edge.path.point_at(at) - beyond for at in ends)
    slash = cut_in_two(piece, Opening(edge.name, *ends), Opening(other.name, *sorted((low, high))))
    turn, rests = turn_between_deg(b, a), part_that_stays(slash)
    move = rotation_deg(turn if rests == 1 else -turn, beyond)
    found = rejoined(slash, (IDENTITY, move) if rests == 0 else (move, IDENTITY))
    out = found.piece
    for then, now in zip(slash.openings, found.openings, strict=True):
        out = fair_at(out, now) if ran_fair(piece, then) else out
    return out


def ran_fair(piece: Piece, opening: Opening) -> bool:
    """Tell whether a line had no corner where it is to be closed, nor near by."""
    at, half = (opening.a + opening.b) / 2, (opening.b - opening.a) / 2
    return sharpest(piece, opening.edge, net_at(piece, opening.edge, at), half + REACH) <= FAIR_DEG


def fair_at(piece: Piece, closed: Opening) -> Piece:
    """Return a piece with a line drawn fair where it was closed."""
    at = net_at(piece, closed.edge, (closed.a + closed.b) / 2)
    return drawn_fair(piece, closed.edge, at, REACH)
