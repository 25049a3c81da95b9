"""Move an edge or a corner along a direction."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.partners import partners
from clothwright.changes.redraw import (
    Redrawn,
    from_nearer,
    keep_fold,
    prolonged,
    redrawn,
    refuse_crossing,
    swung_edge,
)
from clothwright.errors import BadInput, CannotDo, not_known
from clothwright.geometry.offset import Meeting, meeting
from clothwright.geometry.path import Path
from clothwright.geometry.shift import bent, chained
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.transform import translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import parse_edge, parse_point
from clothwright.units.params import param
from clothwright.words import Said, edge_name, point_name

LEFT_MM = 5.0
"""mm of stitching line that must be left of an edge that is cut off."""

SIDEWAYS = 0.02
"""An edge that faces across the grain by less than this share runs straight across itself."""


WAYS = {
    "out": ("outwards", "inwards"),
    "in": ("inwards", "outwards"),
    "up": ("up", "down"),
    "down": ("down", "up"),
    "across": ("across the grain", "across the grain, towards the piece"),
}
"""How a direction is said, and the opposite one, where a move is less than nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveEdge:
    """Parameters of `move-edge`; lengths in mm."""

    by: float = param("length", "how far; a minus moves the opposite way", label="By how much")
    edge: str = param("edge", "the edge to move whole", default="", label="Which edge")
    corner: str = param(
        "point", "or the corner to move, such as the underarm", default="", label="Or which corner"
    )
    direction: str = param(
        "choice",
        "",
        default="out",
        choices={
            "out": "out: square to the edge, or along the corner's middle",
            "in": "in: the other way",
            "up": "up along the grain",
            "down": "down along the grain",
            "across": "square to the grain, away from the piece",
        },
        label="Which way",
    )
    neighbours: str = param(
        "choice",
        "",
        default="run on",
        choices={
            "run on": "they are cut off, or run on straight to meet it",
            "follow": "they keep their other ends and their proportions",
        },
        label="What the edges beside it do",
    )
    reach: float | None = param(
        "length",
        "for a corner, and for edges that follow: only so much of each edge beside it is drawn "
        "anew, its bends kept; left out: all of it",
        default=None,
        least=5.0,
        label="How far along the edges beside it",
    )


def apply(pattern: Pattern, params: MoveEdge) -> Outcome:
    """Shift an edge as it is, or a corner, by `by` mm; the edges beside it follow.

    An edge keeps its shape; its notches keep their distance from its nearer end, its darts go
    with it; those of an edge beside it that is run on or cut off stay on the cloth. A corner takes
    the ends of its two edges along: straight edges stay straight, curves keep their proportions,
    darts stay.

    Raises CannotDo when the outline would cross itself, an edge beside it would be used up, or a
    fold would leave its line; BadInput unless exactly one edge or corner is named.
    """
    if bool(params.edge) == bool(params.corner):
        raise BadInput(
            what="an edge and a corner are named, or neither",
            expected="one edge, such as the side of the front, or one corner, such as its underarm",
        )
    if params.edge:
        ref = parse_edge(params.edge)
        piece, spot = pattern.piece(ref.piece), ref.edge
        index = piece.index(spot)
    else:
        name, spot = parse_point(params.corner)
        piece = pattern.piece(name)
        index = corner_numbered(piece, spot)
    where = _where(piece, index, params)
    if params.by == 0.0:
        return Outcome(pattern=pattern, said=(f"Left {where} in its place.",))
    by = _direction(piece, index, params) * params.by
    way = WAYS[params.direction][params.by < 0]
    what = (f'"{where}" cannot be moved {way} by ', abs(params.by))
    if params.corner:
        new = corner_moved(piece, index, by, what, (params.reach, params.reach))
    else:
        follow = params.neighbours == "follow"
        new = _edge_moved(piece, spot, by, what, follow=follow, reach=params.reach)
    refuse_crossing(new, what)
    changed = pattern.with_piece(new)
    said = (f"Moved {where} ", abs(params.by), f" {way}.", *partners(pattern, changed))
    return Outcome(pattern=changed, said=said)


def corner_numbered(piece: Piece, name: str) -> int:
    """Return the number of the edge that starts at a corner, by its name or "EDGE start" or "end".

    Raises BadInput.
    """
    corners = [e.corner for e in piece.edges]
    if name in corners:
        return corners.index(name)
    for i, e in enumerate(piece.edges):
        if name == f"{e.name} start":
            return i
        if name == f"{e.name} end":
            return (i + 1) % len(piece.edges)
    known = [c for c in corners if c]
    raise not_known(f'piece "{piece.name}" has no corner "{name}"', name, known)


def _where(piece: Piece, index: int, params: MoveEdge) -> str:
    """Return what is moved as it is said: a corner by its own name, whatever it was called by."""
    edge, before = piece.edges[index], piece.edges[index - 1]
    if params.edge:
        return edge_name(piece.name, edge.name)
    return point_name(piece.name, edge.corner or f"corner of {before.name} and {edge.name}")


def _direction(piece: Piece, index: int, params: MoveEdge) -> Vec:
    """The direction of travel, length 1; outward is right of the edge's way round the piece."""
    if params.direction in ("up", "down"):
        return piece.up if params.direction == "up" else -piece.up
    if params.edge:
        path = piece.edges[index].path
        out = -(path.end - path.start).unit.perp
    else:
        out = corner_outwards(piece, index)
    if params.direction == "across":
        across = piece.up.perp
        if abs(across.dot(out)) < SIDEWAYS:
            raise CannotDo(
                what=f'"{_where(piece, index, params)}" cannot be moved across the grain',
                why="it has no side that is away from the piece in that direction",
                nearest="out, in, up or down",
            )
        return across if across.dot(out) >= 0 else -across
    return out if params.direction == "out" else -out


def corner_outwards(piece: Piece, index: int) -> Vec:
    """Return the direction, length 1, that leads out of a piece along a corner's middle."""
    arriving = piece.edges[index - 1].path.end_tangent
    return (-(arriving.perp) - piece.edges[index].path.start_tangent.perp).unit


def corner_moved(
    piece: Piece, index: int, by: Vec, what: Said, reach: tuple[float | None, float | None]
) -> Piece:
    """Return the piece with a corner moved, the ends of its two edges with it.

    what: what is done, in words. reach: mm that are drawn anew of the edge before the corner, and
    of the one after it; None: all of it. Raises CannotDo.
    """
    before, after = piece.edges[index - 1], piece.edges[index]
    to = after.path.start + by
    for edge in (before, after):
        keep_fold(edge, to, what)
    first, last = reach
    new = {
        before.name: swung_edge(piece, before.name, end=to)
        if first is None
        else bent_edge(piece, before, by, first, at_end=True),
        after.name: swung_edge(piece, after.name, start=to)
        if last is None
        else bent_edge(piece, after, by, last, at_end=False),
    }
    return redrawn(piece, new).piece


def bent_edge(piece: Piece, edge: Edge, by: Vec, reach: float, *, at_end: bool) -> Redrawn:
    """Move one end of an edge, its last `reach` mm bent to it; darts stay, the bend ends there."""
    path, long = edge.path if at_end else edge.path.reversed(), edge.length
    darts = [d.b if at_end else long - d.a for d in piece.darts_on(edge.name)]
    low = max(0.0, long - reach, *darts)
    kept = [path.between(0.0, low)] if low > JOIN_MM else []
    run = path.between(low, long)
    new = chained([*kept, bent(run, 0.0, run.length, by, straight=path.is_straight and not kept)])
    scale = (new.length - low) / (long - low)

    def place(at: float) -> float:
        s = at if at_end else long - at
        now = s if s <= low else low + (s - low) * scale
        return now if at_end else new.length - now

    return Redrawn(new if at_end else new.reversed(), place)


def _edge_moved(
    piece: Piece, name: str, by: Vec, what: Said, *, follow: bool, reach: float | None
) -> Piece:
    edge = piece.edge(name)
    move = translation(by)
    path = edge.path.transformed(move)
    before, after = piece.neighbours(name)
    darts = tuple(
        replace(d, point=move.apply(d.point)) if d.edge == name else d for d in piece.darts
    )
    piece = replace(piece, darts=darts)
    if follow:
        keep_fold(before, path.start, what)
        keep_fold(after, path.end, what)
        new = {
            name: Redrawn(path, lambda at: at),
            before.name: swung_edge(piece, before.name, end=path.start)
            if reach is None
            else bent_edge(piece, before, by, reach, at_end=True),
            after.name: swung_edge(piece, after.name, start=path.end)
            if reach is None
            else bent_edge(piece, after, by, reach, at_end=False),
        }
        return redrawn(piece, new).piece
    if edge.path.is_straight and abs(edge.path.start_tangent.cross(by.unit)) < SIDEWAYS:
        raise CannotDo(
            what=what,
            why="it would only slide along itself",
            nearest="another direction, or one of its corners moved",
        )
    return _run_on(piece, edge, path, what)


def _run_on(piece: Piece, edge: Edge, path: Path, what: Said) -> Piece:
    """Meet both neighbours: whichever is too short runs on straight, whichever is too long ends."""
    before, after = piece.neighbours(edge.name)
    first = _met(before.path, path)
    back = _met(after.path.reversed(), path.reversed())
    last = back and Meeting(path.length - back.at_b, after.length - back.at_a, back.point)
    for neighbour, found, left in (
        (before, first, first.at_a if first else 0.0),
        (after, last, after.length - last.at_b if last else 0.0),
    ):
        if found is None or left < LEFT_MM:
            raise CannotDo(
                what=what,
                why=f'"{neighbour.name}" would be used up, or never meet it',
                nearest="a smaller amount, or the edges beside it following",
            )
    if first is None or last is None or last.at_a - first.at_b < LEFT_MM:
        raise CannotDo(what=what, why="nothing would be left of it", nearest="a smaller amount")
    longer, shift = last.at_a - path.length, -first.at_b
    own = prolonged(path, longer)
    own = prolonged(own.reversed(), shift).reversed().with_ends(first.point, last.point)
    gap = first.at_a - before.length
    new_before = prolonged(before.path, gap).with_ends(end=first.point)
    new_after = prolonged(after.path.reversed(), -last.at_b).reversed().with_ends(last.point)
    legs = {at for d in piece.darts_on(edge.name) for at in (d.a, d.b)}
    nearer = from_nearer(edge.length, own.length)
    new = {
        edge.name: Redrawn(own, lambda at: at + shift if at in legs else nearer(at)),
        before.name: _cut(piece, before, new_before, 0.0),
        after.name: _cut(piece, after, new_after, -last.at_b),
    }
    return redrawn(piece, new).piece


def _met(neighbour: Path, path: Path) -> Meeting | None:
    """Where a neighbour, cut off or run on, meets the moved edge's start.

    If that start lies on the neighbour's line already it is the place, even where both lines run
    along each other for a while.
    """
    at, off = neighbour.nearest(path.start)
    beyond = neighbour.end_tangent.dot(path.start - neighbour.end)
    if off <= JOIN_MM < at:
        return Meeting(at, 0.0, path.start)
    if beyond > 0 and abs(neighbour.end_tangent.cross(path.start - neighbour.end)) <= JOIN_MM:
        return Meeting(neighbour.length + beyond, 0.0, path.start)
    return meeting(neighbour, path)


def _cut(piece: Piece, edge: Edge, path: Path, shift: float) -> Redrawn:
    """A neighbour cut off or run on: what is on it stays on the cloth.

    A notch on the part that is cut off keeps its distance from that end; a dart that loses a leg
    goes.
    """
    legs = {at for d in piece.darts_on(edge.name) for at in (d.a, d.b)}
    nearer = from_nearer(edge.length, path.length)

    def place(at: float) -> float | None:
        if 0 <= at + shift <= path.length:
            return at + shift
        return None if at in legs else nearer(at)

    return Redrawn(path, place)


CHANGE = Change(
    id="move-edge",
    title="Move an edge or a corner",
    topic="edges and seams",
    why="Let out or take in one edge, lower a neckline, drop an underarm: the plain move from "
    "which the others are made.",
    source="plane geometry",
    params=MoveEdge,
    apply=apply,
)
