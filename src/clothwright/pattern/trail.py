"""Where pieces, edges and points have gone: what a change renamed, divided or joined.

What names a piece (a placing rule, a pin, a border to be checked) follows the trail from the name
it knows to the names there are now.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from clothwright.geometry.transform import reflection
from clothwright.geometry.vec import Vec
from clothwright.pattern.piece import Piece
from clothwright.pattern.whole import TWIN

Named = tuple[str, str]
"""A piece, and an edge or a point of it."""

SAME_MM = 0.01
"""mm: two points nearer than this are one place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trail:
    """For each name that is no more, the names it has now: several where divided, none where gone.

    What is not mentioned has its old name.
    """

    pieces: tuple[tuple[str, tuple[str, ...]], ...] = ()
    edges: tuple[tuple[Named, tuple[Named, ...]], ...] = ()
    points: tuple[tuple[Named, tuple[Named, ...]], ...] = ()
    seams: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def piece(self, name: str) -> tuple[str, ...]:
        """Return the pieces that a piece is now."""
        return dict(self.pieces).get(name, (name,))

    def edge(self, piece: str, edge: str) -> tuple[Named, ...]:
        """Return the edges that an edge is now."""
        return self._of(dict(self.edges), (piece, edge))

    def point(self, piece: str, point: str) -> tuple[Named, ...]:
        """Return the point that a point is now."""
        return self._of(dict(self.points), (piece, point))

    def seam(self, name: str) -> tuple[str, ...]:
        """Return the seams that a seam is now."""
        return dict(self.seams).get(name, (name,))

    def _of(self, known: dict[Named, tuple[Named, ...]], key: Named) -> tuple[Named, ...]:
        found = known.get(key)
        return tuple((p, key[1]) for p in self.piece(key[0])) if found is None else found

    def then(self, later: Trail) -> Trail:
        """Return this trail and then another one as one."""
        if later == UNMOVED:
            return self
        return Trail(
            pieces=_chained(self.pieces, later.pieces, later.piece),
            edges=_chained(self.edges, later.edges, lambda n: later.edge(*n)),
            points=_chained(self.points, later.points, lambda n: later.point(*n)),
            seams=_chained(self.seams, later.seams, later.seam),
        )


UNMOVED = Trail()
"""The trail of a change that leaves every name where it is."""


def joined(trails: Iterable[Trail]) -> Trail:
    """Return what several pieces left behind in one change as one trail."""
    found = tuple(trails)
    return Trail(
        pieces=tuple(e for t in found for e in t.pieces),
        edges=tuple(e for t in found for e in t.edges),
        points=tuple(e for t in found for e in t.points),
        seams=tuple(e for t in found for e in t.seams),
    )


def trail_to(piece: Piece, parts: Sequence[Piece]) -> Trail:
    """Return where the names of a piece have gone that was renamed, opened out or divided.

    No line of it may have moved. An edge is found again by its name on the parts, a point by its
    name, or by another name at the same place. A name that a part of the piece's own name still has
    is left alone: it means what it says.
    """
    own = next((p for p in parts if p.name == piece.name), None)
    pieces = () if own is not None else ((piece.name, tuple(p.name for p in parts)),)
    edges = tuple(
        (
            (piece.name, e.name),
            tuple((p.name, e.name) for p in parts if any(o.name == e.name for o in p.edges)),
        )
        for e in piece.edges
        if own is None or all(o.name != e.name for o in own.edges)
    )
    kept = {} if own is None else named_points(own)
    points = tuple(
        ((piece.name, name), _now(name, at, parts))
        for name, at in named_points(piece).items()
        if name not in kept
    )
    return Trail(pieces=pieces, edges=edges, points=points)


def named_points(piece: Piece) -> dict[str, Vec]:
    """Return every named point, those of the mirrored half of a half piece too."""
    found = dict(piece.points())
    if piece.fold is not None:
        mirror = reflection(piece.fold.path.start, piece.fold.path.end)
        found |= {name + TWIN: mirror.apply(at) for name, at in found.items()}
    return found


def _now(name: str, at: Vec, parts: Sequence[Piece]) -> tuple[Named, ...]:
    here = [
        (n != name, p.name, n)
        for p in parts
        for n, place in named_points(p).items()
        if place.is_near(at, SAME_MM)
    ]
    return tuple((p, n) for _, p, n in sorted(here, key=lambda h: h[0])[:1])


def _chained(first: Any, second: Any, later: Callable[[Any], Any]) -> Any:
    known = {key: tuple(dict.fromkeys(n for k in now for n in later(k))) for key, now in first}
    return (*known.items(), *((k, now) for k, now in second if k not in known))
