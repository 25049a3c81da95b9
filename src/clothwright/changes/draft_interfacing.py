"""Draft an interfacing: a piece without its allowances, up to the stitching line or just inside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.darts import free_name
from clothwright.changes.drawn_in import drawn_in
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Cut, Join, Piece, Role
from clothwright.units.params import param
from clothwright.words import AtMost, Sentence, listed

MOST_MM = 3.0
"""mm: how far inside the stitching line an interfacing ends at most (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftInterfacing:
    """Parameters of `draft-interfacing`; lengths in mm."""

    pieces: tuple[str, ...] = param(
        "pieces", "such as the facings, collar and waistband", label="Which pieces"
    )
    inside: float = param(
        "length",
        "nothing: just as far as the stitching line",
        default=0.0,
        label="How far inside the stitching line",
        least=0.0,
    )
    material: str = param(
        "text", "what it is cut from", default="interfacing", label="From which interfacing"
    )


def apply(pattern: Pattern, params: DraftInterfacing) -> Outcome:
    """Add an interfacing for each piece: its shape without allowances, its grain, fold and notches.

    A piece that is to be cut from that material itself no longer is: its interfacing is.

    Raises BadInput for unknown names or none, CannotDo for more than `MOST_MM` inside, or where a
    dart opens in an edge that is drawn in.
    """
    if params.inside > MOST_MM:
        raise CannotDo(
            what=("an interfacing cannot end ", params.inside, " inside the stitching line"),
            why="it would not be caught in the seams, and would show as a ridge",
            nearest=("at most ", AtMost(MOST_MM)),
        )
    if not params.pieces:
        raise BadInput(what="no piece is named", expected="the pieces that are to be interfaced")
    made: list[Piece] = []
    lost: list[str] = []
    for name in dict.fromkeys(params.pieces):
        piece = pattern.piece(name)
        taken = tuple(p.name for p in (*pattern.pieces, *made))
        made.append(_interfacing(piece, free_name(taken, f"{name} interfacing"), params))
        own = tuple(c for c in piece.cuts if c.material != params.material)
        if own and own != piece.cuts:
            pattern = pattern.with_piece(replace(piece, cuts=own))
            lost.append(name)
    found = tuple(
        _companion(pattern.piece(name), new)
        for name, new in zip(dict.fromkeys(params.pieces), made, strict=True)
    )
    new = replace(
        pattern,
        pieces=(*pattern.pieces, *made),
        companions=(*pattern.companions, *found),
    )
    return Outcome(pattern=new, said=_said(made, lost, params))


def _interfacing(piece: Piece, name: str, params: DraftInterfacing) -> Piece:
    edges = [e.name for e in piece.edges if e.role is not Role.FOLD]
    if params.inside > 0.0:
        what = f"the interfacing of {piece.name} cannot end inside its stitching line"
        piece = drawn_in(piece, edges, params.inside, what=what, less="just at the stitching line")
    bare = tuple(
        e if e.role is Role.FOLD else replace(e, role=Role.RAW, allowance=0.0, join=Join.EXTENDED)
        for e in piece.edges
    )
    cut = piece.cuts[0] if piece.cuts else Cut()
    cut = replace(cut, material=params.material)
    return replace(piece, name=name, edges=bare, cuts=(cut,), note="")


def _companion(piece: Piece, made: Piece) -> Companion:
    of = tuple(
        Along(
            edge=e.name,
            piece=piece.name,
            edge_of=e.name,
            longer=net_length(made, e.name) - net_length(piece, e.name),
        )
        for e in made.edges
    )
    return Companion(piece=made.name, kind="interfacing", of=of, by="drafted")


def _said(made: Sequence[Piece], lost: Sequence[str], params: DraftInterfacing) -> Sentence:
    out: list[str | float] = [f"Drafted {listed([p.name for p in made])}, without allowances"]
    if params.inside > 0.0:
        out += [" and ", params.inside, " inside the stitching line"]
    if lost:
        out.append(f"; no other interfacing is cut for {listed(list(lost))}")
    return (*out, ".")


CHANGE = Change(
    id="draft-interfacing",
    title="Draft an interfacing",
    topic="facings, linings and bands",
    why="Cut without allowances it makes no seam thicker; a little inside the stitching line it is "
    "not caught at all.",
    source="seam allowance trimmed off: a trade manual of 1921; 3 mm: common practice",
    params=DraftInterfacing,
    apply=apply,
)
