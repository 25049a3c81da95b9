"""What may be sewn: single edges, and runs of edges that are sewn to one long edge."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from clothwright.pattern.measure import side
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef

SHORTEST_MM = 25.0
"""mm: shorter edges (ends of bands, pleats) agree with too many others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeRun:
    """One side that may be sewn: an edge, or edges that follow each other. length: mm, sewn."""

    refs: tuple[EdgeRef, ...]
    pieces: tuple[Piece, ...]
    edges: tuple[Edge, ...]
    length: float

    @property
    def name(self) -> str:
        """The name its edges share, or the first's."""
        return self.edges[0].name

    @property
    def keys(self) -> frozenset[tuple[str, str]]:
        """Its edges, as piece and edge."""
        return frozenset((r.piece, r.edge) for r in self.refs)


def runs_of(pattern: Pattern) -> list[EdgeRun]:
    """Return every edge that may be sewn, and runs of two that are sewn to one long edge."""
    out = []
    for piece in pattern.pieces:
        out += [
            run_of(pattern, (EdgeRef(piece.name, edge.name),))
            for edge in piece.edges
            if edge.role in (Role.SEAM, Role.CENTRE) and edge.length >= SHORTEST_MM
        ]
    pairs = itertools.permutations(list(out), 2)
    return out + [run_of(pattern, (*a.refs, *b.refs)) for a, b in pairs if _follow(a, b)]


def run_of(pattern: Pattern, refs: tuple[EdgeRef, ...]) -> EdgeRun:
    """Return edges as one side of a seam. Raises BadInput for edges that are not there."""
    pieces = tuple(pattern.piece(r.piece) for r in refs)
    edges = tuple(p.edge(r.edge) for p, r in zip(pieces, refs, strict=True))
    return EdgeRun(refs=refs, pieces=pieces, edges=edges, length=side(pattern, refs).length)


def _follow(a: EdgeRun, b: EdgeRun) -> bool:
    """Tell whether two edges make one run: front and back armhole, front and back waist.

    Either neighbours on one piece (a neck and the front edge after it), or edges of one name on a
    front and a back of one material; the front comes first.
    """
    (p, e), (q, f) = (a.pieces[0], a.edges[0]), (b.pieces[0], b.edges[0])
    if p.name == q.name:
        i = p.index(e.name)
        after = p.edges[(i + 1) % len(p.edges)]
        pair = {e.name, f.name}
        return after.name == f.name and pair <= {"neck", "front edge", "hem", "inner"}
    fits = e.name == f.name and e.name in ("armhole", "waist", "neck", "top")
    return fits and _kin(p, "front") == _kin(q, "back") is not None and together(p, q)


def _kin(piece: Piece, half: str) -> tuple[str, ...] | None:
    """Return a piece's name without the word for its half; None when it has no such word."""
    words = piece.name.lower().split()
    return tuple(w for w in words if w != half) if half in words else None


def together(p: Piece, q: Piece) -> bool:
    """Tell whether two pieces are cut from one material (interfacing goes with its piece)."""
    mine = {c.material for c in p.cuts} - {"interfacing"}
    other = {c.material for c in q.cuts} - {"interfacing"}
    return bool(mine & other) or not mine or not other


def faces(a: EdgeRun, b: EdgeRun) -> bool:
    """Tell whether one run is of a facing with the same names as the other's."""
    facing = ["facing" in r.pieces[0].name for r in (a, b)]
    return facing[0] != facing[1] and [e.name for e in a.edges] == [e.name for e in b.edges]


def mirrored(a: EdgeRun) -> bool:
    """Tell whether an edge may be sewn to itself: a centre of a piece that is cut as a pair."""
    edge, piece = a.edges[0], a.pieces[0]
    pair = any(c.how == "pair" for c in piece.cuts)
    return len(a.refs) == 1 and pair and (edge.role is Role.CENTRE or "centre" in edge.name)
