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
from clothwright.geometry.tolerance import JOIN_MM
from clothwright.geometry.vec import Vec
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Mark, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.words import edge_name

STILL = 0.6
"""Share of an edge, from its far end on, that stays where it is when its other end is moved."""
FAR = 3.0
"""Times the rise: a corner under the arm is moved no farther."""
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
        was = dict(out)
        if hole:
            out |= _ends_raised(out, seam.a, rise)
        if hole and cap:
            out |= _cap_following(was, out, seam, rise)
        elif cap:
            out |= _ends_raised(out, seam.b, rise)
    return out


def _cap_following(
    was: Mapping[str, Piece], now: Mapping[str, Piece], seam: Seam, rise: float
) -> dict[str, Piece]:
    """Return the pieces of a cap raised as its armhole was; it keeps its ease.

    Each half of it, where both its ends are one corner that can be moved across, too.
    """
    halves = seam.a[:1], seam.a[1:]
    grown = [_length(now, half) - _length(was, half) for half in halves]
    if _is_one_corner(now, seam.b):
        fitted = _corner_fitted(now, seam.b, rise, grown)
        if fitted is not None:
            return fitted
    by = _rise_for(now, seam.b, _length(now, seam.b) + sum(grown), rise)
    return _ends_raised(now, seam.b, by)


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
    """Return the pieces of a side of a seam with both its ends moved on along the edges beside.

    Where both are one corner, as under the arm of a sleeve in two pieces, it is moved straight up.
    """
    out = dict(pieces)
    if _is_one_corner(pieces, side):
        return out | _corner_moved(pieces, side, pieces[side[0].piece].up * rise)
    for ref, at_start in ((side[0], True), (side[-1], False)):
        out[ref.piece] = _end_raised(out[ref.piece], ref.edge, rise, end=at_start == ref.reversed)
    return out


def _is_one_corner(pieces: Mapping[str, Piece], side: Sequence[EdgeRef]) -> bool:
    """Tell whether a run of several edges ends at the corner of the piece where it begins."""
    first, last = side[0], side[-1]
    if len(side) == 1 or first.piece != last.piece:
        return False
    start, end = (pieces[r.piece].edge(r.edge).path.ends for r in (first, last))
    return start[first.reversed].is_near(end[not last.reversed], JOIN_MM)


def _corner_moved(
    pieces: Mapping[str, Piece], side: Sequence[EdgeRef], by: Vec
) -> dict[str, Piece]:
    """Return the piece with the corner moved at which a run begins and ends, both edges bent."""
    piece, drawn = pieces[side[0].piece], dict[str, Redrawn]()
    for ref, at_end in ((side[0], side[0].reversed), (side[-1], not side[-1].reversed)):
        path = piece.edge(ref.edge).path
        line = path if at_end else path.reversed()
        new = bent(line, 0.0, line.length, by)
        place = kept if at_end else from_end(path.length, new.length)
        drawn[ref.edge] = Redrawn(new if at_end else new.reversed(), place)
    return {piece.name: redrawn(piece, drawn).piece}


def _corner_fitted(
    pieces: Mapping[str, Piece], side: Sequence[EdgeRef], rise: float, grown: Sequence[float]
) -> dict[str, Piece] | None:
    """Return the piece with that corner moved until its two edges grew by so much (mm each).

    About `rise` up, and a little across (Newton's rule, slopes over 0.1 mm). None where the edges
    are too flat for it.
    """
    up, ends = pieces[side[0].piece].up, (side[:1], side[-1:])
    wanted = [_length(pieces, end) + by for end, by in zip(ends, grown, strict=True)]

    def off(by: Vec) -> Vec:
        moved = _corner_moved(pieces, side, by)
        return Vec(*(_length(moved, end) - long for end, long in zip(ends, wanted, strict=True)))

    by = up * rise
    for _ in range(12):
        miss = off(by)
        if miss.norm < CLOSE_MM:
            return _corner_moved(pieces, side, by)
        one, two = ((off(by + way * 0.1) - miss) * 10.0 for way in (Vec(1.0, 0.0), Vec(0.0, 1.0)))
        if abs(one.cross(two)) < 1e-6 or by.norm > FAR * rise:
            break
        by -= Vec(miss.cross(two), one.cross(miss)) * (1.0 / one.cross(two))
    return None


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
    at_end = piece.rises(name)
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
