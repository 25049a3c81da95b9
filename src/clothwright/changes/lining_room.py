"""Room in a lining: higher under the arm, a pleat at centre back. Lengths in mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from clothwright.changes.cut_out import off_fold
from clothwright.changes.redraw import Place, Redrawn, from_end, kept, prolonged, redrawn
from clothwright.errors import CannotDo
from clothwright.geometry.intersect import line_crossings
from clothwright.geometry.path import Path, polyline
from clothwright.geometry.segment import Line
from clothwright.geometry.shift import bent, chained
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Mark, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.words import edge_name

STILL = 0.6
"""Share of an edge, from its far end on, that stays where it is when its other end is moved."""
CLOSE_MM = 1e-9
"""mm: how near the ease of a cap comes to what it was."""


def raised(pattern: Pattern, made: Mapping[str, Piece], rise: float) -> dict[str, Piece]:
    """Return linings (by their pieces) with armholes `rise` mm higher where they end under the arm.

    The seams beside them are run on as far. A cap rises by what keeps its ease.
    """
    out = dict(made)
    for seam in pattern.seams:
        if seam.kind != "cap" or rise == 0.0:
            continue
        hole, cap = (all(r.piece in out for r in side) for side in (seam.a, seam.b))
        ease = _length(out, seam.b) - _length(out, seam.a) if hole and cap else 0.0
        if hole:
            out |= _ends_raised(out, seam.a, rise)
        if cap:
            by = _rise_for(out, seam.b, _length(out, seam.a) + ease, rise) if hole else rise
            out |= _ends_raised(out, seam.b, by)
    return out


def _length(pieces: Mapping[str, Piece], side: Sequence[EdgeRef]) -> float:
    return sum(net_length(pieces[r.piece], r.edge) for r in side)


def _rise_for(
    pieces: Mapping[str, Piece], side: Sequence[EdgeRef], length: float, first: float
) -> float:
    """Return by how much both ends of a cap rise to make it so long (the secant's rule)."""
    one, two = 0.0, first
    off_one = _length(pieces, side) - length
    off_two = _length(_ends_raised(pieces, side, two), side) - length
    for _ in range(12):
        if abs(off_two) < CLOSE_MM or off_two == off_one:
            break
        one, two = two, two - off_two * (two - one) / (off_two - off_one)
        off_one, off_two = off_two, _length(_ends_raised(pieces, side, two), side) - length
    return two


def _ends_raised(
    pieces: Mapping[str, Piece], side: Sequence[EdgeRef], rise: float
) -> dict[str, Piece]:
    """Return the pieces of a side of a seam with both its ends moved on along the edges beside."""
    out = dict(pieces)
    for ref, at_start in ((side[0], True), (side[-1], False)):
        out[ref.piece] = _end_raised(out[ref.piece], ref.edge, rise, end=at_start == ref.reversed)
    return out


def _end_raised(piece: Piece, name: str, rise: float, *, end: bool) -> Piece:
    edge, beside = piece.edge(name), piece.neighbours(name)[end]
    if beside.role is Role.FOLD:
        return piece
    if end:
        longer = prolonged(beside.path.reversed(), rise).reversed()
        new = _moved(edge.path, longer.start)
        places: tuple[Place, Place] = kept, from_end(beside.length, longer.length)
    else:
        longer = prolonged(beside.path, rise)
        new = _moved(edge.path.reversed(), longer.end).reversed()
        places = from_end(edge.length, new.length), kept
    drawn = {name: Redrawn(new, places[0]), beside.name: Redrawn(longer, places[1])}
    return redrawn(piece, drawn).piece


def _moved(path: Path, end: Vec) -> Path:
    """Return a path with its end moved; its first part (`STILL`) rests."""
    low = STILL * path.length
    parts = path.between(0.0, low), bent(path, low, path.length, end - path.end)
    return chained(parts).with_ends(end=end)


def pleated(piece: Piece, name: str, depth: float, level: str) -> Piece:
    """Return a piece wider by `depth` mm at the upper end of its fold or centre edge.

    Down to the hem, or to nothing at a level; then a piece on the fold is cut as a pair with a
    centre seam. Raises CannotDo where the edge is not straight or does not come to the level.
    """
    edge = piece.edge(name)
    what = f"{edge_name(piece.name, name)} cannot have a pleat"
    if not edge.path.is_straight:
        raise CannotDo(what=what, why="it is not straight", nearest="a straight centre edge")
    at_end = piece.up.dot(edge.path.end - edge.path.start) > 0.0
    low, top = edge.path.ends if at_end else edge.path.ends[::-1]
    out = (edge.path.end - edge.path.start).unit.perp * -depth
    foot = low
    if level:
        found = line_crossings(edge.path, piece.level(level).at, piece.up.perp)
        if not found:
            raise CannotDo(what=what, why=f"it does not reach the {level} line", nearest="the hem")
        foot = found[0].point
        line = polyline((low, foot, top + out)) if foot != low else polyline((low, top + out))
    else:
        line = polyline((low + out, top + out))
    made = replace(edge, path=line if at_end else line.reversed(), notches=())
    if level and edge.role is Role.FOLD:
        made = replace(made, role=Role.CENTRE, allowance=piece.neighbours(name)[at_end].allowance)
        piece = replace(piece, cuts=tuple(off_fold(c) for c in piece.cuts))
    piece = _opened(piece, made, top, at_end=at_end)
    mark = Mark(name="pleat line", path=polyline((top, foot)), note="fold of the pleat")
    return replace(piece, marks=(*piece.marks, mark))


def _opened(piece: Piece, made: Edge, top: Vec, *, at_end: bool) -> Piece:
    """Return a piece with its centre edge moved out, a short edge above, and the hem run on."""
    sides = piece.neighbours(made.name)
    above, below = sides[at_end], sides[not at_end]
    low = made.path.start if at_end else made.path.end
    new_top = made.path.end if at_end else made.path.start
    short = Edge(
        name="pleat",
        path=polyline((new_top, top) if at_end else (top, new_top)),
        allowance=above.allowance,
        corner="" if at_end else made.corner,
    )
    old = below.path.end if at_end else below.path.start
    by = 0.0
    if not old.is_near(low, 1e-6):
        more = Path((Line(old, low),)) if at_end else Path((Line(low, old),))
        by = 0.0 if at_end else more.length
        path = below.path.joined(more) if at_end else more.joined(below.path)
        notches = tuple(replace(n, at=n.at + by) for n in below.notches)
        below = replace(below, path=path, notches=notches)
    edges: list[Edge] = []
    for e in piece.edges:
        if e.name == made.name:
            edges += [made, short] if at_end else [short, replace(made, corner="")]
        else:
            edges.append(below if e.name == below.name else e)
    darts = tuple(
        replace(d, a=d.a + by, b=d.b + by) if d.edge == below.name else d for d in piece.darts
    )
    return replace(piece, edges=tuple(edges), darts=darts)
