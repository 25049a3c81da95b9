"""Draft a lining: the pieces less what their facings cover, with room where the body moves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.drafted import with_free_names
from clothwright.changes.drawn_in import drawn_in
from clothwright.changes.faced import Faced, LeftEdge, facings_on, without_faced
from clothwright.changes.lining_room import pleated, raised
from clothwright.changes.lining_seams import (
    LINING,
    FacingBeside,
    centre_seams,
    lining_seams,
    seams_to_facings,
)
from clothwright.errors import BadInput
from clothwright.pattern.measure import net_length
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Cut, Piece, Role
from clothwright.pattern.refs import parse_edge
from clothwright.units.params import param
from clothwright.words import Sentence, listed


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftLining:
    """Parameters of `draft-lining`; lengths in mm."""

    pieces: tuple[str, ...] = param(
        "pieces", "of the outside; facings are found by their seams", label="Which pieces"
    )
    centre: str = param(
        "edge",
        "the fold or centre edge of the back; left out, no pleat",
        default="",
        label="Where is a pleat",
    )
    pleat: float = param(
        "length",
        "on each half: half as much as the pleat takes",
        default=12.7,
        label="How deep",
        least=0.0,
    )
    level: str = param(
        "level",
        "such as the waist; left out, it runs to the hem",
        default="",
        label="Where the pleat runs out",
    )
    rise: float = param(
        "length",
        "so that the lining passes over the armhole seam",
        default=10.0,
        label="How much higher under the arm",
        least=0.0,
    )
    shorter: float = param(
        "length",
        "its hem than that of the garment",
        default=0.0,
        label="How much shorter",
        least=0.0,
    )
    hem: float = param(
        "length",
        "to turn up, or to sew to the garment's hem",
        default=15.875,
        label="Allowance of its hem",
        least=0.0,
    )
    material: str = param("text", "what it is cut from", default="lining", label="From which cloth")


def apply(pattern: Pattern, params: DraftLining) -> Outcome:
    """Add a lining for each piece, sewn to the facings and to each other as the outside is.

    Each is the piece as drawn without what its facings cover; lining and facing have both their
    allowance where they meet. Armholes and caps rise under the arm by the same, so that the cap has
    the ease it had. A pleat at centre back gives `pleat` on each half at the neck.

    Raises BadInput for unknown names or pieces that are lined already, CannotDo where the hem
    cannot be shorter or the pleat's edge is no straight line.
    """
    names = _names(pattern, params)
    made: dict[str, Piece] = {}
    beside: list[FacingBeside] = []
    left: list[str] = []
    for name in names:
        on, off = facings_on(pattern, pattern.piece(name))
        left += [n for n in off if n not in left]
        made[name], edges = _lining(pattern.piece(name), on, params)
        beside += [
            FacingBeside(f, name, e) for f, e in zip(on, edges, strict=True) if e is not None
        ]
    roomy = raised(pattern, made, params.rise)
    rises = any(roomy[n] != p for n, p in made.items())
    made = _pleated(roomy, params)
    own = {name: replace(p, name=names[name]) for name, p in made.items()}
    seams = (
        *lining_seams(pattern, names, own, beside),
        *(s for name, p in own.items() for s in centre_seams(pattern.piece(name), p)),
        *seams_to_facings(names, own, beside),
    )
    lined = tuple(_companion(pattern, name, own[name], beside) for name in own)
    new = replace(
        pattern,
        pieces=(*pattern.pieces, *own.values()),
        seams=with_free_names(pattern.seams, seams),
        companions=(*pattern.companions, *lined),
    )
    return Outcome(pattern=new, said=_said(list(own.values()), left, params, rises=rises))


def _names(pattern: Pattern, params: DraftLining) -> dict[str, str]:
    """Return what the lining of each piece is called."""
    taken = {p.name for p in pattern.pieces}
    found = {}
    for name in dict.fromkeys(params.pieces):
        piece = pattern.piece(name)
        wanted = f"{name} {LINING}"
        if wanted in taken:
            raise BadInput(what=f'"{piece.name}" is lined already', expected="other pieces")
        found[name] = wanted
    if not found:
        raise BadInput(what="no piece is named", expected="the pieces that are to be lined")
    return found


def _lining(
    piece: Piece, faced: Sequence[Faced], params: DraftLining
) -> tuple[Piece, list[LeftEdge | None]]:
    """Return the piece without its facings, its hem as the lining's is to be, and the new edges."""
    new: list[LeftEdge | None] = []
    for on in faced:
        piece, left = without_faced(piece, on)
        new.append(left)
    hems = [e.name for e in piece.edges if e.role is Role.HEM]
    if params.shorter > 0.0 and hems:
        what = f"the lining of {piece.name} cannot be so much shorter"
        piece = drawn_in(piece, hems, params.shorter, what=what, less="less")
    edges = tuple(replace(e, allowance=params.hem) if e.name in hems else e for e in piece.edges)
    cut = piece.cuts[0] if piece.cuts else Cut()
    cut = replace(cut, material=params.material)
    return replace(piece, edges=edges, cuts=(cut,), note=""), new


def _pleated(made: Mapping[str, Piece], params: DraftLining) -> dict[str, Piece]:
    """Return linings with the pleat that is asked for. Raises BadInput, CannotDo."""
    out = dict(made)
    if params.centre and params.pleat > 0.0:
        ref = parse_edge(params.centre)
        if ref.piece not in out:
            what = f'the pleat is to be on "{ref.piece}", which is not to be lined'
            raise BadInput(what=what, expected="an edge of one of the pieces")
        out[ref.piece] = pleated(out[ref.piece], ref.edge, params.pleat, params.level)
    return out


def _companion(
    pattern: Pattern, name: str, lining: Piece, beside: Sequence[FacingBeside]
) -> Companion:
    """Return what a lining goes with: edges of its piece, and of the facings it is sewn to."""
    shell = pattern.piece(name)
    kept = {e.name for e in shell.edges}
    of = [
        Along(
            edge=e.name,
            piece=name,
            edge_of=e.name,
            longer=net_length(lining, e.name) - net_length(shell, e.name),
        )
        for e in lining.edges
        if e.name in kept
    ]
    of += [
        Along(edge=b.left.edge, piece=b.faced.facing.name, edge_of=b.faced.edges[0])
        for b in beside
        if b.piece == name
    ]
    return Companion(piece=lining.name, kind="lining", of=tuple(of), by="drafted")


# --- the record -----------------------------------------------------------------------------------


def _said(
    made: Sequence[Piece], left: Sequence[str], params: DraftLining, *, rises: bool
) -> Sentence:
    out: list[str | float] = [f"Drafted {listed([p.name for p in made])}"]
    if rises:
        out += [", under the arm ", params.rise, " higher"]
    if params.shorter > 0.0:
        out += [", ", params.shorter, " shorter"]
    else:
        out += [", its hem line on that of the outside, with ", params.hem, " beyond it"]
    if params.centre and params.pleat > 0.0:
        out += [", with a pleat that takes ", 2 * params.pleat, " at the top"]
    if left:
        out += [f"; it goes up to the edge under {listed(list(left))}, which could not be laid on"]
    return (*out, ".")


CHANGE = Change(
    id="draft-lining",
    title="Draft a lining",
    topic="facings, linings and bands",
    why="A lining is the outside less its facings, with room at the back, under the arm and at the "
    "hem: made to fit as tightly it would pull.",
    source="trade manuals of 1911; a pattern maker's figures for facing and hem (docs/sources.md)",
    params=DraftLining,
    apply=apply,
)
