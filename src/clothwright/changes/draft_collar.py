"""Draft a collar from the neck edges: flat, upright, or with a stand; the under one smaller."""

from __future__ import annotations

from dataclasses import replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.collars import (
    DraftCollar,
    Neck,
    edge_refs,
    flat_piece,
    from_middle,
    neck_of,
    rounded_ends,
    under_piece,
)
from clothwright.changes.darts import free_name
from clothwright.changes.drafted import refuse_sewn, sewn_now, with_free_names
from clothwright.changes.runs import edge_runs
from clothwright.changes.stands import fall_piece, stand_piece
from clothwright.errors import BadInput, CannotDo
from clothwright.pattern.pattern import Along, Companion, Pattern, Seam
from clothwright.pattern.piece import Piece
from clothwright.words import AtLeast, Sentence, listed

COVER_MM = 3.0
"""mm: by how much a collar covers its stand at least (a uniform shirt's covers by 3/16 in)."""


def apply(pattern: Pattern, params: DraftCollar) -> Outcome:
    """Add a collar, and a smaller under collar, as long at the neck as the neck edges are sewn.

    A flat one is the parallel of the neck with the shoulders laid together, overlapped at the tips.
    A stand is half of a band on the fold whose front curves up; its upper edge is shorter by its
    height times the angle of the curve. The under collar has the same neck edge, and its outer edge
    lies inside by the turn of the cloth.

    Raises BadInput for unknown names or sizes of nothing, CannotDo where a collar does not cover
    its stand, or the edges are not sewn together.
    """
    _refuse(params)
    refuse_sewn(pattern, params.edges, beside=("facing", "closure"))
    pattern, _ = sewn_now(pattern, edge_runs(pattern, params.edges), params.allowance)
    neck = neck_of(
        pattern, params.edges, params.closes, params.lap if params.style == "flat" else 0.0
    )
    beyond = neck.beyond_centre
    if params.style == "shirt" and params.front is None:
        params = replace(params, front=beyond)
    made: list[Piece] = []
    if params.style == "flat":
        made.append(flat_piece(pattern, neck, params))
    else:
        made.append(stand_piece(neck, params))
    if params.style == "shirt":
        made.append(fall_piece(neck, made[0], params))
    if params.style != "stand":
        made.append(under_piece(made[-1], params.turn))
        if params.ends == "round":
            radius = params.depth / 2
            made[-2:] = [
                rounded_ends(made[-2], radius),
                rounded_ends(made[-1], radius - params.turn),
            ]
    taken = tuple(p.name for p in pattern.pieces)
    made = [replace(p, name=free_name(taken, p.name)) for p in made]
    new = replace(
        pattern,
        pieces=(*pattern.pieces, *made),
        seams=with_free_names(pattern.seams, _seams(neck, made, params)),
        companions=(*pattern.companions, *_companions(neck, made, params)),
    )
    return Outcome(pattern=new, said=_said(neck, made, params))


def _refuse(params: DraftCollar) -> None:
    sizes = {"flat": (params.depth,), "stand": (params.stand,)}
    if any(s <= 0.0 for s in sizes.get(params.style, (params.depth, params.stand))):
        raise BadInput(what="the collar has no depth, or its stand no height", expected="a size")
    if params.style == "shirt" and params.depth < params.stand + COVER_MM:
        raise CannotDo(
            what=("a collar ", params.depth, " deep cannot lie over a stand of ", params.stand),
            why="the seam between them would be seen",
            nearest=("a depth of ", AtLeast(params.stand + COVER_MM)),
        )


def _seams(neck: Neck, made: list[Piece], params: DraftCollar) -> list[Seam]:
    first = made[0]
    seams = [neck.seam(first, f"{first.name} seam", whole=params.style != "flat")]
    if params.style == "shirt":
        fall = made[1]
        seams.append(
            Seam(
                name=f"{fall.name} seam",
                a=(from_middle(first, "collar edge"),),
                b=(from_middle(fall, "neck"),),
            )
        )
    if params.style != "stand":
        collar, under = made[-2], made[-1]
        a, b = edge_refs(under), edge_refs(collar)
        ease = sum(collar.edge(r.edge).length - under.edge(r.edge).length for r in b)
        seams.append(Seam(name=f"{collar.name} edge", a=a, b=b, ease=round(ease, 6)))
    return seams


def _companions(neck: Neck, made: list[Piece], params: DraftCollar) -> list[Companion]:
    kind = "collar" if params.style == "flat" else "stand"
    of = [Along(edge=e, piece=r.piece, edge_of=r.edge) for e, r in neck.pairs(made[0])]
    found = [Companion(piece=made[0].name, kind=kind, of=tuple(of), by="drafted")]
    for piece in made[1:]:
        whole = (Along(piece=made[0].name),)
        found.append(Companion(piece=piece.name, kind="collar", of=whole, by="drafted"))
    return found


def _said(neck: Neck, made: list[Piece], params: DraftCollar) -> Sentence:
    out: list[str | float] = [
        f"Drafted {listed([p.name for p in made])}; the neck is ",
        neck.length,
    ]
    out += [" long from the middle to the opening"]
    if params.style != "flat":
        top = sum(e.length for e in made[0].edges if e.name in ("collar edge", "front top"))
        out += [", the upper edge of the stand ", top]
    if params.style != "stand":
        out += [", the under collar ", params.turn, " smaller at its outer edge"]
    return (*out, ".", *_ends(neck, params))


def _ends(neck: Neck, params: DraftCollar) -> Sentence:
    """Say where a collar ends in front, where the neck runs on beyond the centre."""
    beyond, left = neck.beyond_centre, params.front or 0.0
    if beyond < 1.0 or params.style == "stand":
        return ()
    if params.style == "shirt" and abs(left - beyond) < 1.0:
        return (" The collar ends at the centre, the stand runs on for ", beyond, ".")
    over = 2 * (beyond - left)
    return (
        " The neck runs on beyond the centre by ", beyond, ", and so does the collar: closed, its "
        "ends lie over each other by ", over, ". To end it at the centre, cut it there, and sew "
        "it on from there.",
    )  # fmt: skip


CHANGE = Change(
    id="draft-collar",
    title="Draft a collar",
    topic="facings, linings and bands",
    why="A collar's neck edge is as long as the neck; its under side is smaller, so that the seam "
    "rolls out of sight.",
    source="turn of cloth, cover of a stand: docs/sources.md (collars); curve: plane geometry",
    params=DraftCollar,
    apply=apply,
)
