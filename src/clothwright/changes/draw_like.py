"""Draw edges of a lining or a facing like the edges that they lie along. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import free_name
from clothwright.changes.laid import LaidLine, line_laid
from clothwright.changes.move_edge import bent_edge
from clothwright.changes.partners import partners
from clothwright.changes.redraw import (
    Place,
    Redrawn,
    from_nearer,
    keep_fold,
    redrawn,
    refuse_crossing,
    swung_edge,
)
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import companions
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Dart, Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.units.params import param
from clothwright.words import Sentence, edge_name

SAME_MM = 1e-3
"""mm: a line that lies so near to its like is left alone."""

FAR_MM = 80.0
"""mm: a line that would move further is no like of this one; our own figure."""

STEPS = 16
"""At how many places two lines are compared."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawLike:
    """Parameters of `draw-like`."""

    edges: tuple[str, ...] = param(
        "edges", "such as the armhole of a lining", label="Which edges are drawn anew"
    )
    like: str = param(
        "edge",
        "for one edge; left out: each like the edge that its piece is known to lie along",
        default="",
        label="Like which edge",
    )


def apply(pattern: Pattern, params: DrawLike) -> Outcome:
    """Lay one piece on another and draw an edge as the other's lies there.

    Where it lies is told by all that the two have in common (`line_laid`). The allowance stays its
    own. Notches go where the other edge has those of their names; its darts come along. The edges
    beside it keep their other ends, straight ones straight, curves their directions at both ends;
    an end on a fold stays on it.

    Raises CannotDo where nothing lies along an edge, it would move by more than 8 cm, or the
    outline would cross itself; BadInput for names.
    """
    if params.like and len(params.edges) > 1:
        raise CannotDo(
            what="several edges cannot be drawn like one",
            why="each would be laid on the same place",
            nearest="one of them, or no edge named that they follow",
        )
    changed, said = pattern, list[str | float]()
    for text in params.edges:
        own = parse_edge(text)
        of = parse_edge(params.like) if params.like else _along(pattern, own)
        changed, words = _drawn(changed, own, of)
        said += [" "] * bool(said) + list(words)
    return Outcome(pattern=changed, said=(*said, *partners(pattern, changed)))


def _along(pattern: Pattern, own: EdgeRef) -> EdgeRef:
    """Return the one edge that an edge is known to lie along. Raises CannotDo."""
    pattern.edge(own)
    found = [
        EdgeRef(t.piece, t.edge_of)
        for c in companions(pattern)
        for t in c.of
        if (c.piece, t.edge) == (own.piece, own.edge)
    ]
    if len(found) == 1:
        return found[0]
    raise CannotDo(
        what=f'"{edge_name(own.piece, own.edge)}" cannot be drawn like what it lies along',
        why=f"it is known to lie along {'several edges' if found else 'no other edge'}",
        nearest="to name the edge that it follows",
    )


def _drawn(pattern: Pattern, own: EdgeRef, of: EdgeRef) -> tuple[Pattern, Sentence]:
    """Draw one edge like another; return in words what was done."""
    names = edge_name(own.piece, own.edge), edge_name(of.piece, of.edge)
    piece, other = pattern.piece(own.piece), pattern.piece(of.piece)
    edge, like = piece.edge(own.edge), other.edge(of.edge)
    what = (f'"{names[0]}" cannot be drawn like "{names[1]}"',)
    if own.piece == of.piece:
        raise CannotDo(what=what, why="both are of one piece", nearest="an edge of another piece")
    laid = line_laid(pattern, own, of)
    path = _between(piece, edge, laid.path)
    far = _apart(path, edge.path)
    if far > FAR_MM:
        raise CannotDo(
            what=what,
            why=("its line would move by ", far, ": the two pieces do not have one shape there"),
            nearest="an edge of a piece that lies on this one",
        )
    darts = tuple(_darts(piece, edge, other, like, laid))
    place = _place(edge, like, laid, path)
    kept_ = all(abs((place(n.at) or 0.0) - n.at) <= SAME_MM for n in edge.notches)
    if far <= SAME_MM and kept_ and len(darts) == len(piece.darts_on(edge.name)):
        return pattern, (f"Left {names[0]} as it is: it lies along {names[1]} already.",)
    new = _with_line(piece, edge, Redrawn(path, place), darts, what)
    said: Sentence = (f"Drew {names[0]} like {names[1]}: at the most ", far, " from where it was.")
    return pattern.with_piece(new), said


def _between(piece: Piece, edge: Edge, path: Path) -> Path:
    """Return a line that ends on the folds beside an edge, where there are any close by."""
    ends = []
    for beside, point in zip(piece.neighbours(edge.name), path.ends, strict=True):
        line = beside.path.end - beside.path.start
        on = beside.path.start + line.unit * line.unit.dot(point - beside.path.start)
        near = beside.role is Role.FOLD and on.distance(point) <= 1.0
        ends.append(on if near else point)
    return path.with_ends(*ends)


def _apart(one: Path, other: Path) -> float:
    """Return by how much two lines differ at the most, mm, each end from its end."""
    ends = [a.distance(b) for a, b in zip(one.ends, other.ends, strict=True)]
    inner = (other.nearest(one.point_at(one.length * k / STEPS))[1] for k in range(1, STEPS))
    return max(*ends, *inner)


def _place(edge: Edge, like: Edge, laid: LaidLine, path: Path) -> Place:
    """Return where the notches of an edge go: to their partners, else as far from the nearer end.

    Partners have one name; without names, one kind of which each edge has one.
    """
    nearer = from_nearer(edge.length, path.length)
    mine, theirs = ([n.name or n.kind for n in e.notches] for e in (edge, like))
    places = dict(zip(theirs, (n.at for n in like.notches), strict=True))
    known = {
        n.at: laid.path.length - places[key] if laid.flipped else places[key]
        for n, key in zip(edge.notches, mine, strict=True)
        if mine.count(key) == theirs.count(key) == 1
    }
    return lambda at: known[at] if at in known else nearer(at)


def _darts(piece: Piece, edge: Edge, other: Piece, like: Edge, laid: LaidLine) -> Iterator[Dart]:
    """Yield the darts of the edge that is followed, as this piece has them: its own names first."""
    mine = [d.name for d in piece.darts_on(edge.name)]
    taken = [d.name for d in piece.darts if d.edge != edge.name]
    theirs, long = other.darts_on(like.name), laid.path.length
    for n, d in enumerate(theirs[::-1] if laid.flipped else theirs):
        name = mine[n] if n < len(mine) else free_name((*taken, *mine), d.name)
        taken.append(name)
        a, b, pressed = d.a, d.b, d.pressed
        if laid.flipped:
            a, b = long - d.b, long - d.a
            pressed = {"start": "end", "end": "start"}.get(pressed, pressed)
        point = laid.move.apply(d.point)
        yield replace(d, name=name, edge=edge.name, a=a, b=b, point=point, pressed=pressed)


def _with_line(
    piece: Piece, edge: Edge, new: Redrawn, darts: tuple[Dart, ...], what: Sentence
) -> Piece:
    """Return the piece with an edge's line and darts, the ends of the edges beside it with it."""
    bare = replace(piece, darts=tuple(d for d in piece.darts if d.edge != edge.name))
    before, after = piece.neighbours(edge.name)
    start, end = new.path.ends
    lines = {edge.name: new}
    for beside, old, to in ((before, edge.path.start, start), (after, edge.path.end, end)):
        keep_fold(beside, to, what)
        lines[beside.name] = _ended(bare, beside, old, to, at_end=beside is before)
    bare = redrawn(bare, lines).piece
    done = replace(bare, darts=(*bare.darts, *darts))
    refuse_crossing(done, what)
    return done


def _ended(piece: Piece, beside: Edge, old: Vec, to: Vec, *, at_end: bool) -> Redrawn:
    """Return an edge whose one end moves: a curve keeps its directions, a straight line stays one.

    One whose end lies where it did is exactly as it was.
    """
    by, moves = to - old, {"end" if at_end else "start": to}
    if by.norm <= SAME_MM:
        return Redrawn(beside.path.with_ends(**moves), lambda at: at)
    if beside.path.is_straight:
        return swung_edge(piece, beside.name, **moves)
    return bent_edge(piece, beside, by, beside.length, at_end=at_end)


CHANGE = Change(
    id="draw-like",
    title="Draw an edge like the one it lies along",
    topic="facings, linings and bands",
    why="A lining's armhole that is as long as the coat's and yet hollowed another way pulls: what "
    "lies on a piece has its very line, and only its own allowance.",
    source="docs/sources.md: lengthening (a lining is altered as its piece is); plane geometry",
    params=DrawLike,
    apply=apply,
)
