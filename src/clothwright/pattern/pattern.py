"""A pattern: pieces, and the seams that join them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Annotated

from clothwright.errors import BadInput, named
from clothwright.pattern.names import Ref
from clothwright.pattern.past import NO_PAST, History, called_now
from clothwright.pattern.piece import Edge, Piece
from clothwright.pattern.refs import EdgeRef
from clothwright.pattern.sizes import SizeRange
from clothwright.pattern.trail import UNMOVED, Trail
from clothwright.units.kinds import Count, Length, Name, NoFewer, OneOf

SEAM_KINDS = ("plain", "cap", "facing", "lining", "closure", "hem")
"""A cap is a sleeve cap into an armhole."""
SEAM_JOINS = ("eased", "stretched", "gathered", "pleated", "tucked", "elasticated")
"""How the longer side is brought to the length of the other; "eased" by nothing: sewn as it is."""
FOLDED = ("pleated", "tucked")
"""Those that lay the longer side in folds, which are counted."""
FOLDS_TO = ("", "start", "end", "box", "inverted")
"""Where folds lie: towards the start or the end of side b, or in pairs from or to each other."""
COMPANIONS = (
    *("facing", "interfacing", "lining", "waistband", "collar", "binding"),
    *("pocket", "flap", "stand"),
)
"""What a companion of a piece is to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """Edges of one side sewn to edges of the other.

    a, b: the runs of both sides, each listed from the seam's first end to its second; a run that
        is travelled against its edge's own direction is marked reversed. The start of side a meets
        the start of side b. Where a's edge runs forward and b's is reversed (or the other way
        round) both pieces are drawn for the same half of the body.
    join: how side b is brought to the length of side a.
    ease: mm by which side b is meant to be longer than side a (a cap, a back shoulder, an elbow);
        what is gathered, folded or drawn in by elastic, too. Below 0 where b is shorter and is
        stretched.
    ease_from, ease_to: names of the notches (on side b) between which the ease lies; empty means
        the seam's own end.
    eased_max: more than `ease` is accepted up to this (0 = just `ease`).
    folds: how many pleats or tucks there are; each takes its share of the ease (0 = not told).
    fold_to: where they lie (`FOLDS_TO`).
    zip: of a closure, mm that the zip opens which is set in it (0 = none, or not told).
    """

    name: Name
    a: Annotated[tuple[EdgeRef, ...], NoFewer(1)]
    b: Annotated[tuple[EdgeRef, ...], NoFewer(1)]
    kind: Annotated[str, OneOf(SEAM_KINDS)] = "plain"
    join: Annotated[str, OneOf(SEAM_JOINS)] = "eased"
    ease: Length = 0.0
    eased_max: Length = 0.0
    ease_from: str = ""
    ease_to: str = ""
    folds: Count = 0
    fold_to: Annotated[str, OneOf(FOLDS_TO)] = ""
    zip: Length = 0.0

    @property
    def refs(self) -> tuple[EdgeRef, ...]:
        """The edges of both sides, those of side a first."""
        return (*self.a, *self.b)

    @property
    def pieces(self) -> set[str]:
        """The names of the pieces that it joins."""
        return {r.piece for r in self.refs}


@dataclass(frozen=True, slots=True, kw_only=True)
class Along:
    """An edge of a companion that lies along, or is sewn or laid on, an edge of its piece.

    edge: the companion's; piece, edge_of: those of the piece. Both edges "" where the two only go
    together as a whole. longer: mm by which the companion's stitching line is meant to be longer.
    """

    edge: str = ""
    piece: Name
    edge_of: str = ""
    longer: Length = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Companion:
    """A piece that goes with others: what changes them is to be done to it, too.

    kind: what it is to them. by: "bought" with the pattern, or "drafted" from its pieces.
    """

    piece: Name
    kind: Annotated[str, OneOf(COMPANIONS)]
    of: Annotated[tuple[Along, ...], NoFewer(1)]
    by: Annotated[str, OneOf(("bought", "drafted"))] = "bought"

    @property
    def name(self) -> str:
        """Its piece: a piece is a companion once."""
        return self.piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Pieces and seams. Raises BadInput when a seam names an edge that is not there.

    companions: pieces that go with others; their names are those of the pieces as bought, or as a
        change made them (`pattern.companions` says what they are called now).
    sizes: the pieces as bought in every size, when there are several; changes leave them alone.
    trail: where names of the pieces as bought have gone in the changes done so far.
    past: those changes, where something of the workbook names what is not there.
    """

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    companions: tuple[Companion, ...] = ()
    sizes: SizeRange | None = None
    trail: Trail = UNMOVED
    past: History = field(default=NO_PAST, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Check that names are unique and every seam finds its edges."""
        edges: dict[str, frozenset[str]] = {}
        for piece in self.pieces:
            name = piece.name
            if name in edges or "." in name or not name:
                raise BadInput(
                    what=f'the piece name "{name}" is empty, has a dot in it, or stands twice',
                    expected="a different plain name for every piece",
                )
            edges[name] = frozenset(e.name for e in piece.edges)
        for seam in self.seams:
            for ref in seam.refs:
                if ref.edge not in edges.get(ref.piece, ()):
                    self._refuse(seam, ref)

    def _refuse(self, seam: Seam, ref: EdgeRef) -> None:
        """Raise BadInput with what the edge's seam names instead of it."""
        try:
            self.edge(ref)
        except BadInput as error:
            raise BadInput(
                where=f'seam "{seam.name}"', what=error.what, expected=error.expected
            ) from None

    def piece(self, name: str) -> Piece:
        """Return a named piece. Raises BadInput with the nearest known name."""
        return named(self.pieces, name, "there is no piece", "The pattern has no pieces.")

    def edge(self, ref: EdgeRef) -> Edge:
        """Return the edge a reference names (as drawn, not reversed). Raises BadInput."""
        return self.piece(ref.piece).edge(ref.edge)

    def edges_now(self, piece: str, edge: str) -> tuple[tuple[str, str], ...]:
        """Return an edge by its piece and name, or what it is called now; see `called_now`."""
        return tuple((r.piece, r.name) for r in called_now(self, Ref("edge", piece, edge)))

    def seam(self, name: str) -> Seam:
        """Return a named seam. Raises BadInput."""
        return named(self.seams, name, "there is no seam", "The pattern has no seams.")

    def seams_of(self, piece: str, edge: str) -> tuple[Seam, ...]:
        """Return the seams that use an edge."""
        return tuple(
            s for s in self.seams if any((r.piece, r.edge) == (piece, edge) for r in s.refs)
        )

    @property
    def sewn(self) -> set[tuple[str, str]]:
        """Every edge that a seam holds, by piece and name."""
        return {(r.piece, r.edge) for s in self.seams for r in s.refs}

    def with_piece(self, piece: Piece) -> Pattern:
        """Return the pattern with the piece of the same name replaced, the others untouched."""
        self.piece(piece.name)
        return replace(
            self, pieces=tuple(piece if p.name == piece.name else p for p in self.pieces)
        )

    def with_seam(self, seam: Seam) -> Pattern:
        """Return the pattern with the seam of the same name replaced."""
        self.seam(seam.name)
        return replace(self, seams=tuple(seam if s.name == seam.name else s for s in self.seams))
