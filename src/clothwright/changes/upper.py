"""The edges of an upper-body piece by what they are: armhole, shoulder, side, neck.

Read from what is sewn in and from the order round the piece; from names at last.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwright.changes.darts import find_place
from clothwright.errors import CannotDo
from clothwright.geometry.vec import Vec
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Edge, Piece

PITCH = (0.2, 0.8)
"""Between these shares of an armhole's length a notch is taken for its pitch (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Upper:
    """An upper-body piece. rising: the armhole is drawn from the underarm up to the shoulder."""

    piece: Piece
    armhole: Edge
    rising: bool

    def beyond(self, count: int) -> Edge:
        """Return the edge so many after the armhole, over the shoulder; less than 0: below it."""
        step = count if self.rising else -count
        at = self.piece.index(self.armhole.name) + step
        return self.piece.edges[at % len(self.piece.edges)]

    @property
    def shoulder(self) -> Edge:
        """The edge at the armhole's upper end."""
        return self.beyond(1)

    @property
    def neck(self) -> Edge:
        """The edge beyond the shoulder."""
        return self.beyond(2)

    @property
    def side(self) -> Edge:
        """The edge at the armhole's lower end."""
        return self.beyond(-1)

    @property
    def tip(self) -> Vec:
        """Where the shoulder meets the armhole."""
        return self.armhole.path.end if self.rising else self.armhole.path.start

    @property
    def underarm(self) -> Vec:
        """The armhole's lower end."""
        return self.armhole.path.start if self.rising else self.armhole.path.end

    @property
    def neck_point(self) -> Vec:
        """The shoulder's end at the neck."""
        return self.shoulder.path.end if self.rising else self.shoulder.path.start

    @property
    def to_neck(self) -> str:
        """The end of the shoulder that lies at the neck; the centre lies at that of the neck."""
        return "end" if self.rising else "start"

    @property
    def pitch(self) -> float:
        """Where a cut hinges on the armhole, mm from its start: the notch nearest its middle."""
        whole = self.armhole.length
        near = [n.at for n in self.armhole.notches if PITCH[0] <= n.at / whole <= PITCH[1]]
        return min(near, key=lambda at: abs(at - whole / 2), default=whole / 2)


def upper_of(pattern: Pattern, piece: Piece, armhole: str = "") -> Upper:
    """Return a piece's armhole and what lies beside it. armhole: an edge's name, "": it is found.

    What a sleeve's cap is sewn to, else what is called armhole. Raises CannotDo where that is
    none, or more than one.
    """
    edge = piece.edge(armhole) if armhole else _armhole(pattern, piece)
    heights = [piece.up.dot(p) for p in edge.path.ends]
    return Upper(piece=piece, armhole=edge, rising=heights[1] > heights[0])


def hinge_on_armhole(pattern: Pattern, piece: Piece, text: str) -> tuple[Upper, float]:
    """Return an upper-body piece and the place of its armhole (mm) that a cut hinges on.

    text: the place, "" for the notch nearest the armhole's middle. Raises BadInput, CannotDo.
    """
    if not text:
        found = upper_of(pattern, piece)
        return found, found.pitch
    edge, at = find_place(pattern, piece, text, None)
    return upper_of(pattern, piece, edge.name), at


def _armhole(pattern: Pattern, piece: Piece) -> Edge:
    sewn = [r.edge for s in pattern.seams if s.kind == "cap" for r in s.a if r.piece == piece.name]
    called = [e.name for e in piece.edges if "armhole" in e.name.lower()]
    names = dict.fromkeys(sewn or called)
    if len(names) != 1:
        raise CannotDo(
            what=f'"{piece.name}" cannot be changed there',
            why="it has more than one armhole edge"
            if names
            else "which of its edges is the armhole is not known",
            nearest="the place on the armhole named, or the edge called armhole",
        )
    return piece.edge(next(iter(names)))
