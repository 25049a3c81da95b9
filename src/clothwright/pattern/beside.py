"""Lines that run across a seam and become one when it is sewn: hems, necks, armholes, waists."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from clothwright.pattern.measure import corner_angle_deg
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, Piece, Role
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.walk import corner_index

OUTER = (Role.HEM, Role.BOUND, Role.RAW)
MIDDLE = (Role.FOLD, Role.CENTRE)

STRAIGHT_ON_DEG = 10.0
"""degrees: edges that meet at no more of a corner than this are one line. Our own choice."""


class Tip(NamedTuple):
    """One end of an edge, as drawn."""

    piece: str
    edge: str
    at_end: bool


class EndCorner(NamedTuple):
    """A piece's corner at one end of a seam: the edge that is sewn and the one beside it."""

    piece: Piece
    at: int
    beside: Edge
    tip: Tip

    @property
    def angle_deg(self) -> float:
        """The angle inside the piece, degrees."""
        return corner_angle_deg(self.piece, self.at)


class Across(NamedTuple):
    """Two corners that a seam brings together, where the edges beside it become one line."""

    a: EndCorner
    b: EndCorner
    at_end: bool


def sewn_flat(pattern: Pattern) -> tuple[Seam, ...]:
    """Return the seams beside which lines run on: facings, linings and closures are turned back."""
    return tuple(s for s in pattern.seams if s.kind in ("plain", "cap"))


class Beside:
    """What lies beside the seams of a pattern."""

    def __init__(self, pattern: Pattern) -> None:
        """Look up which edges are sewn, and which follow each other along a seam."""
        self._pattern = pattern
        self._joints = frozenset(_joints(pattern))
        self._sewn = pattern.sewn

    def lines_across(self, seam: Seam) -> Iterator[Across]:
        """Yield the ends of a seam at which the edges beside it are one line once it is sewn."""
        for at_end in (False, True):
            a = _corner(self._pattern, seam.a, at_end=at_end)
            b = _corner(self._pattern, seam.b, at_end=at_end)
            if self._runs_on(a, b):
                yield Across(a, b, at_end)

    def is_sewn(self, corner: EndCorner) -> bool:
        """Tell whether the edge beside the seam is sewn to something itself."""
        return (corner.tip.piece, corner.tip.edge) in self._sewn

    def _runs_on(self, a: EndCorner, b: EndCorner) -> bool:
        roles = a.beside.role, b.beside.role
        if any(r in MIDDLE for r in roles) or (_runs_straight_on(a) and _runs_straight_on(b)):
            return False
        if all(r in OUTER for r in roles) or a.tip == b.tip:
            return True
        if frozenset((a.tip, b.tip)) in self._joints:
            return True
        loose = not self.is_sewn(a) and not self.is_sewn(b)
        return loose and roles[0] is roles[1] and a.beside.name == b.beside.name


def _runs_straight_on(corner: EndCorner) -> bool:
    """Tell whether the seam ends part-way along a line: above a slit, below a fly or a zip."""
    return abs(corner.angle_deg - 180.0) < STRAIGHT_ON_DEG


def _corner(pattern: Pattern, refs: tuple[EdgeRef, ...], *, at_end: bool) -> EndCorner:
    ref = refs[-1 if at_end else 0]
    name, index = corner_index(pattern, refs, at_end=at_end)
    piece = pattern.piece(name)
    own_starts_here = piece.edges[index].name == ref.edge and at_end == ref.reversed
    beside = piece.edges[index - 1] if own_starts_here else piece.edges[index]
    return EndCorner(piece, index, beside, Tip(name, beside.name, own_starts_here))


def _joints(pattern: Pattern) -> Iterator[frozenset[Tip]]:
    """Ends of edges that follow each other along one side of a seam, or close it to a ring."""
    for seam in pattern.seams:
        for run in (seam.a, seam.b):
            for r, s in zip(run, (*run[1:], run[0]), strict=True):
                tips = Tip(r.piece, r.edge, not r.reversed), Tip(s.piece, s.edge, s.reversed)
                yield frozenset(tips)
