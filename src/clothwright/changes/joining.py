"""Lay one piece on another along a seam and make them one: edges, notches, darts, marks.

All lengths in mm along stitching lines.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clothwright.changes.darts import free_name
from clothwright.errors import CannotDo
from clothwright.geometry.rigid import rigid_fit
from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import turn_between_deg
from clothwright.pattern.middle import GRAIN_DEG, to_yarns_deg
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Dart, Edge, Mark, Piece, Role, signed_area
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.whole import moved
from clothwright.words import edge_name

APART_MM = 0.5
"""mm: two edges that lie on each other as near as this are one line."""
STRAIGHT_DEG = 1.0
"""Degrees: two folds that turn by less than this are one fold."""
STATIONS = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOn:
    """Two pieces to be joined: `stays` keeps its place, `comes` is laid on it. turned: over.

    edge, other: of the two, along which they meet.
    """

    stays: Piece
    edge: str
    comes: Piece
    other: str
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class OnePiece:
    """The one piece. names: of each old piece and edge what it is now; "" along the seam."""

    piece: Piece
    names: Mapping[tuple[str, str], str]


def laid_on(pattern: Pattern, seam: Seam) -> LaidOn:
    """Return both pieces of a seam as they lie when it is closed flat. Raises CannotDo.

    The piece on the fold stays, else the larger one.
    """
    a, b = sorted(_single(pattern, seam), key=lambda r: _hold(pattern.piece(r.piece)), reverse=True)
    stays, comes = pattern.piece(a.piece), pattern.piece(b.piece)
    turned = a.reversed == b.reversed
    if turned:
        comes = moved(comes, reflection((0.0, 0.0), (0.0, 1.0)))
    one, two = stays.edge(a.edge).path, comes.edge(b.edge).path.reversed()
    onto = [one.point_at(one.length * k / STATIONS) for k in range(STATIONS + 1)]
    lie = [two.point_at(two.length * k / STATIONS) for k in range(STATIONS + 1)]
    move = rigid_fit(lie, onto)[0]
    off = max(move.apply(p).distance(q) for p, q in zip(lie, onto, strict=True))
    if off > APART_MM:
        raise CannotDo(
            what=f'"{a.piece}" and "{b.piece}" cannot become one piece',
            why=("laid on each other, the two edges are up to ", off, " apart"),
            nearest="a seam of two edges of one shape; a dart for what they differ by",
        )
    return LaidOn(stays=stays, edge=a.edge, comes=moved(comes, move), other=b.edge, turned=turned)


def _hold(piece: Piece) -> tuple[bool, float]:
    """Return how much a piece holds the grain of the whole: on the fold first, then by its size."""
    return piece.fold is not None, abs(signed_area(piece))


def tilted_deg(pair: LaidOn) -> float:
    """Return how far the grain of the piece that comes leans once it is laid on, in degrees.

    0 where it leans by no more than the eye sees, or runs the other way.
    """
    lean = abs(to_yarns_deg(pair.stays.up, pair.comes.up, 180.0))
    return lean if lean > GRAIN_DEG else 0.0


def _single(pattern: Pattern, seam: Seam) -> tuple[EdgeRef, EdgeRef]:
    """Return the seam's two edges. Raises CannotDo unless they can lie on each other whole."""
    what = f'the two sides of the seam "{seam.name}" cannot become one piece'
    if len(seam.a) != 1 or len(seam.b) != 1 or seam.a[0].piece == seam.b[0].piece:
        raise CannotDo(
            what=what,
            why="it does not join one edge of one piece to one edge of another",
            nearest="a seam between two pieces, edge to edge",
        )
    for ref in (seam.a[0], seam.b[0]):
        if pattern.piece(ref.piece).darts_on(ref.edge):
            raise CannotDo(
                what=what,
                why=f"a dart opens in {edge_name(ref.piece, ref.edge)}",
                nearest="moving the dart to another edge first",
            )
    return seam.a[0], seam.b[0]


def joined(pattern: Pattern, pair: LaidOn, name: str) -> OnePiece:
    """Return both pieces as one, with the grain and cuts of the one that stays. CannotDo.

    Edges that run on into each other under one name become one, if every seam goes along both.
    """
    own, new = _meeting(pair)
    names = {(pair.stays.name, e.name): e.name for e in own}
    shift: dict[str, tuple[str, float]] = {}
    taken = [e.name for e in own]
    before = 0.0
    if _as_one(pattern, pair, own[-1], new[0]):
        edge = new.pop(0)
        shift[edge.name] = (edge.name, own[-1].length)
        own[-1] = _run_on(own[-1], edge, own[-1])
    if new and _as_one(pattern, pair, own[0], new[-1]):
        edge = new.pop()
        shift[edge.name] = (edge.name, 0.0)
        before = edge.length
        own[0] = replace(_run_on(edge, own[0], own[0]), corner=edge.corner, join=edge.join)
    for edge in new:
        called = free_name(tuple(taken), edge.name)
        taken.append(called)
        shift[edge.name] = (called, 0.0)
        own.append(replace(edge, name=called))
    _check_folds(own, pair)
    names |= {(pair.comes.name, old): called for old, (called, _) in shift.items()}
    names |= {(pair.stays.name, pair.edge): "", (pair.comes.name, pair.other): ""}
    darts = [
        replace(d, a=d.a + before, b=d.b + before) if d.edge == own[0].name else d
        for d in pair.stays.darts
    ]
    darts += _darts(pair, darts, shift)
    return OnePiece(piece=_whole(pair, name, own, darts), names=names)


def _meeting(pair: LaidOn) -> tuple[list[Edge], list[Edge]]:
    """Return the edges of both, each from the seam round to it; they end on each other's ends.

    The corners where the seam ended are called as on the piece that stays.
    """
    own, new = _from(pair.stays, pair.edge), _from(pair.comes, pair.other)
    start, end = own[-1].path.end, own[0].path.start
    gone = pair.stays.edge(pair.edge)
    new[0] = replace(new[0], corner=gone.corner or new[0].corner, join=gone.join)
    new[0] = replace(new[0], path=new[0].path.with_ends(start=start))
    new[-1] = replace(new[-1], path=new[-1].path.with_ends(end=end))
    return own, new


def _from(piece: Piece, edge: str) -> list[Edge]:
    """Return the edges that follow an edge, all the way round to it."""
    i = piece.index(edge)
    return [*piece.edges[i + 1 :], *piece.edges[:i]]


def _run_on(first: Edge, second: Edge, like: Edge) -> Edge:
    """Return two edges that follow each other as one, in all else like one of them."""
    later = tuple(replace(n, at=n.at + first.length) for n in second.notches)
    return replace(like, path=first.path.joined(second.path), notches=(*first.notches, *later))


def _as_one(pattern: Pattern, pair: LaidOn, own: Edge, new: Edge) -> bool:
    """Tell whether two edges are one: of one name and role, and every seam goes along both."""
    if (own.name, own.role) != (new.name, new.role):
        return False
    both = {(pair.stays.name, own.name), (pair.comes.name, own.name)}
    for seam in pattern.seams:
        for run in (seam.a, seam.b):
            at = [i for i, r in enumerate(run) if (r.piece, r.edge) in both]
            if at and (
                len(at) % 2 or any(b - a != 1 for a, b in zip(at[::2], at[1::2], strict=True))
            ):
                return False
    return True


def _check_folds(edges: list[Edge], pair: LaidOn) -> None:
    folds = [e for e in edges if e.role is Role.FOLD]
    turn = 0.0
    if len(folds) == 1:
        path = folds[0].path
        turn = abs(turn_between_deg(path.start_tangent, path.end_tangent))
    if len(folds) > 1 or turn > STRAIGHT_DEG:
        raise CannotDo(
            what=f'"{pair.stays.name}" and "{pair.comes.name}" cannot become one piece',
            why="their folds would not be one straight line",
            nearest="a seam on the fold of one of them first",
        )


def _darts(pair: LaidOn, own: list[Dart], shift: Mapping[str, tuple[str, float]]) -> list[Dart]:
    """Return the darts of the piece that comes, on the edges of the whole."""
    out: list[Dart] = []
    for dart in pair.comes.darts:
        called, by = shift[dart.edge]
        name = free_name(tuple(d.name for d in (*own, *out)), dart.name)
        out.append(replace(dart, name=name, edge=called, a=dart.a + by, b=dart.b + by))
    return out


def _whole(pair: LaidOn, name: str, edges: list[Edge], darts: list[Dart]) -> Piece:
    """Return the one piece. A level square to a grain that leans now is no level of the whole."""
    known = {lv.name for lv in pair.stays.levels}
    new = (lv for lv in pair.comes.levels if lv.name not in known and not tilted_deg(pair))
    marks: list[Mark] = list(pair.stays.marks)
    for mark in pair.comes.marks:
        marks.append(replace(mark, name=free_name(tuple(m.name for m in marks), mark.name)))
    return replace(
        pair.stays,
        name=name,
        edges=tuple(edges),
        darts=tuple(darts),
        levels=(*pair.stays.levels, *new),
        marks=tuple(marks),
    )
