"""The edges of an upper-body piece by what they are: armhole, shoulder, side, neck.

Read from what is sewn in and from the order round the piece; from names at last.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwright.changes.darts import find_place
from clothwright.changes.redraw import Redrawn, swung_edge
from clothwright.errors import CannotDo
from clothwright.geometry.transform import Transform
from clothwright.geometry.vec import Vec
from clothwright.pattern.companions import LAID, PART, companions
from clothwright.pattern.pattern import Along, Pattern
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import EdgeRef

STEEP = 1.75
"""A line that rises by so much more than it runs (60 degrees) is no shoulder (common practice)."""
PITCH = (0.2, 0.8)
"""Between these shares of an armhole's length a notch is taken for its pitch (common practice)."""
REACHES_MM = 60.0
"""mm: a panel's armhole at least so long can swing about the seam to the panel below (our own)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Upper:
    """An upper-body piece. rising: the armhole is drawn from the underarm up to the shoulder.

    below: the edge of another panel on which the armhole goes on below it, None at the underarm.
    short: mm by which its shoulder ends before the neck point, as that of a lining at a facing.
    """

    piece: Piece
    armhole: Edge
    rising: bool
    below: EdgeRef | None = None
    short: float = 0.0

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
    def pivot(self) -> Vec:
        """The garment's neck point: the shoulder's end, or as far beyond it as a facing reaches."""
        return self.neck_point + (self.neck_point - self.tip).unit * self.short

    @property
    def to_neck(self) -> str:
        """The end of the shoulder that lies at the neck; the centre lies at that of the neck."""
        return "end" if self.rising else "start"

    @property
    def pitch(self) -> float:
        """Where a cut hinges on the armhole, mm from its start: the notch nearest its middle.

        Without one the seam to the panel below, which ends near it; else the middle.
        """
        middle = self.armhole.length / 2
        rest = middle if self.below is None else 0.0 if self.rising else self.armhole.length
        return min(self.pitches, key=lambda at: abs(at - middle), default=rest)

    @property
    def has_pitch(self) -> bool:
        """Tell whether there is a notch, or a panel's seam far enough down, to swing about."""
        joined = self.below is not None and self.armhole.length >= REACHES_MM
        return bool(self.pitches) or joined

    @property
    def pitches(self) -> tuple[float, ...]:
        """The notches that may be its pitch, mm along it: not near its ends, nor the shoulder's."""
        whole, notches = self.armhole.length, self.armhole.notches
        own = (n.at for n in notches if "shoulder" not in n.name.lower())
        return tuple(at for at in own if PITCH[0] <= at / whole <= PITCH[1])


def upper_of(pattern: Pattern, piece: Piece, armhole: str = "") -> Upper:
    """Return a piece's armhole and what lies beside it. armhole: an edge's name, "": it is found.

    What a sleeve's cap is sewn to, else what is called armhole. Raises CannotDo where that is
    none, or more than one.
    """
    names = (armhole,) if armhole else armholes_of(pattern, piece)
    if len(names) != 1:
        raise _cannot(piece, "it has more than one armhole edge")
    return _upper(pattern, piece, names[0])


def shoulders_of(pattern: Pattern, piece: Piece) -> tuple[str, ...]:
    """Return the names of a piece's armholes that have a shoulder above: two where it is whole.

    Raises CannotDo where there is none.
    """
    names = armholes_of(pattern, piece)
    uppers = [_upper(pattern, piece, name) for name in names]
    ways = [u.shoulder.path.end - u.shoulder.path.start for u in uppers]
    if any(abs(piece.up.dot(w)) > STEEP * abs(piece.up.cross(w)) for w in ways):
        raise _no_shoulder(piece)
    return names


def with_shoulder(pattern: Pattern, names: Iterable[str]) -> tuple[str, ...]:
    """Leave out panels whose armhole goes on above in another one that is named.

    Raises CannotDo where the other one is not: there is no shoulder above such an armhole.
    """
    above = {
        ref.piece: p.name
        for p in pattern.pieces
        for a in armhole_names(pattern, p)
        if (ref := _upper(pattern, p, a).below) is not None
    }
    names = tuple(names)
    for name in (n for n in names if above.get(n, n) not in names):
        raise _no_shoulder(pattern.piece(name), above[name])
    return tuple(n for n in names if n not in above)


def _no_shoulder(piece: Piece, above: str = "the panel that has the shoulder") -> CannotDo:
    why = "above its armhole there is no shoulder"
    return _cannot(piece, why, f"{above}; its armhole takes this one along")


def hinge_on_armhole(pattern: Pattern, piece: Piece, text: str) -> tuple[Upper, float]:
    """Return an upper-body piece and the place of its one armhole (mm) that a cut hinges on.

    text: the place, "" for the notch nearest the armhole's middle. Raises BadInput, CannotDo.
    """
    if not text or len(armhole_names(pattern, piece)) > 1:
        found = upper_of(pattern, piece)
        return found, found.pitch
    edge, at = find_place(pattern, piece, text, None)
    return upper_of(pattern, piece, edge.name), at


def _upper(pattern: Pattern, piece: Piece, armhole: str) -> Upper:
    edge, rising = piece.edge(armhole), _rises(piece, armhole)
    beside = _beside(pattern, piece.name, armhole, at_end=not rising)
    below = next((ref for ref, at_end in beside if _rises_to(pattern, ref, at_end)), None)
    found = Upper(piece=piece, armhole=edge, rising=rising, below=below)
    return replace(found, short=_short(pattern, found))


def _short(pattern: Pattern, own: Upper) -> float:
    """Return by how much a lining's shoulder is shorter than the one it lies under, mm."""
    long = own.tip.distance(own.neck_point)
    for _, of in laid_along(pattern, own.piece.name):
        if of.edge == own.armhole.name:
            other = _upper(pattern, pattern.piece(of.piece), of.edge_of)
            whole = other.tip.distance(other.neck_point)
            return whole - long if long < (1.0 - PART) * whole else 0.0
    return 0.0


def laid_along(pattern: Pattern, piece: str) -> Iterator[tuple[str, Along]]:
    """Yield what a lining, a facing or an interfacing lies along, with its kind."""
    for companion in companions(pattern):
        if companion.piece == piece and companion.kind in LAID:
            yield from ((companion.kind, of) for of in companion.of)


def neck_followed(upper: Upper, turn: Transform) -> dict[str, Redrawn]:
    """Return the edge beyond a shoulder that turns: it follows where it ends short of the neck."""
    if upper.short == 0.0:
        return {}
    ends = {"start" if upper.rising else "end": turn.apply(upper.neck_point)}
    return {upper.neck.name: swung_edge(upper.piece, upper.neck.name, **ends)}


def is_facing(pattern: Pattern, piece: Piece) -> bool:
    """Tell whether a piece lies on another one and has no armhole, as a neck's facing."""
    return any(laid_along(pattern, piece.name)) and not armhole_names(pattern, piece)


def _rises(piece: Piece, edge: str) -> bool:
    start, end = (piece.up.dot(p) for p in piece.edge(edge).path.ends)
    return end > start


def _rises_to(pattern: Pattern, ref: EdgeRef, at_end: bool) -> bool:
    """Tell whether an edge is higher at that end than at its other one."""
    return _rises(pattern.piece(ref.piece), ref.edge) == at_end


def _beside(
    pattern: Pattern, piece: str, edge: str, *, at_end: bool
) -> Iterator[tuple[EdgeRef, bool]]:
    """Yield the edges of other pieces that an edge runs on into there, and which end they meet."""
    for run in (run for s in pattern.seams for run in (s.a, s.b)):
        for r, s in pairwise(run):
            ways = ((r, not r.reversed), (s, s.reversed))
            for (own, own_end), (other, other_end) in (ways, ways[::-1]):
                here = (own.piece, own.edge, own_end) == (piece, edge, at_end)
                if here and other.piece != piece:
                    yield other, other_end


def armhole_names(pattern: Pattern, piece: Piece) -> tuple[str, ...]:
    """Return what a sleeve's cap is sewn to on a piece, else the edges called armhole; or none."""
    sewn = [r.edge for s in pattern.seams if s.kind == "cap" for r in s.a if r.piece == piece.name]
    return tuple(
        dict.fromkeys(sewn or [e.name for e in piece.edges if "armhole" in e.name.lower()])
    )


def armholes_of(pattern: Pattern, piece: Piece) -> tuple[str, ...]:
    """Return the names of a piece's armholes. Raises CannotDo where it has none."""
    names = armhole_names(pattern, piece)
    if not names:
        raise _cannot(piece, "which of its edges is the armhole is not known")
    return names


def _cannot(
    piece: Piece,
    why: str,
    nearest: str = "a piece drawn as one half, with one edge that is called armhole",
) -> CannotDo:
    return CannotDo(what=f'"{piece.name}" cannot be changed there', why=why, nearest=nearest)
