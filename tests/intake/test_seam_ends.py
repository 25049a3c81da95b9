"""A sleeve is proposed into its armhole front to front, whichever way its paper lies."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwright.geometry.transform import reflection
from clothwright.intake.seams.proposed import pair_of, proposed_seams
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.piece import Edge, NotchKind, Piece
from clothwright.pattern.ways_round import is_turned_round
from clothwright.pattern.whole import moved
from tests.checks.specimens import outfit

OVER = reflection((0, 0), (0, 1))


def bare(piece: Piece, *, notches: bool, names: bool) -> Piece:
    """A piece as read from paper: notches without names, or none; edges called by their order."""

    def plain(n: int, edge: Edge) -> Edge:
        marks = tuple(replace(x, name="") for x in edge.notches if x.name != "shoulder tip")
        name = edge.name if names or "underarm" not in edge.name else f"underarm {n}"
        return replace(edge, name=name, corner="", notches=marks if notches else ())

    return replace(piece, edges=tuple(plain(n, e) for n, e in enumerate(piece.edges)))


def cap_of(p: Pattern) -> Seam:
    return next(q.seam for q in proposed_seams(p) if q.seam.kind == "cap")


@pytest.mark.parametrize("turned_over", [False, True])
@pytest.mark.parametrize(("notches", "names"), [(True, True), (True, False), (False, True)])
def test_a_sleeve_is_set_in_front_to_front(turned_over: bool, notches: bool, names: bool) -> None:
    """Single notches are front, double ones back (textbook); else the words front and back tell.

    The cap is as long both ways round, so that nothing else tells.
    """
    pieces = [bare(p, notches=notches, names=names) for p in outfit().pieces]
    sleeve = next(i for i, p in enumerate(pieces) if p.name == "sleeve")
    back_underarm = pieces[sleeve].edges[1].name
    if turned_over:
        pieces[sleeve] = moved(pieces[sleeve], OVER)
    p = Pattern(pieces=tuple(pieces))
    seam = cap_of(p)
    assert not is_turned_round(p, seam)
    cap = next(r for side in (seam.a, seam.b) for r in side if r.piece == "sleeve")
    body = next(side for side in (seam.a, seam.b) if side[0].piece != "sleeve")
    piece = p.piece("sleeve")
    i = piece.index("cap")
    first = piece.edges[(i + 1) % 4] if cap.reversed else piece.edges[i - 1]
    assert (first.name == back_underarm) == (body[0].piece == "back")


def test_notches_outweigh_a_likeness_of_names() -> None:
    """Edges she names herself: the notches' kinds decide which end meets which."""
    p = outfit()
    sleeve = p.piece("sleeve")
    kinds = {NotchKind.SINGLE: NotchKind.DOUBLE, NotchKind.DOUBLE: NotchKind.SINGLE}
    cap = sleeve.edge("cap")
    other = tuple(
        replace(n, kind=kinds[n.kind], name="") for n in cap.notches if n.name != "shoulder tip"
    )
    swapped = bare(sleeve.with_edge(replace(cap, notches=other)), notches=True, names=False)
    q = p.with_piece(sleeve)
    q = replace(q, seams=(), pieces=tuple(swapped if x.name == "sleeve" else x for x in q.pieces))
    right, wrong = (
        pair_of(x, p.seam("armhole").a, p.seam("armhole").b).seam for x in (replace(p, seams=()), q)
    )
    assert right.b != wrong.b
